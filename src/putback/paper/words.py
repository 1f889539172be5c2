"""The catalogue of texts: everything that a paper prints of its own, by language, so that one more can be added."""

from functools import lru_cache
from importlib import resources

import yaml

from putback.errors import InputError


@lru_cache(maxsize=8)
def words(language: str = "en") -> dict[str, str]:
    """All texts of a language, by key.

    Parameters
    ----------
    language : str
        As in `en`.

    Raises
    ------
    InputError
        There is no catalogue for it.
    """
    if language not in languages():
        raise InputError(f'there are no papers in "{language}"; there are: {", ".join(languages())}')
    file = resources.files(__package__).joinpath(f"words.{language}.yaml")
    return yaml.load(file.read_bytes(), getattr(yaml, "CSafeLoader", yaml.SafeLoader))


def languages() -> list[str]:
    """The languages that there are catalogues for."""
    names = (file.name for file in resources.files(__package__).iterdir())
    return sorted(name.split(".")[1] for name in names if name.startswith("words.") and name.endswith(".yaml"))
