"""Pieces begun, found, opened, counted and left."""

import json
import time
from itertools import pairwise
from pathlib import Path

import pytest
from hand_clock import HandClock

from coach.pace.estimate import expected_seconds, initial_paces
from coach.pace.prior import WAIT, prior_s
from coach.pace.work_amount import WorkAmount, ties
from coach.piece import (
    NameTaken,
    NoSuchPiece,
    Sitting,
    Store,
    SystemClock,
    find_named,
    find_unfinished,
    list_pieces,
    look,
    start_piece,
)
from coach.piece.events import Counted, Left
from coach.piece.learning.carry_over import carry_over
from coach.project.read import read_project

ONE_CORD = """coach: 1
title: Tally cord
cords: {reed: {colour: green, fibre: cotton, diameter: 2 mm, pieces: 1}}
start: {nest: [reed]}
work: [{knot: overhand knot, strands: all}]
"""
KNOTS = ["clove hitch"] * 6 + ["square knot"] * 3 + [""]


def begin(store: Store, clock: HandClock, title: str = "Reed keyring", **more: object) -> int:
    values = {"project_text": "coach: 1", "source": "reed.yaml", "total": len(KNOTS), **more}
    return start_piece(store, clock, title=title, **values)


@pytest.fixture
def sitting(store: Store, clock: HandClock) -> Sitting:
    return Sitting(store, clock, begin(store, clock), KNOTS)


def test_a_count_is_stored_before_it_is_shown(sitting: Sitting, database: Path) -> None:
    """By the time the state shows it, another reader of the file sees it too."""
    for n in range(1, 4):
        assert sitting.count().done == n
        with Store(database) as other:
            assert other.pieces()[0].done == n


def test_what_was_counted_is_there_again(sitting: Sitting, database: Path) -> None:
    sitting.count(4)
    sitting.take_back()
    with Store(database) as again:
        state = look(again, sitting.piece_id)
    assert state == sitting.state
    assert state.done == 3
    assert state.project_text == "coach: 1"


def test_counts_stay_between_nothing_and_all(sitting: Sitting) -> None:
    assert sitting.take_back(5).done == 0
    assert sitting.count(999).done == len(KNOTS)
    assert sitting.state.finished
    seq = sitting.state.seq
    assert sitting.count().seq == seq, "nothing to count is nothing to keep"
    assert sitting.count(0).seq == sitting.take_back(-2).seq == seq
    assert sitting.take_back(999).done == 0


def test_the_knot_of_a_count_comes_from_the_plan(
    sitting: Sitting, store: Store, clock: HandClock
) -> None:
    """One knot is told by name; of mixed ones, how much work of each kind they are."""
    for n in (2, 3, 2, 2, 1):
        clock.go_on(10)
        sitting.count(n)
    counts = [e for e in store.events_after(sitting.piece_id) if isinstance(e, Counted)]
    assert [e.knot for e in counts] == ["clove hitch", "clove hitch", "", "square knot", ""]
    assert [dict(e.standard_s) for e in counts[:2]] == [{}, {}]
    assert counts[2].standard_s == pytest.approx(
        {"clove hitch": prior_s("clove hitch"), "square knot": prior_s("square knot")}, abs=0.01
    )


def test_a_step_that_waits_has_its_time(store: Store, clock: HandClock) -> None:
    """Ten minutes of soaking, and none of it a pause."""

    def work(first: int, end: int) -> WorkAmount:
        return WorkAmount({WAIT: 600.0}) if end == len(KNOTS) else ties("clove hitch", end - first)

    sitting = Sitting(store, clock, begin(store, clock), KNOTS, work)
    sitting.count(9)
    clock.go_on(620)
    assert sitting.count().worked_s == 620


def test_the_work_of_a_count_is_kept_with_it(store: Store, clock: HandClock) -> None:
    """As the plan tells it, so that another coach learns the same from it."""

    def work(first: int, end: int) -> WorkAmount:
        return WorkAmount({"clove hitch": 7.0 * (end - first), "handling": 5.0})

    sitting = Sitting(store, clock, begin(store, clock), KNOTS, work)
    for _ in range(6):
        clock.go_on(30)
        sitting.count()
    assert look(store, sitting.piece_id).paces == sitting.state.paces
    (event, *_) = [e for e in sitting.events if isinstance(e, Counted)]
    assert event.standard_s == {"clove hitch": 7.0, "handling": 5.0}
    assert expected_seconds(sitting.state.paces, ties("clove hitch")) > 10


def test_pausing_and_leaving_twice_is_once(sitting: Sitting) -> None:
    assert sitting.resume().seq == 2
    assert sitting.pause().paused
    assert sitting.pause().seq == 3
    assert not sitting.resume().paused
    assert sitting.leave().seq == 5
    assert sitting.leave().seq == 5
    assert isinstance(sitting.state.last, Left)


def test_time_up_to_this_moment_is_shown_and_not_kept(sitting: Sitting, clock: HandClock) -> None:
    sitting.count()
    clock.go_on(12)
    assert sitting.as_of_now().worked_s == 12
    assert sitting.state.worked_s == 0
    assert sitting.refresh().seq == 3


def test_another_coach_is_caught_up_with(sitting: Sitting, store: Store, clock: HandClock) -> None:
    """Both count and take back in turn; each sees what the other did and nothing is lost."""
    other = Sitting(store, clock, sitting.piece_id, KNOTS)
    assert sitting.count().done == 1
    assert other.count(2).done == 3
    assert sitting.take_back().done == 2
    assert other.refresh().done == 2
    assert other.state == sitting.state
    assert look(store, sitting.piece_id) == sitting.state


def test_bounds_hold_against_the_other_coachs_counts(
    sitting: Sitting, store: Store, clock: HandClock
) -> None:
    other = Sitting(store, clock, sitting.piece_id, KNOTS)
    other.count(len(KNOTS))
    assert sitting.count().done == len(KNOTS)
    other.take_back(len(KNOTS))
    assert sitting.take_back().done == 0


def test_what_was_stored_unseen_is_taken_in(sitting: Sitting) -> None:
    """A count that was stored while its process did not see it confirmed counts once."""
    before = sitting.state
    sitting.count()
    sitting.state = before
    assert sitting.count().done == 2


def test_a_count_takes_well_under_twenty_milliseconds(store: Store, clock: HandClock) -> None:
    """The median of 200 counts on the disk, by the machine's own clock."""
    long_one = Sitting(store, clock, begin(store, clock, total=5000), ["clove hitch"] * 5000)
    moments = [time.perf_counter()]
    for _ in range(200):
        clock.go_on(8)
        long_one.count()
        moments.append(time.perf_counter())
    assert sorted(late - early for early, late in pairwise(moments))[100] < 0.020


def test_the_title_names_a_piece_and_a_number_tells_them_apart(
    store: Store, clock: HandClock
) -> None:
    for _ in range(3):
        begin(store, clock)
    begin(store, clock, name="For the  shop\n")
    begin(store, clock, title="reed  KEYRING")
    names = sorted(piece.name for piece in list_pieces(store))
    assert names == [
        "For the shop", "Reed keyring", "Reed keyring 2", "Reed keyring 3", "reed KEYRING 4",
    ]  # fmt: skip


def test_a_name_that_is_taken_is_told(store: Store, clock: HandClock) -> None:
    begin(store, clock, name="For the shop")
    with pytest.raises(NameTaken, match="‘for the SHOP 2’"):
        begin(store, clock, name="for the SHOP")
    assert len(list_pieces(store)) == 1


def test_names_are_harmless_and_paths_of_any_bytes_are_kept(store: Store, clock: HandClock) -> None:
    source = b"/stall/reed\xff.yaml".decode("utf-8", "surrogateescape")
    begin(store, clock, name="tide\x1b[2J \u202ebelt\udcff", source=source)
    begin(store, clock, title="\x1b")
    assert [piece.name for piece in list_pieces(store)] == ["Piece", "tide[2J belt"]
    found = find_unfinished(store, source)
    assert found is not None
    assert found.name == "tide[2J belt"


def test_a_piece_is_found_by_name_and_a_near_name_is_offered(
    store: Store, clock: HandClock
) -> None:
    piece_id = begin(store, clock, name="For the shop")
    assert find_named(store, " for THE shop").id == piece_id
    with pytest.raises(NoSuchPiece, match="Did you mean ‘For the shop’"):
        find_named(store, "For the shp")
    with pytest.raises(NoSuchPiece) as told:
        find_named(store, "hammock")
    assert "Did you mean" not in str(told.value)


def test_a_number_without_a_piece_is_told(store: Store, clock: HandClock) -> None:
    with pytest.raises(NoSuchPiece, match="7"):
        look(store, 7)
    with pytest.raises(NoSuchPiece, match="7"):
        Sitting(store, clock, 7, KNOTS)


def test_going_on_finds_the_latest_unfinished_piece_of_the_project(
    store: Store, clock: HandClock
) -> None:
    assert find_unfinished(store, "reed.yaml") is None
    first = begin(store, clock)
    clock.go_on(60)
    second = begin(store, clock, project_text="coach: 1\n# edited")
    clock.go_on(60)
    begin(store, clock, source="belt.yaml")
    assert find_unfinished(store, "reed.yaml").id == second
    clock.go_on(60)
    Sitting(store, clock, second, KNOTS).count(len(KNOTS))
    assert find_unfinished(store, "reed.yaml").id == first


def test_the_list_for_other_programs(store: Store, clock: HandClock) -> None:
    """Its keys are fixed; the time is UTC and the piece touched last comes first."""
    begin(store, clock, name="left lying")
    clock.go_on(3600)
    sitting = Sitting(store, clock, begin(store, clock), KNOTS)
    clock.go_on(5)
    sitting.count()
    clock.go_on(9.5)
    sitting.count()
    shown = json.loads(json.dumps([piece.to_data() for piece in list_pieces(store)]))
    assert shown[0] == {
        "name": "Reed keyring", "title": "Reed keyring", "done": 2, "total": 10,
        "worked_s": 14, "touched": "2030-03-17T18:46:54Z",
    }  # fmt: skip
    assert [piece["name"] for piece in shown] == ["Reed keyring", "left lying"]


def test_the_makers_paces_go_on_from_piece_to_piece(store: Store, clock: HandClock) -> None:
    """Slow hands on one piece are expected on the next; a piece that is broken is passed by."""
    reading = read_project(ONE_CORD)
    assert reading.project
    project = reading.project
    assert carry_over(store, project).paces == initial_paces()
    sitting = Sitting(store, clock, begin(store, clock), KNOTS)
    for _ in range(6):
        sitting.count()
        clock.go_on(20)
    known = carry_over(store, project).paces
    assert expected_seconds(known, ties("clove hitch")) > 1.5 * expected_seconds(
        initial_paces(), ties("clove hitch")
    )
    clock.go_on(60)
    following = begin(store, clock, paces=known)
    assert look(store, following).paces == known
    store._db.execute("UPDATE event SET data = '{' WHERE piece = ?", (following,))
    assert carry_over(store, project).paces == known


def test_the_machines_clocks_run_in_milliseconds() -> None:
    """Both are near what the standard library reads at the same time."""
    clock = SystemClock()
    assert abs(clock.now_ms() - time.time() * 1000) < 5000
    assert abs(clock.tick_ms() - time.monotonic() * 1000) < 5000
    assert clock.tick_ms() <= clock.tick_ms()


def test_nothing_is_read_again_until_another_coach_has_written(
    sitting: Sitting,
    store: Store,
    database: Path,
    clock: HandClock,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Two screens that stand side by side ask the file many times a minute."""
    sitting.refresh()
    with monkeypatch.context() as unread:
        unread.setattr(store, "events_after", None)
        assert sitting.refresh() is sitting.state
    with Store(database) as other:
        Sitting(other, clock, sitting.piece_id, KNOTS).count(2)
    assert sitting.refresh().done == 2
    assert sitting.count().done == 3
