"""`putback torque set`."""

import json
from pathlib import Path

import pytest
from area_samples import SHOP

from putback.cli import main

WRENCHES = """\
torque wrenches:
  small: 5-25 N·m in steps of 0.25 N·m, 1/4 in, lever 240 mm, calibrated 2026-04-14
  large: 20-110 N·m in steps of 1 N·m, 1/2 in, calibrated 2026-09-02
  dial: 40-200 in-lb in steps of 2 in-lb, reading
"""


def told(capsys, *words, status: int = 0) -> dict:
    assert main(["torque", "set", *words, "--json"]) == status
    return json.loads(capsys.readouterr().out)


@pytest.fixture
def shop(tmp_path) -> str:
    """A shop file with three torque wrenches."""
    path = tmp_path / "shop.yaml"
    path.write_text(SHOP + WRENCHES, encoding="utf-8")
    return str(path)


@pytest.mark.parametrize(("angle", "shown"), [("0deg", 10.8), ("90deg", 12.5), ("180deg", 14.9)])
def test_the_setting_is_told_rounded_and_exact(capsys, angle, shown):
    """To a tenth to set by, exact for other programs."""
    found = told(capsys, "12.5 N·m", "--lever", "240mm", "--extension", "38mm", "--angle", angle)

    assert found["setting_nm"] == shown
    assert found["exact_nm"] == pytest.approx(shown, abs=0.05)


def test_other_units_come_back_in_their_own_unit(capsys):
    """A wrench with an inch-pound scale is set in inch-pounds."""
    found = told(capsys, "50 lbf·ft", "--lever", "16 in", "--extension", "2 in", "--angle", "0")

    assert (found["unit"], found["setting"]) == ("ft-lb", 44.4)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--lever", "240mm", "--extension", "38mm"], "at what angle does the adapter stand to the wrench?"),
        (["--extension", "38mm", "--angle", "0"], "say it with --lever"),
        (["--angle", "0"], "say its length as well"),
        (["--wrench", "small"], "--wrench chooses among the wrenches of a shop"),
        (["--shop", "no such.yaml"], "no such.yaml: there is no such file"),
        (["--lever", "240", "--extension", "38mm", "--angle", "0"], 'write "240 mm"'),
    ],
)
def test_what_is_missing_is_asked_for(capsys, words, said):
    """And nothing is printed that could be taken for a setting."""
    assert main(["torque", "set", "12.5 N·m", *words]) == 2
    out, err = capsys.readouterr()
    assert (out, said in err) == ("", True)


def test_the_text_warns_of_the_forgotten_adapter(capsys):
    """What would happen without the correction stands there in figures, and the maker's word goes first."""
    assert main(["torque", "set", "12.5 N·m", "--lever", "240mm", "--extension", "38mm", "--angle", "0deg"]) == 0
    lines = capsys.readouterr().out.splitlines()
    out = " ".join(" ".join(lines).split())
    assert "Set 10.8 N·m for 12.5 N·m at the fastener." in out
    assert "14.5 N·m, 16 % too much" in out
    assert "maker's figures" in out
    assert max(map(len, lines)) <= 80


def test_stages_and_angles_are_told_one_after_the_other(capsys):
    """Each with its setting."""
    found = told(capsys, "20 N·m + 40 N·m + 90°", "--lever", "240mm", "--extension", "60mm", "--angle", "0")

    assert [stage["setting_nm"] for stage in found["stages"]] == [16, 32]
    assert (found["setting_nm"], found["then_deg"]) == (32, [90])


def test_an_angle_after_contact_has_nothing_to_set(capsys):
    """And says so."""
    assert main(["torque", "set", "contact + 3/4 turn"]) == 2
    assert "no torque to set a wrench to" in capsys.readouterr().err


def test_a_shop_gives_the_wrench_and_its_mark(capsys, shop):
    """What it is set to, what the fastener then gets, and what else would do."""
    words = ["12.5 N·m", "--extension", "38mm", "--angle", "0deg", "--shop", shop, "--on", "2026-11-25"]
    found = told(capsys, *words)

    assert (found["wrench"], found["setting"], found["unit"]) == ("small", 10.75, "N·m")
    assert found["exact_nm"] == pytest.approx(10.7914, abs=1e-4)
    assert found["torque_nm"] == pytest.approx(12.4521, abs=1e-4)
    assert "its lever is not known" in found["refused"]["dial"]


def test_the_text_of_a_choice(capsys, shop):
    """Wrench first; the others after it; what a reading one does is said."""
    assert main(["torque", "set", "11 N·m", "--shop", shop, "--on", "2027-05-01"]) == 0
    lines = capsys.readouterr().out.splitlines()

    assert lines[0] == "dial: pull until it reads 98 in-lb for 11 N·m at the fastener."
    assert "dial: the day of its last calibration is not known." in lines
    assert "Also: small at 11 N·m." in lines
    assert max(map(len, lines)) <= 80


def test_one_of_the_wrenches_may_be_named(capsys, shop):
    """With what is wrong with it; a slip of the pen is told."""
    words = ["11 N·m", "--shop", shop, "--on", "2027-05-01", "--wrench"]

    assert told(capsys, *words, "small")["warnings"] == ["its calibration of 2026-04-14 ran out on 2027-04-14"]
    assert main(["torque", "set", *words, "smal"]) == 2
    assert 'did you mean "small"?' in capsys.readouterr().err


def test_trap_6_what_no_wrench_covers_is_an_honest_no(capsys, shop):
    """Exit status 1, and what would do."""
    assert told(capsys, "3.8 N·m", "--shop", shop, status=1)["wrench"] is None
    assert main(["torque", "set", "3.8 N·m", "--shop", shop]) == 1
    assert capsys.readouterr() == ("", "No wrench of this shop covers 3.8 N·m; a 1-5 N·m one would\n")


def test_an_angle_without_a_gauge_is_told_with_the_setting(capsys, shop):
    """The torque can be set, the angle not measured."""
    found = told(capsys, "92 N·m + 90°", "--shop", shop, status=1)

    assert (found["wrench"], found["setting"]) == ("large", 92)
    assert "angle gauge" in found["missing"][0]
    gauge = Path(shop).read_text(encoding="utf-8").replace("6-32 mm", "6-32 mm\n  others: [angle gauge]")
    Path(shop).write_text(gauge, encoding="utf-8")
    assert told(capsys, "92 N·m + 90°", "--shop", shop)["missing"] == []


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--lever", "240mm"], "leave --lever out"),
        (["--on", "tomorrow"], "write it as 2026-11-25"),
        (["--drive", "5/16 in"], "is no square drive"),
    ],
)
def test_what_does_not_go_with_a_shop_is_told(capsys, shop, words, said):
    """In one sentence."""
    assert main(["torque", "set", "11 N·m", "--shop", shop, *words]) == 2
    assert said in capsys.readouterr().err
