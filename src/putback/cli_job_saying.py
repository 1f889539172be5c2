"""Saying one thing to the ledger: names are checked, guards speak, the event is kept, and the step now is told."""

from putback.errors import InputError
from putback.terminal import complain, print_json, visible

HELD_BACK = 1


def say(at, kind: str, data: dict, args) -> int:
    """Log one event; 1 where something holds it back.

    Parameters
    ----------
    at : Bench
    kind, data
        As the event has them.
    args : argparse.Namespace
        `extra`, `anyway` and `json` count.
    """
    from putback.desk.view import look

    view = look(at.ledger, at.job)
    if "item" in data:
        data = data | {"item": known_name(view, data["item"], getattr(args, "extra", False))}
    if kind == "reading taken":
        data = _reading(view, data)
    if kind == "item moved":
        check_state(view, data["item"], data["state"])
    return keep(at, view, [(kind, data)], args)


def keep(at, view, intended: list[tuple[str, dict]], args) -> int:
    """Log what is intended unless a guard holds it back, and tell the step that comes then.

    Parameters
    ----------
    at : Bench
    view : View
    intended : list of (kind, data)
    args : argparse.Namespace
        `anyway` and `json` count.
    """
    from putback.desk.view import look
    from putback.job.guards import stops

    found = stops(view.state, view.car, intended, at.stamp.now(), view.plan, at.stamp.person)
    anyway = getattr(args, "anyway", None)
    if any(stop.hard for stop in found) or (found and not anyway):
        return _held_back(found, args)
    events = [at.stamp.event(at.job, kind, **data) for kind, data in intended]
    events += [at.stamp.event(at.job, "point accepted", point=stop.key, reason=anyway, by=at.stamp.person) for stop in found]
    logged = at.ledger.append(events)
    _weigh(at, events)
    _tell(at, look(at.ledger, at.job), logged, args)
    return 0


def _reading(view, data: dict) -> dict:
    """A reading as the model of the job knows it, or as it was typed."""
    from putback.desk.reading_names import reading_said
    from putback.desk.weighing import form_of

    read = reading_said(form_of(view), data["what"], data["value"], data.get("unit"))
    return {name: value for name, value in data.items() if name in ("when", "good")} | read


def _weigh(at, events: list) -> None:
    """What was read may speak for other suspects than before."""
    if any(event.kind in ("reading taken", "intake noted", "event undone") for event in events):
        from putback.cli_job_common import thinking
        from putback.desk.concluding import weigh_again

        weigh_again(at.ledger, at.job, at.stamp, thinking(), events)


def _held_back(found: list, args) -> int:
    if args.json:
        print_json({"logged": [], "held_back": [{"key": one.key, "text": one.text, "hard": one.hard} for one in found]})
    for stop in found:
        complain(f"{'STOP' if stop.hard else 'held back'}: {stop.text}")
    if not any(stop.hard for stop in found):
        complain('if it is to be done all the same, say why: --anyway "the reason"')
    return HELD_BACK


def _tell(at, view, logged: list, args) -> None:
    from putback.job_text import next_lines, said_line

    if args.json:
        print_json({"logged": [{"number": row.number, "id": row.event.id, "kind": row.event.kind} for row in logged]})
        return
    for row in logged:
        if row.event.kind != "event undone":
            print(visible(said_line(row)))
    print("\n".join(next_lines(view, at.stamp.now(), 1)))


def check_state(view, item: str, state: str) -> None:
    """Refuses a state that a described item has not.

    Parameters
    ----------
    view : View
    item, state : str

    Raises
    ------
    InputError
        The area's states of it are others.
    """
    described = view.car.items.get(item)
    if described is not None and state not in described.states:
        raise InputError(f'"{item}" has no state "{state}"; it knows: {", ".join(described.states)}')


def known_name(view, name: str, extra: bool) -> str:
    """The name under which the job knows a thing; a slip is refused with the nearest one.

    Parameters
    ----------
    view : View
    name : str
        As it was typed.
    extra : bool
        Somebody insists that it is there though no area knows it.

    Raises
    ------
    InputError
        The area has no such name.
    """
    from putback.area.spelling import nearest

    said = {**view.state.items, **view.state.groups}
    if name in view.car.items or name in said or extra or view.area is None:
        return name
    same = [known for known in view.car.items if known.casefold() == name.casefold()]
    if same:
        return same[0]
    near = nearest(name, [*view.car.items, *said], 0.5)
    advice = f'did you mean "{near}"? ' if near else ""
    raise InputError(f'there is no "{name}" in {view.area.name}; {advice}add --extra if it is there all the same')
