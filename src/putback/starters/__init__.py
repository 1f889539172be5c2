"""Files to begin with: short, valid as they are, and with an example of each piece that comes next."""

import json
from importlib import resources

from putback.area.nodes import parse
from putback.area.shape import Names, Word
from putback.errors import InputError

AREA, SHOP = "area.yaml", "shop.yaml"


def area(name: str = "new area", target: str = "part to replace") -> str:
    """The text of an area file to begin with.

    Parameters
    ----------
    name : str
        What the area is called.
    target : str
        The part to be replaced.

    Raises
    ------
    InputError
        A name that cannot stand in a file, such as an empty one.
    """
    return _filled(AREA, name=name, target=target)


def shop(name: str = "new shop") -> str:
    """The text of a shop file to begin with; see `area`."""
    return _filled(SHOP, name=name)


def _filled(file: str, **words: str) -> str:
    text = resources.files(__package__).joinpath(file).read_text(encoding="utf-8")
    for key, word in words.items():
        text = text.replace(f"{{{key}}}", _scalar(word))
    return text


def _scalar(word: str) -> str:
    """A name as YAML takes it: plain where letters, digits, spaces and dashes make it up, in quotation marks else."""
    plain = word.replace(" ", "").replace("-", "").isalnum() and word[:1].isalpha() and word.isascii()
    text = word if plain else json.dumps(word, ensure_ascii=False)
    root, findings = parse(f"{text}: word", "")
    if root is not None:
        Names(Word(str, "a word", "word")).read(root, findings.append)
    if findings:
        raise InputError(f'"{word}" is no name for a file of this kind: {findings[0].message}')
    return text
