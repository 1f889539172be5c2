"""The way back of what no plan knows: last off goes on first, and fasteners after the part that they hold."""

from job_play import NOTHING, Played, when
from log import Log

from putback.job.next_step import next_steps
from putback.job.step import WAY_BACK


def back(log: Log) -> list[str]:
    """What goes back on a car that nobody described, in order."""
    return [step.item for step in next_steps(log.state, NOTHING, None, when(60)) if step.phase == WAY_BACK]


def test_what_came_off_last_goes_on_first():
    """Cover, then hose, then bracket: back in the reverse order, the bolts after what they hold."""
    log = Log()
    log.off("cover screws", 3, belongs_to="cover")
    log.moved("cover", "off")
    log.moved("hose", "aside")
    log.off("bracket bolts", 2, size="13 mm", belongs_to="bracket")
    log.moved("bracket", "off")
    assert back(log) == ["bracket", "bracket bolts", "hose", "cover", "cover screws"]


def test_fasteners_follow_their_part_in_whatever_order_they_were_said():
    """Somebody logs the bracket first and its bolts a moment later."""
    log = Log()
    log.moved("cover", "off")
    log.moved("bracket", "off")
    log.off("bracket bolts", 2, belongs_to="bracket")
    assert back(log) == ["bracket", "bracket bolts", "cover"]


def test_what_came_off_twice_counts_from_the_last_time():
    """The cover was put on and taken off again after the bracket."""
    log = Log()
    log.moved("cover", "off")
    log.moved("bracket", "off")
    log.moved("cover", "refitted")
    log.moved("cover", "off")
    assert back(log) == ["cover", "bracket"]


def test_a_prompt_says_how_many_of_what_size_and_where_they_lie():
    """Two bolts 13 mm in tray 3, with the note and the photo of the removal, also those of the part."""
    log = Log()
    log.off("bolts", 2, size="13 mm", belongs_to="bracket", tray="3", note="the long one goes left")
    log.moved("bracket", "off")
    log.say("file added", hash="b" * 64, name="bracket.jpg", type="image/jpeg", item="bracket")
    step = next(one for one in next_steps(log.state, NOTHING, None, when(60)) if one.item == "bolts")
    assert step.text == "put back and tighten: 2 x bolts, 13 mm (hold the bracket)"
    assert (step.tray, step.left, step.of) == ("3", 2, 2)
    assert [note.get("note", note.get("name")) for note in step.notes] == ["the long one goes left", "bracket.jpg"]


def test_a_whole_car_that_nobody_described_is_led_to_the_hand_over():
    """Tap after tap nothing is left over, though nobody wrote a line about this car."""
    log = Log(targets=["heater motor"])
    log.say("intake noted", complaint="no heat")
    log.off("glove box screws", 5, belongs_to="glove box")
    log.moved("glove box", "off")
    log.moved("lamp plug", "unplugged")
    log.say("part compared", part="heater motor", old={"pins": "2"}, new={"pins": "2"})
    log.say("part swapped", part="heater motor")
    for _ in range(20):
        step = next(one for one in next_steps(log.state, NOTHING, None, when(60)) if not one.optional)
        if step.asks == "hand-over signed":
            break
        for kind, data in step.closes:
            log.say(kind, **{name.replace(" ", "_"): value for name, value in data.items()})
    assert step.key == "hand over"
    assert not any(point for key, point in log.points().items() if not key.startswith("by feel"))


def test_one_takes_apart_until_something_goes_back():
    """On an undescribed car nobody is told to put back what he has just taken off."""
    log = Log()
    log.off("bolts", 2)
    assert next_steps(log.state, NOTHING, None, when(60))[0].key == "take apart"
    log.say("fasteners on", item="bolts", count=1, new=False, evidence="by feel", reason="no figure")
    assert next_steps(log.state, NOTHING, None, when(60))[0].item == "bolts"


def test_an_extra_found_goes_back_before_what_came_off_before_it():
    """Story 31: a hidden bracket came off after the undertray, so it is on again before the tray goes on over it."""
    played = Played("a")
    played.until("in: compressor strap: put in")
    played.log.say("difference found", item="hidden bracket", what="extra found")
    played.log.off("hidden bolts", 2, belongs_to="hidden bracket")
    played.log.moved("hidden bracket", "off")
    order = [step.item for step in played.steps() if step.phase == WAY_BACK]
    assert order.index("compressor") < order.index("hidden bracket")
    assert order.index("hidden bracket") + 1 == order.index("hidden bolts")
    assert order.index("hidden bracket") < order.index("undertray")
    assert "plan" not in [step.key for step in played.steps()]
    played.to_the_end()
    assert [key for key in played.log.points() if not key.startswith(("extra found", "by feel"))] == []


def test_an_extra_fastener_of_a_known_part_comes_after_the_part():
    """A fifth bolt of the compressor cannot go in before the compressor does."""
    played = Played("a")
    played.until("in: compressor: set aside")
    played.log.off("fifth bolt", 1, belongs_to="compressor")
    order = [step.item for step in played.steps() if step.phase == WAY_BACK]
    assert order.index("compressor") + 1 == order.index("fifth bolt")
