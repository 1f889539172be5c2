"""Places of fasteners, one a line: a name and two coordinates.

# sump, mm
front left, 0, 0
front right, 240, 0
"""

import re

from putback.errors import Findings, InputError

LARGEST = 100_000  # bytes
_LONGEST = 200  # signs of a line
_NUMBER = r"[-+−]?[0-9]{1,7}(?:[.,][0-9]{1,6})?"
_LINE = re.compile(rf"(.*?\S)(?:\s*[,;]\s*|\s+)({_NUMBER})(?:\s*[,;]\s*|\s+)({_NUMBER})")


def read_places(data: bytes, file: str) -> list[tuple[str, float, float]]:
    """Read a file of places.

    Parameters
    ----------
    data : bytes
        What the file holds, in UTF-8; no more than `LARGEST` of it are read
    file : str
        Its name, for what is wrong with it

    Returns
    -------
    places : list of (name, x, y)

    Raises
    ------
    Findings
        Everything that is wrong with it, each with its line.
    """
    found, wrong, names = [], [], {}
    for line, text in enumerate(_text(data, file).splitlines(), 1):
        if not text.strip() or text.lstrip().startswith("#"):
            continue
        try:
            found.append(_place(text.strip(), names, line))
        except InputError as error:
            wrong.append(InputError(error.message, (file, line, len(text) - len(text.lstrip()) + 1)))
    if not found and not wrong:
        wrong.append(InputError('there is no place in this file; write one a line, as in "front left, 0, 0"', (file,)))
    if wrong:
        raise Findings(wrong)
    return found


def _text(data: bytes, file: str) -> str:
    if len(data) > LARGEST:
        raise InputError(f"this file is larger than {LARGEST} bytes; places of at most 60 fasteners are read", (file,))
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise InputError("this file is no text in UTF-8; save it as that", (file,)) from None


def _place(text: str, names: dict[str, int], line: int) -> tuple[str, float, float]:
    if len(text) > _LONGEST or not text.replace("\t", " ").isprintable():
        raise InputError(f"this line is no place: longer than {_LONGEST} signs, or with signs that cannot be printed")
    match = _LINE.fullmatch(text)
    if not match:
        raise InputError(f'"{text}" is no place; write a name and two coordinates, as in "front left, 0, 0"')
    name, *numbers = match.groups()
    if name in names:
        raise InputError(f'"{name}" stands in line {names[name]} already; give each fastener a name of its own')
    names[name] = line
    x, y = (float(number.replace(",", ".").replace("−", "-")) for number in numbers)
    return name, x, y
