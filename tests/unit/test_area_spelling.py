"""The name that was meant is found among many."""

from putback.area.spelling import LONGEST, nearest


def test_the_nearest_name_is_found():
    """Among names that share much with it."""
    names = [f"part number {number}" for number in range(2_000)]

    assert nearest("prat number 7", names) == "part number 7"
    assert nearest("engin cover", ["undertray", "engine cover"]) == "engine cover"


def test_nothing_near_is_nothing():
    """Nor is anything near to nothing, or to a text that is no name."""
    assert nearest("belt", ["undertray"]) is None
    assert nearest("", ["undertray"]) is None
    assert nearest("x" * (LONGEST + 1), ["x" * (LONGEST + 1)]) is None


def test_the_cutoff_counts():
    """Alike enough for one, not for another."""
    assert nearest("left hand", ["left-hand"], 0.8) == "left-hand"
    assert nearest("left", ["left-hand"], 0.8) is None
