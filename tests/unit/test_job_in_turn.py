"""What a tap on a later step logs, once those before it are done."""

from job_play import Played

WHEEL_BOLTS = ("back: wheel bolts: run in", "back: wheel bolts: tighten finally")


def test_what_is_run_in_first_is_only_tightened_later():
    """A device that was alone from the first step on logs the wheel bolts once as put in, and then as tightened."""
    steps = {step.key: step for step in Played("a").steps()}
    kinds = [said.kind for key in WHEEL_BOLTS for said in steps[key].closes]

    assert kinds == ["fasteners on", "fasteners tightened"]
    assert "new" not in steps[WHEEL_BOLTS[1]].closes[0].data


def test_the_car_stands_on_its_wheels_before_they_are_tightened_finally():
    """In the list of the first moment already, and not only when it comes to that."""
    keys = [step.key for step in Played("a").steps()]
    run_in, finally_tight = (keys.index(key) for key in WHEEL_BOLTS)

    assert keys[run_in + 1] == "car: on the ground, before back: wheel bolts: tighten finally"
    assert finally_tight == run_in + 2


def test_a_list_made_once_is_the_same_job_as_one_made_anew_for_each_step():
    """All of demo A by the closes of the first list leaves nothing open that taps on fresh lists do not leave."""
    fresh, alone = Played("a").to_the_end(), Played("a")
    steps = alone.steps()
    while alone.steps() and steps:
        alone.tap(steps.pop(0))

    assert {name: group.home for name, group in alone.state.groups.items()} == {name: group.home for name, group in fresh.state.groups.items()}
    assert alone.state.conflicts == fresh.state.conflicts
