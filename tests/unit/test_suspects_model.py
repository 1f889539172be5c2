"""A fault model that cannot be used is refused, in one sentence that says what to write."""

import pytest
from suspects_samples import one_each, two_outcomes

from putback.errors import InputError
from putback.suspects import Action, Group, Model, Test

PRIOR = {"belt": 0.4, "strap": 0.6}
VOLTS = two_outcomes("volts", {"belt": 0.9, "strap": 0.2})
MENDS = one_each({"belt": 40.0, "strap": 20.0})


def test_a_sound_model_is_taken():
    """Its faults are those of the prior, its actions are found by the fault they mend."""
    model = Model(PRIOR, (VOLTS,), MENDS)

    assert model.faults == ("belt", "strap")
    assert model.cure == {"belt": "belt", "strap": "strap"}


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        (lambda: Test("lamp", ("lit",), {}), "two or more outcomes"),
        (lambda: Test("lamp", ("lit", "lit"), {}), "different names"),
        (lambda: Test("lamp", ("lit", "dark"), {"belt": (0.5, 0.4)}), "under belt: the chances sum to 0.9"),
        (lambda: Test("lamp", ("lit", "dark"), {"belt": (1.5, -0.5)}), "a chance is 0 or more"),
        (lambda: Test("lamp", ("lit", "dark"), {"belt": (float("nan"), 1)}), "a chance is 0 or more"),
        (lambda: Test("lamp", ("lit", "dark"), {}, other=(1.0,)), "1 chances, and 2 are needed"),
        (lambda: Test("lamp", ("lit", "dark"), {}, silent_as=(1.0, 1.0)), "tells nothing: the chances sum to 2"),
        (lambda: Group(("volts",)), "two tests or more"),
        (lambda: Group(("volts", "lamp"), 3), "counts as 3; write 1 to 2"),
        (lambda: Action("belt", ("belt",), 0.0), "a cost is above 0"),
        (lambda: Action("belt", ("belt",), 1.0, enough=95), "95 is no share"),
        (lambda: Model({"belt": 0.4}, (), ()), "the prior: the chances sum to 0.4"),
        (lambda: Model(PRIOR, (), MENDS, leftover=1.0), "below 1"),
        (lambda: Model(PRIOR, (), MENDS[:1]), '"strap" has 0 actions'),
        (lambda: Model(PRIOR, (), (*MENDS, Action("all", ("belt",), 1.0))), '"belt" has 2 actions'),
        (lambda: Model(PRIOR, (), (*MENDS, Action("all", ("hose",), 1.0))), 'mends "hose"'),
        (lambda: Model(PRIOR, (VOLTS, VOLTS), MENDS), 'test "volts" is there twice'),
        (lambda: Model(PRIOR, (two_outcomes("lamp", {"belt": 0.1}),), MENDS), 'does not tell, of "strap"'),
        (lambda: Model(PRIOR, (VOLTS,), MENDS, (Group(("volts", "lamp")),)), 'no test "lamp"'),
        (lambda: Model(PRIOR, (VOLTS,), MENDS, access={"tray": -1.0}), "the access tray costs -1"),
        (lambda: Model(PRIOR, (VOLTS,), MENDS, test_access={"volts": "tray"}), '"tray", which the model does not have'),
        (lambda: Model(PRIOR, (), (Action("a", ("belt", "strap"), 1.0, "tray"),)), '"tray", which the model'),
        (lambda: Model(PRIOR, (), MENDS, hand_on=-2.0), "handing on costs -2"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused(wrong, says):
    """One sentence that names the place."""
    with pytest.raises(InputError, match=says):
        wrong()


def test_a_test_that_silences_is_not_silent_itself():
    """A chain of silences has no meaning here."""
    gate = two_outcomes("current", PRIOR, silent_when={"volts": ("bad",)})
    last = two_outcomes("drop", PRIOR, silent_when={"current": ("bad",)})

    with pytest.raises(InputError, match="which itself can be silent"):
        Model(PRIOR, (VOLTS, gate, last), MENDS)
