"""A model by its name, or out of a file of one's own."""

from functools import cache
from importlib import resources

from putback.area.nodes import LARGEST
from putback.errors import InputError
from putback.models.form import Form
from putback.models.model_file import read_model
from putback.reading import read_file

BUILT_IN = ("charging", "starter", "blower")


def load(name: str) -> Form:
    """A model.

    Parameters
    ----------
    name : str
        "charging", "starter" or "blower", or the path of a model file, which ends in .yaml or .yml.

    Raises
    ------
    InputError
        There is no such model or file.
    Findings
        What is wrong with the file.
    """
    if name in BUILT_IN:
        return _built_in(name)
    if not name.endswith((".yaml", ".yml")):
        known = ", ".join(BUILT_IN)
        raise InputError(f'there is no model "{name}"; there are {known}, or name a FILE.yaml of your own')
    return read_model(read_file(name, LARGEST), name)


@cache
def _built_in(name: str) -> Form:
    file = f"{name}.yaml"
    return read_model(resources.files(__package__).joinpath(file).read_bytes(), file)
