"""What a way needs of all items, the posture that it asks for included."""

from putback.way.order_needs import cases

# Whoever works on the ground needs the wheel on; on the lift nothing is asked.
CORE = {
    "dims": [
        {"name": "tool", "values": ["a", "b"], "start": "a", "change": 1},
        {"name": "posture", "values": ["ground", "lift"], "start": "ground", "change": 1,
         "needs": {"ground": {"wheel": [0, 0], "jack": [0, 0]}}},
    ],
}  # fmt: skip


def op(item: str, way: dict, level: int = 1) -> dict:
    return {"id": "it", "item": item, "level": level, "ways": [way]}


def test_a_way_in_any_posture_needs_what_it_says():
    """One of the postures asks for nothing."""
    assert cases(CORE, op("lid", {"needs": {"tray": [1, 1]}}), 0) == [{"tray": (1, 1)}]


def test_a_way_in_one_posture_needs_what_that_asks_for_as_well():
    """Bolts that are broken loose on the ground: wheel on, no jack under the car."""
    assert cases(CORE, op("bolts", {"needs": {"tray": [1, 1]}, "in": {"posture": ["ground"]}}), 0) == [
        {"tray": (1, 1), "wheel": (0, 0), "jack": (0, 0)},
    ]  # fmt: skip


def test_needs_that_exclude_each_other_leave_no_case():
    """On the ground with the wheel off."""
    assert cases(CORE, op("bolts", {"needs": {"wheel": [1, 1]}, "in": {"posture": ["ground"]}}), 0) == []


def test_what_the_posture_forbids_the_operation_itself_is_no_case():
    """The wheel comes off on the lift alone; bolts of two levels may be loosened on the ground, not taken out."""
    assert cases(CORE, op("wheel", {"in": {"posture": ["ground"]}}), 0) == []
    loose = {"dims": [{**CORE["dims"][1], "needs": {"ground": {"bolts": [0, 1]}}}]}

    assert cases(loose, op("bolts", {"in": {"posture": ["ground"]}}, 1), 0) == [{}]  # at the limit
    assert cases(loose, op("bolts", {"in": {"posture": ["ground"]}}, 2), 0) == []  # above it


def test_every_setting_counts_once():
    """Two settings with needs, two values each: what remains is one case for each pair that can be."""
    turned = {"name": "steering", "values": ["straight", "left"], "start": "straight", "change": 1,
              "needs": {"straight": {"tie": [0, 0]}, "left": {"tie": [1, 1]}}}  # fmt: skip
    found = cases({"dims": [CORE["dims"][1], turned]}, op("lid", {"needs": {}, "in": {"posture": ["ground"]}}), 0)

    assert [one["tie"] for one in found] == [(0, 0), (1, 1)]
    assert all(one["wheel"] == (0, 0) for one in found)
