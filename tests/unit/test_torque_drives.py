"""Tools on a torque wrench."""

import pytest

from putback.torque.drives import Fit, drive_of, fit, instead, tool_notes


@pytest.mark.parametrize(
    ("tools", "how"),
    [
        ([], Fit.SQUARE),
        (["13 mm socket", "400 mm extension"], Fit.SQUARE),
        (["T25 bit"], Fit.SQUARE),
        (["5 mm hex key"], Fit.SQUARE),
        (["3/8 in square"], Fit.SQUARE),
        (["13 mm crow-foot"], Fit.ADAPTER),
        (["16 mm spanner", "5 mm hex key"], Fit.NOT),
        (["bare hands"], Fit.NOT),
    ],
)
def test_how_the_main_tool_goes_on(tools, how):
    """The first of a set turns the fastener, the others hold or reach."""
    assert fit(tools) is how


def test_a_square_in_the_part_is_the_drive_itself():
    """A plug with a square hole takes the wrench as it is."""
    assert drive_of(["3/8 in square"]) == "3/8 in"
    assert drive_of(["13 mm socket"]) is None
    assert drive_of([]) is None


def test_what_would_do_instead():
    """With the size, where there is one."""
    assert "16 mm crow-foot" in instead("16 mm spanner")
    assert instead("bare hands") == "a socket or a bit"


def test_a_swivel_is_minded():
    """Bent far it falsifies the torque."""
    assert len(tool_notes(["13 mm socket", "swivel"])) == 1
    assert tool_notes(["13 mm socket"]) == ()
