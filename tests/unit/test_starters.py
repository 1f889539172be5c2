"""Files to begin with are sound as they are, and with all of their examples in use."""

import re

import pytest

from putback import check, starters
from putback.area.area_file import read_area
from putback.area.shop_file import read_shop
from putback.cli import main
from putback.errors import InputError
from putback.way.from_area import core_problem

EXAMPLE = re.compile(r"^( *)# ((?: *)[a-z][^:\n]*:(?: .*)?)$", re.MULTILINE)  # a key in small letters; sentences begin with large ones
NARROW = 48  # letters that a phone shows in a line, from memory
SHORT = 100  # lines


def in_use(text: str) -> str:
    """The text with every line of an example in use."""
    return EXAMPLE.sub(r"\1\2", text)


def test_what_is_written_is_sound():
    """As it is, an area for a shop."""
    shop = read_shop(starters.shop(), "s")

    assert check.check_area(starters.area(), "a", shop)[1] == []


def test_every_example_can_be_used():
    """All at once; then the part comes out by either way, in a shop that has all of the examples."""
    text, shop = in_use(starters.area()), read_shop(in_use(starters.shop()), "s")

    assert not re.search(r"^ +# +[a-z]", text, re.MULTILINE)
    assert check.check_area(text, "a", shop)[1] == []
    assert len(core_problem(read_area(text, "a"), shop).operations["part to replace: remove"].ways) == 2


@pytest.mark.parametrize("key", ["figures from", "targets", "parts", "held by", "behind", "plugs", "hazards", "out through", "cables", "battery", "put in", "secures", "follow-ups", "job work"])
def test_the_pieces_that_come_next_are_shown(key):
    """In use or behind a sign."""
    assert f"{key}:" in starters.area()


@pytest.mark.parametrize("text", [starters.area(), starters.shop()], ids=["area", "shop"])
def test_a_phone_shows_it(text):
    """No line is cut, and it is no long way down."""
    lines = text.splitlines()

    assert max(map(len, lines)) <= NARROW
    assert len(lines) <= SHORT


@pytest.mark.parametrize("name", ["water pump", 'a: "b" #c', "Öl, [pump]", "- x", "no", "1:30", "&a", "'", "a\\b", "50 %"])
def test_any_name_can_stand_there(name):
    """What YAML would take for something else stands in quotation marks."""
    area = read_area(starters.area(name, name), "a")

    assert (area.name, area.targets[0].name.name) == (name, name)
    assert read_shop(starters.shop(name), "s").name == name


@pytest.mark.parametrize(("name", "words"), [("", "a name is missing"), ("a\x1b[2J", "cannot be seen"), ("x" * 101, "more than 100 characters")])
def test_what_is_no_name_is_refused(name, words):
    """By either of the two."""
    for given in ((name, "pump"), ("pump", name)):
        with pytest.raises(InputError, match=words):
            starters.area(*given)


@pytest.fixture
def place(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize("kind", ["area", "shop"])
def test_a_file_is_written_once(place, capsys, kind):
    """What is there stays as it is, to the byte, and the sentence says so; exit status 2."""
    assert main([f"new-{kind}", "f.yaml", "--name", "mine"]) == 0
    assert capsys.readouterr().out == "f.yaml is there; fill it in, and see what is wrong with it by: putback check f.yaml\n"
    assert main(["check", "f.yaml"]) == 0
    (place / "f.yaml").write_text("mine")
    capsys.readouterr()

    assert main([f"new-{kind}", "f.yaml"]) == 2
    assert capsys.readouterr().err == "f.yaml: this is there already and stays as it is; name a file that is not there\n"
    assert (place / "f.yaml").read_text() == "mine"


def test_a_dash_prints(place, capsys):
    """The same text, and no file."""
    assert main(["new-area", "-", "--target", "water pump"]) == 0
    assert capsys.readouterr().out == starters.area(target="water pump")
    assert list(place.iterdir()) == []


@pytest.mark.parametrize("name", ["no/f.yaml", "f" * 300])
def test_what_cannot_be_written_is_told(place, capsys, name):
    """In one sentence; nothing is left behind."""
    assert main(["new-area", name]) == 2
    assert capsys.readouterr().err.count("\n") == 1
    assert list(place.iterdir()) == []


def test_a_link_that_leads_nowhere_is_not_written_through(place):
    """It is there already."""
    (place / "f.yaml").symlink_to("elsewhere")

    assert main(["new-area", "f.yaml"]) == 2
    assert not (place / "elsewhere").exists()
