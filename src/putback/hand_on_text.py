"""The sheet for a colleague, in words for the terminal."""

from collections.abc import Iterator
from string import ascii_lowercase

from putback.job.hand_on import Fact, Fasteners, HandOn
from putback.job_text import folded, section


def lettered(facts: tuple[Fact, ...]) -> dict[str, Fact]:
    """The facts to be confirmed, each with a letter to answer by.

    Parameters
    ----------
    facts : tuple of Fact
    """
    return dict(zip(ascii_lowercase, facts, strict=False))


def hand_on_lines(sheet: HandOn) -> Iterator[str]:
    """The whole sheet; what is empty is not named.

    Parameters
    ----------
    sheet : HandOn
    """
    yield from folded(f"{sheet.job}{f', {sheet.vehicle}' if sheet.vehicle else ''}")
    if sheet.complaint:
        yield from folded(f"complaint: {sheet.complaint}")
    yield from folded(f"the car: {sheet.posture}")
    if sheet.battery:
        yield from folded(f"battery: {sheet.battery}")
    sections = (
        ("UNDER THE CAR", sheet.under),
        ("HANGS ON", sheet.held),
        ("OFF OR ASIDE", sheet.off),
        ("UNPLUGGED", sheet.unplugged),
        ("PUT IN", sheet.put_in),
        ("DRAINED", sheet.drained),
        ("FASTENERS OUT", map(_fasteners, sheet.out)),
        ("IN BY HAND ONLY, NOT TIGHT", map(_fasteners, sheet.loose)),
        ("IN THE TRAYS", (f"{tray.position}: {', '.join(f'{count} x {name}' for name, count in tray.holds)}" for tray in sheet.trays)),
        ("NOT OVER YET", sheet.waits),
        ("THE CAR DIFFERS", sheet.differences),
        ("QUESTIONS", sheet.questions),
        ("OWED", sheet.owed),
        ("LAST STEPS, THE LATEST FIRST", sheet.last),
        ("NEXT", [sheet.next] if sheet.next else []),
        ("LOOK AND CONFIRM BEFORE YOU GO ON", (f"{letter}  {fact.text}" for letter, fact in lettered(sheet.facts).items())),
    )
    for title, lines in sections:
        yield from section(title, lines, "     ")


def _fasteners(one: Fasteners) -> str:
    return f"{one.item}: {one.count} of {one.of}{f', {one.where}' if one.where else ''}"
