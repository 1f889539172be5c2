"""A given order is kept to as far as it is allowed; where it is not, the point and what comes first are told."""

from types import SimpleNamespace

from putback.way.given_order import Listed, Walk

# A lid over a tray over a pump; a clip holds the lid; a strap holds the pump and must be in before it moves.
NEEDS = {
    "lid": {"clip": [1, 1]},
    "tray": {"lid": [1, 1]},
    "pump": {"tray": [1, 1], "strap": [1, 1]},
    "clip": {},
    "strap": {},
    "badge": {"lid": [0, 0]},  # comes off only while the lid is on
}
ITEMS = list(NEEDS)
CORE = {
    "dims": [],
    "items": {name: {"levels": 1} for name in ITEMS},
    "ops": [
        {"id": f"{name} {way}", "item": name, "dir": way, "level": 1, "ways": [{"needs": needs}]}
        for name in ITEMS
        for way, needs in (("out", NEEDS[name]), ("back", {"strap": [1, 1]} if name == "pump" else {}))
    ],
}
BEHIND = {
    "clip back": {"lid": [0, 0]},
    "lid back": {"tray": [0, 0]},
    "tray back": {"pump": [0, 0]},
    "strap back": {"pump": [0, 0]},
}
for one in CORE["ops"]:
    if one["id"] in BEHIND:
        one["ways"] = [{"needs": BEHIND[one["id"]]}]
    elif one["id"] == "pump back":
        one["ways"] = [{"needs": {"strap": [1, 1], "tray": [1, 1]}}]
PART = {"clip": "lid"}  # the clip belongs to the lid
OPERATIONS = {
    op["id"]: SimpleNamespace(name=op["item"], part=PART.get(op["item"], op["item"]), text=op["id"])
    for op in CORE["ops"]
}


def listed(*entries: str, way: str = "out") -> list[Listed]:
    """Entries of one item each; "lid+clip" is an entry of two."""
    return [Listed(entry, f"{name} {way}", (0,)) for entry in entries for name in entry.split("+")]


def walked(*entries: str, others: str = "", way: str = "out") -> Walk:
    at = dict.fromkeys(ITEMS, 0 if way == "out" else 1)
    return Walk(CORE, OPERATIONS, way, at, listed(*entries, way=way), listed(*others.split(), way=way)).run()


def done(walk: Walk) -> list[str]:
    return [one.op.split()[0] for one in walk.done]


def points(walk: Walk) -> list[tuple]:
    return [(point.entry, point.first) for point in walk.points]


def test_an_order_that_is_allowed_is_kept_to():
    """Nothing is told, nothing is added, whatever stands first."""
    walk = walked("strap", "clip", "lid", "tray", "pump")
    assert done(walk) == ["strap", "clip", "lid", "tray", "pump"]
    assert (points(walk), walk.pending) == ([], [])


def test_what_comes_too_early_waits_and_is_told():
    """The pump stands ahead of the tray and the strap."""
    walk = walked("clip", "lid", "pump", "tray", "strap")
    assert done(walk) == ["clip", "lid", "tray", "strap", "pump"]
    assert points(walk) == [("pump", ("tray out", "strap out"))]


def test_each_entry_that_waits_is_told_with_what_it_waits_for():
    """Turned round altogether: what is nearest is told, and each entry once."""
    walk = walked("pump", "tray", "lid", "clip", others="strap")
    assert done(walk) == ["strap", "clip", "lid", "tray", "pump"]
    assert points(walk) == [("pump", ("tray out",)), ("tray", ("lid out",)), ("lid", ("clip out",))]


def test_the_order_within_an_entry_is_free():
    """A part named with its clip: the clip comes first, and nobody did anything wrong."""
    walk = walked("lid+clip", "tray")
    assert done(walk) == ["clip", "lid", "tray"]
    assert points(walk) == []


def test_what_is_left_out_is_done_where_it_is_needed():
    """Neither clip nor lid is named: they come just before the tray."""
    walk = walked("strap", "tray", "pump", others="lid clip")
    assert done(walk) == ["strap", "clip", "lid", "tray", "pump"]
    assert points(walk) == []
    assert [one.entry for one in walk.kept] == ["strap", "tray", "pump"]


def test_what_is_left_out_and_not_needed_stays_undone():
    """It has its place elsewhere in the plan."""
    assert done(walked("clip", others="strap")) == ["clip"]


def test_through_what_is_left_out_the_point_is_the_entry_behind_it():
    """The tray needs the lid, which nobody named, and the lid needs the clip, which stands further down."""
    walk = walked("tray", "clip", others="lid")
    assert done(walk) == ["clip", "lid", "tray"]
    assert points(walk) == [("tray", ("clip out (for the lid)",))]


def test_what_would_be_shut_off_comes_first():
    """The badge comes off while the lid is on; named behind it, it must still come before."""
    walk = walked("clip", "lid", "badge")
    assert done(walk) == ["clip", "badge", "lid"]
    assert points(walk) == [("lid", ("badge out",))]


def test_what_would_be_shut_off_comes_first_though_nobody_named_it():
    """That is no fault of the order."""
    walk = walked("clip", "lid", "tray", others="badge")
    assert done(walk) == ["clip", "badge", "lid", "tray"]
    assert points(walk) == []


def test_what_closes_too_early_waits_on_the_way_back():
    """The lid named first: the pump must go back through it, then the tray."""
    walk = walked("lid", "clip", "pump", "tray", others="strap", way="back")
    assert done(walk) == ["pump", "tray", "lid", "clip"]
    assert points(walk) == [("lid", ("tray back",)), ("clip", ("lid back",))]


def test_on_the_way_back_what_nobody_named_is_not_shut_in():
    """The tray alone is named: the pump behind it goes first."""
    walk = walked("tray", others="pump strap lid clip", way="back")
    assert done(walk) == ["pump", "tray"]
    assert points(walk) == []


def test_what_cannot_be_done_stays_pending():
    """Nothing that is named or needed brings the strap in."""
    walk = walked("clip", "lid", "tray", "pump")
    assert done(walk) == ["clip", "lid", "tray"]
    assert [one.op for one in walk.pending] == ["pump out"]


def test_the_levels_given_are_left_as_they_are():
    """They belong to the caller."""
    at = dict.fromkeys(ITEMS, 0)
    Walk(CORE, OPERATIONS, "out", at, listed("clip"), []).run()
    assert at == dict.fromkeys(ITEMS, 0)
