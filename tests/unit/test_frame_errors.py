"""The errors say their sentence, and keep their parts."""

from putback.errors import Findings, InputError, NoWay, PutbackError


def test_input_error_begins_with_its_place():
    """File, line and column stand first, in the form editors jump to."""
    error = InputError("no clear unit", ("car.yaml", 41, 7))

    assert str(error) == "car.yaml:41:7: no clear unit"


def test_place_may_lack_line_and_column():
    """What is not known about the place is left out."""
    assert str(InputError("not YAML", ("car.yaml", None, None))) == "car.yaml: not YAML"
    assert str(InputError("not YAML", ("car.yaml",))) == "car.yaml: not YAML"
    assert str(InputError("not YAML", ("car.yaml", 3))) == "car.yaml:3: not YAML"


def test_input_error_without_place_is_its_message():
    """A value from no file has no place."""
    assert str(InputError("a lever has a length")) == "a lever has a length"


def test_no_way_names_what_would_open_one():
    """The missing things follow the reason."""
    assert str(NoWay("every way lowers the subframe", ["support bar"])) == (
        "every way lowers the subframe; it would take: support bar"
    )


def test_findings_are_one_line_each_in_order():
    """Each finding keeps its own place."""
    findings = Findings([InputError("b", ("car.yaml", 2)), InputError("a", ("car.yaml", 9))])

    assert str(findings).splitlines() == ["car.yaml:2: b", "car.yaml:9: a"]


def test_one_family():
    """Whoever catches the base class catches them all."""
    assert all(issubclass(child, PutbackError) for child in (InputError, NoWay, Findings))


def test_a_sentence_that_quotes_too_much_is_shortened():
    """Its beginning and its end stay, as the advice stands there; one of bearable length stays whole."""
    error = InputError(f'"{"x" * 5000}" is not understood; write "5"')

    assert len(error.message) < 600
    assert error.message.startswith('"xxx')
    assert error.message.endswith('" is not understood; write "5"')
    assert InputError("y" * 600).message == "y" * 600
