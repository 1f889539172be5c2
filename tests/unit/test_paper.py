"""The papers of a job: what they say, that every fastener is on them, and that the same job gives the same bytes."""

import csv
import hashlib
import io
import json
import re

import paper_reading as reading
import pytest
import typst
from desk_samples import THINKING, Desk, half_way_on_a

from putback.errors import InputError
from putback.paper.kinds import PAPERS, made, pdf
from putback.paper.look import Look
from putback.paper.matter import file_name, matter_of, matter_planned
from putback.paper.rows import paper_csv
from putback.paper.signs import STAND_IN, printable
from putback.paper.typeset import typeset
from putback.paper.words import languages, words

NOW = "2026-03-02T10:00:00.000Z"
A4, LETTER = (210.0, 297.0), (215.9, 279.4)  # ISO 216; US letter, 8.5 x 11 in


@pytest.fixture(scope="module")
def desk(tmp_path_factory):
    """Demo A, planned and half done."""
    with Desk(tmp_path_factory.mktemp("papers")) as desk:
        desk.open("a", name="alternator low", vehicle="demo car A, plate 12", cap=76000)
        desk.say("intake noted", complaint="charging lamp on", kilometres=48210)
        desk.plan()
        yield desk


@pytest.fixture(scope="module")
def half(tmp_path_factory):
    """The same car on the way in, a person under it."""
    with Desk(tmp_path_factory.mktemp("half")) as desk:
        desk.open("a", name="alternator low", vehicle="demo car A, plate 12")
        desk.plan()
        half_way_on_a(desk)
        desk.say("person went under", who="technician 2")
        yield desk


def matter(desk: Desk, **look):
    """What papers are made of, at a fixed time."""
    return matter_of(desk.ledger, desk.job, Look(**look), NOW, THINKING)


@pytest.mark.parametrize("kind", PAPERS)
@pytest.mark.parametrize(("sheet", "units", "size"), [("a4", "metric", A4), ("letter", "us", LETTER)])
def test_every_paper_is_set_on_either_sheet(half, kind, sheet, units, size):
    """Each paper comes out on pages of the size asked for, with its title and the maker's figures put first."""
    paper = pdf(kind, matter(half, sheet=sheet, units=units))
    assert set(reading.pages(paper)) == {size}
    assert PAPERS[kind].title in reading.text(paper)
    assert words()["makers_first"].replace("’", "'") in reading.text(paper).replace("’", "'")


@pytest.mark.parametrize("kind", PAPERS)
def test_the_same_job_gives_the_same_bytes(half, kind):
    """Nothing of the clock, of chance or of a temporary folder is in a paper."""
    assert pdf(kind, matter(half)) == pdf(kind, matter(half))


def test_golden_bytes():
    """One small paper, to the byte; a new version of the typesetter may change it, and then this is renewed by hand."""
    data = {"head": {"name": "a job", "short": "a job", "vehicle": "a car"}, "at": NOW, "ask": "technician 1"}
    data |= {"under": ["technician 2"], "start": ["the belt is off"], "lower": [], "posture": "on a lift"}
    data |= {"battery": "", "live": [], "held": []}
    paper = typeset("tag", data, Look(), NOW)
    assert (typst.__version__, hashlib.sha256(paper).hexdigest()) == (
        "0.15.2",
        "02ec95a60260a406336c52b4bc28d24038acbdb9c327180ba5aaab78ebf78ed2",
    )


@pytest.mark.parametrize("kind", PAPERS)
def test_fonts_are_embedded(half, kind):
    """Every font travels with the paper (ISO 32000-1, 9.9), so it prints the same anywhere."""
    found = reading.fonts(pdf(kind, matter(half)))
    assert found
    assert all(found.values())


def test_every_fastener_of_the_way_is_on_the_job_sheet_once_off_and_once_on(desk):
    """Each step that moves fasteners stands once on its side of the swap; what the plan opens it also closes."""
    plan, car = desk.look().plan, desk.look().car
    out, back = re.split(r"Swap .*?Way back", reading.text(pdf("job-sheet", matter(desk))), maxsplit=1)
    moved = {"in": set(), "back": set()}
    for step in (one for one in plan["steps"] if "item" in one and car.fastener(one["item"])):
        side = out if step["direction"] == "in" else back
        assert side.count(f" {step['number']} {step['text']}") == 1, step["text"]
        moved[step["direction"]].add(step["item"])
    assert moved["in"] == moved["back"] != set()


def test_torques_and_wrench_settings_are_on_the_job_sheet(desk):
    """Each torque with its wrench's setting; with US units in foot-pounds beside it (NIST SP 811: 1.355818 N·m)."""
    shown = reading.text(pdf("job-sheet", matter(desk)))
    beside = reading.text(pdf("job-sheet", matter(desk, units="us")))
    assert "77 N·m" in shown and "large wrench at 77 N·m" in shown
    assert f"77 N·m ({77 / 1.3558179483:.2f} ft-lb)" in beside


def test_the_estimate_says_what_the_quote_says(desk):
    """The sums, the spread, what may come, what is left out and what was agreed."""
    said = made("estimate", matter(desk)).data
    shown = reading.text(pdf("estimate", matter(desk))).replace("\u202f", "")
    assert said["to_pay"] == round(sum(one["money"] for one in said["lines"]) * 1.2, 2)  # the demo shop's tax is 20 %
    for amount in (said["before_tax"], said["tax"], said["to_pay"], *(one["to_pay"] for one in said["spread"])):
        assert f"{amount:.2f}" in shown
    assert said["risks"] and all(one["what"] in shown for one in said["risks"])
    assert all(one.split(":")[0] in shown for one in said["not_covered"])
    assert "up to 760.00" in shown
    assert "throttle cap" not in said["opened"] and "engine cover" in said["opened"]


def test_the_estimate_is_that_of_the_first_plan_and_tells_of_later_ones(half):
    """What the customer was told stays; what came after stands below it."""
    first = made("estimate", matter(half)).data
    half.plan()
    half.say("consent given", to_what="the other way", by="the customer", total=90000)
    later = made("estimate", matter(half)).data
    assert later["lines"] == first["lines"]
    assert len(later["since"]) == len(first["since"]) + 1
    assert "the customer agreed to the other way 900.00" in reading.text(pdf("estimate", matter(half)))


def test_labels_are_drawn_in_their_own_size(desk):
    """A bolt M8x82 is a bar of 82 mm by 8 mm: its length counts from under the head (ISO 225, from memory)."""
    paper = pdf("labels", matter(desk))
    wanted = {
        (one["length_mm"], one["diameter_mm"])
        for one in made("labels", matter(desk)).data["labels"]
        if one["length_mm"]
    }
    assert (82.0, 8.0) in wanted
    assert [size for size in wanted if not reading.has_drawn(paper, *size)] == []
    assert reading.has_drawn(paper, 100.0, 1.2)  # the bar to hold a rule against


def test_a_label_leads_to_its_item(desk):
    """With an address each label has a code, and the code holds the page of its item; without one there is none."""
    with_codes, without = made("labels", matter(desk, address="http://192.0.2.10:8000")), made("labels", matter(desk))
    bolt = next(one for one in with_codes.data["labels"] if one["item"] == "lower alternator bolt")
    assert bolt["page"] == f"http://192.0.2.10:8000/jobs/{desk.job}/item/lower%20alternator%20bolt"
    assert len(with_codes.files) == len(with_codes.data["labels"])
    assert without.files == {}
    assert "No codes" in reading.text(pdf("labels", matter(desk)))


def test_the_lay_out_list_has_what_must_lie_ready(desk):
    """Tools, wrenches with settings, parts, one-time fasteners, and what soaks the evening before."""
    plan, shown = desk.look().plan, reading.text(pdf("lay-out", matter(desk)))
    for name in (
        *plan["tools"],
        *plan["torque_wrenches"],
        *plan["equipment"],
        *(one["name"] for one in plan["new_parts"]),
    ):
        assert name in shown
    assert [one["item"] for one in made("lay-out", matter(desk)).data["soak"]] == ["left mount nuts"]
    assert words()["one_time"] in shown


def test_the_tag_says_what_nobody_may_do_and_why(half):
    """Who is under the car, and what speaks against starting and lowering it, by the guards of the log."""
    shown = reading.text(pdf("tag", matter(half)))
    assert "DO NOT START" in shown and "DO NOT LOWER" in shown
    assert "UNDER THE CAR: technician 2" in shown
    assert "the belt is off" in shown


def test_the_sheet_for_a_colleague_has_all_that_is_out(half):
    """Whatever is off, loose or live at that moment."""
    shown = reading.text(pdf("hand-on", matter(half)))
    for name in ("compressor: aside", "3 x mount-to-body bolts", "charge cable", "engine support"):
        assert name in shown


def test_the_record_names_every_fastener_that_was_touched(half):
    """A record of an open job is a draft, and names each fastener with how it stands."""
    shown, said = reading.text(pdf("record", matter(half))), made("record", matter(half)).data
    assert "DRAFT" in shown
    assert {one["item"] for one in said["fasteners"]} >= {
        "lower alternator bolt",
        "mount-to-body bolts",
        "left mount nuts",
    }
    assert all(one["item"] in shown for one in said["fasteners"])


def test_the_record_says_what_the_readings_spoke_for(tmp_path):
    """The verdict with its likelihood, what was excluded, and each reading beside its limit."""
    with Desk(tmp_path) as desk:
        desk.open(name="a job")
        desk.say("reading taken", what="stud voltage", value=12.2, unit="V", good=False)
        said = {"model": "charging", "verdict": "go", "action": "alternator", "share": 0.986}
        said |= {"excluded": ["parasitic draw"], "limits": {"stud voltage": "14.0 V or more"}}
        desk.ledger.append([desk.stamp.event(desk.job, "suspects weighed", **said)])
        shown = reading.text(pdf("record", matter(desk)))
    for said in (
        "alternator: the part to be replaced, by the readings, 99 % likely",
        "parasitic draw",
        "12.2 V, NOT GOOD",
        "14.0 V or more",
    ):
        assert said in shown


@pytest.mark.parametrize("kind", PAPERS)
def test_csv_and_json_hold_the_same_values(half, kind):
    """Each text of the JSON is a cell, or part of one, of the CSV; and the CSV has one width."""
    data = made(kind, matter(half)).data
    rows = list(csv.reader(io.StringIO(paper_csv(json.loads(json.dumps(data))))))
    everything = "\n".join("\t".join(row) for row in rows)
    assert {len(row) for row in rows} == {len(rows[0])}
    assert [one for one in texts(data) if one not in everything] == []


def texts(value) -> list[str]:
    """Every text of a plain value."""
    if isinstance(value, str):
        return [value]
    inner = value.values() if isinstance(value, dict) else value if isinstance(value, list | tuple) else ()
    return [one for each in inner for one in texts(each)]


def test_a_csv_is_no_formula():
    """A text that a spreadsheet would run is kept a text."""
    assert "'=HYPERLINK" in paper_csv({"notes": ["=HYPERLINK(1)"]})


# --- hostile texts --------------------------------------------------------------------------------

MARKUP = '#panic("x") *b* _i_ $1/2$ \\ [a] <b>@ref</b> `code` = head // none /* */ "q" {{7*7}} ${x}'
HARM = {
    "markup": MARKUP,
    "long": "word " * 790,
    "one long word": "x" * 3_990,
    "right to left": "שלום עולם العربية",
    "turned about": "abc\u202edef\u200b\u0000",
    "emoji": "belt \U0001f600 and 皮带",
}


@pytest.fixture(scope="module", params=HARM, ids=list(HARM))
def harmed(request, tmp_path_factory):
    """A job on a car that nobody described, with harm in every text that can be said."""
    said, harm = HARM[request.param], " ".join(HARM[request.param].replace("\u0000", "").split())
    line = harm.replace("\u202e", "").replace("\u200b", "")
    with Desk(tmp_path_factory.mktemp("harm")) as desk:
        desk.open(name=line, vehicle=line)
        desk.say("intake noted", complaint=harm, lamps_on=[line], damage_already_there=[line])
        desk.off(line, 2, size=line, belongs_to=line)
        desk.moved(f"{line} part", "off")
        desk.say("note added", note=harm)
        desk.say("difference found", item=line, what="broken", note=harm)
        desk.say("consent given", to_what=line, by=line, total=100)
        desk.say("person went under", who=line)
        yield desk, said


@pytest.mark.parametrize("kind", ["labels", "hand-on", "tag", "record"])
def test_harm_in_every_text_prints_as_text(harmed, kind):
    """Markup, long texts and strange scripts come out as text, or as a stand-in that the foot of the page explains."""
    desk, said = harmed
    shown = reading.text(pdf(kind, matter(desk)))
    if said == MARKUP and kind == "record":
        assert MARKUP in shown
    if "\U0001f600" in said:
        assert f"belt {STAND_IN} and {STAND_IN * 2}" in shown
        assert "stands for a sign that cannot be printed" in shown
    if said.startswith("word") and kind == "record":
        assert shown.count("word") >= 790


def test_a_text_of_ten_thousand_signs_is_refused_or_printed(tmp_path):
    """The log refuses it in one sentence; were it let in, a paper would still be set."""
    with Desk(tmp_path) as desk:
        desk.open(name="a job")
        with pytest.raises(InputError, match="at most 4000 signs"):
            desk.say("intake noted", complaint="x" * 10_000)
        assert reading.text(typeset("tag", tag(w := "x" * 10_000), Look(), NOW)).replace(" ", "").count("x") >= len(w)


def tag(name: str) -> dict:
    """The values of a tag that says next to nothing."""
    head = {"name": name, "short": "a job", "vehicle": ""}
    return {"head": head, "at": NOW, "posture": "", "battery": "", "ask": ""} | {
        one: [] for one in ("under", "start", "lower", "live", "held")
    }


def test_what_turns_the_text_about_is_left_out():
    """Nobody prints words that read otherwise than they are (Unicode, UAX 9, explicit marks)."""
    assert printable(["a\u202eb\u0000c\r\nd"]) == ["abc\nd"]


def test_every_sign_that_is_said_to_be_there_is_there():
    """Signs are set with a glyph of their own, not with the box of a font that lacks them: the PDF gives them back."""
    sample = "ÄßčřΩжЖ≤≥→°×·–“”…אبñ½²µ"
    assert printable(sample) == sample
    assert printable("\U0001f600") == STAND_IN
    shown = reading.text(typeset("tag", tag(sample), Look(), NOW))
    assert [sign for sign in sample if sign not in shown and sign not in "אب"] == []


# --- refusals, words, plans without a job ---------------------------------------------------------


def test_what_is_not_there_is_said(tmp_path):
    """No such paper, no such sheet, no plan, no fastener, no language: one clear sentence each."""
    with Desk(tmp_path) as desk:
        desk.open(name="bare")
        for kind, sentence in (
            ("job-sheet", "nothing is planned"),
            ("labels", "nothing to label"),
            ("estimate", "nothing is planned yet"),
        ):
            with pytest.raises(InputError, match=sentence):
                pdf(kind, matter(desk))
        with pytest.raises(InputError, match="there is no paper"):
            pdf("poster", matter(desk))
        with pytest.raises(InputError, match="a sheet is a4 or letter"):
            matter(desk, sheet="a5")
        with pytest.raises(InputError, match='no papers in "xx"'):
            pdf("tag", matter(desk, language="xx"))


def test_papers_before_there_is_a_job(desk):
    """A plan alone gives estimate, job sheet, lay-out list and labels."""
    from putback.way.task import make_task

    view = desk.look()
    planned = matter_planned(make_task(view.area, view.shop), Look(), THINKING)
    for kind, paper in PAPERS.items():
        if not paper.logged:
            assert pdf(kind, planned).startswith(b"%PDF-")


def test_every_text_of_the_templates_is_in_every_catalogue():
    """What a template asks for by name is there in each language, and no name is read as yes or no."""
    from importlib import resources

    folder = resources.files("putback.paper").joinpath("templates")
    asked = {
        name
        for file in folder.iterdir()
        for name in re.findall(r'\bw\.(\w+)|say\("(\w+)"|part\("(\w+)"', file.read_text("utf-8"))
        for name in name
        if name
    }
    for language in languages():
        found = words(language)
        assert all(isinstance(name, str) and isinstance(text, str) for name, text in found.items())
        assert sorted(asked - set(found) - {"at"}) == []


def test_files_have_plain_names(half):
    """Whatever a job is called, the name of its file is plain ASCII."""
    assert file_name("estimate", half.look()) == "alternator-low-estimate.pdf"
