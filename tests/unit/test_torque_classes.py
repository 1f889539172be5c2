"""Classes and grades. Loads against tables are in tests/reference."""

import pytest

from putback.errors import InputError
from putback.torque.classes import classes, proof_torque, read_class, strength
from putback.torque.threads import metric, read_thread


@pytest.mark.parametrize(
    ("text", "thread", "name"),
    [
        ("8.8", "M8", "8.8"), ("class 10.9", "M8", "10.9"), ("8,8", "M8", "8.8"), ("8", "M8", "8"),
        ("a2-70", "M8", "A2-70"),
        ("A4 80", "M8", None), ("A480", "M8", "A4-80"), ("grade 5", "3/8-16", "5"), ("SAE grade 8", "3/8-16", "8"),
        ("Gr. 2", "3/8-16", "2"), ("8.8", "3/8-16", None), ("8.9", "M8", None), ("9.8", "M18", None),
        ("A2-70", "M30", None),
        ("", "M8", None),
    ],
)  # fmt: skip
def test_classes_as_stamped_or_said(text, thread, name):
    """None stands for a class that is refused for this thread and size."""
    if name is None:
        with pytest.raises(InputError, match=r"no (property class|grade) known for"):
            read_class(text, read_thread(thread))
    else:
        assert read_class(text, read_thread(thread)) == name


def test_eight_is_a_nut_on_a_metric_thread_and_a_bolt_on_an_inch_thread():
    """ISO 898-2 and SAE J429 use the same sign for different things."""
    assert strength("8", metric(10)).nut
    assert not strength("8", read_thread("3/8-16")).nut


@pytest.mark.parametrize(("nut", "bolt"), [("5", "5.8"), ("8", "8.8"), ("10", "10.9"), ("12", "12.9")])
def test_a_nut_stands_for_the_bolt_that_it_is_made_for(nut, bolt):
    """ISO 898-2 table 1, from memory."""
    assert proof_torque(metric(12, 1.5), nut) == proof_torque(metric(12, 1.5), bolt)


def test_a_thin_nut_bears_less():
    """ISO 898-2, from memory: 04 strips at 380 N/mm2 in the bolt."""
    assert strength("04", metric(10)).proof == 380 < strength("8", metric(10)).proof


@pytest.mark.parametrize(
    ("name", "thread", "proof", "yields", "tensile"),
    [
        ("4.6", "M8", 225, 240, 400), ("5.8", "M8", 380, 420, 520), ("8.8", "M16", 580, 640, 800),
        ("8.8", "M18", 600, 660, 830),
        ("12.9", "M8", 970, 1100, 1220), ("A2-70", "M8", 450, 450, 700), ("A4-80", "M8", 600, 600, 800),
    ],
)  # fmt: skip
def test_strengths(name, thread, proof, yields, tensile):
    """ISO 898-1 table 3 and ISO 3506-1 table 2 [N/mm2], from memory where tests/reference does not have them."""
    found = strength(name, read_thread(thread))

    assert (found.proof, found.yields, found.tensile) == (proof, yields, tensile)


@pytest.mark.parametrize(
    ("name", "thread", "ksi"),
    [("2", "3/4-10", 55), ("2", "7/8-9", 33), ("5", "1-8", 85), ("5", "1 1/8-7", 74), ("8", "1-8", 120)],
)
def test_inch_grades_change_with_the_size(name, thread, ksi):
    """SAE J429 table 1: 85 and 120 on charts, the others from memory. At the border, and just above."""
    assert strength(name, read_thread(thread)).proof == pytest.approx(ksi * 6.894757293168361, rel=1e-9)


@pytest.mark.parametrize(
    ("diameter", "pitch", "grade", "torque"),
    [
        (5, 0.8, "8.8", 8.2), (6, 1, "5.8", 9.2), (6, 1, "8.8", 14.0), (8, 1.25, "5.8", 22.3), (8, 1.25, "8.8", 34.0),
        (8, 1.25, "10.9", 48.6), (10, 1.5, "8.8", 67.3), (10, 1.25, "8.8", 71.0), (10, 1.25, "10.9", 101.6),
        (12, 1.5, "10.9", 175.5), (14, 1.5, "10.9", 289),
    ],
)  # fmt: skip
def test_proof_torques(diameter, pitch, grade, torque):
    """T = 0.2 d A S, worked out by hand with strengths from memory; no outside table."""
    assert proof_torque(metric(diameter, pitch), grade) == pytest.approx(torque, abs=0.5 if torque > 200 else 0.051)


def test_a_class_that_is_not_in_the_tables_has_no_figure():
    """Nothing is made up, and the known ones can be listed."""
    assert proof_torque(metric(8), "7.7") is None
    assert classes(read_thread("3/8-16")) == ("1", "2", "5", "8")
    assert {"8.8", "10", "04", "A2-70"} <= set(classes(metric(8)))
