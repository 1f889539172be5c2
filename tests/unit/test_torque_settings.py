"""Settings for all the torques of a fastener."""

from torque_samples import ALL, DAY, LARGE, MEDIUM

from putback.torque.adapter import Adapter
from putback.torque.selection import select
from putback.torque.settings import settings_for


def test_one_wrench_does_all_stages_where_it_can():
    """8, 16 and 23 N·m: nobody lays the wrench aside in between."""
    settings = settings_for([8, 16, 23], ALL, day=DAY)

    assert [choice.wrench.name for choice in settings.stages] == ["medium"] * 3
    assert settings.missing == ()


def test_stages_far_apart_take_a_wrench_each():
    """And what is missing for one of them is said."""
    settings = settings_for([4, 40, 900], ALL, day=DAY)

    assert [choice and choice.wrench.name for choice in settings.stages] == ["small", "large", None]
    assert settings.missing == ("no wrench of this shop covers 900 N·m; a 300-1500 N·m one would",)


def test_an_angle_asks_for_an_angle_gauge():
    """92 N·m and then 90 degrees."""
    assert settings_for([92], ALL, angles=[90]).missing == (
        "an angle of 90° is measured with an angle gauge, and this shop lists none",
    )
    assert settings_for([92], ALL, angles=[90], owned=["angle gauge"]).missing == ()
    assert settings_for([], ALL, angles=[270], owned=["angle gauge"]).stages == ()


def test_a_crow_foot_is_asked_about_and_a_spanner_refused():
    """Neither is set as if it were a socket."""
    assert "how long is it" in settings_for([12.5], ALL, tools=["13 mm crow-foot"]).missing[0]
    assert "no torque wrench takes the 16 mm spanner" in settings_for([12.5], ALL, tools=["16 mm spanner"]).missing[0]
    known = settings_for([12.5], ALL, tools=["13 mm crow-foot"], adapter=Adapter(0.038, 0))
    assert known.final.shown == "10.75 N·m"


def test_a_square_in_the_part_prefers_a_wrench_with_that_drive():
    """Another takes a straight adapter, and says so."""
    settings = settings_for([23], [MEDIUM, LARGE], tools=["1/2 in square"], day=DAY)

    assert settings.final.wrench.name == "large"
    assert any("straight adapter" in note for note in select(23, [MEDIUM], drive="1/2 in").best.notes)
