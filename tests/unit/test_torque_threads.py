"""Threads as they are written. Sizes against tables are in tests/reference."""

import pytest

from putback.errors import InputError
from putback.torque.threads import coarse_pitch, metric, pitches, read_thread


def refusal(text: str) -> str:
    """The sentence with which a thread is refused."""
    with pytest.raises(InputError) as caught:
        read_thread(text)
    return str(caught.value)


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("M8", "M8x1.25"), ("m8x1.25", "M8x1.25"), ("M 8 × 1,25", "M8x1.25"), ("M8x1", "M8x1"),
        ("M10x1.25x42", "M10x1.25"),
        ("M8x30", "M8x1.25"), ("M2x0.4", "M2x0.4"), ("M8x1.25-6g", "M8x1.25"), ("M14*1.5", "M14x1.5"),
        ("M15x1", "M15x1"),
        ("1/4-20", "1/4-20 UNC"), ("1/4 UNF", "1/4-28 UNF"), ("3/8-16 UNC-2A", "3/8-16 UNC"), ('3/8"-24', "3/8-24 UNF"),
        ("7/16-20 NF", "7/16-20 UNF"), ("#10-24", "#10-24 UNC"), ("No. 10-32", "#10-32 UNF"), ("1-8", "1-8 UNC"),
        ("1 1/8-7", "1 1/8-7 UNC"), ("1-1/8-12 UNF", "1 1/8-12 UNF"), ("1-14 UNS", "1-14 UNS"),
    ],
)  # fmt: skip
def test_threads_in_many_spellings(text, name):
    """Coarse where no pitch is written; a length behind it changes nothing."""
    assert read_thread(text).name == name


def test_a_left_hand_thread_is_known_by_its_letters():
    """LH stands behind the thread."""
    assert read_thread("M10x1.25 LH").left_hand
    assert not read_thread("M10x1.25").left_hand


@pytest.mark.parametrize("text", ["M8x0.5", "M8.5x1", "1/4-24", "1-14 UNS"])
def test_a_thread_that_is_in_no_table_is_known_as_such(text):
    """It may exist, and can be worked with; it is more likely a slip."""
    assert not read_thread(text).listed


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("M8x2", "2 mm is no pitch of M8; its pitches are 1.25, 1, 0.75"),
        ("M5.5", "has no coarse pitch in the table; write the pitch, as in M5.5x0.5"),
        ("M0x1", "is no thread"),
        ("1/4", "does not say how many threads there are to an inch; write 1/4-20 UNC or 1/4-28 UNF or 1/4-32 UNEF"),
        ("3/8-16 UNF", "3/8 UNF has 24 threads to an inch"),
        ("9/9-20", "9/9 is no size of the unified inch threads"),
        ("#0-2", "no thread has a diameter"),
        ("thread", 'is no thread; write it as in "M8x1.25"'),
        ("", "is no thread"),
    ],
)
def test_what_is_no_thread_is_refused(text, words):
    """One sentence that says what to write."""
    assert words in refusal(text)


def test_a_pitch_no_thread_can_have_is_refused():
    """A thread cut deeper than its diameter has no core: at 17/12 x 0.866 P = d."""
    assert metric(8, 6.5).pitch == 6.5  # just below
    for pitch in (6.53, 0.0, -1.0):
        with pytest.raises(InputError):
            metric(8, pitch)


def test_coarse_pitches():
    """ISO 261, from memory; the loads in tests/reference depend on them."""
    assert {d: coarse_pitch(d) for d in (6, 8, 10, 12, 14, 16, 20)} == {
        6: 1,
        8: 1.25,
        10: 1.5,
        12: 1.75,
        14: 2,
        16: 2,
        20: 2.5,
    }
    assert pitches(10)[0] == 1.5
    assert (coarse_pitch(15), pitches(15), pitches(8.5)) == (None, (1.5, 1), ())
