"""Why a text is no YAML, in the words of whoever typed it rather than of a parser."""

import re

import yaml

from putback.errors import InputError, Place

_INDENT = "keys that belong together begin in the same column, two spaces further in than what they belong to"
_ABOVE = "does the line above lack its colon, or the space after it, or is this line indented too far?"
_QUOTE = "a text with a colon and a space in it needs quotation marks"


def trouble(error: Exception, text: str, file: str) -> InputError:
    """What a reader of YAML stopped at.

    Parameters
    ----------
    error : exception
        From PyYAML, by either of its readers.
    text : str
        What was read.
    file : str
        Its name, for the place.

    Returns
    -------
    finding : InputError
        One sentence with a place, and what to do.
    """
    match error:
        case yaml.reader.ReaderError():
            return _sign(error, text, file)
        case yaml.MarkedYAMLError() if mark := error.problem_mark or error.context_mark:
            return InputError(f"not YAML: {_words(error, text.splitlines())}", _place(mark, file))
    return InputError("not YAML: a backslash between double quotation marks begins no sign here", (file,))


def _place(mark, file: str) -> Place:
    return Place(file, mark.line + 1, mark.column + 1)


def _sign(error, text: str, file: str) -> InputError:
    sign = error.character if isinstance(error.character, int) else ord(error.character)
    advice = "save the file as UTF-8 text" if sign == 0 else "take it out"
    line = text.count("\n", 0, error.position) + 1
    return InputError(f"character U+{sign:04X} may not stand in YAML; {advice}", (file, line))


def _words(error: yaml.MarkedYAMLError, lines: list[str]) -> str:
    problem, context = error.problem or "", error.context or ""
    line = _line(lines, error.problem_mark)
    if "mapping values are not allowed" in problem:
        return _second_colon(line, error.problem_mark)
    if "could not find expected ':'" in problem:
        return f"a key without a colon, or without the space after it, stands above; {_INDENT}"
    if "cannot start any token" in problem:
        return _first_sign(line, error.problem_mark)
    if "flow" in context:
        bracket = "]" if "sequence" in context else "}"
        return f'what {_since(error)} is not closed; a "{bracket}" or a comma is missing before this'
    if "unexpected end of stream" in problem:
        return f"the quotation mark that {_since(error)} is not closed"
    if "sequence entries are not allowed" in problem:
        return 'a list that is written with "- " begins on a line of its own, below its key'
    if "block" in context and ("<block end>" in problem or "did not find expected" in problem):
        return f"this does not go on with what {_since(error)}; {_block_advice(line, problem)}"
    return ", ".join(part for part in (context, problem) if part)


def _line(lines: list[str], mark) -> str:
    return lines[mark.line] if mark is not None and mark.line < len(lines) else ""


def _since(error: yaml.MarkedYAMLError) -> str:
    mark = error.context_mark
    return f"begins in line {mark.line + 1}, column {mark.column + 1}" if mark else "begins above"


def _second_colon(line: str, mark) -> str:
    if re.search(r":\s", line[: mark.column]):
        return f"a second colon; {_QUOTE}"
    return f"this key cannot stand here; {_ABOVE}"


def _first_sign(line: str, mark) -> str:
    sign = line[mark.column : mark.column + 1]
    if sign == "\t":
        return "a tab; indent with spaces, not with tabs"
    return f"a text that begins with {sign} needs quotation marks"


def _block_advice(line: str, problem: str) -> str:
    if "scalar" in problem and re.search(r"""["']""", line):
        return "put the whole text into quotation marks, or none of it"
    return _INDENT
