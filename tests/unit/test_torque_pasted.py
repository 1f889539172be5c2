"""Tables of torques as they are pasted: rows, headings and refusals."""

import pytest

from putback.torque.pasted import read_pasted


def rows(text: str) -> list[tuple]:
    """Name, torques and angles of each row; nothing may be refused."""
    pasted = read_pasted(text)

    assert pasted.refused == ()
    return [(row.name, row.tightening.stages, row.tightening.angles) for row in pasted.rows]


def reasons(text: str) -> list[tuple[int, str]]:
    """Line and reason of each refusal."""
    return [(one.line, one.reason) for one in read_pasted(text).refused]


UPPER, LOWER = ("upper bolt", (46,), ()), ("lower bolt", (24,), (90,))


@pytest.mark.parametrize(
    "text",
    [
        "upper bolt\t46 Nm\nlower bolt\t24 Nm + 90°",
        "upper bolt\t46\tNm\nlower bolt\t24\tNm\t+ 90°",
        "upper bolt; 46 N·m\nlower bolt; 24 N·m + 90 deg",
        "upper bolt, 46, Nm\nlower bolt, 24 Nm + 90°",
        "upper bolt,46,Nm\r\nlower bolt,24 Nm then 90°\r\n",
        "upper bolt      46 Nm\nlower bolt      24 Nm + 90°",
        "upper bolt .............. 46 Nm\nlower bolt ... 24 Nm + 1/4 turn",
        "upper bolt . . . . . 46 Nm\nlower bolt … 24 Nm, 90°",
        "upper bolt: 46 Nm\nlower bolt: 24 Nm + 90°",
        "upper bolt 46 Nm\nlower bolt 24 Nm + 90°",
        "upper bolt = 46 Nm\nlower bolt - 24 Nm + 90°",
        "Torques in N·m\nupper bolt; 46\nlower bolt; 24 + 90°",
        "All values in Nm:\nupper bolt 46 Nm\nlower bolt\t24\t90°",
        "Name\tTorque\tUnit\nupper bolt\t46\tNm\nlower bolt\t24 + 90°\tNm",
        "Fastener;Torque (N·m);Angle\nupper bolt;46;-\nlower bolt;24;90",
        "Item,Nm,Angle\nupper bolt,46,\nlower bolt,24,90°",
        "No.;Description;Torque [Nm]\n1;upper bolt;46\n2;lower bolt;24 + 90°",
        "| Bolt | Torque in Nm | then |\n|---|---|---|\n| upper bolt | 46 | |\n| lower bolt | 24 | 90° |",
        "Description        Nm        lb-ft\nupper bolt         46        34\nlower bolt         24 + 90°  17.7 + 90°",
        '"upper bolt","46","Nm"\n"lower bolt","24 + 90°","Nm"',
        "1\tupper bolt\t46 Nm\n2\tlower bolt\t24 Nm + 90°",
    ],
)
def test_one_table_in_many_forms(text):
    """Whatever parts the columns, wherever the unit stands."""
    assert rows(text) == [UPPER, LOWER]


@pytest.mark.parametrize(
    "text",
    [
        "bolt\t12,5\tNm",
        "bolt; 12,5 Nm",
        "bolt, 12,5, Nm",
        '"bolt","12,5","Nm"',
        "name,torque in Nm\nbolt,12,5",
        "bolt   12,5 Nm",
    ],
)
def test_decimal_commas(text):
    """Also where commas part the columns, as long as it can be told which is which."""
    assert rows(text) == [("bolt", (12.5,), ())]


def test_a_comma_that_may_be_either_is_not_guessed():
    """Twelve pieces at 5 N·m, or 12.5 N·m."""
    assert reasons("bolt,12,5,Nm") == [
        (1, "it cannot be told whether a comma parts columns or decimals here; part the columns with ;")
    ]


def test_a_name_keeps_its_commas_and_numbers():
    """The torque is the longest ending that is one."""
    assert rows("bolt, upper, 25 Nm") == [("bolt, upper", (25,), ())]
    assert rows("M8 bolt 2 25 Nm") == [("M8 bolt 2", (25,), ())]


def test_thread_and_class_are_taken_from_their_columns():
    """With a line over them, and by their look; what else stands in the row is kept."""
    text = "Name;Thread;Class;Nm;Remarks\nupper bolt;M10x1.5;8.8;46;pulls the bush\n"
    for one in (read_pasted(text), read_pasted("upper bolt\tM10x1.5\t8.8\t46 Nm\tpulls the bush")):
        row = one.rows[0]
        assert (row.thread.name, row.property_class, row.note) == ("M10x1.5", "8.8", "pulls the bush")
    row = read_pasted("wheel nuts   1/2-20   grade 8   85 ft-lb").rows[0]
    assert (row.thread.name, row.property_class) == ("1/2-20 UNF", "8")


def test_ranges_tolerances_passes_and_turns():
    """Whatever a torque may be elsewhere it may be here."""
    found = read_pasted(
        "a: 20-25 Nm\nb: 25 Nm ± 10 %\nc: passes 8 / 16 / 23 Nm\nd: 25 Nm (18 ft-lb)\ne: 3/4 turn after contact"
    ).rows

    assert [(row.tightening.low, row.tightening.high) for row in found[:2]] == [(20, 25), (22.5, 27.5)]
    assert [row.tightening.stages for row in found[2:]] == [(8, 16, 23), (25,), ()]


@pytest.mark.parametrize(
    ("line", "counts"),
    [
        ("Torques in N·m", True),
        ("All values are in Nm unless it is said otherwise.", True),
        ("Units: inch pounds", True),
        ("Tightening torques (dry threads) in N·m; see the notes", True),
        ("Torques in N·m (ft-lb)", False),
        ("Torques in detail", False),
        ("Nm", False),
    ],
)
def test_a_unit_that_is_said_once_for_all(line, counts):
    """Where it is one unit; of two nobody can tell which a bare figure has."""
    assert (not read_pasted(f"{line}\nbolt; 46").refused) is counts


def test_headings_are_kept_as_headings():
    """Lines without a figure, and the lines over the columns, with their numbers."""
    pasted = read_pasted("Front of the engine\n\nName; Nm\nupper bolt; 46\n------\nRear\nlower bolt; 24")

    assert pasted.headings == ((1, "Front of the engine"), (3, "Name; Nm"), (6, "Rear"))
    assert [row.line for row in pasted.rows] == [4, 7]


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("a; 46 Nm\nb; 24 lb", 2, 'torque "24 lb" has no clear unit; write "24 ft-lb" or "24 in-lb"'),
        ("a 24", 1, 'write "24 N·m", "24 ft-lb" or "24 in-lb"'),
        ("a; 24; 17", 1, "two figures in this row, 24 and 17; write the unit of each"),
        ("Name;Nm;ft-lb\na;24;27", 2, "says two torques"),
        ("Name;Nm;ft-lb\na;24 + 90°;17.7 + 60°", 2, "two angles in this row"),
        ("Name;Nm\n;24", 2, "no name of a fastener"),
        ("Name;Nm;Note\na1;;M8", 2, "no torque in this row"),
        ("Name;Nm\na;24;x;y", 2, "4 columns in this row, and 2 in the line over them"),
        ("Name;Thread;Nm\na;M8x9.9x1x1;24", 2, "is no thread"),
        ("Name;Thread;Class;Nm\na;M8;8.9;24", 2, "is no property class known for M8x1.25"),
        ("a; 24 Nm\nA; 25 Nm", 2, '"A" stands in line 1 already, with 24 Nm'),
        ("a; 1,250 Nm", 1, "may be 1.25 or 1250"),
        ("5 bolts at the rear", 1, "no torque is understood"),
        ("a" * 394 + "; 24 Nm", 1, "more than 400 signs"),
    ],
)
def test_what_is_not_understood_is_refused_with_its_line(text, line, words):
    """One sentence each; the other rows are read."""
    found = reasons(text)

    assert len(found) == 1
    assert found[0][0] == line
    assert words in found[0][1]


def test_the_longest_row():
    """Four hundred signs are still read."""
    assert rows("a" * 393 + "; 24 Nm") == [("a" * 393, (24,), ())]


def test_an_empty_table_is_empty():
    """Blank lines and rules are nothing."""
    assert read_pasted("\n  \n----\n|---|---|\n") == read_pasted("")
