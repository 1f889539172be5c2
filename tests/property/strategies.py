"""Hypothesis strategies, all in one place."""

from dataclasses import replace
from fractions import Fraction

from chart_samples import back, out, sheet_with, swap
from hypothesis import strategies as st
from log import demo_area

from property.job_model import Happened, Truth
from putback.area.charges import EVERYTHING, GOODS, LABOUR, PARTS, Charges, Portion
from putback.estimate.bill import Labour
from putback.estimate.goods import Good
from putback.job.events import Event
from putback.job.kinds import KINDS, MEASURED, UNMEASURED
from putback.way.sheet import Sheet
from referees.random_problems import tiny_1, tiny_2


def _drawn(make) -> st.SearchStrategy:
    """Problems made by a function of a random source that hypothesis steers, so that it can shrink them."""
    return st.randoms(use_true_random=False).map(make)


def core_problems() -> st.SearchStrategy[dict]:
    """Small core problems of both versions."""
    return st.one_of(_drawn(tiny_1), core_problems_2())


def core_problems_2() -> st.SearchStrategy[dict]:
    """Small core problems of version 2."""
    return _drawn(tiny_2)


@st.composite
def cores_and_ways(draw) -> tuple[dict, int, int]:
    """A problem of version 2, the place of an operation in it that has several ways, and one of those ways."""
    core = draw(core_problems_2().filter(lambda core: _choices(core)))
    return core, *draw(st.sampled_from(_choices(core)))


def _choices(core: dict) -> list[tuple[int, int]]:
    return [
        (place, way) for place, op in enumerate(core["ops"]) if len(op["ways"]) > 1 for way in range(len(op["ways"]))
    ]


@st.composite
def cores_and_pools(draw) -> tuple[dict, str]:
    """A problem of version 2 and one of its pools."""
    core = draw(core_problems_2().filter(lambda core: core["pools"]))
    return core, draw(st.sampled_from(sorted(core["pools"])))


def anything() -> st.SearchStrategy:
    """What a file may hold in place of what was meant."""
    plain = st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=3)
    return st.recursive(plain, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=3), inner))


@st.composite
def spoiled_plans(draw) -> tuple[dict, list]:
    """A problem and a plan of shuffled, doubled, missing and senseless steps."""
    core = draw(core_problems_2())
    ids = [op["id"] for op in [*core["ops"], *core["swaps"]]]
    context = st.fixed_dictionaries({dim["name"]: st.sampled_from(dim["values"]) for dim in core["dims"]})
    step = st.tuples(st.sampled_from(ids) if ids else st.text(), st.integers(0, 2), context).map(list)
    return core, draw(st.lists(step | anything(), max_size=8))


@st.composite
def courses_of_work(draw) -> Sheet:
    """Parts that go out and back in any order, some open at the start or left open, with set-up, waits and postures."""
    names = draw(st.lists(st.text(min_size=1, max_size=30), max_size=8, unique=True))
    opened, closed = ([name for name in names if draw(st.integers(0, 3))] for _ in "ob")
    time = st.fractions(0, 90, max_denominator=60)
    often = {"minutes": time, "set_up": st.just(0) | time, "wait": st.just(0) | time}
    more = st.fixed_dictionaries(often | {"posture": st.sampled_from([None, None, "on a lift", "on the ground"])})
    steps = [out(name, **draw(more)) for name in draw(st.permutations(opened))]
    steps += [swap(name) for name in names[: draw(st.integers(0, 2))]]
    steps += [back(name, **draw(more)) for name in draw(st.permutations(closed))]
    return sheet_with(steps, start="on the ground", swap_minutes=draw(time))


def exact_cents() -> st.SearchStrategy[Fraction]:
    """Amounts in cents with halves and thirds of a cent, of either sign."""
    return st.builds(Fraction, st.integers(-(10**9), 10**9), st.sampled_from([1, 2, 3, 4, 6, 8, 60]))


def _shares(most: int) -> st.SearchStrategy[Fraction]:
    return st.integers(0, 1000 * most).map(lambda thousandths: Fraction(thousandths, 1000))


@st.composite
def bills(draw) -> tuple[list[Labour], list[Good], Charges, Fraction]:
    """What a bill is made from: labour, goods with or without a price, a shop's charges, and tax."""
    money = exact_cents().map(abs)
    portion = st.builds(Portion, share=_shares(1)) | st.builds(Portion, amount=money)
    of = st.sampled_from([LABOUR, PARTS, EVERYTHING])
    discount = st.builds(lambda said, of: replace(said, of=of), portion, of)
    good = st.builds(Good, st.text(min_size=1, max_size=5), st.sampled_from(GOODS), st.integers(1, 20), st.none() | money)
    labour = st.builds(Labour, st.just("labour"), st.fractions(0, 600, max_denominator=60), money)
    charges = st.builds(
        Charges,
        mark_up=st.dictionaries(st.sampled_from(GOODS), _shares(2)),
        supplies=st.none() | portion.map(lambda said: replace(said, of=LABOUR)),
        disposal=money,
        discount=st.none() | discount,
        deposit=st.none() | portion,
    )
    return draw(st.lists(labour, max_size=2)), draw(st.lists(good, max_size=8)), draw(charges), draw(_shares(1))


@st.composite
def true_histories(draw, names: dict[str, str]) -> tuple[Truth, list[Happened]]:
    """What truly happened to six fasteners, a plug, a part, a person and a car, told by two devices; how it came in."""
    truth = Truth(6)
    for _ in range(draw(st.integers(0, 14))):
        what = draw(st.sampled_from(truth.possible()))
        count = draw(st.integers(1, truth.most(what)))
        truth.happen(what, count, draw(st.sampled_from(["phone 1", "phone 2"])), names)
    return truth, _shuffled(draw, truth.happened)


def _shuffled(draw, happened: list[Happened]) -> list[Happened]:
    """Each device in its own order, and the two anyhow."""
    waiting = [[one for one in happened if one.device == device] for device in ("phone 1", "phone 2")]
    arrived = []
    while any(waiting):
        sender = draw(st.sampled_from([queue for queue in waiting if queue]))
        arrived.append(sender.pop(0))
    return arrived


_READ, _FELT = {"evidence": "value read", "torque": 7}, {"evidence": "by feel", "reason": "no room"}
_WHOLE = {  # what may be done to a whole group in some state: the state after it, and what is told
    "off": ("out", "fasteners off", {"to": "back in their holes"}),
    "loosen": ("loose", "fasteners loosened", {}),
    "on": ("good", "fasteners on", {"new": True, **_READ}),
    "on by feel": ("felt", "fasteners on", {"new": True, **_FELT}),
    "tighten": ("good", "fasteners tightened", _READ),
    "tighten by feel": ("felt", "fasteners tightened", _FELT),
}
_NEXT = {"out": ["on", "on by feel"], "loose": ["off", "tighten", "tighten by feel"]}
_IN = ["off", "loosen", "tighten", "tighten by feel"]


@st.composite
def closings(draw) -> tuple[bool, list[Happened]]:
    """A whole group opened and closed by two devices: whether it ends closed to a figure, and how it came in."""
    standing, happened = "good", []
    for minute in range(1, draw(st.integers(1, 9))):
        standing, kind, more = _WHOLE[draw(st.sampled_from(_NEXT.get(standing, _IN)))]
        device = draw(st.sampled_from(["phone 1", "phone 2"]))
        happened.append(Happened(minute, device, kind, {"item": "lid screws", "count": 6, **more}))
    return standing == "good", _shuffled(draw, happened)


def _texts() -> st.SearchStrategy[str]:
    """Names of an area, states, people, and what a keyboard or an attacker may send."""
    known = [name for letter in "abcd" for name in demo_area(letter).items]
    words = ["off", "out", "fitted", "unplugged", "lowered 65 mm", "Fitted ", "coolant", "technician 1", "road test"]
    hostile = ["<script>", "'; DROP TABLE events", "{0}", "%s", "\u202eabc", "e\u0301", "x" * 4000, "🔧", "0", "\\"]
    written = st.text(min_size=1, max_size=8).filter(lambda text: text.strip() and text.isprintable())
    return st.sampled_from(known[:40]) | st.sampled_from(known + words + hostile) | written


_FIELDS = {
    "text": _texts(),
    "words": _texts() | st.just("first line\nsecond line"),
    "texts": st.lists(_texts(), max_size=3),
    "number": st.integers(-5, 5) | st.floats(-1e9, 1e9),
    "amount": st.integers(0, 200) | st.floats(0, 1e6),
    "count": st.integers(1, 12) | st.just(10_000),
    "yes or no": st.booleans(),
    "mapping": st.dictionaries(_texts(), _texts(), max_size=3),
    "hash": st.text("0123456789abcdef", min_size=64, max_size=64),
}


@st.composite
def events_of_any_kind(draw) -> Event:
    """An event of any kind that may be logged, about things that other events are about as well."""
    kind = draw(st.sampled_from([*KINDS, "kind of a newer program"]))
    data = {}
    for name, must_be in KINDS.get(kind, {}).items():
        if not name.endswith("?") or draw(st.booleans()):
            data[name.rstrip("?")] = draw(_FIELDS[must_be] if must_be in _FIELDS else st.sampled_from(must_be.split("|")))
    if data.get("evidence") in UNMEASURED:
        data.setdefault("reason", "no room")
    if data.get("evidence") in MEASURED:
        data.setdefault("torque", 20)
    if data.get("to") == "tray":
        data.setdefault("tray position", "1a")
    if kind == "reading taken":
        data |= {"value": 12.5, "unit": "V"} if "value" in data or "unit" in data else {"word": "glazed"}
    if kind == "event undone":
        data["event"] = f"{draw(st.integers(1, 25)):026d}"
    minute, device = draw(st.integers(0, 59)), draw(st.sampled_from(["bay 2", "phone 1"]))
    person = draw(st.sampled_from(["technician 1", "technician 2", "apprentice 1"]))
    return Event("A" * 26, "J" * 26, kind, f"2026-03-02T08:{minute:02d}:00.000Z", person, device, data)
