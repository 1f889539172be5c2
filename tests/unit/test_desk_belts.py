"""The belt of a job: frozen with it, and shown at its steps."""

import pytest
from desk_samples import SHOP, Desk, file
from log import DEMO

from putback.belt.advise import advise
from putback.belt_step_text import drive_words
from putback.desk.belts import belt_help, belt_pictures, belt_svg, drive_seen
from putback.desk.edited import drives_edited
from putback.desk.opening import File, nothing_beside
from putback.drive_file import read_drive
from putback.errors import Findings
from putback.job.next_step import next_steps
from putback.job.step import WAY_BACK, WAY_IN, Step

DRIVE = "demo-a-drive.yaml"
TWO_BELTS = """\
area: 1
name: two belts
drive: [fan belt.yaml, other.yaml]
work from: {top: any posture}
targets: {pump: {new: 10.00}}
parts:
  pump: {from: top, behind: [fan belt, pump belt], minutes: "1 off, 1 on"}
belts:
  fan belt: {from: top, minutes: "1 off, 1 on"}
  pump belt: {from: top, minutes: "1 off, 1 on"}
"""
ROUTE = "It runs over crankshaft, tensioner pulley (back), idler pulley, alternator, compressor, and back to the first."


@pytest.fixture
def desk(tmp_path):
    """A desk of its own."""
    with Desk(tmp_path) as desk:
        yield desk


def belt_step(phase: str, item: str = "belt", kind: str = "belt") -> Step:
    return Step("a step", phase, "do it", item=item, kind=kind)


def other_drive() -> File:
    return File(DRIVE, (DEMO / DRIVE).read_bytes().replace(b"7PK1538", b"7PK1545"))


# --- frozen ---------------------------------------------------------------------------------------


def test_the_drive_that_an_area_names_is_kept_with_the_job(desk):
    """By its content, so that a file that is edited afterwards changes nothing."""
    desk.open("a")
    opened = desk.look().logged[0].event.data
    drive = desk.look().drives[DRIVE]

    assert desk.ledger.file(opened["drives"][DRIVE]) == (DEMO / DRIVE).read_bytes()
    assert drive.belt.mark == "7PK1538"


def test_an_edited_drive_file_is_told_and_changes_nothing(desk):
    """Nothing is said of one that is the same."""
    desk.open("a")
    view = desk.look()

    assert drives_edited(view, file) == []
    assert drives_edited(view, nothing_beside) == []
    assert drives_edited(view, lambda name: other_drive()) == [
        f"{DRIVE}: the belt drive is another in the file now; this job shows the one it began with"
    ]
    assert "cannot be read as it is now" in drives_edited(view, lambda name: File(DRIVE, b"drive: 1\n"))[0]


def test_a_drive_file_with_a_mistake_opens_no_job(desk):
    """As an area file with one does not."""
    with pytest.raises(Findings, match="no mark of a ribbed belt"):
        desk.open("a", beside=lambda name: File(name, (DEMO / name).read_bytes().replace(b"7PK1538", b"long")))


def test_a_drive_file_that_is_not_there_keeps_no_job_from_being_opened(desk):
    """Its belt steps say that it is not there."""
    desk.open("a", beside=nothing_beside)
    view = desk.look()

    assert belt_pictures(view) == ()
    assert f"{DRIVE} did not lie beside the area file" in belt_help(view, belt_step(WAY_BACK)).words[0]
    assert drives_edited(view, file) == [f"{DRIVE}: how the belt runs is told now, it was not when the job began"]


def test_a_kept_file_that_is_no_drive_leaves_the_job_without_a_picture(desk):
    """The log may come from another program."""
    area, shop, no_drive = (desk.ledger.put_file(data) for data in (file("demo-a.yaml").data, SHOP.encode(), b"x: 1\n"))
    desk.job = desk.stamp.new_id()
    desk.say("job opened", name="a job", area=area, shop=shop, drives={DRIVE: no_drive})

    assert desk.look().drives == {}


# --- at the steps ---------------------------------------------------------------------------------


def test_before_the_belt_comes_off_a_photo_is_asked_for(desk):
    """Until there is one; the route is told all the same."""
    desk.open("a")
    before = belt_help(desk.look(), belt_step(WAY_IN))
    desk.say("file added", hash="0" * 64, name="route.jpg", type="image/jpeg", item="belt")
    after = belt_help(desk.look(), belt_step(WAY_IN))

    assert (before.photo, after.photo) == (True, False)
    assert before.words[0].startswith("Photograph how the belt runs before it comes off")
    assert (ROUTE in before.words, after.words) == (True, (ROUTE,))


def test_when_the_belt_goes_on_ribs_route_and_direction_are_told(desk):
    """With the picture, and no photo asked for."""
    desk.open("a")
    help = belt_help(desk.look(), belt_step(WAY_BACK))

    assert help.photo is False
    assert help.words[:2] == ("7PK1538: all 7 ribs in their grooves on every pulley.", ROUTE)
    assert "the way it ran" in help.words[2]
    assert [one.file for one in help.pictures] == [DRIVE]


def test_what_speaks_against_the_belt_is_told_when_it_goes_on(desk):
    """A belt too long for its drive is told by whoever has not yet put it on."""
    data = (DEMO / DRIVE).read_bytes().replace(b"7PK1538", b"7PK1650")
    desk.open("a", beside=lambda name: File(name, data))
    words = belt_help(desk.look(), belt_step(WAY_BACK)).words

    assert any(one.startswith("Stop: the belt is 62 mm too long here") for one in words)


def test_at_the_pin_it_is_told_how_to_slacken_and_where_the_arm_must_stand(desk):
    """Inside its marks, as geometry has it."""
    desk.open("a")
    view, steps = desk.look(), (belt_step(phase, "tensioner pin", "put in") for phase in (WAY_IN, WAY_BACK))
    held, released = (belt_help(view, step) for step in steps)

    assert held.words[0] == "To slacken the belt turn the arm clockwise, with the 3/8 in square."
    assert held.words[1].startswith("A 4.5 mm pin holds it at 237°")
    assert any("its marks are at 263° (longest belt) and 243° (shortest)" in words for words in released.words)
    assert (held.photo, released.photo) == (False, False)


@pytest.mark.parametrize("item", ["idler pulley", "alternator", ""])
def test_other_steps_show_nothing_of_it(desk, item):
    """Nor do steps before the way in."""
    desk.open("a")

    assert belt_help(desk.look(), belt_step(WAY_IN, item, "part")) is None
    assert belt_help(desk.look(), belt_step("before")) is None


@pytest.mark.parametrize(
    ("item", "told"),
    [("belt", True), ("V-ribbed Belt", True), ("belt guard", False), ("left seat belt", False), ("", False)],
)
def test_on_a_car_that_nobody_described_a_belt_is_known_by_its_name(desk, item, told):
    """How it runs is not; what always holds is told when it goes on again."""
    desk.open()
    view = desk.look()
    help = belt_help(view, belt_step(WAY_BACK, item, ""))

    assert (help is not None) == told
    assert not told or "by a photo" in help.words[0]
    assert belt_help(view, belt_step(WAY_IN, item, "")) is None
    assert belt_pictures(view) == ()


def test_the_step_that_puts_an_undescribed_belt_back_tells_it(desk):
    """From the log of its removal alone."""
    desk.open(name="noise")
    desk.moved("accessory belt", "off")
    view = desk.look()
    steps = next_steps(view.state, view.car, view.plan, desk.stamp.now())
    (step,) = (one for one in steps if one.item == "accessory belt")

    assert "ribs in their grooves" in belt_help(view, step).words[1]


def test_of_several_belts_each_shows_the_drive_that_is_called_by_its_name(desk):
    """A picture of another belt would be worse than none; a page on the whole job shows all."""
    drives = {"fan belt.yaml": "fan", "other.yaml": "pump belt"}
    text = (DEMO / DRIVE).read_text(encoding="utf-8")

    def lies(name: str) -> File:
        return File(name, text.replace("accessory drive of demo car A", drives[name]).encode())

    desk.describe(TWO_BELTS, beside=lies)
    view = desk.look()
    helps = [belt_help(view, belt_step(WAY_BACK, name)) for name in ("fan belt", "pump belt")]

    assert [[one.file for one in help.pictures] for help in helps] == [["fan belt.yaml"], ["other.yaml"]]
    assert [one.file for one in belt_pictures(view)] == list(drives)


# --- the drawing ----------------------------------------------------------------------------------


def test_the_drawing_is_one_picture_with_its_words(desk):
    """The same bytes each time."""
    desk.open("a")
    view = desk.look()
    (picture,) = belt_pictures(view)

    assert belt_svg(view, DRIVE) == belt_svg(view, DRIVE)
    assert belt_svg(view, DRIVE).startswith("<svg")
    assert "alternator clockwise" in picture.shows
    assert belt_svg(view, "no such.yaml") is None


def test_a_drive_without_a_route_that_can_be_has_words_and_no_drawing():
    """Whoever stands at the car is told to go by the photo."""
    data = (DEMO / DRIVE).read_bytes().replace(b"90, 245 mm", b"900, 245 mm")
    seen = drive_seen(data, DRIVE)

    assert (seen.svg, seen.shows) == ("", "")
    assert any(line.startswith("No route over all") for line in seen.lines)
    assert drive_seen(b"drive: 1\n", DRIVE) is None


def test_words_below_a_picture_are_those_of_the_steps():
    """What is told at the car is told on paper."""
    drive = read_drive((DEMO / DRIVE).read_bytes(), DRIVE)
    words = drive_words(drive, advise(drive))

    assert words[1] == ROUTE
    assert words[-1].startswith("A 4.5 mm pin holds it")
