"""What a job found, as lines for the area file."""

from dataclasses import replace

import pytest
import yaml
from desk_samples import Desk, file
from log import demo_area

from putback.area.area_file import scan_area
from putback.area.fastener import read_line
from putback.desk.proposals import fastener_phrase, proposals

TEXT = file("demo-a.yaml").data.decode()


@pytest.fixture
def desk(tmp_path):
    with Desk(tmp_path) as desk:
        desk.open("a")
        yield desk


def merged(snippet: str):
    """The demo file with the lines of a proposal put in, read again."""
    told = yaml.load(TEXT, yaml.BaseLoader)
    _put(told, yaml.load(snippet, yaml.BaseLoader) or {})
    return scan_area(yaml.safe_dump(told, allow_unicode=True, sort_keys=False), "demo-a.yaml")


def _put(into: dict, more: dict) -> None:
    for key, value in more.items():
        if isinstance(value, dict) and isinstance(into.get(key), dict):
            _put(into[key], value)
        else:
            into[key] = value


def one(desk: Desk):
    (found,) = proposals(desk.look())
    return found


def test_a_hidden_bracket_comes_with_its_fasteners(desk):
    """Story 31: a new part with what holds it, where it was found, and its minutes as they were logged."""
    desk.moved("undertray", "off")
    desk.off("bracket bolts", 2, size="13 mm", belongs_to="hidden bracket")
    desk.moved("hidden bracket", "off", minutes=3)
    desk.moved("hidden bracket", "fitted", minutes=4)
    desk.on("bracket bolts", 2, 22)
    told = one(desk)
    area, findings = merged(told.yaml)

    assert findings == [] and area.items["bracket bolts"].owner == "hidden bracket"
    assert area.items["bracket bolts"].fastener.count == 2 and area.items["bracket bolts"].fastener.torque is None
    assert [ref.name for ref in area.items["hidden bracket"].base.behind] == ["undertray"]
    assert "minutes: 3 off, 4 on" in told.yaml and "tightened to 22 N·m; say what the maker gives" in told.yaml


def test_fasteners_of_a_known_part_go_under_it(desk):
    """Of those that nobody has said a part for only a remark is left."""
    desk.off("third kind of screw", 3, size="M6x20, T30", belongs_to="undertray")
    area, findings = merged(one(desk).yaml)
    assert findings == [] and area.items["third kind of screw"].fastener.thread.length == 20
    desk.off("lost screws", 2)
    assert proposals(desk.look())[1].yaml == "# lost screws: 2 x bolt\n"


NAMES = ["plug: left", "on", "3rd bracket", "bracket #2", 'the "new" one', "- dash", "späte Halterung"]


@pytest.mark.parametrize("name", NAMES)
def test_any_name_is_a_key(desk, name):
    """Whatever somebody called it at the car."""
    desk.moved(name, "off")
    assert list(yaml.load(one(desk).yaml, yaml.BaseLoader)["parts"]) == [name]


def test_a_count_that_is_wrong_in_the_file_is_proposed(desk):
    """Eight came off where the file has seven; thread, class and torque stay."""
    desk.off("short tray screws", 8)
    told = one(desk)
    area, findings = merged(told.yaml)

    assert told.sentence == "short tray screws: 8 counted on this car, 7 in the file"
    before = demo_area("a").items["short tray screws"].fastener
    assert findings == [] and area.items["short tray screws"].fastener == replace(before, count=8)


def test_another_tool_is_proposed(desk):
    """For the group that takes it."""
    desk.say("difference found", item="bracket bolt", what="other tool", tool="T30")
    area, findings = merged(one(desk).yaml)
    assert findings == [] and area.items["bracket bolt"].base.tools == (("T30 bit",),)


def test_what_seized_becomes_a_risk_with_the_minutes_that_it_took(desk):
    """Known risks are told of instead, for one job cannot say how likely."""
    desk.say("difference found", item="bracket bolt", what="seized", note="rusty")
    desk.time = desk.time.replace(minute=30)
    desk.say("difference settled", item="bracket bolt", how="freed with heat")
    told = one(desk)
    area, findings = merged(told.yaml)
    assert findings == [] and area.items["bracket bolt"].base.risks[0].what == "bracket bolt seized"
    assert 20 < area.items["bracket bolt"].base.risks[0].minutes < 31

    desk.say("difference found", item="left mount nuts", what="seized")
    assert "the file has 5 % x 10 min" in proposals(desk.look())[1].sentence


def test_what_is_not_fitted_becomes_a_variant(desk):
    """The file then knows cars with it and cars without."""
    desk.say("difference found", item="engine cover", what="not fitted")
    area, findings = merged(one(desk).yaml)
    assert findings == [] and area.variants["engine cover"] == ("with engine cover", "without engine cover")


def test_a_job_that_went_as_described_proposes_nothing(desk):
    """And a car that nobody described has no file to propose for."""
    desk.moved("engine cover", "off")
    desk.moved("engine cover", "fitted")
    assert proposals(desk.look()) == []
    desk.open()
    desk.moved("bracket", "off")
    assert proposals(desk.look()) == []


@pytest.mark.parametrize("letter", "abcd")
def test_every_group_of_the_demos_can_be_written_and_read_again(letter):
    """Nothing of a line is lost on the way."""
    for item in demo_area(letter).items.values():
        if item.fastener:
            line = read_line(fastener_phrase(item.fastener, item.base.tools))
            assert (line.fastener, line.tools) == (replace(item.fastener, source=None), item.base.tools)
