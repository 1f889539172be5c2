"""What the words of a description become in the core problem."""

from fractions import Fraction

import pytest
from area_samples import HEAD, PUMP, SHOP, area, shop, state

from putback.area.hazards import hazards
from putback.errors import InputError, NoWay
from putback.way import solve_core
from putback.way.from_area import core_problem
from putback.way.replay import replay

COVER = """\
  cover:
    from: top
    minutes: 1 off, 1 on
    held by:
      cover clips: 2 x ball clip
"""
BEHIND = PUMP + "    behind: [cover]\n" + COVER


def translate(text: str, the_shop=None, head: str = HEAD, **options):
    return core_problem(area(text, head), the_shop or shop(), **options)


def operation(translated, name: str) -> dict:
    """One operation of the core."""
    return next(op for op in translated.core["ops"] if op["id"] == name)


def needs(translated, name: str) -> list[dict]:
    """The needs of each way of an operation."""
    return [way["needs"] for way in operation(translated, name)["ways"]]


def ids(translated) -> list[str]:
    return [op["id"] for op in translated.core["ops"]]


def solved(translated):
    """The plan, which the replay finds nothing wrong with."""
    found = solve_core(translated.core, seconds=20)
    walked = replay(translated.core, found.plan)
    assert (walked.broken, walked.total) == ((), found.total)
    return found


# Needs


def test_behind_binds_the_fasteners_too_out_and_back():
    """Said once at the part."""
    translated = translate(BEHIND)

    for name in ("pump bolts: undo", "pump bolts: tighten"):
        assert needs(translated, name) == [{"cover": [1, 1]}]
    for name in ("pump: remove", "pump: refit"):
        assert needs(translated, name) == [{"cover": [1, 1], "pump bolts": [1, 1]}]


def test_what_is_hidden_is_found_by_itself():
    """Nobody writes that the cover's clips come before the pump's bolts."""
    found = solved(translate(BEHIND))
    order = [name for name, _, _ in found.plan]

    assert order.index("cover clips: release") < order.index("pump bolts: undo")
    assert order.index("pump bolts: tighten") < order.index("cover clips: press in")


def test_on_the_ground_is_free_of_behind():
    """Only breaking loose and the final tightening; the rest waits as always."""
    head = HEAD + "on the ground: {stands on: [wheel]}\n"
    text = BEHIND.replace("22 N·m", "22 N·m, on the ground") + (
        "  wheel:\n    from: wheel arch\n    minutes: 5 off, 7 on\n    held by:\n"
        "      wheel bolts: 4 x M12x1.5x45, class 10.9, 17 mm, 100 N·m, on the ground\n"
    )
    text = text.replace("behind: [cover]", "behind: [cover, wheel]")
    translated = translate(text, head=head)
    loose = operation(translated, "pump bolts: break loose")["ways"][0]

    assert (loose["needs"], loose["in"]["posture"]) == ({}, ["on the ground"])
    assert needs(translated, "pump bolts: take out") == [{"cover": [1, 1], "wheel": [1, 1]}]
    posture = next(dim for dim in translated.core["dims"] if dim["name"] == "posture")
    assert posture["needs"] == {"on the ground": {"wheel": [0, 0], "wheel bolts": [0, 1]}}


def test_loosened_while_something_else_still_holds():
    """And tightened finally while it holds again; the group's part binds only the way between."""
    text = BEHIND.replace("pump bolts: 2", 'pump bolts: {is: "2').replace("22 N·m", '22 N·m", loosen while: [cover]}')
    translated = translate(text)

    assert needs(translated, "pump bolts: break loose") == [{"cover": [0, 0]}]
    assert needs(translated, "pump bolts: tighten finally") == [{"cover": [0, 0]}]
    assert needs(translated, "pump bolts: take out") == [{"cover": [1, 1]}]
    solved(translated)


def test_tightened_after_something_else():
    """A part counts as closed with its fasteners tight."""
    text = BEHIND.replace("pump bolts: 2", 'pump bolts: {is: "2').replace("22 N·m", '22 N·m", tighten after: [lid]}')
    text = text.replace("behind: [cover]", "behind: [cover, lid]").replace("behind: [cover, lid]", "behind: [cover]")
    text += (
        "    behind: [lid]\n  lid:\n    from: top\n    minutes: 1 off, 1 on\n"
        "    held by:\n      lid clips: 2 x ball clip\n"
    )
    translated = translate(text)

    assert needs(translated, "pump bolts: tighten") == [{"cover": [1, 1], "lid": [0, 0], "lid clips": [0, 0]}]


def test_a_support_is_in_before_what_it_secures_is_loosened():
    """And stays until it is tight again."""
    translated = translate(PUMP + "put in:\n  strap: {secures: [pump], from: top, minutes: '1 in, 1 out'}\n")

    for name in ("pump bolts: undo", "pump bolts: tighten"):
        assert needs(translated, name) == [{"strap": [1, 1]}]
    order = [name for name, _, _ in solved(translated).plan]
    assert order[0] == "strap: put in"
    assert order[-1] == "strap: take out"


def test_a_support_stays_whatever_the_goal_until_what_it_secures_is_tight():
    """It is a need of the take-out itself: a goal that leaves the pump aside leaves the strap in."""
    translated = translate(PUMP + "put in:\n  strap: {secures: [pump], from: top, minutes: '1 in, 1 out'}\n")
    core = translated.core

    assert needs(translated, "strap: take out") == [{"pump": [0, 0], "pump bolts": [0, 0]}]
    core["items"]["pump"]["goal"] = core["items"]["pump bolts"]["goal"] = [0, 1]
    core["items"]["strap"]["goal"] = [0, 1]
    assert solve_core(core).plan[-1][0].startswith("swap")
    core["items"]["pump"]["goal"], core["items"]["strap"]["goal"] = [1, 1], [0, 0]
    with pytest.raises(NoWay):
        solve_core(core)


def test_a_support_under_a_raised_car_waits_only_for_bolts_run_in():
    """Those that are finally tightened on the ground cannot be tight before it is out."""
    text = (
        "parts:\n  pump:\n    from: under\n    minutes: 4 off, 6 on\n    held by:\n"
        "      pump bolts: 2 x M8x30, class 8.8, 13 mm, 22 N·m, on the ground\n"
        "put in:\n  table: {secures: [pump], from: under, minutes: '1 in, 1 out', keeps the car: raised}\n"
    )
    translated = translate(text)

    assert needs(translated, "table: take out") == [{"pump": [0, 0], "pump bolts": [0, 1]}]
    assert solved(translated).plan[-1][0] == "pump bolts: tighten finally"


def test_a_cap_goes_in_before_anything_else_behind_what_it_covers():
    """And comes out before that is refitted."""
    translated = translate(BEHIND + "put in:\n  cap: {covers: [cover], from: top, part of: cover}\n")

    assert needs(translated, "pump bolts: undo") == [{"cover": [1, 1], "cap": [1, 1]}]
    assert needs(translated, "cap: put in") == [{"cover": [1, 1]}]
    solved(translated)


def test_marks_stay():
    """There is no way back for them, and the goal leaves them on."""
    translated = translate(PUMP + "put in:\n  marks: {marks: [pump], from: top, part of: pump}\n")

    assert needs(translated, "pump bolts: undo") == [{"marks": [1, 1]}]
    assert translated.core["items"]["marks"]["goal"] == [0, 1]
    assert [name for name in ids(translated) if name.startswith("marks")] == ["marks: mark"]


TWO_SUPPORTS = (
    PUMP
    + """\
put in:
  support:
    secures: [pump]
    by:
      bar: {from: top, minutes: "3 in, 2 out", with: support bar}
      jack: {from: under, minutes: "2 in, 2 out", with: floor jack, keeps the car: raised}
"""
)


def with_equipment(text: str):
    return shop(base=SHOP.replace("{two-post lift: 1}", "{two-post lift: 1, " + text + "}"))


def test_a_support_with_two_ways_is_two_items():
    """What is held while it stands differs; needs on it become alternatives."""
    translated = translate(TWO_SUPPORTS, with_equipment("support bar: 1, floor jack: 1"))

    assert needs(translated, "pump bolts: undo") == [{"support by bar": [1, 1]}, {"support by jack": [1, 1]}]
    assert [way.name for way in translated.operations["pump bolts: undo"].ways] == ["support by bar", "support by jack"]
    posture = next(dim for dim in translated.core["dims"] if dim["name"] == "posture")
    assert posture["needs"] == {"on the ground": {"support by jack": [0, 0]}}


def test_a_support_that_the_shop_lacks_leaves_one_way():
    """And it is said for want of what."""
    translated = translate(TWO_SUPPORTS, with_equipment("floor jack: 1"))
    reasons = {(one.operation, one.way): one.reason for one in translated.dropped}

    assert needs(translated, "pump bolts: undo") == [{"support by jack": [1, 1]}]
    assert reasons["support by bar: put in", "bar"] == "for want of support bar"


def test_a_live_cable_waits_for_the_battery():
    """So does its nut, and the battery itself does not."""
    head = HEAD + "battery: clamp\n"
    text = PUMP.replace("    minutes: 4 off", "    hazards: [live]\n    minutes: 4 off") + (
        "  clamp: {from: top, minutes: '2 off, 2 on', hazards: [live]}\n"
    )
    translated = translate(text, head=head)

    assert needs(translated, "pump bolts: undo") == [{"clamp": [1, 1]}]
    assert needs(translated, "clamp: remove") == [{}]
    assert any("disconnect it first" in caution for caution in translated.operations["pump bolts: undo"].cautions)


@pytest.mark.parametrize(
    ("tag", "certificate", "equipment"),
    [
        ("refrigerant", "refrigerant circuits", "refrigerant recovery unit"),
        ("high-voltage", "high-voltage vehicles", "insulating gloves: 1, voltage detector"),
    ],
)
def test_a_tag_brings_certificate_and_equipment(tag, certificate, equipment):
    """Without them the way does not exist for this shop."""
    text = PUMP.replace("    minutes: 4 off", f"    hazards: [{tag}]\n    minutes: 4 off")
    able = shop(f"certificates: [{certificate}]\n", SHOP.replace("lift: 1}", f"lift: 1, {equipment}: 1}}"))

    assert operation(translate(text, able), "pump: remove")["ways"]
    assert "pump: remove" not in ids(translate(text))
    assert certificate in translate(text).dropped[0].reason


def test_the_caution_of_a_tag_is_one_sentence():
    """A comma in it does not make two of it: one for both directions, or at most one for each."""
    cautions = {name: [one.text for one in tag.cautions] for name, tag in hazards().items()}
    directions = [[one.direction for one in tag.cautions] for tag in hazards().values()]

    assert all(one in ([None], ["out"], ["out", "back"]) for one in directions)
    assert cautions["fuel"][0].endswith("no flame, spark, hot lamp or charger, catch what runs out")


def test_shared_fasteners_hold_both_parts():
    """Out before either moves."""
    text = BEHIND.replace("pump bolts: 2", 'pump bolts: {is: "2').replace("22 N·m", '22 N·m", also holds: [cover]}')
    text = text.replace("    behind: [cover]\n", "")
    text = text.replace("  cover:\n    from: top\n", "  cover:\n    from: top\n    behind: [pump]\n")
    translated = translate(text, targets=["cover"])

    assert needs(translated, "cover: remove") == [{"pump": [1, 1], "cover clips": [1, 1], "pump bolts": [1, 1]}]
    assert needs(translated, "pump: remove") == [{"pump bolts": [1, 1]}]


def test_what_rides_on_a_part_may_be_done_at_the_bench():
    """In the car while the carrier is in, at the bench while it is off."""
    head = HEAD.replace("targets:\n", "  bench: any posture\ntargets:\n").replace("pump:", "motor:")
    text = PUMP + (
        "  motor:\n    rides on: pump\n    from: under\n    minutes: 6 off, 6 on\n"
        '    at the bench: {minutes: "2 off, 2 on"}\n'
        "    held by:\n      motor screws: 2 x M6x16, class 8.8, 10 mm, 8 N·m\n"
    )
    translated = translate(text, head=head)

    assert needs(translated, "motor: remove") == [
        {"motor screws": [1, 1], "pump": [0, 0]},
        {"pump": [1, 1], "motor screws": [1, 1]},
    ]
    assert operation(translated, "motor screws: undo")["ways"][1]["in"]["vantage"] == ["bench"]
    at_the_bench = [one.ways[1].minutes.likely for one in translated.operations.values() if one.part == "motor"]
    assert sum(at_the_bench) == 2 + 2
    solved(translated)


def test_what_is_said_of_the_bench_binds_the_work_there():
    """Equipment, risk and follow-up the part's own move, a caution and the variant its fasteners as well."""
    head = HEAD.replace("targets:\n", "  bench: any posture\ntargets:\n").replace("pump:", "motor:")
    head += "variants: {kind: [early, late]}\nfollow-ups: {try it: 2 min}\n"
    text = PUMP + (
        "  motor:\n    rides on: pump\n    from: under\n    minutes: 6 off, 6 on\n"
        "    held by:\n      motor screws: 2 x M6x16, class 8.8, 10 mm, 8 N·m\n"
        "    at the bench:\n      with: press\n      only for: early\n      risk: 50 % x 4 min, stuck\n"
        "      cautions: [wear goggles]\n      follow-ups: [try it]\n"
    )
    screws, motor = (
        translate(text, with_equipment("press: 1"), head).operations[name].ways[1]
        for name in ("motor screws: undo", "motor: remove")
    )

    assert ([str(one) for one in motor.equipment], len(motor.risks), motor.follow_ups) == (["press"], 1, ("try it",))
    assert (screws.equipment, screws.risks, screws.follow_ups) == ((), (), ())
    assert motor.cautions == screws.cautions == ("wear goggles",)
    assert len(translate(text, head=head).operations["motor: remove"].ways) == 1  # no press, no work at the bench
    late = state("variants: [late]\n", area(text, head))
    assert len(translate(text, with_equipment("press: 1"), head, state=late).operations["motor: remove"].ways) == 1


HUB = """\
on the ground: {stands on: [wheel]}
parts:
  wheel:
    from: wheel arch
    minutes: 5 off, 7 on
    held by:
      wheel bolts: 4 x M12x1.5x45, class 10.9, 17 mm, 100 N·m, on the ground
  pump:
    from: wheel arch
    behind: [wheel]
    minutes: 4 off, 6 on
    held by:
      hub nut: {is: "M22x1.5 nut, 32 mm, 175 N·m, on the ground", loosen while: [wheel bolts]}
"""


def test_a_nut_that_is_loosened_while_the_wheel_holds_is_tightened_after_it():
    """Out and back: the wheel bolts are tight both times."""
    translated = translate(HUB)

    for name in ("hub nut: break loose", "hub nut: tighten finally"):
        assert needs(translated, name) == [{"wheel bolts": [0, 0]}]
    done = [name for name, _, _ in solved(translated).plan]
    assert done.index("hub nut: break loose") < done.index("wheel bolts: break loose")
    assert done.index("wheel bolts: tighten finally") < done.index("hub nut: tighten finally")


def test_with_the_wheel_off_already_it_is_loosened_in_the_air():
    """Nothing could hold it any more; that is said, and on the way back all is as ever."""
    in_the_air = state("posture: on a lift\nnow: {wheel: off}\n", area(HUB))
    translated = translate(HUB, state=in_the_air)
    (way,) = translated.operations["hub nut: break loose"].ways

    assert needs(translated, "hub nut: break loose") == [{}]
    assert "off its wheels already" in way.cautions[0]
    assert needs(translated, "hub nut: tighten finally") == [{"wheel bolts": [0, 0]}]
    solved(translated)


def test_what_is_broken_loose_on_the_ground_is_not_so_at_the_bench():
    """There the car would not hold it."""
    head = HEAD.replace("targets:\n", "  bench: any posture\ntargets:\n")
    text = HUB.replace("    minutes: 4 off", "    rides on: knuckle\n    minutes: 4 off") + (
        "  knuckle: {from: wheel arch, behind: [wheel], minutes: '3 off, 3 on'}\n"
    )
    operations = translate(text, head=head).operations

    assert [way.name for way in operations["hub nut: take out"].ways] == ["", "at the bench"]
    assert [way.name for way in operations["hub nut: break loose"].ways] == [""]


def test_a_while_need_binds_the_way_out_only():
    """Never a "still fitted" need on the way back."""
    ways = "    out through:\n      side: {behind: [cover]}\n      top: {while: [cover]}\n"
    translated = translate(PUMP + ways + COVER)

    assert needs(translated, "pump: remove")[1] == {"pump bolts": [1, 1], "cover": [0, 0]}
    assert needs(translated, "pump: refit")[1] == {"pump bolts": [1, 1]}


# Costs


def test_expected_risks_by_rust():
    """Breakage of clips does not grow with rust."""
    text = PUMP + "    risk: 50 % x 4 min, stuck\n    breakage: 25 % x 4 min, clip breaks\n"
    base = operation(translate(PUMP), "pump: remove")["time"]
    extra = {
        rust: operation(translate(text, rust=rust), "pump: remove")["time"] - base
        for rust in ("clean", "usual", "heavy")
    }

    assert translate(text).core["unit"]["time"] == "min"
    assert extra == {"clean": 1, "usual": 3, "heavy": 5}


def test_a_risk_of_a_group_falls_on_its_first_undoing():
    """Once per operation and job."""
    text = PUMP.replace("pump bolts: 2", 'pump bolts: {is: "2').replace(
        "22 N·m", '22 N·m, on the ground", risk: "50 % x 4 min, stuck"}'
    )
    operations = translate(text).operations

    assert [name for name, one in operations.items() if one.risks] == ["pump bolts: break loose"]


def test_a_dearer_way_adds_its_difference_to_the_parts_own_move():
    """Minutes of the cheaper one are the part's own."""
    ways = '    out through:\n      a: {minutes: "4 off, 6 on"}\n      b: {from: under, minutes: "6 off, 7 on"}\n'
    translated = translate(PUMP + ways)

    assert [way.get("time", 0) for way in operation(translated, "pump: remove")["ways"]] == [0, 2]
    assert [way.get("time", 0) for way in operation(translated, "pump: refit")["ways"]] == [0, 1]


def test_a_way_may_take_less_than_the_parts_own_minutes():
    """Times start at zero all the same."""
    translated = translate(PUMP + '    out through:\n      a: {minutes: "3 off, 6 on"}\n      b: {from: under}\n')
    remove = operation(translated, "pump: remove")

    assert (remove["time"], [way.get("time", 0) for way in remove["ways"]]) == (1, [0, 1])


def test_money_is_counted_in_parts_fine_enough_for_everything():
    """60.00 an hour is 100 cents a minute; a third of a cent would still be exact."""
    translated = translate(PUMP, shop(base=SHOP.replace("60.00", "50.01")))
    core = translated.core
    per_cent = int(core["unit"]["cost"].removeprefix("1/").removesuffix(" cent"))

    assert Fraction(core["rate"], per_cent) == Fraction(5001, 60)
    assert core["swaps"][0]["cost"] == 10000 * per_cent


def test_by_minutes_nothing_costs_but_time():
    """Whatever is bought counts nothing."""
    core = translate(PUMP + "always new:\n  seal: 3.00\n", by="minutes").core

    assert core["rate"] == 1
    assert all(entry["cost"] == 0 for entry in (*core["ops"], *core["swaps"], *core["fixed"]))


def test_minutes_too_fine_to_count_are_refused():
    """Decimals always do."""
    text = PUMP.replace("4 off, 6 on", "4.00000000000001 off, 6 on")

    with pytest.raises(InputError, match="too many different fractions"):
        translate(text)


def test_one_time_fasteners_are_paid_where_they_go_in():
    """Two at 2.90."""
    translated = translate(PUMP.replace("22 N·m", "22 N·m, one-time, 2.90 each"))
    per_cent = int(translated.core["unit"]["cost"].removeprefix("1/").removesuffix(" cent"))

    assert operation(translated, "pump bolts: undo")["cost"] == 0
    assert operation(translated, "pump bolts: tighten")["cost"] == 580 * per_cent
    assert [(part.name, part.count) for part in translated.operations["pump bolts: tighten"].uses_up] == [
        ("pump bolts", 2)
    ]


def test_fluids_and_new_parts_are_paid_at_the_refit():
    """The price of a fluid is for all of it."""
    translated = translate(PUMP + "    loses: 0.5 l oil, 4.00\n    new parts: {seal: 1.00}\n")
    per_cent = int(translated.core["unit"]["cost"].removeprefix("1/").removesuffix(" cent"))

    assert operation(translated, "pump: refit")["cost"] == 500 * per_cent


FOLLOW_UPS = "follow-ups:\n  align: 45 min with rack, or sublet alignment\n  bleed: 6 min\n  tell: at hand-over\n"


@pytest.mark.parametrize(
    ("extra", "offers"),
    [
        ("", [(45, 0)]),
        ("sublets: {alignment: 79.00}\n", [(45, 0), (0, 7900)]),
    ],
)
def test_follow_ups_fall_due_once_with_their_offers(extra, offers):
    """Own minutes and a sublet, where the shop has them; one for the hand-over costs nothing."""
    text = FOLLOW_UPS + PUMP + "    follow-ups: [align, bleed, tell]\n" + COVER + "    follow-ups: [bleed]\n"
    text = text.replace("    minutes: 4 off", "    behind: [cover]\n    minutes: 4 off")
    core = translate(text, shop(extra, SHOP.replace("lift: 1}", "lift: 1, rack: 1}"))).core
    once = {entry["id"]: entry for entry in core["once"]}
    per_cent = int(core["unit"]["cost"].removeprefix("1/").removesuffix(" cent"))

    assert list(once) == ["align", "bleed"]
    assert once["bleed"]["ops"] == [["pump: remove"], ["cover: remove"]]
    assert [(offer["time"] / 100, offer["cost"] / per_cent) for offer in once["align"]["offers"]] == offers


def test_a_follow_up_of_one_way_falls_due_by_that_way():
    """The other way owes nothing."""
    ways = "    out through:\n      a: {behind: [cover], follow-ups: [bleed]}\n      b: {from: under}\n"
    core = translate(FOLLOW_UPS + PUMP + ways + COVER).core

    assert core["once"][0]["ops"] == [["pump: remove", 0]]


def test_a_second_person_is_called_once():
    """And must be there."""
    text = PUMP + "    second person: 25 min\n"
    core = translate(text, shop("people: 2\n")).core

    assert core["once"] == [
        {"id": "second person: pump: remove", "ops": [["pump: remove"]], "offers": [{"time": 25, "cost": 0}]}
    ]
    assert "pump: remove" not in ids(translate(text))


WAIT = (
    PUMP
    + """\
    hazards: [airbag]
  clamp:
    from: top
    minutes: 3 off, 4 on
    wait after: 10 min
  lid:
    from: top
    minutes: 8 off, 8 on
"""
).replace("    minutes: 4 off", "    behind: [lid]\n    minutes: 4 off")
AIRBAG_SHOP = "certificates: [airbags]\n"


def test_other_work_fills_a_wait():
    """8 of the 10 minutes go by with the lid; without overlap all 10 count."""
    head = HEAD + "battery: clamp\n"
    the_shop = shop(AIRBAG_SHOP)
    overlapped = translate(WAIT, the_shop, head, no_setup=True, by="minutes")
    in_full = translate(WAIT, the_shop, head, no_setup=True, by="minutes", no_overlap=True)

    assert overlapped.core["waits"] == [
        {
            "id": "wait after clamp",
            "after": ["clamp: remove"],
            "before": ["pump: remove", "pump bolts: undo"],
            "time": 10,
        }
    ]
    assert in_full.core["waits"] == []
    assert solved(overlapped).total == 33 + 2
    assert solved(in_full).total == 33 + 10


# The shop


def test_ways_need_all_of_a_tool_set_and_one_of_the_sets():
    """The change is charged by the main tool."""
    text = PUMP.replace("13 mm", "13 mm + swivel or 13 mm spanner")
    spanner = shop(base=SHOP.replace("6-32 mm", "6-32 mm\n  spanners: 13 mm"))

    assert operation(translate(text, spanner), "pump bolts: undo")["ways"][0]["in"]["tool"] == ["13 mm spanner"]
    reason = next(one.reason for one in translate(text).dropped if one.operation == "pump bolts: undo")
    assert reason == "for want of swivel, or 13 mm spanner"


def test_bare_hands_are_a_tool_like_any_other():
    """Putting a tool down is a change."""
    translated = translate(PUMP)

    assert translated.core["dims"][0]["values"] == ["bare hands", "13 mm socket"]
    assert operation(translated, "pump: remove")["ways"][0]["in"]["tool"] == ["bare hands"]


def test_what_is_raised_needs_a_lift_or_jack_and_stands():
    """The equipment for one or for the other is told."""
    text = PUMP.replace("from: top", "from: under")
    bare = shop(base=SHOP.replace("{two-post lift: 1}", "{floor jack: 1}"))

    assert translate(text, bare).dropped[0].reason == "for want of two-post lift, or 4 axle stands"


def test_stands_are_left_out_where_a_lift_is_never_slower():
    """A posture that no plan would choose is not offered."""
    text = PUMP.replace("from: top", "from: under")
    both = SHOP.replace("{two-post lift: 1}", "{two-post lift: 1, floor jack: 1, axle stand: 4}")
    slow = both.replace("3 min up, 2 min down", "10 min up, 2 min down")

    assert operation(translate(text, shop(base=both)), "pump: remove")["ways"][0]["in"]["posture"] == ["on a lift"]
    assert operation(translate(text, shop(base=slow)), "pump: remove")["ways"][0]["in"]["posture"] == [
        "on a lift",
        "on stands",
    ]


STANDS = SHOP.replace("{two-post lift: 1}", "{axle stand: 4, floor jack: '1, 2000 kg'}")


def test_a_jack_holds_and_raises_but_not_at_once():
    """Only the pool that may run short is kept; it counts what moves the car as well."""
    text = TWO_SUPPORTS.replace("from: top\n    minutes", "from: under\n    minutes").replace(
        "floor jack,", "floor jack >= 120 kg,"
    )
    core = translate(text, shop(base=STANDS)).core
    posture = next(dim for dim in core["dims"] if dim["name"] == "posture")

    assert core["pools"] == {"floor jack": 1}
    assert core["items"]["support by jack"]["holds"] == {"1": {"floor jack": 1}}
    assert posture["moving"] == {"on stands": {"floor jack": 1}, "on the ground": {"floor jack": 1}}
    assert "holds" not in posture


def test_a_second_jack_makes_the_pool_needless():
    """There is enough of it whatever happens."""
    text = TWO_SUPPORTS.replace("from: top\n    minutes", "from: under\n    minutes")

    assert translate(text, shop(base=STANDS.replace("'1, 2000 kg'", "2"))).core["pools"] == {}


def test_without_takes_things_away_for_a_day():
    """A tool, for one."""
    assert "pump bolts: undo" not in ids(translate(PUMP, without=["13 mm socket"]))


def test_avoiding_a_part_takes_its_opening_away():
    """It may still be closed, were it open."""
    assert ids(translate(BEHIND, avoid=["cover"])) == []


@pytest.mark.parametrize(
    ("option", "words"), [("targets", 'there is no "valve"'), ("avoid", 'there is no "valve" to avoid')]
)
def test_names_that_are_not_there_are_refused(option, words):
    """With what there is."""
    with pytest.raises(InputError, match=words):
        translate(PUMP, **{option: ["valve"]})


# Lean


def test_what_no_way_needs_is_left_out():
    """A part in the same file, but not in the way."""
    translated = translate(PUMP + COVER)

    assert list(translated.core["items"]) == ["pump", "pump bolts"]
    assert set(translated.operations) == set(ids(translated))


def test_a_limit_on_what_never_moves_is_left_out():
    """It cannot fail."""
    text = (
        PUMP.replace("pump bolts: 2", 'pump bolts: {is: "2').replace("22 N·m", '22 N·m", tighten after: [cover]}')
        + COVER
    )

    assert needs(translate(text), "pump bolts: tighten") == [{}]


def test_the_posture_is_left_out_where_nobody_asks_for_it():
    """And comes back when somebody does."""
    assert [dim["name"] for dim in translate(PUMP).core["dims"]] == ["tool", "vantage"]
    assert "posture" in [dim["name"] for dim in translate(PUMP.replace("from: top", "from: under")).core["dims"]]


def test_settings_are_dimensions_of_their_own():
    """They end as they began."""
    head = HEAD + "turns:\n  steering: [straight ahead, full left, full right]\n"
    core = translate(PUMP.replace("from: top", "from: top, steering full left"), head=head).core

    assert core["dims"][2] == {
        "name": "steering",
        "values": ["straight ahead", "full left"],
        "start": "straight ahead",
        "change": 0,
        "end": ["straight ahead"],
    }


def test_vantages_that_want_different_postures_are_ways_of_their_own():
    """From the top as the car stands, from under with the car raised."""
    ways = operation(translate(PUMP.replace("from: top", "from: top or under")), "pump: remove")["ways"]

    assert [way["in"].get("posture") for way in ways] == [None, ["on a lift"]]


def test_the_same_input_gives_the_same_problem():
    """To the byte."""
    import json

    assert json.dumps(translate(TWO_SUPPORTS).core) == json.dumps(translate(TWO_SUPPORTS).core)


# Any state


def test_a_group_half_out_has_one_level_more():
    """Minutes and prices in proportion; undone is only what is left."""
    text = BEHIND.replace("22 N·m", "22 N·m, one-time, 2.00 each").replace("2 x M8", "4 x M8")
    read = area(text)
    translated = core_problem(read, shop(), state=state("now: {cover: off, pump bolts: 3 of 4 out}\n", read))
    per_cent = int(translated.core["unit"]["cost"].removeprefix("1/").removesuffix(" cent"))

    assert translated.core["items"]["pump bolts"] == {"levels": 2, "start": 1}
    assert [name for name in ids(translated) if name.startswith("pump bolts")] == [
        "pump bolts: undo 1 of 4",
        "pump bolts: tighten 1 of 4",
        "pump bolts: tighten 3 of 4",
    ]
    assert operation(translated, "pump bolts: tighten 3 of 4")["cost"] == 600 * per_cent
    whole = translate(text)
    parts = sum(
        operation(translated, f"pump bolts: tighten {n} of 4")["time"] * Fraction(1, _per_minute(translated))
        for n in (1, 3)
    )
    assert parts == Fraction(operation(whole, "pump bolts: tighten")["time"], _per_minute(whole))
    solved(translated)


def _per_minute(translated) -> int:
    text = translated.core["unit"]["time"]
    return int(text.removeprefix("1/").removesuffix(" min")) if "/" in text else 1


def test_what_is_not_fitted_satisfies_every_need():
    """And is not refitted."""
    read = area(BEHIND)
    translated = core_problem(read, shop(), state=state("not fitted: [cover]\n", read))

    assert list(translated.core["items"]) == ["pump", "pump bolts"]


def test_what_cannot_be_opened_has_no_way_out():
    """From where it is on; back it still goes."""
    read = area(BEHIND)
    translated = core_problem(
        read, shop(), state=state("now: {cover clips: 1 of 2 out}\ncannot be opened: [cover clips]\n", read)
    )

    assert [name for name in ids(translated) if name.startswith("cover clips")] == ["cover clips: press in 1 of 2"]


def test_a_job_whose_part_is_in_has_no_swap():
    """Only what is still to be closed."""
    read = area(BEHIND + "job work: {before: {look: 3 min}, at the swap: {compare: 2 min}, after: {drive: 9 min}}\n")
    translated = core_problem(read, shop(), state=state("swapped: yes\nnow: {cover: off}\n", read))

    assert translated.core["swaps"] == []
    assert ids(translated) == ["cover: refit", "cover clips: press in"]
    assert [entry["id"] for entry in translated.core["fixed"]] == ["drive"]
    assert len(solved(translated).plan) == 2


def test_broken_things_and_added_work_are_paid():
    """A broken part goes back as a new one."""
    read = area(BEHIND)
    translated = core_problem(
        read, shop(), state=state("broken: {cover: 24.00}\nadded work: {mend: 20 min}\n", read), no_setup=True
    )
    per_cent = int(translated.core["unit"]["cost"].removeprefix("1/").removesuffix(" cent"))

    assert [(one["id"], one["time"], one["cost"] // per_cent) for one in translated.core["fixed"]] == [
        ("new cover", 0, 2400),
        ("mend", 20 * _per_minute(translated), 0),
    ]


def test_what_was_added_is_mended_before_the_car_is_driven():
    """Repairs, and follow-ups owed from before, stand ahead of readings and road test."""
    read = area(FOLLOW_UPS + BEHIND + "    follow-ups: [bleed]\njob work: {after: {road test: 9 min}}\n")
    translated = core_problem(read, shop(), state=state("now: {cover: off}\nadded work: {mend: 20 min}\n", read))

    assert [entry["id"] for entry in translated.core["fixed"]] == ["mend", "bleed", "road test"]


def test_follow_ups_of_what_was_off_already_are_still_owed():
    """However it came off."""
    read = area(FOLLOW_UPS + BEHIND + "    follow-ups: [bleed]\n")
    translated = core_problem(read, shop(), state=state("now: {cover: off}\n", read))

    assert [(entry["id"], entry["time"]) for entry in translated.core["fixed"]] == [
        ("bleed", 6 * _per_minute(translated))
    ]
    assert translated.core["once"] == []


def test_the_rest_of_a_wait_counts():
    """As many minutes as the state says."""
    read = area(WAIT, HEAD + "battery: clamp\n")
    translated = core_problem(
        read, shop(AIRBAG_SHOP), state=state("now: {clamp: off}\nstill to wait: {clamp: 4 min}\n", read)
    )

    assert (translated.core["waits"][0]["after"], translated.core["waits"][0]["left"]) == ([], 4)


def test_the_context_is_where_the_job_stands():
    """Tool, vantage and posture."""
    read = area(BEHIND.replace("from: top", "from: under", 1))
    text = "posture: on a lift\nworking from: under\ntool in hand: 13 mm socket\n"
    dims = core_problem(read, shop(), state=state(text, read)).core["dims"]

    assert [dim["start"] for dim in dims] == ["13 mm socket", "under", "on a lift"]


def test_variants_choose_what_exists():
    """The first one counts unless the state says otherwise."""
    head = HEAD + "variants:\n  drive: [rear-wheel drive, all-wheel drive]\n"
    ways = "    out through:\n      below: {from: under, only for: rear-wheel drive}\n      above: {behind: [cover]}\n"
    read = area(PUMP + ways + COVER, head)
    other = core_problem(read, shop(), state=state("variants: [all-wheel drive]\n", read))

    assert [way.name for way in core_problem(read, shop()).operations["pump: remove"].ways] == ["below", "above"]
    assert [way.name for way in other.operations["pump: remove"].ways] == ["above"]


def test_a_wheel_that_is_off_already_lets_bolts_be_loosened_in_the_air():
    """With a caution: the car cannot go back to the ground before the part is out."""
    head = HEAD + "on the ground: {stands on: [wheel]}\n"
    text = PUMP.replace("22 N·m", "22 N·m, on the ground").replace("from: top", "from: wheel arch") + (
        "  wheel: {from: wheel arch, minutes: '5 off, 7 on'}\n"
    )
    read = area(text.replace("    minutes: 4 off", "    behind: [wheel]\n    minutes: 4 off"), head)
    translated = core_problem(read, shop(), state=state("posture: on a lift\nnow: {wheel: off}\n", read))
    loose = translated.operations["pump bolts: break loose"].ways[0]

    assert loose.postures == ("on a lift",)
    assert "refit the wheel and lower the car" in loose.cautions[0]
    assert translated.operations["pump bolts: tighten finally"].ways[0].postures == ("on the ground",)
    solved(translated)


# Words


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("pump: remove", "remove the pump"),
        ("pump bolts: undo", "undo the 2 pump bolts"),
        ("cover clips: press in", "press the 2 cover clips in"),
        ("cover: refit", "refit the cover"),
    ],
)
def test_operations_read_as_one_says_them(name, text):
    """A verb and a thing."""
    assert translate(BEHIND).operations[name].text == text


@pytest.mark.parametrize(
    ("goes", "out", "back"),
    [
        ("aside", "set the pump aside", "put the pump back"),
        ("lowered 65 mm", "lower the pump 65 mm", "raise the pump"),
        ("swung clear", "swing the pump clear", "refit the pump"),
        ("apart", "take the pump apart", "join the pump"),
        ("free", "free the pump", "refit the pump"),
    ],
)
def test_where_a_part_goes_gives_its_verb(goes, out, back):
    """The file's own words for the state."""
    text = PUMP.replace("    from: top\n", f"    from: top\n    goes: {goes}\n", 1)
    text += "  valve:\n    from: top\n    behind: [pump]\n    minutes: 1 off, 1 on\n"
    operations = translate(text, targets=["valve"]).operations
    texts = [one.text for one in operations.values() if one.item == "pump"]

    assert texts == [out, back]


def test_an_operation_holds_what_people_must_see():
    """Fastener, minutes, tools, source, and where the item stands afterwards."""
    one = translate(PUMP).operations["pump bolts: tighten"]

    assert (one.part, one.direction, one.state, one.pieces, one.source) == ("pump", "back", "tight", 2, "invented")
    assert one.fastener.torque.final == 22.0
    assert one.ways[0].tool_set("13 mm socket") == ("13 mm socket",)
    assert one.minutes.likely == 3


def test_an_area_where_all_is_done_on_the_ground_has_a_posture():
    """It is asked for, though nothing is ever raised."""
    translated = translate(PUMP, head=HEAD.replace("top: any posture", "top: on the ground"))

    assert [dim["values"] for dim in translated.core["dims"] if dim["name"] == "posture"] == [["on the ground"]]
    assert solved(translated).proved


TWO_OPENINGS = """\
parts:
  pump:
    plugs: [pump plug]
    held by:
      pump bolts: 2 x M8x30, class 8.8, 13 mm, 22 N·m
      rear bolt: M8x30, class 8.8, 13 mm, 22 N·m, from under
    out through:
      above: {behind: [cover], from: top, minutes: "4 off, 6 on", risk: "30 % x 12 min, nut seized"}
      below: {from: under, minutes: "9 off, 9 on"}
""" + COVER


def test_what_belongs_to_a_part_is_reached_through_its_openings():
    """Where neither says from where; minutes and risks stay with the part, and what names its place keeps to it."""
    translated = translate(TWO_OPENINGS)

    for name in ("pump plug: unplug", "pump bolts: undo", "pump bolts: tighten"):
        ways = operation(translated, name)["ways"]
        assert [(way["needs"], way["in"]["vantage"]) for way in ways] == [({"cover": [1, 1]}, ["top"]), ({}, ["under"])]
        assert not any(way.get("time") for way in ways)
    assert [way["in"]["vantage"] for way in operation(translated, "rear bolt: undo")["ways"]] == [["under"]]


def test_a_place_that_the_part_names_counts_before_its_openings():
    """Then its bolts are reached from there, whatever opening it leaves by."""
    translated = translate(TWO_OPENINGS.replace("  pump:\n", "  pump:\n    from: top\n", 1))

    assert needs(translated, "pump bolts: undo") == [{}]


def test_the_other_measure_is_the_same_problem():
    """What is counted besides money is just what is solved where minutes are saved, and the other way round."""
    by_money, by_minutes = translate(BEHIND), translate(BEHIND, by="minutes")

    assert by_money.counted == by_minutes.core
    assert by_minutes.counted == by_money.core
    assert by_money.core != by_money.counted


WITH_A_TRAY = BEHIND + """\
  tray:
    from: top
    minutes: 3 off, 4 on
"""


def test_only_what_is_asked_for_comes_home():
    """What may stay off stays off; what has to be opened for the rest is closed again; no job work, no swap."""
    read = area(WITH_A_TRAY, HEAD + "job work:\n  after:\n    audit: 5 min\n")
    translated = core_problem(read, shop(), state=state("now: {pump: off, tray: off}\n", read), home=["pump"])
    ran = replay(translated.core, solve_core(translated.core).plan)

    assert [step.id for step in ran.steps] == [
        "cover clips: release", "cover: remove", "pump: refit", "pump bolts: tighten", "cover: refit", "cover clips: press in",
    ]  # fmt: skip
    assert not translated.core["swaps"] and not translated.core["fixed"]


def test_a_name_to_bring_home_must_be_known():
    """A slip would leave it off."""
    with pytest.raises(InputError, match='no "pomp" to bring home'):
        translate(PUMP, home=["pomp"])


def test_both_halves_of_a_group_go_back_each_under_its_own_name():
    """One of two bolts out: the way in takes the other, and the way back has two operations, not one name twice."""
    read = area(PUMP)
    translated = core_problem(read, shop(), state=state("now: {pump bolts: 1 of 2 out}\n", read))
    ran = replay(translated.core, solve_core(translated.core).plan)

    assert ids(translated).count("pump bolts: tighten 1 of 2") == 1
    assert [step.id for step in ran.steps if "tighten" in step.id] == [
        "pump bolts: tighten the other 1 of 2", "pump bolts: tighten 1 of 2",
    ]  # fmt: skip
