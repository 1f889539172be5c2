"""Records are read in whatever dress they come."""

import gzip

import numpy as np
import pytest

from putback.errors import InputError
from putback.record_file import LARGEST, read_record

RATE = 20_000.0
PAIRS = [(n / RATE, round(14 + 0.1 * float(np.sin(n / 9)), 3)) for n in range(400)]
MEAN = float(np.mean([volts for _, volts in PAIRS]))


def text(row, head="", scale=1.0) -> bytes:
    return (head + "\n".join(row(time * scale, volts) for time, volts in PAIRS)).encode()


DRESSES = {
    "bare": text("{:.5f},{:.3f}".format),
    "named": text("{:.5f},{:.3f}".format, "time_s,volts\n"),
    "semicolons, decimal commas": text("{:.5f};{:.3f}".format).replace(b".", b","),
    "tabs": text("{:.5f}\t{:.3f}".format),
    "blanks": text("{:.5f}  {:.3f}".format),
    "end of line with a comma": text("{:.5f},{:.3f},".format),
    "quoted": text('"{:.5f}","{:.3f}"'.format, '"Time","Voltage"\n'),
    "exponents": text("{:.5e},{:.4e}".format),
    "milliseconds, millivolts": text(
        lambda time, volts: f"{time:.2f};{1e3 * volts:.0f}", "Time;Channel A\n(ms);(mV)\n\n", 1e3
    ),
    "microseconds": text("{:.0f},{:.3f}".format, "t [µs],U [V]\n", 1e6),
    "milliseconds not named": text("{:.2f},{:.3f}".format, "", 1e3),
    "remarks": text("{:.5f},{:.3f}".format, "# recorder 1\n# gain: 2\n% x\n"),
    "line ends of two signs": text("{:.5f},{:.3f}".format).replace(b"\n", b"\r\n"),
    "with a mark of order": b"\xef\xbb\xbf" + text("{:.5f},{:.3f}".format, "Time (s),U (V)\n"),
    "wide signs": text("{:.5f}\t{:.3f}".format, "Time\tVolts\n").decode().encode("utf-16"),
    "packed": gzip.compress(text("{:.5f},{:.3f}".format)),
    "packed in two": b"".join(gzip.compress(text("{:.5f},{:.3f}".format)[part]) for part in (slice(600), slice(600, None))),
    "time of day": text(lambda time, volts: f"10:00:{time:08.5f},{volts}", "clock,volts\n"),
    "rate above": text(lambda time, volts: f"{volts}", "Sample rate: 20 kS/s\nvolts\n"),
    "interval above": text(lambda time, volts: f"{volts}", "Increment: 50 us\nvolts\n"),
}  # fmt: skip


@pytest.mark.parametrize("dress", DRESSES)
def test_every_dress_holds_the_same_record(dress):
    """Rate and mean, whatever parts columns and decimals, and whatever stands above."""
    record = read_record(DRESSES[dress], "record.csv")

    assert record.rate == pytest.approx(RATE, rel=1e-3)
    assert record.mean == pytest.approx(MEAN, abs=2e-3)
    assert len(record.volts) == 400


def test_amps_are_known_by_their_name_or_by_their_place():
    """And a clamp's millivolts are no amps."""
    third = lambda head: text(lambda time, volts: f"{time:.5f},{volts},-33", head)  # noqa: E731

    assert read_record(third(""), "x").amps[0] == -33
    assert read_record(third("time_s,volts,amps\n"), "x").amps[0] == -33
    assert read_record(third("t (s),U (V),I (kA)\n"), "x").amps[0] == -33_000
    clamp = read_record(third("t (s),A (V),B (mV)\n"), "x")
    assert clamp.amps is None
    assert clamp.mended == ("left unread: B (mV)",)


def test_columns_may_stand_in_any_order():
    """Where they are named."""
    record = read_record(text(lambda time, volts: f"{volts},7,{time:.5f}", "volts,sample,time\n"), "x")

    assert (record.rate, record.amps, record.mended) == (pytest.approx(RATE), None, ())


@pytest.mark.parametrize("mark", ["", "NaN", "OL", "inf", "-", "∞"])
def test_marks_of_no_value_are_bridged(mark):
    """In any of the usual spellings."""
    lines = text("{:.5f},{:.3f}".format).split(b"\n")
    lines[100] = b"0.00500," + mark.encode()

    assert read_record(b"\n".join(lines), "x").mended == ("1 samples without a value are bridged",)


def test_a_rate_stands_for_the_time():
    """Told on the command line."""
    assert read_record(text(lambda time, volts: f"{volts}"), "x", 5e4).rate == pytest.approx(5e4)


def changed(line: int, to: bytes) -> bytes:
    lines = text("{:.5f},{:.3f}".format, "time,volts\n").split(b"\n")
    lines[line - 1] = to
    return b"\n".join(lines)


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "this file is empty"),
        (b"\n \n", "this file is empty"),
        (b"hello\nworld\n", "a.csv:1:1: there is no line of numbers"),
        (changed(200, b"0.0100,abc"), 'a.csv:200:8: "abc" is no number; expected one in column 2 of 2'),
        (changed(200, b"x,14"), 'a.csv:200:1: "x" is no number'),
        (b"1,2\n", "1 samples are too few"),
        (text(lambda time, volts: f"{volts}"), "there is no column of time"),
        (text(lambda time, volts: f"{time * RATE:.0f},{volts}"), "counts samples"),
        (text("{:.5f},{:.3f}".format).replace(b".", b","), "a.csv:1:1: commas seem to part both"),
        (b"PK\x03\x04 and so on", "zip archive"),
        (b"\0\1\2" * 100, "this is no text"),
        (gzip.compress(text("{:.5f},{:.3f}".format))[:-20], "breaks off"),
        (b"\x1f\x8b" + b"junk" * 9, "damaged"),
        (text(lambda time, volts: f"{time:.5f},1", "time,temperature\n"), "no column of volts is named"),
    ],
)  # fmt: skip
def test_what_cannot_be_read_is_refused(data, said):
    """One sentence, with the place where one line is to blame."""
    with pytest.raises(InputError) as refused:
        read_record(data, "a.csv")

    assert said in str(refused.value)
    assert str(refused.value).startswith("a.csv:")


def test_a_small_file_that_grows_without_end_is_refused():
    """No more is unpacked than may be read."""
    with pytest.raises(InputError, match="larger than 256 MB"):
        read_record(gzip.compress(b"0" * (LARGEST + 10)), "a.csv")


def test_the_odd_line_is_no_reason_to_refuse():
    """A remark, an empty line and a line that breaks off in the middle."""
    lines = text("{:.5f},{:.3f}".format).split(b"\n")
    lines[50:50] = [b"# marker", b""]
    lines[200] = b"0.0099"

    mended = read_record(b"\n".join(lines), "x").mended
    assert mended == ("1 lines are too short", "1 samples without a value are bridged")
