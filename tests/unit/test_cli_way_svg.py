"""`putback way --svg`: the chart goes into a file, and the plan is printed all the same."""

from xml.etree import ElementTree

import pytest
from area_samples import HEAD, PUMP, SHOP

from putback.cli import main


@pytest.fixture(autouse=True)
def files(tmp_path, monkeypatch):
    """The working folder: a small area and a shop."""
    (tmp_path / "area.yaml").write_text(HEAD + PUMP, encoding="utf-8")
    (tmp_path / "shop.yaml").write_text(SHOP, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize("more", [(), ("--json",)], ids=["text", "json"])
def test_the_chart_is_drawn_and_the_plan_printed(files, capsys, more):
    """The same plan as without, and a sound picture of it."""
    main(["way", "area.yaml", "--shop", "shop.yaml", *more])
    plain = capsys.readouterr().out
    status = main(["way", "area.yaml", "--shop", "shop.yaml", "--svg", "chart.svg", *more])
    chart = ElementTree.parse(files / "chart.svg").getroot()

    assert status == 0
    assert without_seconds(capsys.readouterr().out) == without_seconds(plain)
    assert "Order out: pump. Swap pump. Order back: pump." in chart.findtext("{http://www.w3.org/2000/svg}desc")


def without_seconds(text: str) -> list[str]:
    """What is printed, less how long the planner took."""
    return [line for line in text.splitlines() if "_s" not in line and "seconds" not in line]


def test_a_file_that_cannot_be_written_is_told(capsys):
    """With exit status 2, in one sentence."""
    status = main(["way", "area.yaml", "--svg", "missing/chart.svg"])

    assert status == 2
    assert capsys.readouterr().err.startswith("missing/chart.svg: cannot be written: No such file or directory; ")


def test_a_core_problem_has_no_chart(capsys):
    """It knows no parts."""
    status = main(["way", "--core", "core.json", "--svg", "chart.svg"])

    assert (status, capsys.readouterr().err) == (2, "--core takes no area and no options but --seconds and --json\n")


def test_the_figure_on_the_page_is_what_the_command_draws(root, files, capsys):
    """Whoever changes the chart or the demo draws it anew, by the command that the page on the command line shows."""
    demo = root / "src" / "putback" / "demo"
    main(["way", str(demo / "demo-a.yaml"), "--shop", str(demo / "demo-shop.yaml"), "--svg", "demo-a.svg"])

    assert (files / "demo-a.svg").read_text("utf-8") == (root / "docs" / "figures" / "demo-a.svg").read_text("utf-8")
