"""The day on which work is ready, against the standard library's calendar."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

from examples import examples
from hypothesis import given
from hypothesis import strategies as st

from coach.orders.working_week import DaysOff, Week, ready_on

HOUR = 3600.0
SATURDAYS = Week((0, 0, 0, 0, 0, 3 * HOUR, 0))


def test_three_hours_a_saturday_make_seven_hours_in_three_saturdays() -> None:
    """4 May 2031 is a Sunday (`datetime.date.weekday`)."""
    assert date(2031, 5, 4).weekday() == 6
    assert ready_on(SATURDAYS, date(2031, 5, 4), 7 * HOUR) == date(2031, 5, 24)
    assert ready_on(SATURDAYS, date(2031, 5, 10), 3 * HOUR) == date(2031, 5, 10)
    assert ready_on(SATURDAYS, date(2031, 5, 10), 3 * HOUR, 60) == date(2031, 5, 17)


def test_days_off_are_left_out_and_a_week_that_is_all_off_is_never_ready() -> None:
    off = Week(SATURDAYS.seconds, (DaysOff(date(2031, 5, 10), date(2031, 5, 17)),))
    assert ready_on(off, date(2031, 5, 4), HOUR) == date(2031, 5, 24)
    for_ever = Week(SATURDAYS.seconds, (DaysOff(date.min, date.max),))
    assert ready_on(for_ever, date(2031, 5, 4), HOUR) is None
    assert ready_on(SATURDAYS, date(9999, 12, 30), HOUR) is None


@examples(60)
@given(
    st.lists(st.integers(0, 8), min_size=7, max_size=7).filter(any),
    st.dates(date(2026, 1, 1), date(2036, 1, 1)),
    st.integers(1, 400),
)
def test_it_is_the_first_day_by_which_the_hours_are_enough(
    hours: list[int], today: date, work: int
) -> None:
    week = Week(tuple(h * HOUR for h in hours))
    day = ready_on(week, today, work * HOUR)
    assert day
    days = [today + timedelta(days=n) for n in range((day - today).days + 1)]
    done = [hours[one.weekday()] for one in days]
    assert sum(done) >= work > sum(done[:-1])


def test_the_night_on_which_the_clocks_change_is_one_night() -> None:
    """Counted by 24 hours, an evening before the change would come out a day early or late."""
    zone = ZoneInfo("Europe/Berlin")
    every = Week((HOUR,) * 7)
    for change in (date(2031, 3, 30), date(2031, 10, 26)):
        before, after = (
            datetime(d.year, d.month, d.day, 12, tzinfo=zone).utcoffset()
            for d in (change - timedelta(days=1), change)
        )
        assert before != after
        late = datetime(change.year, change.month, change.day, 0, 30, tzinfo=zone)
        today = late.astimezone(UTC).astimezone(zone).date()
        assert ready_on(every, today - timedelta(days=1), 3 * HOUR) == change + timedelta(days=1)
