"""Harm in every text of an area file and of a drive file: papers of a planned job print it as text."""

import re

import paper_reading as reading
import pytest
from desk_samples import THINKING, Desk

from putback.desk.opening import File
from putback.paper.job_sheet_data import drawn
from putback.paper.kinds import made, pdf
from putback.paper.look import Look
from putback.paper.matter import matter_of
from putback.paper.signs import STAND_IN

NOW = "2026-03-02T10:00:00.000Z"
HARM = {
    "markup": '#panic("x") *b* _i_ $1$ <b>@ref</b> `c` // none {{7}} #{} \\',
    "right to left": "שלום עולם العربية",
    "emoji": "wheel \U0001f600 皮带",
    "one long word": "x" * 90,
    "many words": ("word " * 18).strip(),
}
PLANNED = ("estimate", "job-sheet", "lay-out", "labels")


def quoted(text: str) -> str:
    return "'" + text.replace("'", "''") + "'"


def area_of(harm: str) -> str:
    name = quoted(harm)
    return f"""\
area: 1
name: {name}
vehicle: {name}
figures from: {name}
drive: drive.yaml
work from: {{top: any posture}}
targets: {{{name}: {{new: 10.00}}}}
parts:
  {name}:
    from: top
    behind: [belt]
    minutes: 1 off, 1 on
    held by:
      {quoted(harm[:90] + " nut")}: {{is: "2 x M8x1.25x30, class 8.8, 13 mm, 24 N·m", cautions: [{name}]}}
belts:
  belt: {{from: top, minutes: "1 off, 1 on", cautions: [{name}]}}
match: {{{name}: {name}}}
"""


def drive_of(harm: str) -> str:
    crank, wheel = (quoted(f"{letter} {harm}") for letter in "ab")
    return f"""\
drive: 1
name: {quoted(harm)}
figures from: {quoted(harm)}
belt: 6PK913
pulleys:
  {crank}: {{is: driver, at: "0, 0 mm", effective diameter: 150 mm, grooves: 6, rotation: clockwise}}
  {wheel}: {{is: driven, at: "250, 150 mm", effective diameter: 55 mm, grooves: 6, note: {quoted(harm)}}}
route: [{crank}, {wheel}]
"""


@pytest.fixture(scope="module", params=HARM, ids=list(HARM))
def harmed(request, tmp_path_factory):
    """A planned job with harm in every text of its files."""
    harm = HARM[request.param]
    with Desk(tmp_path_factory.mktemp("harm")) as desk:
        desk.describe(area_of(harm), beside=lambda name: File(name, drive_of(harm).encode()), name=harm, vehicle=harm)
        desk.plan()
        yield desk, harm


def matter(desk: Desk):
    return matter_of(desk.ledger, desk.job, Look(address="http://192.0.2.10:8000"), NOW, THINKING)


def squeezed(text: str) -> str:
    """Without blanks, for lines end anywhere in a long word."""
    return re.sub(r"\s", "", text)


@pytest.mark.parametrize("kind", PLANNED)
def test_harm_in_the_files_of_a_job_prints_as_text(harmed, kind):
    """Every word of it is there, or a stand-in that the foot explains; nothing of it is run or set as markup."""
    desk, harm = harmed
    shown = reading.text(pdf(kind, matter(desk)))
    if "\U0001f600" in harm:
        assert f"wheel {STAND_IN} {STAND_IN * 2}" in shown
        assert "stands for a sign that cannot be printed" in shown
    elif harm.isascii() and kind != "labels":  # a label has no room for all of it
        assert squeezed(harm) in squeezed(shown)


def test_the_job_sheet_draws_a_belt_of_any_name(harmed):
    """The drawing has the names as text, without signs that no font of the paper has."""
    desk, harm = harmed
    sheet = made("job-sheet", matter(desk))
    drawing = sheet.files["belt-1.svg"].decode()

    assert drawing.startswith("<svg") and "<b>" not in drawing
    assert "\U0001f600" not in drawing
    assert pdf("job-sheet", matter(desk)).startswith(b"%PDF-")


def test_a_drawing_has_the_signs_of_the_papers():
    """Markup of a drawing is plain ASCII and stays; what the fonts lack has its stand-in."""
    assert drawn("<text>\U0001f600 = 5 N·m</text>") == f"<text>{STAND_IN} = 5 N·m</text>".encode()
