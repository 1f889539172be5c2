"""What a thing is by what it is called: something that is pressed in, or a plug that must click.

For names that nobody has described there is nothing else to go by. In doubt a fastener is a threaded one, for then
somebody is asked how tight it is; and words count whole, so that a pinch bolt is no pin.
"""

import re

THREADED = ("bolt", "nut", "screw", "stud")  # also within a word, as in locknut
_PRESSED = {"clip", "pin", "pushpin", "rivet", "circlip"}
_CARRYING = {"king", "guide", "slide", "slider", "sliding", "pivot", "caliper", "hinge", "brake", "steering", "axle", "ball"}
_SPRUNG_CLAMPS = {"hose", "spring", "duct", "band", "ear"}  # those that close by themselves or by a squeeze
_PLUGS = {"plug", "connector", "multiplug"}
_NO_CONNECTION = re.compile(r"\b(drain|spark|glow|sump|filler|fill|level|oil|core|blanking|screw)[ -]plugs?\b")


def is_pressed(called: str) -> bool:
    """Whether fasteners are seated rather than tightened.

    Parameters
    ----------
    called : str
        Their name, with their size where somebody said it.

    Examples
    --------
    >>> is_pressed("trim clips"), is_pressed("pinch bolt"), is_pressed("steering clamp"), is_pressed("hose clamps")
    (True, False, False, True)
    """
    words = _words(called)
    if any(part in word for word in words for part in THREADED) or re.search(r"\bm\d", called.casefold()):
        return False
    pressed = _PRESSED & words and not ({"pin"} & words and _CARRYING & words)
    return bool(pressed or ("clamp" in words and _SPRUNG_CLAMPS & words))


def is_clip(noun: str, threaded: bool) -> bool:
    """Whether described fasteners are pins, clips and the like, which are pressed in rather than tightened.

    Parameters
    ----------
    noun : str
        What the description calls them.
    threaded : bool
        Whether it gives them a thread.
    """
    return not threaded and not any(part in noun.casefold() for part in (*THREADED, "clamp"))


def is_connection(called: str) -> bool:
    """Whether a thing is an electric plug by its name.

    Parameters
    ----------
    called : str

    Examples
    --------
    >>> is_connection("MAF plug"), is_connection("drain plug"), is_connection("plugs at the pump")
    (True, False, True)
    """
    return bool(_PLUGS & _words(_NO_CONNECTION.sub(" ", called.casefold())))


def _words(text: str) -> set[str]:
    """The words of a name, each in the singular."""
    return {word.removesuffix("s") for word in re.findall(r"[^\W\d_]+", text.casefold())}
