"""The entries of an order stand for operations; one that stands for none is refused with the reason."""

import pytest
from area_samples import HEAD, area, shop, state

from putback.area.order_file import read_order
from putback.errors import InputError
from putback.way.order_entries import check_ways, expand, nothing, open_already
from putback.way.task import make_task

AREA = """\
variants: {kind: [early, late]}
on the ground: {stands on: [wheel]}
parts:
  wheel:
    from: wheel arch
    minutes: 5 off, 7 on
    held by:
      wheel bolts: 4 x M12x1.5x45, class 10.9, 17 mm, 110 N·m, on the ground
  cover: {from: top, minutes: "1 off, 1 on", only for: late}
  crank: {from: top, minutes: "1 off, 1 on", with: crank puller}
  pump:
    from: top
    minutes: 4 off, 6 on
    held by:
      pump bolts: 2 x M8x30, class 8.8, 13 mm, 22 N·m
    out through:
      the top: {}
      the arch: {behind: [wheel], from: wheel arch}
      the floor: {with: floor saw}
put in:
  prop:
    secures: [pump]
    minutes: 1 in, 1 out
    by:
      jack: {from: top}
      bar: {from: top, minutes: "2 in, 2 out"}
"""
EVERYTHING = ("wheel", "crank", "pump", "prop", "cover")


def task(at: str = "", **options):
    described = area(AREA, HEAD)
    made = make_task(described, shop(), state=state(at, described) if at else None, **options)
    return made.keeping(EVERYTHING)


def entries(*texts: str):
    return read_order(f"order: 1\nway in: {list(texts)}\n", "order.yaml", area(AREA, HEAD)).out


def expanded(*texts: str, way: str = "out", at: str = "") -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for one in expand(task(at), entries(*texts), way):
        found.setdefault(one.entry, []).append(one.op)
    return found


def test_a_part_brings_all_that_holds_it():
    """The pump with its bolts, on both ways."""
    assert expanded("pump") == {"pump": ["pump: remove", "pump bolts: undo"]}
    assert sorted(expanded("pump", way="back")["pump"]) == ["pump bolts: tighten", "pump: refit"]


def test_what_has_an_entry_of_its_own_is_not_brought():
    """Whichever stands first."""
    for texts in (("pump", "pump bolts"), ("pump bolts", "pump")):
        assert expanded(*texts) == {"pump": ["pump: remove"], "pump bolts": ["pump bolts: undo"]}


def test_a_state_brings_what_leads_there():
    """Loose is one move, out are two; named one after the other each has its own."""
    assert expanded("wheel bolts loose") == {"wheel bolts loose": ["wheel bolts: break loose"]}
    assert expanded("wheel bolts") == {"wheel bolts": ["wheel bolts: break loose", "wheel bolts: take out"]}
    assert expanded("wheel bolts loose", "wheel bolts") == {
        "wheel bolts loose": ["wheel bolts: break loose"], "wheel bolts": ["wheel bolts: take out"],
    }  # fmt: skip


def test_on_the_way_back_a_state_brings_what_leads_back_to_it():
    """Loose: run in; tight, or the name alone: both moves."""
    assert expanded("wheel bolts loose", way="back") == {"wheel bolts loose": ["wheel bolts: run in"]}
    for text in ("wheel bolts tight", "wheel bolts"):
        assert sorted(expanded(text, way="back")[text]) == ["wheel bolts: run in", "wheel bolts: tighten finally"]


def test_a_way_is_insisted_on_where_it_is_named():
    """The top and the arch, each with the jack or the bar; the bolts have no such ways; without a name each will do."""
    ways = {one.op: one.ways for one in expand(task(), entries("pump by the arch"), "out")}
    assert ways == {"pump: remove": (2, 3), "pump bolts: undo": (0, 1)}
    assert {one.op: one.ways for one in expand(task(), entries("pump"), "out")}["pump: remove"] == (0, 1, 2, 3)


def test_a_thing_put_in_is_that_way_alone():
    """By the bar it is not put in by the jack."""
    assert expanded("prop by bar") == {"prop by bar": ["prop by bar: put in"]}


def refusal(*texts: str, at: str = "", **options) -> str:
    """Why the last of some entries stands for nothing."""
    made, given = task(at, **options), entries(*texts)
    found = expand(made, given, "out")
    assert given[-1].text not in {one.entry for one in found}
    return str(nothing(made, given[-1], found))


def test_an_entry_that_stands_for_nothing_says_why():
    """Each cause in its own words, with the place of the entry."""
    assert refusal("wheel bolts tight") == (
        'order.yaml:2:10: "wheel bolts tight": that is how it stands before the work begins'
    )
    assert refusal("cover").endswith('"cover": this car has none')
    assert refusal("wheel", avoid=["wheel"]).endswith('"wheel": it must not be opened')
    assert refusal("wheel", at="cannot be opened: {wheel bolts: rusted}\n").endswith(
        "it is stuck where one must break the 4 wheel bolts loose (the wheel bolts must not be opened)"
    )
    assert refusal("crank").endswith(
        '"crank": not possible in sample shop: it is stuck where one must remove the crank (for want of crank puller)'
    )
    assert refusal("pump by the top", "pump by the arch").endswith(
        '"pump by the arch": it stands in this list already, as "pump by the top"'
    )


def test_a_way_that_the_shop_has_not_is_refused():
    """For want of what; the ways it has pass."""
    with pytest.raises(InputError, match='"pump by the floor": not possible in sample shop for want of floor saw'):
        check_ways(task(), entries("wheel", "pump by the floor"))
    check_ways(task(), entries("pump by the top", "prop by bar", "wheel bolts loose"))


@pytest.mark.parametrize(
    ("now", "text", "already"),
    [
        ("wheel bolts: loose", "wheel bolts loose", True),  # at
        ("wheel bolts: loose", "wheel bolts", False),  # below
        ("wheel bolts: out", "wheel bolts loose", True),  # above
        ("wheel bolts: out", "pump", False),
    ],
)
def test_what_is_as_far_off_is_off_already(now, text, already):
    """Just as far, less far, further, and another part."""
    at = f"posture: on a lift\nnow: {{{now}}}\n"
    assert open_already(task(at), entries(text)[0]) == already


def test_in_a_job_that_begins_nothing_is_off():
    """There is no state."""
    assert not open_already(task(), entries("wheel")[0])
