"""What the code says of itself holds: docstrings agree with signatures, and their examples run."""

import doctest
import importlib
import inspect
import pkgutil
import re

import pytest

import putback

MODULES = sorted(name for _, name, _ in pkgutil.walk_packages(putback.__path__, "putback.") if "__main__" not in name)


def public(module):
    """The functions and classes that a module defines for others."""
    for name, thing in vars(module).items():
        own = getattr(thing, "__module__", None) == module.__name__
        if own and not name.startswith("_") and (inspect.isfunction(thing) or inspect.isclass(thing)):
            yield name, thing


def documented(text: str) -> list[str]:
    """The names listed under "Parameters" in a docstring."""
    pattern = r"^Parameters\n-+\n(.*?)(?=^\w[^\n]*\n-+$|\Z)"
    section = re.search(pattern, inspect.cleandoc(text), re.MULTILINE | re.DOTALL)
    heads = re.findall(r"^(\w[^:\n]*)(?: :|$)", section.group(1), re.MULTILINE) if section else []
    return [name.strip().lstrip("*") for head in heads for name in head.split(",")]


@pytest.mark.parametrize("name", MODULES)
def test_documented_parameters_are_those_there_are(name):
    """Where a docstring lists parameters, it lists them all, in order."""
    wrong = []
    for own, thing in public(importlib.import_module(name)):
        listed = documented(thing.__doc__ or "")
        if listed and listed != list(inspect.signature(thing).parameters):
            wrong.append((own, listed))
    assert wrong == []


def test_the_list_of_parameters_is_read_whole():
    """The check itself: every listed name is read, and nothing of the sections after."""
    text = """Do it.

    Parameters
    ----------
    target, lever : float
        Two at once: both count.
    extension
        No type.

    Returns
    -------
    setting : float
    """
    assert documented(text) == ["target", "lever", "extension"]


@pytest.mark.parametrize("name", MODULES)
def test_examples_in_docstrings_run(name):
    """An example in a docstring gives what it shows."""
    assert doctest.testmod(importlib.import_module(name)).failed == 0


@pytest.mark.parametrize("name", MODULES)
def test_public_things_say_what_they_are(name):
    """Every module, and every public function and class in it, has a docstring."""
    module = importlib.import_module(name)
    assert module.__doc__
    assert [own for own, thing in public(module) if not inspect.getdoc(thing)] == []
