"""What a belt asks for at its steps: before it comes off, while its tensioner is held, and when it goes on again.

That a belt is photographed, runs again the way it ran, and is looked at once more after two turns by hand, is common
practice, no source.
"""

from collections.abc import Iterator

from putback.belt.advise import PROPOSED, Advice
from putback.belt.drive import Drive
from putback.belt.route import Laid
from putback.belt_text import arm_words, pin_words, route_words, slacken_words
from putback.torque_text import sentences

PHOTO = "photograph how the belt runs before it comes off, and mark on it which way it runs"
DIRECTION = "it runs the way it ran, by its mark; a new one by its arrow, if there is one"
SAID_FIRST = {"stop": "stop", "ask": "look at it"}  # of what speaks against a belt
LOOK_AGAIN = "turn the engine by hand, two turns the way it runs, and look again"


def undescribed_words() -> list[str]:
    """When a belt goes on of which nobody has described anything."""
    route = "the route that it ran, by a photo or by the vehicle maker's picture"
    return list(sentences([route, "all ribs in their grooves on every pulley", DIRECTION, LOOK_AGAIN]))


def off_words(advice: Advice) -> list[str]:
    """Before the belt comes off.

    Parameters
    ----------
    advice : Advice
    """
    return _told(advice, lambda laid: [_runs(laid, advice)])


def held_words(advice: Advice) -> list[str]:
    """When the tensioner is turned back and held.

    Parameters
    ----------
    advice : Advice
    """
    return _told(advice, _held)


def _held(laid: Laid) -> Iterator[str]:
    if laid.angle is not None:
        yield slacken_words(laid)
        if laid.drive.tensioner.pin is not None:
            yield pin_words(laid)


def on_words(advice: Advice) -> list[str]:
    """When the belt goes on: its ribs, its route, its direction, and what else speaks against it.

    Parameters
    ----------
    advice : Advice
    """
    return _told(advice, lambda laid: _on(laid, advice))


def _on(laid: Laid, advice: Advice) -> Iterator[str]:
    belt = laid.drive.belt
    yield f"{belt.mark}: all {belt.ribs} ribs in their grooves on every pulley"
    yield _runs(laid, advice)
    yield DIRECTION
    yield from (f"{SAID_FIRST[one.verdict]}: {one.words}" for one in advice.findings)


def released_words(advice: Advice) -> list[str]:
    """When the tensioner is let back on the belt.

    Parameters
    ----------
    advice : Advice
    """
    return _told(advice, _released)


def _released(laid: Laid) -> Iterator[str]:
    yield "look along every pulley first: ribs seated, nothing beside, the route as it was"
    if laid.angle is not None:
        yield f"then {arm_words(laid)}"
    yield LOOK_AGAIN


def _told(advice: Advice, words) -> list[str]:
    """As sentences; none of a route where there is none."""
    if advice.right is None:
        return ["The drive file of this car gives no route that can be: go by the photo and the maker's picture."]
    return list(sentences(words(advice.right)))


def _runs(laid: Laid, advice: Advice) -> str:
    known = "worked out, not known; hold it against the belt: " if advice.origin == PROPOSED else ""
    return f"{known}it runs over {route_words(laid.route)}, and back to the first"


def drive_words(drive: Drive, advice: Advice) -> list[str]:
    """All of it in a few sentences, as they stand below the picture.

    Parameters
    ----------
    drive : Drive
    advice : Advice
    """
    held = held_words(advice) if drive.tensioner and advice.right else []
    return [*on_words(advice), *held]
