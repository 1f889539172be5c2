"""A heavy part that may hang on nothing is advised of, with what to write."""

import pytest
from area_samples import HEAD, SHOP

from putback import check, demo
from putback.errors import Advice
from putback.cli import main

COVER = """\
parts:
  cover: {from: top, minutes: "1 off, 1 on"}
  tray: {from: under, minutes: "1 off, 1 on"}
"""
PUMP = """\
  pump:
    from: top
    mass: 6 kg
    held by:
      upper bolt: {is: "M8x30, class 8.8, 13 mm, 22 N·m"}
      lower bolt: M8x30, class 8.8, 13 mm, 22 N·m
    out through:
      above: {behind: [cover], minutes: "4 off, 6 on"}
      below: {behind: [tray], from: under, minutes: "5 off, 7 on"}
"""
REACHED = ', reached: {above: {behind: [cover]}, below: {behind: [tray], from: under}}}'


def advice(pump: str = PUMP, more: str = "") -> list[str]:
    """What is found in the sample, all of which must be advice."""
    area, found = check.check_area(HEAD + COVER + pump + more, "sample.yaml", None)
    assert area is not None and all(isinstance(one, Advice) for one in found)
    return [str(one) for one in found]


def test_a_heavy_part_whose_bolts_wait_for_nothing_is_told_of_with_the_cure():
    """Trial: both bolts of a heavy part came out, and its opening was made ten steps later."""
    [words] = advice()
    assert words.startswith('sample.yaml:13:3: advice: "pump" is heavy, and its last fastener may come out before its way out is open (cover)')
    assert 'give one of its fasteners a "reached" with behind: [cover]' in words


def test_one_bolt_that_is_reached_through_the_same_openings_is_enough():
    """It holds the part until the way out is open."""
    assert advice(PUMP.replace('22 N·m"}', '22 N·m"' + REACHED)) == []


def test_every_opening_counts():
    """A bolt that waits for the cover holds nothing while the tray comes off."""
    [words] = advice(PUMP.replace('22 N·m"}', '22 N·m", reached: {above: {behind: [cover]}}}'))
    assert "(tray)" in words


def test_what_the_bolt_needs_may_need_the_opening_in_its_turn():
    """The bolt is behind a lid, and the lid behind the cover."""
    lid = '  lid: {from: top, behind: [cover, tray], minutes: "1 off, 1 on"}\n'
    assert advice(PUMP.replace('22 N·m"}', '22 N·m", behind: [lid]}'), lid) == []


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("mass: 6 kg", "mass: 2.9 kg"),
        ("    mass: 6 kg\n", ""),
        ("upper bolt: {is: \"M8x30, class 8.8, 13 mm, 22 N·m\"}\n      lower bolt: M8x30, class 8.8, 13 mm, 22 N·m", "clips: 2 x push pin"),
        ("    from: top\n", "    from: top\n    behind: [cover, tray]\n"),
    ],
)
def test_what_is_light_hangs_on_clips_or_is_bound_as_a_whole_is_not_told_of(old, new):
    """Below three kilograms; no mass; no thread; what stands at the part binds its bolts too."""
    assert advice(PUMP.replace(old, new)) == []


@pytest.mark.parametrize("said", ["mass: 3 kg", "hazards: [heavy]"])
def test_three_kilograms_or_the_tag_make_it_heavy(said):
    """At the border, and without a mass."""
    assert len(advice(PUMP.replace("mass: 6 kg", said))) == 1


def test_what_is_secured_hangs_on_its_support():
    """Something put in holds it."""
    assert advice(more='put in:\n  strap: {secures: [pump], from: top, minutes: "1 in, 1 out"}\n') == []


@pytest.mark.parametrize("name", ["a", "b", "c", "d"])
def test_the_demo_areas_need_no_advice(name):
    """Their heavy parts hang on a bolt or a support until they can leave."""
    assert check.check_area(demo.text(f"demo-{name}.yaml"), "demo.yaml")[1] == []


def test_advice_keeps_no_state_and_no_shop_from_being_checked():
    """A file with advice can be used: a state is held against it, and the shop is asked."""
    text = (HEAD + COVER + PUMP).encode()
    [advised] = check.check_files({"a.yaml": text, "s.yaml": b"state: 1\nnow: {cover: off}\n"})
    found = check.check_files({"a.yaml": text, "shop.yaml": SHOP.replace("6-32", "6-12").encode()}, "shop.yaml")

    assert isinstance(advised, Advice) and str(advised) in map(str, found)
    assert [one.message for one in check.wrong(found)] == ['this shop has no way to "pump"; it would take: 13 mm socket']


def test_with_advice_alone_the_exit_status_is_0(tmp_path, monkeypatch, capsys):
    """The line says that it is advice, and that nothing is wrong."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "a.yaml").write_text(HEAD + COVER + PUMP, encoding="utf-8")

    assert main(["check", "a.yaml"]) == 0
    advised, *_, last = capsys.readouterr().out.splitlines()
    assert advised.startswith('a.yaml:13:3: advice: "pump" is heavy') and last == "1 file checked, nothing wrong"
