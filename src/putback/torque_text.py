"""Settings of torque wrenches, as text of 80 columns and as JSON."""

import textwrap
from collections.abc import Iterable, Iterator

from putback.torque.adapter import Adapter, applied, counts, setting
from putback.torque.selection import Choice
from putback.torque.settings import Settings
from putback.units import TORQUE_UNITS, Tightening, show_in, show_number
from putback.units.lengths import show_length

WIDTH = 80
CAUTION = "The vehicle maker's figures and instructions come before these."
GRIP = "Hold the wrench at the middle of its grip. That an adapter bends is not counted."


def rounded(value: float) -> float:
    """A figure to set by eye: to a tenth, below 10 to three figures that count."""
    return round(value, 1) if value >= 10 else float(f"{value:.3g}")


def wrapped(lines: Iterable[str]) -> Iterator[str]:
    """Sentences as lines of 80 columns, each from its second line on a little further in."""
    for line in lines:
        yield from textwrap.wrap(line, WIDTH, subsequent_indent="  ", break_on_hyphens=False)


def sentences(words: Iterable[str]) -> Iterator[str]:
    """Words with a capital at the beginning and a stop at the end."""
    for one in words:
        yield one[0].upper() + one[1:] + ("" if one.endswith(("?", ".")) else ".")


# --- without a shop -------------------------------------------------------------------------------


def setting_json(wanted: Tightening, lever: float | None, adapter: Adapter | None) -> dict:
    """The setting of any wrench for the final torque; all stages where there are several.

    Parameters
    ----------
    wanted : Tightening
        With at least one torque
    lever : float or None
        Middle of the grip to the square drive [m]
    adapter : Adapter or None

    Returns
    -------
    found : dict
        ``setting_nm`` is rounded, ``exact_nm`` is not; ``uncorrected_nm`` is what the fastener gets when the adapter
        is forgotten and the wrench set to the torque itself
    """
    stages = [_one(value, wanted.unit, lever, adapter) for value in wanted.stages]
    return stages[-1] | _adapter_json(adapter, lever) | _more(wanted, stages)


def _one(value: float, unit: str, lever: float | None, adapter: Adapter | None) -> dict:
    exact, forgotten = setting(value, lever, adapter), applied(value, lever, adapter)
    found = {"target_nm": value, "setting_nm": rounded(exact), "exact_nm": exact}
    if unit != "N·m":
        found |= {"unit": unit, "setting": rounded(exact / TORQUE_UNITS[unit].size)}
    return found | {"uncorrected_nm": forgotten, "uncorrected_percent": 100 * (forgotten / value - 1)}


def _adapter_json(adapter: Adapter | None, lever: float | None = None) -> dict:
    if adapter is None:
        return {}
    own = {} if lever is None else {"lever_mm": 1000 * lever}
    return own | {"extension_mm": 1000 * adapter.extension, "angle_deg": adapter.angle}


def _more(wanted: Tightening, stages: list[dict]) -> dict:
    """What there is besides the final torque."""
    several = {"stages": stages} if len(stages) > 1 else {}
    return several | ({"then_deg": list(wanted.angles)} if wanted.angles else {})


def setting_lines(wanted: Tightening, lever: float | None, adapter: Adapter | None) -> Iterator[str]:
    """The same as text.

    Parameters
    ----------
    wanted : Tightening
    lever : float or None
    adapter : Adapter or None
        As for `setting_json`
    """
    yield from wrapped(_setting_sentences(wanted, lever, adapter))


def _setting_sentences(wanted: Tightening, lever: float | None, adapter: Adapter | None) -> Iterator[str]:
    for value in wanted.stages:
        exact = setting(value, lever, adapter)
        yield f"Set {_both(exact, wanted.unit)} for {_both(value, wanted.unit)} at the fastener."
    yield from _turns(wanted)
    if counts(adapter):
        yield f"Lever {show_length(lever)}, adapter {_at(adapter)}."
        yield _forgotten(wanted.final, lever, adapter)
        yield GRIP
    elif adapter:
        yield "At right angles to the wrench an adapter changes nothing."
    yield CAUTION


def _turns(wanted: Tightening) -> Iterator[str]:
    for angle in wanted.angles:
        yield f"Then turn it on by {show_number(angle)}°, measured with an angle gauge."


def _at(adapter: Adapter) -> str:
    return f"{show_length(adapter.extension)} at {show_number(adapter.angle)}°"


def _both(value: float, unit: str) -> str:
    """A torque to set by eye, in N·m and in the unit that was typed."""
    own = f"{rounded(value):g} N·m"
    return own if unit == "N·m" else f"{own} ({rounded(value / TORQUE_UNITS[unit].size):g} {unit})"


def _forgotten(value: float, lever: float, adapter: Adapter) -> str:
    got = applied(value, lever, adapter)
    off = got / value - 1
    share = f"{show_number(100 * abs(off), 2)} % too {'much' if off > 0 else 'little'}"
    return f"Without the correction the fastener would get {rounded(got):g} N·m, {share}."


# --- with a shop ----------------------------------------------------------------------------------


def choice_json(wanted: Tightening, found: Settings, adapter: Adapter | None) -> dict:
    """The wrench of a shop and its setting for the final torque, and for all stages where there are several.

    Parameters
    ----------
    wanted : Tightening
    found : Settings
        For its torques
    adapter : Adapter or None
    """
    stages = [_choice(value, choice) for value, choice in zip(wanted.stages, found.stages, strict=True)]
    others = [_choice(wanted.final, one) for one in found.others]
    told = {
        "others": others,
        "refused": dict(found.refused),
        "missing": list(found.missing),
        "notes": list(found.notes),
    }
    return stages[-1] | _adapter_json(adapter) | _more(wanted, stages) | told


def _choice(value: float, choice: Choice | None) -> dict:
    if choice is None:
        return {"target_nm": value, "wrench": None}
    own = {"setting": choice.setting, "unit": choice.wrench.unit, "kind": choice.wrench.kind}
    return {
        "target_nm": value,
        "wrench": choice.wrench.name,
        **own,
        "setting_nm": choice.setting * TORQUE_UNITS[choice.wrench.unit].size,
        "exact_nm": choice.exact,
        "torque_nm": choice.torque,
        "error_percent": 100 * choice.error,
        "low_nm": choice.band.low,
        "high_nm": choice.band.high,
        "warnings": list(choice.notes),
    }


def choice_lines(wanted: Tightening, found: Settings, adapter: Adapter | None) -> Iterator[str]:
    """The same as text.

    Parameters
    ----------
    wanted : Tightening
    found : Settings
        With a choice for each of its torques
    adapter : Adapter or None
    """
    yield from wrapped(_choice_sentences(wanted, found, adapter))


def _choice_sentences(wanted: Tightening, found: Settings, adapter: Adapter | None) -> Iterator[str]:
    for value, choice in zip(wanted.stages, found.stages, strict=True):
        yield _what_to_set(value, wanted.unit, choice)
    yield _what_it_gives(wanted.final, found.final)
    for choice in dict.fromkeys(found.stages):
        yield from (f"{choice.wrench.name}: {note}." for note in choice.notes)
    yield from _turns(wanted)
    if counts(adapter):
        yield f"Lever {show_length(found.final.wrench.lever)}, adapter {_at(adapter)}."
        yield _forgotten(wanted.final, found.final.wrench.lever, adapter)
        yield GRIP
    if found.others:
        yield f"Also: {', '.join(f'{one.wrench.name} at {one.shown}' for one in found.others)}."
    yield from sentences((*found.notes, *found.missing))
    yield CAUTION


def _what_to_set(value: float, unit: str, choice: Choice) -> str:
    verb = "set" if choice.wrench.kind == "setting" else "pull until it reads"
    return f"{choice.wrench.name}: {verb} {choice.shown} for {show_in(value, unit)} at the fastener."


def _what_it_gives(value: float, choice: Choice) -> str:
    low, high = (show_number(end, 3) for end in choice.band)
    error = f", {abs(choice.error):.1%} {'more' if choice.error > 0 else 'less'}".replace("%", " %")
    got = f"The fastener gets {show_number(choice.torque)} N·m{error if abs(choice.error) >= 0.0005 else ''}"
    return f"{got}; between {low} and {high} N·m, as the wrench may be off."
