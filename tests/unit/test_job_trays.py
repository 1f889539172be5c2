"""Which tray: one number a part, one letter a group, and what lies in a tray stays there."""

from job_play import NOTHING, Played, demo_plan
from log import Log, demo_area, demo_shop

from putback.job.car import Car
from putback.job.trays import labels, tray_map


def mapped(log: Log, plan: dict | None) -> dict[str, str]:
    """The tray positions on demo A."""
    return tray_map(log.state, Car(demo_area("a"), demo_shop()), plan)


def test_parts_are_numbered_and_groups_are_lettered_in_the_order_of_the_plan():
    """The cover comes off first; the tray's short and long screws share a number and no position."""
    found = mapped(Log(demo_area("a")), demo_plan("a"))
    assert found["cover clips"] == "1A" and found["duct clamps"] == "2A"
    short, long = found["short tray screws"], found["long tray screws"]
    assert short[:-1] == long[:-1] and short != long
    assert len(set(found.values())) == len(found)


def test_what_lies_in_a_tray_stays_there_when_the_plan_is_replaced():
    """Another plan takes other parts off: the clips keep 1A, the mount nuts theirs though they are in again."""
    log = Log(demo_area("a"))
    log.off("cover clips", 4, tray="1A")
    log.off("left mount nuts", 2, tray="12B")
    log.on("left mount nuts", 2, 77, new=True)
    found = mapped(log, demo_plan("a", ("left engine mount", "subframe")))
    assert found["cover clips"] == "1A" and found["left mount nuts"] == "12B"
    assert not any(position.startswith("12") for name, position in found.items() if name != "left mount nuts")
    assert len(set(found.values())) == len(found)


def test_own_positions_are_kept_as_they_were_said():
    """A box of somebody's own is no number, and takes none away."""
    log = Log(demo_area("a"))
    log.off("cover clips", 4, tray="red box")
    log.off("duct clamps", 2, tray="3")
    found = mapped(log, demo_plan("a"))
    assert (found["cover clips"], found["duct clamps"]) == ("red box", "3")
    assert len(set(found.values())) == len(found)


def test_a_car_that_nobody_described_has_trays_too():
    """Two groups of one bracket share its number."""
    log = Log()
    log.off("long bolts", 2, belongs_to="bracket", tray="4A")
    log.say("fasteners off", item="short bolt", count=1, to="back in their holes", belongs_to="bracket")
    assert tray_map(log.state, NOTHING) == {"long bolts": "4A", "short bolt": "4B"}


def test_the_labels_say_what_goes_where():
    """Story 25: seven short ones and two long ones, the long ones for the rear edge."""
    played = Played("a")
    found = {label.group: label for label in labels(played.state, played.car, played.plan)}
    assert found["short tray screws"].count == 7
    assert found["long tray screws"].text == "long tray screws, M6x1.0x28, rear edge only"
    numbers = [int(label.position[:-1]) for label in labels(played.state, played.car, played.plan)]
    assert numbers == sorted(numbers)
