"""In which mood something is said: as a step, as advice, as a plan for later, of another car, or denied."""

import re
from functools import cache, lru_cache

from putback.capture.lexicon import sections

STEP = "step"
_AS_DONE = re.compile(r"\b(?:had to|managed to|ended up|have to go and|ended by)\b")


@cache
def _patterns() -> dict[str, re.Pattern]:
    return {mood: re.compile("|".join(lines)) for mood, lines in sections("moods.txt").items()}


@lru_cache(4096)
def mood_of_clause(words: str, ahead: str | None = None) -> str:
    """The mood of a clause: step, negated, advice, failed, alternative, later, wish or absent.

    Parameters
    ----------
    words : str
        In small letters, one blank apart
    ahead : str, optional
        Those up to the verb, which alone can deny it; all of them when left out

    Examples
    --------
    >>> mood_of_clause("don't take the lines off"), mood_of_clause("had to take the tray off")
    ('negated', 'step')
    """
    if _AS_DONE.search(words):
        return STEP
    for mood in ("later", "advice", "failed", "alternative", "negated", "wish", "absent"):
        if _patterns()[mood].search(ahead if mood == "negated" and ahead is not None else words):
            return mood
    return STEP


@lru_cache(4096)
def mood_of_sentence(words: str, so_far: str | None = None) -> str:
    """The mood of a whole sentence: step, question, advice or story.

    Parameters
    ----------
    words : str
        In small letters, one blank apart
    so_far : str, optional
        Those up to the end of the clause that it is asked for; a story that is told behind it does not touch it

    Examples
    --------
    >>> mood_of_sentence("is the pump off ?"), mood_of_sentence("pump off , the book says 30", "pump off ,")
    ('question', 'step')
    """
    for mood in ("question", "advice", "story"):
        told = words if so_far is None or mood == "question" else so_far
        if _patterns()[f"sentence {mood}"].search(told):
            return mood
    return STEP
