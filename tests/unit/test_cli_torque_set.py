"""`putback torque set`."""

import json

import pytest

from putback.cli import main


def told(capsys, *words) -> dict:
    assert main(["torque", "set", *words, "--json"]) == 0
    return json.loads(capsys.readouterr().out)


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
