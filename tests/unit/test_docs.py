"""The pages hold: links lead somewhere, examples print what they show, every command is told of."""

import re
import shlex
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import pytest

from putback.cli import COMMANDS

ROOT = Path(__file__).resolve().parents[2]
PAGES = [ROOT / "README.md", ROOT / "CHANGELOG.md", *sorted((ROOT / "docs").rglob("*.md"))]
FIGURES = sorted((ROOT / "docs").rglob("*.svg"))
FENCE = re.compile(r"^```(.*?)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
LINK = re.compile(r"(!?)\[([^\]]*)\]\(([^)\s]+)\)")
OUTSIDE = ("http:", "https:", "mailto:")


def named(path: Path) -> str:
    return str(path.relative_to(ROOT))


def prose(page: Path) -> str:
    """A page without its blocks of code."""
    return FENCE.sub("", page.read_text(encoding="utf-8"))


def anchors(page: Path) -> set[str]:
    """The anchors that a page's headings get."""
    headings = re.findall(r"^#+ (.*)$", prose(page), re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", heading.lower()).replace(" ", "-") for heading in headings}


def broken_links(page: Path) -> list[str]:
    """The links of a page within the project that lead nowhere."""
    targets = [target for _, _, target in LINK.findall(prose(page)) if not target.startswith(OUTSIDE)]
    return [target for target in targets if not leads_somewhere(page, target)]


def leads_somewhere(page: Path, target: str) -> bool:
    file, _, anchor = target.partition("#")
    path = page.parent / file if file else page
    return path.exists() and (not anchor or anchor in anchors(path))


@pytest.mark.parametrize("page", PAGES, ids=named)
def test_links_lead_somewhere(page):
    """Every link to a file or a heading of ours resolves."""
    assert broken_links(page) == []


def test_a_broken_link_is_seen(tmp_path):
    """The check itself: a missing file and a missing heading are found, good ones are not."""
    page = tmp_path / "page.md"
    page.write_text("# A Heading, here\n[a](page.md#a-heading-here) [b](gone.md) [c](#gone) [d](https://example.org)\n")

    assert broken_links(page) == ["gone.md", "#gone"]


def test_every_page_is_linked_from_another():
    """Nobody has to know a page's name to find it."""
    linked = {
        (page.parent / target.partition("#")[0]).resolve()
        for page in PAGES
        for _, _, target in LINK.findall(prose(page))
        if target.partition("#")[0] and not target.startswith(OUTSIDE)
    }
    assert [named(page) for page in PAGES if page.name != "README.md" and page not in linked] == []


@pytest.mark.parametrize("page", PAGES, ids=named)
def test_pictures_have_a_text_in_their_place(page):
    """Whoever cannot see a picture reads what it shows."""
    assert [target for picture, text, target in LINK.findall(prose(page)) if picture and len(text) < 20] == []


@pytest.mark.parametrize("figure", FIGURES, ids=named)
def test_figures_have_a_title_and_a_description(figure):
    """A figure is sound XML, and says what it is and what it shows."""
    tree = ElementTree.parse(figure).getroot()
    told = [tree.findtext(f"{{http://www.w3.org/2000/svg}}{tag}") for tag in ("title", "desc")]
    assert all(told)


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_is_told_of(command):
    """The page on the command line names each command, as the program's own help does."""
    text = (ROOT / "docs" / "command-line.md").read_text(encoding="utf-8")
    assert f"`putback {command}" in text


def examples() -> list:
    """The blocks marked to be run, each with its page."""
    found = []
    for page in PAGES:
        for number, (mark, block) in enumerate(FENCE.findall(page.read_text(encoding="utf-8")), 1):
            if mark.split()[1:] == ["run"]:
                found.append(pytest.param(block, id=f"{named(page)}-{number}"))
    return found


@pytest.mark.parametrize("block", examples())
def test_examples_print_what_they_show(block):
    """Each command of a marked block prints just what stands below it."""
    for shown in re.split(r"^\$ ", block, flags=re.MULTILINE)[1:]:
        command, _, expected = shown.partition("\n")
        assert printed(command) == expected


def printed(command: str) -> str:
    """What a command line prints, from the project's folder and with the Python that runs the tests."""
    ours = shlex.join([sys.executable, "-I", "-m", "putback"])
    line = re.sub(r"\./putback\b", lambda _: ours, command)
    done = subprocess.run(
        line, shell=True, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, encoding="utf-8", timeout=60
    )
    return done.stdout
