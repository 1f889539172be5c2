"""`putback way`: options do what they say, and every mistake ends in one sentence."""

import json
import re

import pytest
from area_samples import HEAD, PUMP, SHOP
from order_samples import ONE_JACK, PROP
from sheet_samples import UNDER, WORK

from putback import demo
from putback.cli import main

CORE = {
    "core": 2,
    "rate": 1,
    "dims": [{"name": "tool", "values": ["a", "b"], "start": "a", "change": 2}],
    "items": {"lid": {"levels": 1}},
    "ops": [
        {"id": "off", "item": "lid", "dir": "out", "level": 1, "time": 3, "ways": [{"in": {"tool": ["b"]}}]},
        {"id": "on", "item": "lid", "dir": "back", "level": 1, "time": 4, "ways": [{"in": {"tool": ["b"]}}]},
    ],
    "swaps": [{"id": "swap", "item": "lid", "ways": [{}]}],
}


@pytest.fixture(autouse=True)
def files(tmp_path, monkeypatch):
    """The working folder: a small area, a shop, a state, a core problem and the demo."""
    texts = {
        "area.yaml": HEAD + WORK + UNDER,
        "shop.yaml": SHOP,
        "state.yaml": "state: 1\nposture: on a lift\nnow: {drain plug: off}\n",
        "core.json": json.dumps(CORE),
        **{name: demo.text(name).decode() for name in ("demo-a.yaml", "demo-shop.yaml")},
    }
    for name, text in texts.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def way(capsys):
    """Runs the command and gives exit status, output and complaint."""

    def run(*words: str) -> tuple[int, str, str]:
        status = main(["way", *words])
        return status, *capsys.readouterr()

    return run


@pytest.fixture
def told(way):
    """The plan as JSON."""

    def plan(*words: str) -> dict:
        status, out, complaint = way(*words, "--json")
        assert (status, complaint) == (0, "")
        return json.loads(out)

    return plan


def ids(plan: dict) -> list[str]:
    return [step["id"] for step in plan["steps"]]


SAMPLE = ("area.yaml", "--shop", "shop.yaml")
DEMO = ("demo-a.yaml", "--shop", "demo-shop.yaml")


# --- options --------------------------------------------------------------------------------------


def test_the_plan_is_printed(way):
    """As text, and nothing on stderr."""
    status, out, complaint = way(*SAMPLE)
    assert (status, complaint) == (0, "")
    assert out.startswith("PUMP: THE WAY IN AND THE WAY BACK\nsample; sample shop\n\n147.00")


def test_a_target_can_be_named(told):
    """The area's own target by its name is the plan without a name."""
    named, unnamed = told("area.yaml", "pump", "--shop", "shop.yaml"), told(*SAMPLE)
    assert (named["targets"], ids(named)) == (["pump"], ids(unnamed))


def test_a_target_named_twice_is_one_target(told):
    """Nobody swaps it twice."""
    assert ids(told("area.yaml", "pump", "pump", "--shop", "shop.yaml")) == ids(told(*SAMPLE))


def test_without_a_shop_minutes_are_saved_and_no_money_is_told(told):
    """The shop then lacks nothing: a lift there is."""
    plan = told("area.yaml")
    assert (plan["by"], plan["money"], plan["equipment"]) == ("minutes", None, ["two-post lift"])


def test_by_minutes_never_takes_longer_and_by_money_never_costs_more(told):
    """On the demo both aims are tried; each plan is best in its own measure."""
    money, minutes = told(*DEMO), told(*DEMO, "--by", "minutes")
    assert minutes["minutes"] <= money["minutes"]
    assert money["money"] <= minutes["money"]
    assert (money["by"], minutes["by"]) == ("money", "minutes")


def test_a_part_that_is_avoided_stays_shut(told):
    """The route over the raised engine is closed; another one is taken, and costs more."""
    free, avoiding = told(*DEMO), told(*DEMO, "--avoid", "left mount nuts")
    assert "left mount nuts: undo" in ids(free)
    assert "left mount nuts: undo" not in ids(avoiding)
    assert avoiding["money"] > free["money"]


def test_a_variant_says_what_the_car_is(told, files):
    """The ways of that car are taken, with its tools where no shop is named, on top of what a state says."""
    head = HEAD + "variants: {kind: [early, late]}\n"
    text = (WORK + UNDER).replace(
        "parts:\n", "parts:\n  shield: {from: top, minutes: '1 off, 1 on', only for: late, tools: [pry bar]}\n", 1
    )
    text = text.replace("behind: [drain plug]", "behind: [drain plug, shield]")
    (files / "kinds.yaml").write_text(head + text, encoding="utf-8")

    assert "shield: remove" not in ids(told("kinds.yaml"))
    assert "shield: remove" in ids(told("kinds.yaml", "--variant", "late"))
    assert "shield: refit" in ids(told("kinds.yaml", "--variant", "late", "--state", "state.yaml"))


def test_doing_without_a_thing_leaves_out_all_that_takes_it(told):
    """Without the support bar the engine is not held by it."""
    plan = told(*DEMO, "--without", "engine support bar")
    assert "engine support bar" not in plan["equipment"]
    assert plan["money"] > told(*DEMO)["money"]


def test_without_set_up_no_step_has_any(told):
    """By hand: 44 minutes less 9 of set-up and 2 of lowering, and the wait is full again: 1 more minute."""
    plan = told(*SAMPLE, "--no-setup")
    assert {step["set_up_minutes"] for step in plan["steps"]} == {0}
    assert plan["minutes"] == 44 - 9 - 2 + 1


def test_without_overlap_waits_count_in_full(told):
    """By hand: the change of tool no longer runs inside the 12 minutes, so that 1 minute is added."""
    plan = told(*SAMPLE, "--no-overlap")
    assert plan["minutes"] == 44 + 1


def test_more_rust_takes_longer(told):
    """Expected minutes of risks grow with the class; the shop's own class is usual."""
    clean, usual, heavy = (told(*DEMO, "--rust", rust)["minutes"] for rust in ("clean", "usual", "heavy"))
    assert clean < usual < heavy
    assert told(*DEMO)["minutes"] == usual


def test_a_job_under_way_is_taken_up(told):
    """The plug is off already."""
    plan = told(*SAMPLE, "--state", "state.yaml")
    assert "drain plug: remove" not in ids(plan)
    assert "drain plug: refit" in ids(plan)


def test_a_short_time_gives_a_plan_all_the_same(told):
    """The first plan is there before the clock is looked at; its gap is said."""
    plan = told(*DEMO, "--seconds", "0.000001")
    assert plan["steps"]
    assert 0 <= plan["gap"] < 1


# --- other ways, and an order that somebody gives -------------------------------------------------

ORDER = "order: 1\nname: the manual\nway in: [drain plug, pump]\n"


def test_other_ways_stand_below_the_plan(way):
    """The sheet first, then what else there is; a job with one way has nothing else, and that is told."""
    _, alone, _ = way(*DEMO)
    status, out, complaint = way(*DEMO, "--others")

    assert (status, complaint) == (0, "")
    assert out.startswith(alone)
    assert out[len(alone) :].startswith("\nOTHER WAYS")
    assert way(*SAMPLE, "--others")[1].endswith(
        "\nOTHER WAYS\n     none, and no one thing more in the shop would save anything\n"
    )


def test_other_ways_as_json(told):
    """The plan itself first, chosen; what each costs more is the difference of the totals."""
    first, *others = told(*DEMO, "--others")["alternatives"]

    assert (first["chosen"], first["reason"], first["more"]["money"]) == (True, "", 0)
    for one in others:
        assert one["more"]["money"] == pytest.approx(one["money"] - first["money"], abs=1e-3)
        assert one["more"]["minutes"] == pytest.approx(one["minutes"] - first["minutes"], abs=1e-3)


def test_other_ways_of_a_job_under_way(told, files):
    """With every option that a plan takes; the engine's own way is the one that is shut now."""
    (files / "seized.yaml").write_bytes(demo.text("demo-a-mount-nut-seized.yaml"))
    plan = told(
        *DEMO, "--state", "seized.yaml", "--rust", "heavy", "--by", "minutes", "--without", "second person", "--others"
    )
    ways = {choice["way"] for one in plan["alternatives"] for choice in one["choices"]}

    assert "the gap under the lowered subframe" in ways
    assert "the gap beside the raised engine" not in ways


def test_without_a_shop_other_ways_have_minutes_alone(told):
    """No labour rate, no money."""
    plan = told("demo-a.yaml", "--others")
    assert {one["money"] for one in plan["alternatives"]} == {None}
    assert plan["one_thing_more"] == []


def test_an_order_is_priced(way, told, files):
    """Its price ahead of its steps; with JSON the plan has one key more; the drawing is of that order."""
    (files / "order.yaml").write_text(ORDER, encoding="utf-8")
    status, out, complaint = way(*SAMPLE, "--order", "order.yaml", "--svg", "order.svg")
    plan = told(*SAMPLE, "--order", "order.yaml")

    assert (status, complaint) == (0, "")
    assert out.startswith("THE MANUAL: WHAT IT COSTS\n")
    assert "\nPUMP: THE WAY IN AND THE WAY BACK\n" in out
    assert (files / "order.svg").read_text(encoding="utf-8").startswith("<svg")
    assert set(plan) - set(told(*SAMPLE)) == {"order"}
    assert plan["order"]["more"] == plan["money"] - plan["order"]["cheapest"]["money"] == 0


@pytest.mark.parametrize("seconds", ["0.000001", "0.05", "1"])
def test_an_order_is_priced_or_refused_in_any_time(way, files, seconds):
    """A price, or one sentence that time did not suffice."""
    (files / "order.yaml").write_text(
        "order: 1\nway in: [undertray, left front wheel, engine cover]\n", encoding="utf-8"
    )
    status, out, complaint = way(*DEMO, "--order", "order.yaml", "--seconds", seconds)

    assert (status, bool(out), complaint.count("\n")) in [(0, True, 0), (1, False, 1)]


BAD_ORDERS = {
    "nothing": ("", "order.yaml: the file is empty"),
    "an area": (HEAD + PUMP, 'order.yaml:1:1: an order file has no key "area"'),
    "a part that is not there": (
        "order: 1\nway in: [dran plug]\n",
        'order.yaml:2:10: "dran plug" is not in this file; did you mean "drain plug"?',
    ),
    "not YAML": ("order: [", "order.yaml:"),
}


@pytest.mark.parametrize(("text", "sentence"), BAD_ORDERS.values(), ids=BAD_ORDERS)
def test_a_bad_order_is_told_with_its_place(way, files, text, sentence):
    """Exit status 2, nothing printed."""
    (files / "order.yaml").write_text(text, encoding="utf-8")
    status, out, complaint = way(*SAMPLE, "--order", "order.yaml")

    assert (status, out) == (2, "")
    assert complaint.startswith(sentence)


def test_an_order_that_cannot_be_kept_to_is_an_honest_no(way, files):
    """The one jack cannot prop the lid and raise the car: exit status 1, one sentence."""
    texts = {
        "prop.yaml": HEAD + PROP,
        "jack.yaml": ONE_JACK,
        "order.yaml": "order: 1\nname: the manual\nway in: [prop by jack]\n",
    }
    for name, text in texts.items():
        (files / name).write_text(text, encoding="utf-8")
    status, out, complaint = way("prop.yaml", "--shop", "jack.yaml", "--order", "order.yaml")

    assert (status, out) == (1, "")
    assert complaint == "the manual cannot be kept to: whatever is taken off, some steps wait for each other\n"


# --- mistakes -------------------------------------------------------------------------------------

MISTAKES = {
    "no area": ([], "name an area file, as in: putback way my-area.yaml --shop my-shop.yaml"),
    "no such area": (["no.yaml"], "no.yaml: there is no such file"),
    "a folder": (["."], ".: this is a folder; name a file in it"),
    "no such shop": (["area.yaml", "--shop", "no.yaml"], "no.yaml: there is no such file"),
    "no such order": ([*SAMPLE, "--order", "no.yaml"], "no.yaml: there is no such file"),
    "an order and other ways": (
        [*SAMPLE, "--order", "no.yaml", "--others"],
        "--order prices one order; leave --others out, or ask for it in a run of its own",
    ),
    "no such state": ([*SAMPLE, "--state", "no.yaml"], "no.yaml: there is no such file"),
    "unknown target": ([*SAMPLE, "pmup"], 'there is no "pmup" in sample; did you mean "pump"?'),
    "unknown target without a shop": (["area.yaml", "pmup"], 'there is no "pmup" in sample; did you mean "pump"?'),
    "unknown part": (
        [*SAMPLE, "--avoid", "drain plugs"],
        'there is no "drain plugs" to avoid in sample; did you mean "drain plug"?',
    ),
    "unknown thing": (
        [*SAMPLE, "--without", "two post lift"],
        'nothing to do without is called "two post lift"; did you mean "two-post lift"?',
    ),
    "unknown variant": ([*SAMPLE, "--variant", "late"], '"late" is no variant of sample; there are: none'),
    "money without a shop": (
        ["area.yaml", "--by", "money"],
        "--by money needs the shop's labour rate; name its file with --shop",
    ),
    "no time": ([*SAMPLE, "--seconds", "0"], "--seconds 0: give a time above 0"),
    "no number": ([*SAMPLE, "--seconds", "nan"], "--seconds nan: give a time above 0"),
    "an area and a core": (
        ["area.yaml", "--core", "core.json"],
        "--core takes no area and no options but --seconds and --json",
    ),
    "a variant and a core": (
        ["--variant", "late", "--core", "core.json"],
        "--core takes no area and no options but --seconds and --json",
    ),
    "a shop and a core": (
        ["--shop", "shop.yaml", "--core", "core.json"],
        "--core takes no area and no options but --seconds and --json",
    ),
}  # fmt: skip


@pytest.mark.parametrize("words, sentence", MISTAKES.values(), ids=MISTAKES)
def test_a_mistake_is_one_sentence(way, words, sentence):
    """On stderr, with exit status 2 and nothing on stdout."""
    assert way(*words) == (2, "", sentence + "\n")


def test_a_broken_area_is_told_with_its_place(way, files):
    """Every finding with file, line and column; the input cannot be used, so the status is 2."""
    (files / "area.yaml").write_text((HEAD + PUMP).replace("22 N·m", "22 lb"), encoding="utf-8")
    assert way("area.yaml") == (
        2, "", 'area.yaml:15:19: torque "22 lb" has no clear unit; write "22 ft-lb" or "22 in-lb"\n',
    )  # fmt: skip


def test_no_way_is_an_honest_no(way):
    """Exit status 1, what is stuck, and what it would take."""
    status, out, complaint = way(*SAMPLE, "--without", "two-post lift")
    assert (status, out) == (1, "")
    first, *rest = complaint.splitlines()
    assert first == "no safe way to the pump in sample shop"
    assert [line.strip() for line in rest if "two-post lift" in line] == [
        "for want of two-post lift or 4 axle stands and floor jack",
        "two-post lift                                                147.00    44.0",
    ]


def test_no_way_as_json(way):
    """The same for programs: what is stuck, and what would open which way."""
    status, out, _ = way(*SAMPLE, "--without", "two-post lift", "--json")
    told = json.loads(out)
    assert (status, told["possible"]) == (1, False)
    assert told["stuck"] == [
        {
            "operation": "remove the drain plug",
            "ways": [{"way": "", "why": "for want of two-post lift or 4 axle stands and floor jack"}],
        }
    ]
    assert told["missing"] == [{"things": ["two-post lift"], "opens": [], "money": 147, "minutes": 44, "proved": True}]


# --- core problems --------------------------------------------------------------------------------


def test_a_core_problem_gives_just_these_keys(told):
    """By hand: 3 + 4, and the tool changed once for 2; it may end with any tool."""
    plan = told("--core", "core.json")
    assert list(plan) == ["total", "lower", "proved", "first_plan_s", "seconds", "plan"]
    assert (plan["total"], plan["lower"], plan["proved"]) == (9, 9, True)
    assert [name for name, _, _ in plan["plan"]] == ["off", "swap", "on"]
    assert 0 <= plan["first_plan_s"] <= plan["seconds"]


def test_a_core_problem_as_text(way):
    """Total, proof, and a line for each step."""
    status, out, _ = way("--core", "core.json")
    assert status == 0
    assert re.fullmatch(
        r"total 9, proved cheapest, \d+\.\d\d s\n"
        r"  off  \(way 0; b\)\n  swap  \(way 0; b\)\n  on  \(way 0; b\)\n",
        out,
    )


HOSTILE = {
    "empty": b"",
    "no JSON": b"{",
    "not UTF-8": b"\xff\xfe{}",
    "a list": b"[]",
    "NaN": b'{"core": NaN}',
    "a huge number": b'{"core": 2, "rate": 1' + b"0" * 5000 + b"}",
    "a large number": json.dumps({**CORE, "rate": 10**40}).encode(),
    "deep nesting": b"[" * 100_000,
    "nesting that can just be read": b'{"core": ' + b"[" * 900 + b"]" * 900 + b"}",
    "a number for a text": json.dumps({**CORE, "name": 3}).encode(),
    "an id twice": json.dumps({**CORE, "ops": [CORE["ops"][0], {**CORE["ops"][1], "id": "off"}]}).encode(),
    "a key twice": b'{"core": 2, "core": 2}',
    "a name of two lines": json.dumps({**CORE, "items": {"lid\nlid": {"levels": 1}}}).encode(),
    "nothing": b"{}",
    "null": b"null",
}


@pytest.mark.parametrize("content", HOSTILE.values(), ids=HOSTILE)
def test_a_hostile_core_problem_is_one_sentence(way, files, content):
    """Exit status 2, one line on stderr."""
    (files / "hostile.json").write_bytes(content)
    status, out, complaint = way("--core", "hostile.json")

    assert (status, out) == (2, "")
    assert complaint.count("\n") == 1
    assert 10 < len(complaint) < 300


@pytest.mark.parametrize("name", [".", "no.json"])
def test_a_core_problem_that_is_no_file_is_one_sentence(way, name):
    """A folder, and nothing at all."""
    status, out, complaint = way("--core", name)
    assert (status, out, complaint.count("\n")) == (2, "", 1)
    assert complaint.startswith(f"{name}: ")


def test_a_mark_of_byte_order_is_no_trouble(told, files):
    """Some editors write one."""
    (files / "core.json").write_text(json.dumps(CORE), encoding="utf-8-sig")
    assert told("--core", "core.json")["total"] == 9


def test_no_way_through_a_core_problem_names_what_is_stuck(way, files):
    """Exit status 1: the file is sound, there is only no plan."""
    ops = [CORE["ops"][0], {**CORE["ops"][1], "ways": []}]
    (files / "core.json").write_text(json.dumps({**CORE, "ops": ops}), encoding="utf-8")
    assert way("--core", "core.json") == (1, "", "stuck at: on\n")


def test_a_circle_is_told_where_there_is_no_way(way, files):
    """It is the description that is wrong, not the shop; one of hundreds of parts is told as soon."""
    for many in (3, 300):
        parts = (f"  p{n}: {{from: top, minutes: '1 off, 1 on', behind: p{(n + 1) % many}}}\n" for n in range(many))
        (files / "area.yaml").write_text(HEAD.replace("pump", "p0") + "parts:\n" + "".join(parts), encoding="utf-8")
        status, out, complaint = way("area.yaml")

        assert (status, out, complaint.count("\n")) == (2, "", 1)
        assert complaint.startswith("area.yaml:11:3: p0 waits for p1, p1 waits for p2, p2 waits for p")
