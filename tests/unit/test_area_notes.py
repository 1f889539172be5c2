"""What is wrong is collected up to what anybody mends in one go."""

from putback.area.notes import MOST, bounded
from putback.errors import InputError


def finding(line: int) -> InputError:
    return InputError(f"no. {line}", ("f", line, 1))


def test_findings_come_sorted_each_once():
    """By place, with what was read."""

    def read(notes):
        notes += [finding(2), finding(1), finding(2)]
        return "read"

    value, found = bounded(read, "f")

    assert value == "read"
    assert [str(one) for one in found] == ["f:1:1: no. 1", "f:2:1: no. 2"]


def test_the_reading_ends_when_enough_is_wrong():
    """And says that there is more."""

    def read(notes):
        for line in range(1, 10**9):
            notes.append(finding(line))

    value, found = bounded(read, "f")

    assert value is None
    assert len(found) == MOST + 1
    assert str(found[-1]) == "f: there is more; it is told when these are put right"


def test_just_as_many_as_are_told_are_all():
    """On the border nothing is left out."""

    def read(notes):
        notes += map(finding, range(1, MOST + 1))
        return "read"

    value, found = bounded(read, "f")

    assert (value, len(found)) == ("read", MOST)


def test_an_error_that_ends_the_reading_is_one_of_the_findings():
    """With those before it."""

    def read(notes):
        notes.append(finding(1))
        raise finding(2)

    assert [one.message for one in bounded(read, "f")[1]] == ["no. 1", "no. 2"]
