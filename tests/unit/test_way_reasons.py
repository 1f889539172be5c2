"""Why a part is touched: the shortest chain of needs from it to the target."""

from dataclasses import dataclass

from core_samples import core, op

from putback.way.reasons import reasons


@dataclass(frozen=True)
class Meaning:
    """As much of an operation as the reasons look at."""

    item: str
    part: str


def meanings(said: dict, **parts: str) -> dict:
    """Every item is a part of its own, unless it is said to belong to one."""
    return {one["id"]: Meaning(one["item"], parts.get(one["item"], one["item"])) for one in said["ops"]}


def chains(ops: list[dict], plan: list[str], *targets: str, **parts: str) -> dict:
    said = core(ops)
    return reasons(said, meanings(said, **parts), [[name, 0, {}] for name in plan], targets)


def needs(*items: str) -> dict:
    return {"needs": {item: [1, 1] for item in items}}


def test_each_part_leads_to_the_target_by_what_needs_it():
    """The cover is in the way of the lid, and the lid of the part."""
    ops = [op("cover", "out"), op("lid", "out", needs("cover")), op("part", "out", needs("lid"))]
    found = chains(ops, ["cover out", "lid out", "part out"], "part")
    assert found == {"part": (), "lid": ("part",), "cover": ("lid", "part")}


def test_the_shortest_chain_counts():
    """The cover is in the way of both."""
    ops = [op("cover", "out"), op("lid", "out", needs("cover")), op("part", "out", needs("lid", "cover"))]
    assert chains(ops, ["cover out", "lid out", "part out"], "part")["cover"] == ("part",)


def test_fasteners_stand_for_their_part():
    """Who needs a part's bolts out needs the part's reason, not one of its own."""
    ops = [op("cover", "out"), op("bolts", "out", needs("cover")), op("part", "out", needs("bolts"))]
    assert chains(ops, ["cover out", "bolts out", "part out"], "part", bolts="part") == {"part": (), "cover": ("part",)}


def test_what_must_not_be_moved_yet_is_no_reason():
    """A need for something in its place opens nothing."""
    ops = [op("lid", "out"), op("part", "out", {"needs": {"lid": [0, 1]}})]
    assert chains(ops, ["lid out", "part out"], "part") == {"part": ()}


def test_only_ways_that_the_plan_takes_count():
    """By its first way the part needs nothing."""
    ops = [op("lid", "out"), op("part", "out", {}, needs("lid"))]
    assert "lid" not in chains(ops, ["lid out", "part out"], "part")


def test_two_targets_have_no_reason_and_give_one():
    """What is in the way of both is told by the first."""
    ops = [op("lid", "out"), op("pump", "out", needs("lid")), op("belt", "out", needs("lid"))]
    found = chains(ops, ["lid out", "pump out", "belt out"], "pump", "belt")
    assert found == {"pump": (), "belt": (), "lid": ("pump",)}


def test_what_has_no_moves_left_gives_no_reason():
    """Marks that were made before the job was taken up are needed, and never move again."""
    said = core([op("part", "out", needs("marks"))])
    said["items"]["marks"] = {"levels": 1, "start": 1}
    assert reasons(said, meanings(said), [["part out", 0, {}]], ["part"]) == {"part": ()}
