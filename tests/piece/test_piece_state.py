"""How events fold into the state of a piece."""

from dataclasses import fields, replace
from functools import reduce

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.pace.estimate import (
    DAY,
    Paces,
    expected_seconds,
    initial_paces,
    learn_stretch,
    learn_time,
    practised,
)
from coach.pace.pace_json import to_data
from coach.pace.prior import WAIT, least_s
from coach.pace.work_amount import WorkAmount, ties
from coach.piece.events import (
    Begun,
    Counted,
    Event,
    Left,
    Opened,
    Paused,
    Resumed,
    TakenBack,
)
from coach.piece.folding import fold
from coach.piece.piece_errors import Damaged
from coach.piece.state import State

TOTAL = 40
CLOVE = "clove hitch"


def usual_s(paces: Paces | None = None) -> float:
    """What a clove hitch is expected to take, before anything is seen if nothing else is said."""
    return round(expected_seconds(paces or initial_paces(), ties(CLOVE)), 3)


def learnt_nothing(paces: Paces) -> bool:
    """Whether no time was believed to show a pace."""
    return paces.known == initial_paces().known and paces.open is None


def begun(**changes: object) -> Begun:
    values = {
        "at_ms": 10, "tick_ms": 0, "sitting": 0, "title": "Reed keyring", "source": "reed",
        "project_text": "coach: 1", "total": TOTAL,
    }  # fmt: skip
    return Begun(**{**values, **changes})


class Told:
    """Events told one after another, each some seconds after the one before."""

    def __init__(self) -> None:
        self.events: list[Event] = [begun()]
        self.done = 0
        self.second = 0.0
        self.sitting = 0

    @property
    def state(self) -> State:
        return reduce(fold, self.events, State())

    def _when(self) -> dict[str, int]:
        ms = round(self.second * 1000)
        return {"at_ms": ms, "tick_ms": ms, "sitting": self.sitting}

    def after(self, seconds: float) -> "Told":
        self.second += seconds
        return self

    def opened(self) -> "Told":
        self.sitting = len(self.events) + 1
        self.events.append(Opened(**self._when()))
        return self

    def counted(
        self, n: int = 1, knot: str = CLOVE, expected_s: float = 0.0, **standard_s: float
    ) -> "Told":
        self.events.append(
            Counted(
                **self._when(), count=n, from_done=self.done, knot=knot, expected_s=expected_s,
                standard_s=standard_s,
            )
        )  # fmt: skip
        self.done += n
        return self

    def taken_back(self, n: int = 1) -> "Told":
        self.events.append(TakenBack(**self._when(), count=n, from_done=self.done))
        self.done -= n
        return self

    def paused(self) -> "Told":
        self.events.append(Paused(**self._when()))
        return self

    def resumed(self) -> "Told":
        self.events.append(Resumed(**self._when()))
        return self

    def left(self) -> "Told":
        self.events.append(Left(**self._when()))
        return self


def test_counts_and_times_add_up() -> None:
    """Three ties, 9 s and 7 s apart; the first took what it usually takes of the 20 s before."""
    told = Told().opened().after(20).counted().after(9).counted().after(7).counted()
    state = told.state
    assert (state.done, state.total, state.seq) == (3, TOTAL, 5)
    assert state.worked_s == state.sitting_s == pytest.approx(usual_s() + 9 + 7, abs=0.002)
    assert state.touched_ms == 36_000


def test_the_clock_starts_with_the_first_count() -> None:
    """Looking at the screen for an hour is no work, and coming back shows no pace."""
    state = Told().opened().after(3600).counted().state
    assert state.worked_s == usual_s()
    assert learnt_nothing(state.paces)


def test_a_quick_first_count_is_worth_no_more_than_it_took() -> None:
    assert Told().opened().after(3).counted().state.worked_s == 3


def test_a_night_between_two_counts_is_one_tie() -> None:
    state = Told().opened().after(8).counted().after(9 * 3600).counted().state
    assert state.worked_s == pytest.approx(8 + usual_s(), abs=0.2)
    assert learnt_nothing(state.paces)


def test_a_pause_is_not_worked() -> None:
    """Of the ten minutes only the 5 s before the pause and the 6 s after it are work."""
    told = Told().opened().after(8).counted().after(5).paused()
    assert told.state.paused
    told.after(600).resumed()
    assert not told.state.paused
    assert told.after(6).counted().state.worked_s == 8 + 5 + 6
    assert learnt_nothing(told.state.paces)


def test_counting_starts_a_stopped_clock() -> None:
    told = Told().opened().after(8).counted().paused().after(600).counted()
    assert not told.state.paused
    assert told.state.worked_s == pytest.approx(8 + usual_s(), abs=0.2)


def test_a_new_sitting_begins_at_nothing_and_the_whole_goes_on() -> None:
    told = Told().opened().after(8).counted().after(7).counted().after(5).left()
    assert told.state.worked_s == 20
    told.after(50_000).opened().after(4).counted()
    assert told.state.sitting_s == 4
    assert told.state.worked_s == 24


def test_ticks_of_two_sittings_are_never_subtracted() -> None:
    """A sitting that came without word of the other's end adds its own tie, no more."""
    told = Told().opened().after(8).counted()
    other = replace(told.events[-1], sitting=99, tick_ms=28_000, from_done=1)
    after = fold(told.state, other)
    assert after.worked_s == pytest.approx(8 + usual_s(), abs=0.2)
    assert learnt_nothing(after.paces)


def test_ticks_that_ran_back_take_no_time_away() -> None:
    """A machine put right in the midst of it: nothing is gained and nothing lost."""
    told = Told().after(100).opened().after(-50).counted()
    assert told.state.worked_s == 0
    assert told.after(-20).counted().state.worked_s == 0


def test_unpicking_keeps_the_time_spent() -> None:
    told = Told().opened().after(8).counted().after(8).counted().after(4).taken_back(2)
    assert told.state.done == 0
    assert told.state.worked_s == 20


def test_what_follows_unpicking_shows_no_pace() -> None:
    told = Told().opened().after(8).counted().taken_back().after(8).counted()
    assert learnt_nothing(told.state.paces)


def seen(times: list[float], n: int = 1) -> Paces:
    """The paces that follow from one count of which no time is known, and then these."""
    paces = practised(initial_paces(), ties(CLOVE, n))
    for seconds in times:
        paces = learn_time(paces, ties(CLOVE, n), seconds, n * least_s(CLOVE))
    return paces


def test_each_gap_between_counts_is_taken_in() -> None:
    told = Told().opened().after(8).counted().after(11).counted().after(13).counted()
    assert told.state.paces == seen([11, 13])


def test_a_row_counted_at_once_is_taken_in_as_its_ties() -> None:
    told = Told().opened().after(50).counted(5).after(60).counted(5)
    assert told.state.paces == seen([60], 5)
    assert told.state.worked_s == pytest.approx(min(50, 5 * usual_s()) + 60, rel=0.02)


def test_counts_of_mixed_knots_teach_what_each_of_them_takes() -> None:
    told = Told().opened().after(8).counted()
    for _ in range(8):
        told.after(60).counted(3, knot="", **{CLOVE: 14.0, "handling": 5.0})
    work = WorkAmount({CLOVE: 14.0, "handling": 5.0})
    assert expected_seconds(learn_stretch(told.state.paces), work) == pytest.approx(60, rel=0.15)


def test_mixed_counts_of_an_older_coach_show_no_pace() -> None:
    told = Told().opened().after(8).counted().after(30).counted(3, knot="", expected_s=25.0)
    assert learnt_nothing(told.state.paces)
    assert told.state.worked_s == pytest.approx(min(8, usual_s()) + 30, abs=0.2)


def test_a_step_without_a_knot_shows_how_long_she_takes_for_such_steps() -> None:
    told = Told().opened().after(8).counted()
    for _ in range(10):
        told.after(40).counted(knot="", trim=20.0)
    assert expected_seconds(learn_stretch(told.state.paces), WorkAmount({"trim": 20.0})) > 35


def test_a_wait_is_all_worked_and_shows_no_pace() -> None:
    """Ten minutes of soaking are no interruption when the step says ten minutes."""
    told = Told().opened().after(7).counted().after(610).counted(knot="", **{WAIT: 600.0})
    assert told.state.worked_s == 617
    assert learnt_nothing(told.state.paces)


def test_a_new_sitting_begins_a_new_day() -> None:
    told = Told().opened().after(8).counted()
    for _ in range(20):
        told.after(20).counted()
    assert told.state.paces.known.belief(DAY).mean > 0
    assert told.left().after(9999).opened().state.paces.known.belief(DAY).mean == 0


@pytest.mark.parametrize(("knot", "kind", "usual"), [
    ("", "do", 60.0), ("", "trim", 40.0), ("gathering knot", "gathering knot", 150.0),
])  # fmt: skip
def test_what_was_done_before_it_is_counted_teaches_nothing(
    knot: str, kind: str, usual: float
) -> None:
    """The pot hangs already, or the wrap was tied while the door bell rang: two seconds a tap."""
    told = Told().opened().after(8).counted()
    for _ in range(6):
        told.after(2).counted(1, knot=knot, **{kind: usual})
    assert learnt_nothing(told.state.paces)


def test_no_claim_and_no_pace_makes_a_plain_tie_too_quick() -> None:
    """Novices' paces, a file that claims hours: eight seconds are believed, half of one is not."""
    slow = learn_stretch(learn_time(initial_paces("new to it"), ties(CLOVE, 10), 250.0))
    told = Told()
    told.events[0] = begun(paces=to_data(slow))
    told.opened().after(20).counted()
    for _ in range(30):
        told.after(8).counted()
    assert expected_seconds(told.state.paces, ties(CLOVE)) < 14
    before = told.state.paces
    for _ in range(5):
        told.after(0.4).counted()
    assert expected_seconds(told.state.paces, ties(CLOVE)) == pytest.approx(
        expected_seconds(before, ties(CLOVE)), rel=0.02
    )


def test_the_limit_follows_the_makers_own_pace() -> None:
    """Seventy seconds are a break for quick hands and a tie for slow ones."""
    slow = Told().opened().counted()
    for _ in range(12):
        slow.after(40).counted()
    assert expected_seconds(slow.state.paces, ties(CLOVE)) > 20
    before = slow.state.worked_ms
    assert slow.after(70).counted().state.worked_ms - before == 70_000
    quick = Told().opened().after(8).counted().after(70).counted()
    assert quick.state.worked_s == pytest.approx(8 + usual_s(), abs=0.2)


def test_the_paces_brought_along_are_where_it_starts() -> None:
    known = learn_stretch(learn_time(initial_paces(), ties(CLOVE, 5), 100.0))
    assert fold(State(), begun(paces=to_data(known))).paces == known


def test_finished_when_all_counts_are_made() -> None:
    told = Told().opened().counted(TOTAL)
    assert told.state.finished
    assert not told.taken_back().state.finished


@pytest.mark.parametrize(
    ("before", "wrong"),
    [
        ([], Opened(at_ms=0, tick_ms=0, sitting=1)),
        ([begun()], begun()),
        ([], begun(total=-1)),
        ([], begun(paces={"seen": 3})),
        ([begun()], Counted(at_ms=0, tick_ms=0, sitting=0, count=1, from_done=1)),
        (
            [begun()],
            Counted(
                at_ms=0, tick_ms=0, sitting=0, count=1, from_done=0, standard_s={CLOVE: "long"}
            ),
        ),
        (
            [begun()],
            Counted(at_ms=0, tick_ms=0, sitting=0, count=1, from_done=0, standard_s={CLOVE: -1.0}),
        ),
        (
            [begun()],
            Counted(
                at_ms=0,
                tick_ms=0,
                sitting=0,
                count=1,
                from_done=0,
                standard_s={CLOVE: float("inf")},
            ),
        ),
        ([begun()], Counted(at_ms=0, tick_ms=0, sitting=0, count=0, from_done=0)),
        ([begun()], Counted(at_ms=0, tick_ms=0, sitting=0, count=TOTAL + 1, from_done=0)),
        ([begun()], TakenBack(at_ms=0, tick_ms=0, sitting=0, count=1, from_done=0)),
        ([begun()], TakenBack(at_ms=0, tick_ms=0, sitting=0, count=-1, from_done=0)),
    ],
)
def test_what_cannot_have_happened_is_refused(before: list[Event], wrong: Event) -> None:
    with pytest.raises(Damaged):
        fold(reduce(fold, before, State()), wrong)


happenings = st.lists(
    st.tuples(
        st.sampled_from(["counted", "taken_back", "paused", "resumed", "left", "opened"]),
        st.integers(1, 6),
        st.floats(0, 5000),
    ),
    max_size=40,
)


def told_of(what: list[tuple[str, int, float]]) -> Told:
    """Tell only what can happen: counts are held between nothing and all."""
    told = Told().opened()
    for kind, n, seconds in what:
        told.after(seconds)
        room = {"counted": TOTAL - told.done, "taken_back": told.done}.get(kind)
        if room is None:
            getattr(told, kind)()
        elif room:
            getattr(told, kind)(min(n, room))
    return told


@given(happenings)
def test_done_stays_in_bounds_and_time_never_shrinks(what: list[tuple[str, int, float]]) -> None:
    state = State()
    for event in told_of(what).events:
        after = fold(state, event)
        assert 0 <= after.done <= after.total
        assert after.worked_ms >= state.worked_ms
        assert after.seq == state.seq + 1
        state = after


@given(happenings, st.integers(1, 6))
def test_counting_and_taking_back_is_as_before(what: list[tuple[str, int, float]], n: int) -> None:
    told = told_of(what)
    done = told.done
    n = min(n, TOTAL - done)
    if n:
        told.counted(n).taken_back(n)
    assert told.state.done == done


@given(happenings)
def test_telling_it_again_gives_the_same_state(what: list[tuple[str, int, float]]) -> None:
    events = told_of(what).events
    assert reduce(fold, events, State()) == reduce(fold, events, State())


@given(happenings, st.data())
def test_setting_the_wall_clock_changes_no_time(
    what: list[tuple[str, int, float]], data: st.DataObject
) -> None:
    """Every UTC reading replaced by any other: only when it was touched differs."""
    events = told_of(what).events
    moved = [replace(event, at_ms=data.draw(st.integers(0, 10**13))) for event in events]
    here, there = reduce(fold, events, State()), reduce(fold, moved, State())
    same = {"at_ms", "begun_ms", "touched_ms", "last"}
    for name in {field.name for field in fields(State)} - same:
        assert getattr(here, name) == getattr(there, name)
