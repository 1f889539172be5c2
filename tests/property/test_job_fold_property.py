"""What holds of every log: it never looks better than the car, and nothing in it can break the fold."""

from dataclasses import replace

from area_samples import area
from hypothesis import given, settings
from hypothesis import strategies as st
from log import JOB, Row, demo_area, demo_shop

from property.job_model import rows
from property.strategies import closings, events_of_any_kind, true_histories
from putback.job.audit import audit
from putback.job.events import Event
from putback.job.fold import fold
from putback.job.planner_state import area_state

SAMPLE = """\
follow-ups: {check: 5 min}
parts:
  pump: {from: top, goes: away, minutes: '1 off, 1 on', follow-ups: [check]}
  lid: {from: top, minutes: '1 off, 1 on', held by: {lid screws: {is: '6 x M6x16, 10 mm'}}, plugs: [lid plug]}
"""


def _described():
    return area(SAMPLE)


NAMES = {"group": "lid screws", "plug": "lid plug", "part": "pump", "away": "away", "check": "check"}
KNOWN = st.sampled_from([True, False])


@settings(max_examples=300)
@given(true_histories(NAMES), KNOWN)
def test_no_order_of_two_devices_makes_a_job_look_better_than_it_is(history, known):
    """Each device sends in its own order, and the two are shuffled together: open is never less than truly open."""
    truth, arrived = history
    described = _described() if known else None
    state = fold(rows(arrived), described)
    group, plug, part = state.groups.get("lid screws"), state.items.get("lid plug"), state.items.get("pump")
    out, loose = (group.out, group.hand_tight) if group else (0, 0)

    assert out + loose >= truth.out + truth.loose
    assert out >= truth.out
    assert truth.plugged or not plug.home
    assert truth.confirmed or not plug.confirmed
    assert not truth.part_off or not part.home
    assert not truth.under or "technician 1" in state.under
    assert not truth.raised or state.posture == "on a lift"
    owed = {point.key for point in audit(state, described)}
    assert truth.checked or not known or "owed: check" in owed


@given(closings())
def test_no_order_of_two_devices_makes_a_closing_look_better_than_it_is(history):
    """What is by feel in truth is never known by a figure, and what was opened since is never closed."""
    well_closed, arrived = history
    group = fold(rows(arrived), _described()).groups.get("lid screws")
    looks_good = group is None or (group.home and all(lot.evidence in ("", "value read") for lot in group.lots))
    assert well_closed or not looks_good


@given(true_histories(NAMES), KNOWN)
def test_events_in_true_order_make_the_true_state(history, known):
    """Where nothing comes late, the state is what is true, neither worse nor better."""
    truth, _ = history
    described = _described() if known else None
    state = fold(rows(truth.happened), described)
    group, plug, part = state.groups.get("lid screws"), state.items.get("lid plug"), state.items.get("pump")

    assert (group.out, group.hand_tight) == (truth.out, truth.loose) if group else truth.out + truth.loose == 0
    assert (plug is None or plug.home) is truth.plugged
    assert (part is None or part.home) is not truth.part_off
    assert bool(state.under) is truth.under
    assert (state.posture == "on a lift") is truth.raised
    assert not state.conflicts
    assert not known or ("owed: check" in {point.key for point in audit(state, described)}) is not truth.checked


@given(st.lists(events_of_any_kind(), max_size=25), st.sampled_from([None, "a", "b", "c", "d"]))
def test_every_event_can_be_folded_on_any_state(events, letter):
    """No event that was let in breaks the fold, the audit or the planner's state, whatever its texts are."""
    described, shop = (demo_area(letter), demo_shop()) if letter else (None, None)
    state = fold(_numbered(events), described)
    for group in state.groups.values():
        counts = [lot.count for lot in group.lots]
        assert all(count > 0 for count in counts) and sum(counts) == group.total
        assert sum(group.trays.values()) == group.out and all(count > 0 for count in group.trays.values())
    for point in audit(state, described, shop):
        assert point.text and isinstance(point.text, str)
    if described:
        for name, at in area_state(state, described).at.items():
            item = described.items[name]
            assert 0 <= at.level <= item.levels
            assert 0 <= at.done < (item.fastener.count if item.fastener else 1)


@given(st.lists(events_of_any_kind(), min_size=1, max_size=15), events_of_any_kind(), st.data())
def test_what_was_taken_back_is_as_if_it_had_never_been_said(events, slip, data):
    """Wherever it stood, and wherever its taking back stands."""
    described = demo_area("a")
    kept = _numbered(events)
    back = Event("U" * 26, JOB, "event undone", slip.at, slip.person, slip.device, {"event": "S" * 26})
    slip = replace(slip, id="S" * 26)
    both = list(kept)
    for event in (slip, back):
        both.insert(data.draw(st.integers(0, len(both))), Row(0, event))
    if any(event.kind == "event undone" for event in events):
        return

    assert _told(fold(both, described)) == _told(fold(kept, described))


def _told(state) -> dict[str, str]:
    return {name: repr(value) for name, value in vars(state).items() if name not in ("last", "last_at")}


@given(st.lists(events_of_any_kind(), max_size=20), st.integers(0, 20))
def test_a_fold_changes_nothing_of_what_it_reads(events, length):
    """A beginning folded, then all: the same as all at once, for nothing is kept in between."""
    described, logged = demo_area("a"), _numbered(events)
    whole = _told(fold(logged, described))
    beginning = fold(logged[:length], described)

    assert _told(fold(logged, described)) == whole
    assert beginning.last == min(length, len(logged))


def _numbered(events: list[Event]) -> list[Row]:
    return [Row(number, replace(event, id=f"{number:026d}")) for number, event in enumerate(events, 1)]
