"""Two known things that stand side by side without a comma are two: "temp sensor | hose back on"."""

from collections.abc import Sequence
from dataclasses import replace

from putback.capture.chunks import NP, PARTICLE, PREP, Chunk
from putback.capture.lexicon import pairs, singular
from putback.capture.memory import Memory
from putback.capture.phrases import kind_of
from putback.capture.tokens import Token


def parted(chunks: Sequence[Chunk], tokens: Sequence[Token], memory: Memory) -> list[Chunk]:
    """The chunks, with names taken apart that are the names of two things talked about before.

    Parameters
    ----------
    chunks : sequence of Chunk
    tokens : sequence of Token
        Those that the chunks count
    memory : Memory
    """
    if not any(chunk.kind == NP and len(chunk.value.words) > 1 for chunk in chunks):
        return [*chunks]
    known = [piece for chunk in chunks for piece in _pieces(chunk, tokens, memory)]
    return [piece for n in range(len(known)) for piece in _behind_a_place(known, n)]


def _behind_a_place(chunks: Sequence[Chunk], n: int) -> list[Chunk]:
    """Spanner on the tensioner belt off: what is off has its name behind the place."""
    chunk = chunks[n]
    if chunk.kind != NP or len(chunk.value.words) < 2 or chunk.value.pronoun or not _is_off(chunks, n + 1):
        return [chunk]
    words = tuple(word.lower() for word in chunk.value.words)
    if n < 1 or chunks[n - 1].kind not in (PREP, PARTICLE) or words[-2:] in pairs() or _thing_ahead(chunks, n - 1):
        return [chunk]
    if kind_of(words[:-1]) == "unknown" or chunk.after - chunk.first < len(words):
        return [chunk]
    return _cut(chunk, chunk.after - 1, len(words) - 1)


def _is_off(chunks: Sequence[Chunk], n: int) -> bool:
    if n >= len(chunks) or chunks[n].kind != PARTICLE:
        return False
    return chunks[n].value in ("off", "out", "apart", "undone", "loose")


def _thing_ahead(chunks: Sequence[Chunk], n: int) -> bool:
    """Whether a thing stands between the last border and a place."""
    for chunk in reversed(chunks[:n]):
        if chunk.kind == NP and (chunk.value.words or chunk.value.pronoun) and chunk.value.kind != "tool":
            return True
        if chunk.kind not in (NP, PREP):
            return False
    return False


def _pieces(chunk: Chunk, tokens: Sequence[Token], memory: Memory) -> list[Chunk]:
    if chunk.kind != NP or len(chunk.value.words) < 2 or chunk.value.pronoun:
        return [chunk]
    words = tuple(word.lower() for word in chunk.value.words)
    begins = chunk.after - len(words)
    if memory.is_name(words) or tuple(token.low for token in tokens[begins : chunk.after]) != words:
        return [chunk]
    cuts = range(len(words) - 1, 0, -1)
    at = next((n for n in cuts if memory.is_name(words[:n]) and _is_known(words[n:], memory)), None)
    return [chunk] if at is None else _cut(chunk, begins + at, at)


def _is_known(words: tuple[str, ...], memory: Memory) -> bool:
    if kind_of(words) == "fastener":
        return False  # air box bolts
    return memory.is_name(words) or (len(words) == 1 and singular(words[0]) in memory.by_head)


def _cut(chunk: Chunk, token: int, at: int) -> list[Chunk]:
    phrase = chunk.value
    first = replace(phrase, after=token, words=phrase.words[:at], kind=kind_of(phrase.words[:at]))
    second = replace(
        phrase, first=token, words=phrase.words[at:], kind=kind_of(phrase.words[at:]), count=None, tool=None,
        flags=phrase.flags & {"plural"},
    )  # fmt: skip
    return [Chunk(NP, chunk.first, token, first), Chunk(NP, token, chunk.after, second)]
