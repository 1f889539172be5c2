"""What became of free words, as JSON."""

from typing import Any

from putback.desk.hearing import Answer, question_words
from putback.event_text import event_words


def answer_object(answer: Answer) -> dict[str, Any]:
    """What words told: events with their numbers, questions with their answers, what was held back.

    Parameters
    ----------
    answer : Answer
    """
    return {
        "job": answer.view.id,
        "last": answer.view.state.last,
        "logged": [_event(row, words) for row, words in answer.logged],
        "questions": [_question(one) for one in answer.questions],
        "held_back": [
            {"text": stop.text, "kind": meant.kind, "data": meant.data, "words": meant.words}
            for meant, stop in answer.held
        ],
        "warnings": list(answer.warnings),
    }


def _event(row, words: str) -> dict:
    event = row.event
    return {
        "number": row.number,
        "id": event.id,
        "kind": event.kind,
        "data": event.data,
        "text": event_words(event),
        "words": words,
    }


def _question(one) -> dict:
    return {
        "text": one.text,
        "sentence": question_words(one),
        "words": one.words,
        "choices": [{"text": text, "kind": kind, "data": data} for text, kind, data in one.choices],
        "missing": one.missing or None,
        "kind": one.kind or None,
        "data": one.data,
    }
