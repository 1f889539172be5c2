"""What to set for all the torques of a fastener, and what a shop lacks for them."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from putback.torque import drives
from putback.torque.adapter import Adapter
from putback.torque.selection import Choice, Selection, select
from putback.torque.wrench import Band, TorqueWrench
from putback.units import show_number

ANGLE_GAUGE = "angle gauge"


@dataclass(frozen=True)
class Settings:
    """What to set for each torque of a fastener, and what stands against it.

    Parameters
    ----------
    stages : tuple of (Choice or None)
        One for each torque, in order; None where no wrench will do
    missing : tuple of str
        What the shop lacks for it, as sentences; empty where all can be done
    notes : tuple of str
        What to know about the tools
    others : tuple of Choice
        What else would do for the last torque, best first
    refused : tuple of (str, str)
        The wrenches that would not, with the reason
    """

    stages: tuple[Choice | None, ...]
    missing: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    others: tuple[Choice, ...] = ()
    refused: tuple[tuple[str, str], ...] = ()

    @property
    def final(self) -> Choice | None:
        """What to set for the last torque."""
        return self.stages[-1] if self.stages else None


def settings_for(
    stages: Sequence[float],
    wrenches: Sequence[TorqueWrench],
    *,
    angles: Sequence[float] = (),
    tools: Sequence[str] = (),
    owned: Sequence[str] = (),
    day: date | None = None,
    tolerance: Band | None = None,
    drive: str | None = None,
    adapter: Adapter | None = None,
) -> Settings:
    """What to set for each torque of a fastener: with one wrench for all of them, if one can do them all.

    Parameters
    ----------
    stages : sequence of float
        Torques one after the other [N m], the last one final; empty where an angle follows contact
    wrenches : sequence of TorqueWrench
        The shop's
    angles : sequence of float
        Angles after the torques [degrees]
    tools : sequence of str
        Those of the step, by their full names, the main tool first; with a crow-foot the adapter is asked for
    owned : sequence of str
        The tools of the shop: an angle is measured with an angle gauge
    day : date, optional
        Of the work; without it nobody asks for calibrations
    tolerance : Band, optional
        What the final torque may lie between [N m]
    drive : str, optional
        The drive that is asked for: ``1/2 in``; where none is, that of the tools counts
    adapter : Adapter, optional
        What sits between wrench and fastener, if that moves the axis

    Returns
    -------
    settings : Settings
    """
    notes, missing = drives.tool_notes(tools), _gauge(angles, owned)
    if stages and (reason := _tools_refusal(tools, adapter)):
        return Settings((None,) * len(stages), (reason, *missing), notes)
    drive, last = drive or drives.drive_of(tools), len(stages) - 1
    found = [
        select(one, wrenches, day=day, tolerance=tolerance if at == last else None, drive=drive, adapter=adapter)
        for at, one in enumerate(stages)
    ]
    taken = _with_few(found)
    lacking = tuple(dict.fromkeys(one.missing for one in found if one.missing))
    others = tuple(choice for choice in found[-1].choices if choice is not taken[-1]) if found else ()
    return Settings(taken, lacking + missing, notes, others, found[-1].refused if found else ())


def _gauge(angles: Sequence[float], owned: Sequence[str]) -> tuple[str, ...]:
    if not angles or ANGLE_GAUGE in owned:
        return ()
    return (f"an angle of {show_number(angles[0])}° is measured with an {ANGLE_GAUGE}, and this shop lists none",)


def _tools_refusal(tools: Sequence[str], adapter: Adapter | None) -> str | None:
    """Why the tools of a step do not go on a torque wrench as they are."""
    match drives.fit(tools):
        case drives.Fit.NOT:
            return f"no torque wrench takes the {tools[0]}; it takes {drives.instead(tools[0])}"
        case drives.Fit.ADAPTER if adapter is None:
            return (
                f"the {tools[0]} is an adapter: how long is it, from the drive to the fastener's axis, "
                "and at what angle does it stand to the wrench?"
            )
    return None


def _with_few(found: Sequence[Selection]) -> tuple[Choice | None, ...]:
    """One wrench for all stages where one can do them, the one that is best for the last; else the best for each."""
    by_name = [{choice.wrench.name: choice for choice in one.choices} for one in found]
    for choice in found[-1].choices if found else ():
        if all(choice.wrench.name in names for names in by_name):
            return tuple(names[choice.wrench.name] for names in by_name)
    return tuple(one.best for one in found)
