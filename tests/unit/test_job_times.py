"""How long things took, and what many jobs say of it."""

from fractions import Fraction

import pytest
from log import Log, demo_area

from putback.area.model import Spread
from putback.job.learning import Learned, interval, learn, of_parts, with_own_times
from putback.job.times import by_person, spent


def times(log: Log) -> list[tuple[str, str, float]]:
    return [(one.item, one.direction, one.minutes) for one in spent(log.rows, log.state, log.area)]


def test_a_step_takes_the_time_since_the_same_person_last_spoke():
    """Said minutes go before; another person's taps do not count."""
    log = Log(demo_area("a"))
    log.moved("engine cover", "off", _at=10)
    log.moved("coolant expansion tank", "aside", _at=12, _by="technician 2")
    log.off("duct clamps", 2, _at=14)
    log.moved("intake duct", "off", _at=20, minutes=3)
    log.moved("intake duct", "fitted", _at=25)

    assert times(log) == [
        ("engine cover", "out", 9.0),
        ("duct clamps", "out", 4.0),
        ("intake duct", "out", 3.0),
        ("intake duct", "back", 5.0),
    ]


def test_pauses_and_gaps_of_more_than_an_hour_do_not_count():
    """A pause is taken out; who was called away and said nothing tells us nothing."""
    log = Log(demo_area("a"))
    log.say("job paused", _at=5)
    log.say("job resumed", _at=35, _by="technician 2")
    log.moved("engine cover", "off", _at=40)
    log.moved("engine cover", "fitted", _at=101)
    assert times(log) == [("engine cover", "out", 5.0)]


def test_fasteners_count_with_their_part():
    """As the minutes of an area do."""
    log = Log(demo_area("a"))
    log.off("short tray screws", 7, minutes=4)
    log.moved("undertray", "off", minutes=2)
    assert of_parts(spent(log.rows, log.state, log.area), log.area) == {("undertray", "out"): 6.0}
    assert by_person(spent(log.rows, log.state, log.area)) == {"technician 1": 6.0}


@pytest.mark.parametrize(("count", "places"), [(4, None), (5, (0, 4)), (7, (0, 6)), (8, (1, 6)), (10, (1, 8)), (20, (5, 14))])
def test_the_interval_of_the_median_is_that_of_the_sign_test(count, places):
    """Places counted from 0; with four values even least to greatest holds the median in 87.5 of 100 only.

    For 20 values the table of the binomial distribution gives 5.77 % for 6 or fewer of 20 at one half, in both tails 11.5 %,
    and 2.07 % for 5 or fewer: the seventh and the fourteenth value would hold it with 88.5 %, the sixth and fifteenth with 95.9 %.
    """
    assert interval(range(count)) == places


def test_few_jobs_leave_the_file_as_it_is():
    """Four do not speak for a figure of our own; ten do."""
    area = demo_area("a")
    four, ten = ([{("subframe", "out"): minutes} for minutes in range(15, 15 + count)] for count in (4, 10))
    assert with_own_times(area, learn(four)).items["subframe"].minutes == area.items["subframe"].minutes
    own = with_own_times(area, learn(ten)).items["subframe"].minutes
    assert own.out == Spread(Fraction(15), Fraction(39, 2), Fraction(24))
    assert own.back == area.items["subframe"].minutes.back


def test_the_median_of_an_even_number_lies_between():
    """Ten jobs of the same part, as user story 33 has them begin: 19, 17, 22."""
    assert Learned("subframe", "out", (16, 17, 18, 18, 19, 19, 20, 21, 22, 23)).median == 19
