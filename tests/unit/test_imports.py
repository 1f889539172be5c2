"""Arrows point inward, and the core is pure: values in, values out.

Read from the source with `ast`, so that an import inside a function counts as well.
"""

import ast
from pathlib import Path

import pytest

SOURCE = Path(__file__).resolve().parents[2] / "src" / "putback"
REFEREES = SOURCE.parents[1] / "tests" / "referees"

# What each room of the core may know of ours, besides itself. Whatever is not listed stands above the core.
CORE = {
    "errors": set(),
    "units": {"errors"},
    "area": {"errors", "units"},
    "way": {"errors", "units", "area"},
    "torque": {"errors", "units"},
    "charging": {"errors", "units"},
    "suspects": {"errors", "units"},
    "belt": {"errors", "units"},
    "estimate": {"errors", "units", "area", "way"},
    "capture": {"errors", "units", "area", "torque"},
    "job": {"errors", "units", "area", "way", "torque"},
}

# Clock, disk, network, chance and the machine at hand come in as arguments. A room's own tables are
# part of the program, so `importlib.resources` is free.
IMPURE_MODULES = {
    "asyncio", "concurrent", "getpass", "glob", "http", "locale", "logging", "multiprocessing", "os", "pathlib",
    "platform", "random", "secrets", "shutil", "signal", "socket", "sqlite3", "ssl", "subprocess", "sys", "tempfile",
    "threading", "time", "urllib", "uuid", "sqlalchemy", "psycopg",
}  # fmt: skip
# The one exception: the part of `job` that keeps the events.
STORES = {"connect", "ledger", "migrate", "tables", "writing_queue"}
IMPURE_CALLS = {"open", "print", "input", "exec", "eval"}
IMPURE_METHODS = {"now", "today", "utcnow"}


def modules(folder: Path) -> list[Path]:
    return sorted(folder.rglob("*.py"))


def room_of(path: Path) -> str:
    """The room that a module belongs to: `area` for area/model.py, `units` for units.py."""
    first = path.relative_to(SOURCE).parts[0]
    return first.removesuffix(".py")


def imported(path: Path) -> set[str]:
    """The full names of all that a module imports, at its top or anywhere below."""
    names = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            base = absolute(node, path)
            names |= {f"{base}.{alias.name}" for alias in node.names} | {base}
    return names


def absolute(node: ast.ImportFrom, path: Path) -> str:
    """The full name of what a `from` names, dots counted from the module's own package."""
    if not node.level:
        return node.module
    package = ("putback", *path.relative_to(SOURCE).parent.parts)
    return ".".join([*package[: len(package) - node.level + 1], *([node.module] if node.module else [])])


def ours(path: Path) -> set[str]:
    """The rooms of ours that a module imports from."""
    return {name.split(".")[1] for name in imported(path) if name.startswith("putback.")}


def is_store(path: Path) -> bool:
    return room_of(path) == "job" and path.stem in STORES


def core_modules(stores: bool = True) -> list:
    paths = [path for path in modules(SOURCE) if room_of(path) in CORE and (stores or not is_store(path))]
    return [pytest.param(path, id=str(path.relative_to(SOURCE))) for path in paths]


@pytest.mark.parametrize("path", core_modules())
def test_a_room_knows_only_what_lies_further_in(path):
    """`area` knows no other room, `way` knows `area`, `torque` neither; none knows what shows or stores."""
    room = room_of(path)
    assert ours(path) - CORE[room] - {room} == set()


@pytest.mark.parametrize("path", core_modules(stores=False))
def test_the_core_does_not_reach_out(path):
    """No clock, disk, network or chance, neither by import nor by what the language has built in."""
    roots = {name.split(".")[0] for name in imported(path)}
    calls = [node.func for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))) if isinstance(node, ast.Call)]
    built_in = {call.id for call in calls if isinstance(call, ast.Name)}
    methods = {call.attr for call in calls if isinstance(call, ast.Attribute)}

    assert roots & IMPURE_MODULES == set()
    assert built_in & IMPURE_CALLS == set()
    assert methods & IMPURE_METHODS == set()


@pytest.mark.parametrize("path", core_modules(stores=False))
def test_the_core_does_not_know_what_keeps_it(path):
    """What keeps the events knows what they are, never the other way."""
    assert imported(path) & {f"putback.job.{name}" for name in STORES} == set()


def test_the_replay_shares_nothing_with_the_search():
    """A check that leaned on the search would repeat its mistakes."""
    paths = sorted((SOURCE / "way").glob("replay*.py"))
    assert paths
    for path in paths:
        names = {name for name in imported(path) if name.startswith("putback.")}
        assert {name for name in names if not name.startswith(("putback.errors", "putback.way.replay"))} == set()


def test_the_referees_share_nothing_with_the_program():
    """The independent judges of a plan read the contract for themselves."""
    # All but the tests and the seam to the planner, which bring judges and program together.
    paths = [path for path in modules(REFEREES) if not path.name.startswith(("test_", "planner"))]
    assert paths
    assert [path.name for path in paths if any(name.split(".")[0] == "putback" for name in imported(path))] == []


def test_the_reading_of_imports_sees_them_all():
    """An import inside a function, of a submodule, or by dots is seen as well as one at the top."""
    module = SOURCE / "way" / "imagined.py"
    text = "import os.path\ndef f():\n from putback import web\n from ..job import ledger\n from . import phase\n"
    fake = FakePath(module, text)

    assert {"os.path", "putback.web", "putback.job.ledger", "putback.way.phase"} <= imported(fake)
    assert ours(fake) == {"web", "job", "way"}


class FakePath:
    """A module that exists only here: its place in the tree, and its text."""

    def __init__(self, path: Path, text: str):
        self._path, self._text = path, text

    def read_text(self, encoding: str) -> str:
        return self._text

    def relative_to(self, other: Path) -> Path:
        return self._path.relative_to(other)
