"""The out-and-back chart: what it shows, what it says, and that it can be read."""

import re
from fractions import Fraction
from itertools import combinations, pairwise
from time import perf_counter
from xml.etree import ElementTree

import pytest
from chart_reading import SVG, arcs, dashed, drawn, group, numbers, outside, overlapping, texts, told
from chart_samples import back, out, sheet_with, swap, there_and_back

from putback import demo
from putback.area.area_file import read_area
from putback.area.model import FASTENERS, MARKS, PUT_IN
from putback.area.shop_file import read_shop
from putback.chart import chart_svg, stored_plan
from putback.errors import InputError
from putback.plan_json import plan_object
from putback.way.plan import plan
from putback.way.task import make_task

ONION = there_and_back(["tray", "belt", "pump"], ["pump", "belt", "tray"])
CROSSED = there_and_back(["tray", "belt", "pump"], ["pump", "tray", "belt"])
LONG = "left front lower control arm rear bushing retaining plate with its long bolts and both of its washers"
MANY = [f"part number {n}" for n in range(150)]
SAMPLES = {
    "onion": ONION,
    "crossed": CROSSED,
    "one step": sheet_with([out("lid")]),
    "no minutes": sheet_with([out("lid", minutes=0), swap("lid"), back("lid", minutes=0)]),
    "taken up": sheet_with([out("lid"), swap("pump"), back("belt"), back("lid"), back("tray")], start="on a lift"),
    "left open": sheet_with([out("lid"), out("tray"), back("lid")]),
    "long names": there_and_back([LONG, "W" * 80, "belt"], ["belt", LONG, "W" * 80], targets=[LONG, "W" * 80]),
    "many": there_and_back(MANY, [*MANY[10:40], *MANY[:10], *MANY[:39:-1]]),
    "lifted": sheet_with(
        [
            out("wheel", posture="on stands", set_up=6),
            out("pump", wait=12),
            swap("pump"),
            swap("other pump"),
            back("pump"),
            back("wheel"),
        ],
        start="on the ground",
        ending=(("steering", "straight", Fraction(1)), ("posture", "on the ground", Fraction(3))),
        swap_minutes=5,
    ),
}
each_sample = pytest.mark.parametrize("sheet", SAMPLES.values(), ids=SAMPLES)


# --- arcs -----------------------------------------------------------------------------------------


def test_every_part_is_one_arc():
    """Its bolts and its plug are not arcs of their own."""
    steps = [out("pump", "plug"), out("pump", "bolts", FASTENERS), out("pump"), swap("pump")]
    steps += [back("pump"), back("pump", "bolts", FASTENERS), back("pump", "plug")]
    chart = drawn(sheet_with(steps))

    assert list(arcs(chart)) == ["pump"]
    assert group(chart, "arcs")[0].findtext(f"{SVG}title") == "pump: open from step 1 to step 7"


def test_an_arc_runs_from_the_first_step_out_to_the_end_of_the_last_step_back():
    """By hand: 20 minutes along the axis; the belt opens at minute 4, after its set-up, and is closed at minute 18."""
    steps = [out("tray", minutes=3), out("belt", minutes=2, set_up=1), swap("pump")]
    steps += [back("belt", minutes=5, wait=7), back("tray", minutes=2)]
    chart = drawn(sheet_with(steps))
    _, top, *_, bottom = numbers(arcs(chart)["tray"])
    _, first, *_, last = numbers(arcs(chart)["belt"])

    assert (first - top) / (bottom - top) == pytest.approx(4 / 20, abs=0.002)
    assert (last - top) / (bottom - top) == pytest.approx(18 / 20, abs=0.002)


@each_sample
def test_arcs_cross_once_where_they_interlace_and_nowhere_else(sheet):
    """All are the same half circle, stretched in one direction by one factor, which leaves crossings as they are."""
    factors = [wide / high for _, _, wide, high, *_ in map(numbers, arcs(drawn(sheet)).values()) if high > 5]

    assert all(factor == pytest.approx(factors[0], rel=0.02) for factor in factors)


def test_an_onion_has_no_dashed_arc_and_says_so():
    """The way back is the reverse."""
    chart = drawn(ONION)

    assert dashed(chart) == []
    assert texts(chart, "head")[-1] == "part by part, the way back is the reverse"
    assert "Part by part, the way back is the reverse." in told(chart)


def test_a_part_out_of_order_is_dashed_bold_and_counted():
    """The tray goes back before the belt, though it came off before it; of two equally long arcs the earlier counts."""
    chart = drawn(CROSSED)

    assert dashed(chart) == ["tray"]
    assert [one.text for one in group(chart, "labels") if one.get("font-weight")] == [
        "tray",
        "1",
        "swap pump",
        "tray",
        "6",
    ]
    assert "1 of 3 parts does not go back in reverse order" in texts(chart, "head")
    assert "1 of 3 parts does not go back in reverse order: tray. The arcs cross 1 time." in told(chart)


def test_without_the_dashed_arcs_none_crosses_another():
    """What is left nests."""
    chart = drawn(SAMPLES["many"])
    kept = [numbers(path) for name, path in arcs(chart).items() if name not in dashed(chart)]

    for one, two in combinations(sorted((path[1], path[-1]) for path in kept), 2):
        assert one[1] >= two[1]


def test_what_was_open_at_the_start_comes_in_from_the_edge():
    """Its arc begins above the axis, off the axis; it has no label there, but their number is told."""
    chart = drawn(SAMPLES["taken up"])
    opened = numbers(arcs(chart)["lid"])
    came_in = numbers(arcs(chart)["belt"])

    assert came_in[1] < opened[1]
    assert came_in[0] > opened[0]
    assert "2 parts open already" in texts(chart, "labels")
    assert "Open already: tray, belt. Order out: lid." in told(chart)


def test_what_stays_open_leaves_at_the_edge():
    """Its arc ends below the axis."""
    chart = drawn(SAMPLES["left open"])

    assert numbers(arcs(chart)["tray"])[-1] > numbers(arcs(chart)["lid"])[-1]
    assert "1 part left open" in texts(chart, "labels")
    assert "Staying open: tray." in told(chart)


def test_a_group_of_which_some_were_out_was_open_at_the_start():
    """Two levels come back, and only one went out."""
    steps = [out("tray", "screws", level=2), back("tray", "screws", level=2), back("tray", "screws", level=1)]
    assert "Open already: tray." in told(drawn(sheet_with(steps)))


def test_a_support_is_in_and_marks_are_no_arc():
    """A thing put in is said to be in; marks stay on the car, and nothing is open because of them."""
    chart = drawn(
        sheet_with([out("marks", kind=MARKS), out("bar", kind=PUT_IN), swap("pump"), back("bar", kind=PUT_IN)])
    )

    assert list(arcs(chart)) == ["bar"]
    assert group(chart, "arcs")[0].findtext(f"{SVG}title") == "bar: in from step 2 to step 4"


# --- the axis -------------------------------------------------------------------------------------


def test_ticks_are_evenly_spaced_round_minutes_with_their_labels():
    """From 0 to the end of the last step, a round number of minutes apart."""
    sheet = sheet_with([out("lid", minutes=70), swap("lid"), back("lid", minutes=72)])
    chart = drawn(sheet)
    *minutes, unit = texts(chart, "minutes")
    heights = [float(line.get("y1")) for line in group(chart, "ticks")]
    _, top, *_, bottom = numbers(arcs(chart)["lid"])

    assert unit == "min"
    assert minutes == [str(minute) for minute in range(0, 143, int(minutes[1]))]
    assert int(minutes[1]) in (5, 10, 15, 30, 60)
    assert heights == pytest.approx([top + (bottom - top) * int(minute) / 142 for minute in minutes], abs=0.06)


@pytest.mark.parametrize("minutes", [Fraction(1, 60), 1, 47, 480, 10**9])  # a second, ..., for ever
def test_ticks_never_crowd(minutes):
    """However short or long the job, there are a few of them, with room for a line of text between."""
    chart = drawn(sheet_with([out("lid", minutes=minutes), swap("lid"), back("lid", minutes=minutes)]))
    heights = [float(line.get("y1")) for line in group(chart, "ticks")]

    assert 1 <= len(heights) <= 5
    assert all(two - one > 14 for one, two in pairwise(heights))


def test_the_swap_is_a_line_at_its_begin_and_at_its_end():
    """With the work at the swap between them."""
    lines = group(drawn(sheet_with([out("lid"), swap("lid"), back("lid")], swap_minutes=8)), "across")
    first, last = (float(line.get("y1")) for line in lines)
    at_once = drawn(ONION)

    assert last - first == pytest.approx(0.8 * 150, abs=0.1)
    assert len(group(at_once, "across")) == 1


def test_without_a_swap_there_is_no_such_line():
    """A goal may be another than a swap."""
    assert group(drawn(SAMPLES["left open"]), "across") == []


@pytest.mark.parametrize(("done", "minute"), [(0, 0), (1, 1), (3, 3), (7, 6)])  # none, one, up to the swap, all
def test_now_is_where_the_steps_done_end(done, minute):
    """A dotted line at their last minute of 6."""
    chart = drawn(ONION, done=done)
    _, top, *_, bottom = numbers(arcs(chart)["tray"])
    (now,) = [line for line in group(chart, "across") if line.get("stroke-dasharray")]

    assert float(now.get("y1")) == pytest.approx(top + (bottom - top) * minute / 6, abs=0.1)
    assert f"now: {done} of 7 done" in texts(chart, "labels")


def test_what_is_open_now_is_told():
    """After two steps of three on the way in."""
    assert "2 of 7 steps done. Open now: tray, belt." in told(drawn(ONION, done=2))
    assert "Open now" not in told(drawn(ONION, done=7))


@pytest.mark.parametrize("done", [-1, 8])
def test_more_steps_done_than_there_are_is_refused(done):
    """Below the least, above the most."""
    with pytest.raises(InputError, match=f"^{done} steps cannot be done in a plan of 7$"):
        chart_svg(ONION, done=done)


def test_the_car_goes_up_and_down():
    """Raised for 6 minutes from the start, lowered for the last 3 of 33; the bar beside the axis is widest between."""
    chart = drawn(SAMPLES["lifted"])
    corners = re.findall(r"([\d.]+) ([\d.]+)", group(chart, "axis")[0].get("d"))
    axis, top = map(float, corners[0])
    bottom = float(corners[-1][1])
    share = [(round((float(y) - top) / (bottom - top) * 31, 1), axis - float(x)) for x, y in corners[1:-1]]

    assert share == [(0, 0), (0, 0), (0, 0), (6, 5), (28, 5), (31, 0), (31, 0)]
    assert [text for text in texts(chart, "labels") if text.startswith("car")] == ["car on stands", "car on the ground"]
    assert "Minute 0.0: car on the ground; minute 0.0: car on stands; minute 28.0: car on the ground." in told(chart)


def test_a_wait_is_told_and_dotted():
    """Twelve minutes pass at the car, and nothing is done."""
    chart = drawn(SAMPLES["lifted"])

    assert "wait 12.0 min" in texts(chart, "labels")
    assert [line.get("stroke-dasharray") for line in group(chart, "axis")].count("2 2") == 1


# --- in place of the picture ----------------------------------------------------------------------


def test_the_picture_has_a_title_and_the_totals():
    """Whoever cannot see it hears what it shows."""
    chart = drawn(there_and_back(["tray", "pump"], ["pump", "tray"], swap_minutes=3))

    assert chart.get("role") == "img"
    assert chart.findtext(f"{SVG}title") == "pump: out and back"
    assert told(chart).startswith("Sample. 5 steps, 2 parts. 7.0 min at the car, 4.0 min expected in all.")


def test_the_order_out_and_back_is_told():
    """In words, and by the labels from the top down."""
    chart = drawn(CROSSED)
    labels = [text for text in texts(chart, "labels") if not text.isdigit()]

    assert "Order out: tray, belt, pump. Swap pump. Order back: pump, tray, belt." in told(chart)
    assert labels == ["tray", "belt", "pump", "swap pump", "pump", "tray", "belt"]


def test_several_targets_are_named():
    """In the title, and each at its swap."""
    sheet = sheet_with([out("lid"), swap("pump"), swap("belt"), back("lid")], targets=("pump", "belt"))
    chart = drawn(sheet)

    assert chart.findtext(f"{SVG}title") == "pump and belt: out and back"
    assert {"swap pump", "swap belt"} <= set(texts(chart, "labels"))


def test_nothing_to_do_is_said():
    """A picture without a drawing."""
    chart = drawn(sheet_with([]))

    assert "Nothing to do: no step is needed." in texts(chart, "head")
    assert (arcs(chart), group(chart, "axis"), group(chart, "labels")) == ({}, [], [])


# --- to be read -----------------------------------------------------------------------------------


@each_sample
@pytest.mark.parametrize("width", [320, 360, 680, 1200])
def test_every_text_is_inside_the_picture_and_overlaps_no_other(sheet, width):
    """However narrow it is, and with a line for now; texts are taken as wide as a wide face makes them."""
    chart = drawn(sheet, width=width, done=len(sheet.steps) // 2)

    assert outside(chart) == []
    assert overlapping(chart) == []


def test_the_reading_of_room_sees_what_is_outside_and_what_overlaps():
    """The check itself: a text moved onto another or over the edge is found."""
    chart = drawn(ONION)
    first, second, *_ = group(chart, "labels")
    first.set("x", second.get("x"))
    first.set("y", second.get("y"))
    assert overlapping(chart) == [(first.text, second.text)]
    first.set("x", "10")
    assert outside(chart) == [first.text]


@each_sample
def test_type_is_large_enough_at_the_width_of_a_phone(sheet):
    """At 360 px, its own width, no text is smaller than 11 px."""
    chart = drawn(sheet)
    sizes = [float(one.get("font-size")) for one in chart.iter() if one.get("font-size")]

    assert (chart.get("width"), chart.get("viewBox").split()[2]) == ("360", "360")
    assert min(sizes) >= 11


@each_sample
def test_a_leader_joins_each_label_to_its_minute_and_crosses_no_other(sheet):
    """They keep the order of their labels at both ends."""
    chart = drawn(sheet)
    ends = [[float(one) for one in re.findall(r"[\d.]+", path.get("d"))] for path in group(chart, "leaders")]

    for one, two in combinations(ends, 2):
        assert one[1] < two[1] and one[3] <= two[3]


def test_names_are_escaped_and_cannot_spoil_the_picture():
    """Markup, control characters and characters that turn the direction of text stay words."""
    chart = drawn(
        there_and_back(['<b>&"lid"', "a\x00b\u202ec\ud800"], ["a\x00b\u202ec\ud800", '<b>&"lid"'], targets=["<pump>"])
    )

    assert list(arcs(chart)) == ['<b>&"lid"', "a\ufffdb\ufffdc\ufffd"]
    assert chart.findtext(f"{SVG}title") == "<pump>: out and back"


@each_sample
def test_the_picture_needs_nothing_but_itself(sheet):
    """No scripts, no styles, no fonts by name, nothing from elsewhere, no ids that could meet others in a page."""
    text = chart_svg(sheet)
    chart = ElementTree.fromstring(text)

    assert {one.tag.removeprefix(SVG) for one in chart.iter()} <= {
        "svg",
        "title",
        "desc",
        "g",
        "rect",
        "path",
        "line",
        "text",
    }
    assert {name for one in chart.iter() for name in one.attrib} & {"id", "style", "href", "onclick"} == set()
    assert {one.get("font-family") for one in chart.iter()} == {"sans-serif", None}
    assert text.count("http") == 1  # the namespace


@each_sample
def test_all_ink_is_black_white_or_grey(sheet):
    """It reads the same without colour."""
    found = {one.get(name) for one in drawn(sheet).iter() for name in ("fill", "stroke")}
    assert found <= {None, "none", "#000", "#fff", "#999"}


def test_the_same_sheet_gives_the_same_bytes():
    """And no number has more than a tenth of a pixel, but for the shade."""
    text = chart_svg(SAMPLES["lifted"])

    assert text == chart_svg(SAMPLES["lifted"])
    assert re.findall(r'(?<!opacity=")\b\d+\.\d\d+', text) == []


@pytest.mark.parametrize("width", [319, 0])
def test_a_picture_too_narrow_to_read_is_refused(width):
    """Just below the narrowest, and nothing at all."""
    with pytest.raises(InputError, match=f"^a chart {width} px wide cannot be read; make it 320 px or wider$"):
        chart_svg(ONION, width=width)


@pytest.mark.parametrize("letter", "abcd")
def test_a_plan_that_was_kept_as_json_gives_the_same_picture(letter):
    """To the byte, from nothing but the JSON and the area's items."""
    area, sheet = demo_plan(letter)

    assert chart_svg(stored_plan(plan_object(sheet), area.items), done=5) == chart_svg(sheet, done=5)


def demo_plan(letter: str):
    """A demo area, and a plan for it."""
    area = read_area(demo.text(f"demo-{letter}.yaml"), "area")
    shop = read_shop(demo.text("demo-shop.yaml"), "shop")
    task = make_task(area, shop, tuple(target.name.name for target in area.targets), None)
    return area, plan(task, clock=perf_counter, seconds=1.0)
