"""A disk that takes long holds up no key: what is not on it yet is told as waiting, and gets there.

The disk is held at the moment at which a count is to be stored, and let go on when the test says.
"""

import sqlite3
import tempfile
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from hand_clock import HandClock
from hypothesis import example, given, settings
from hypothesis import strategies as st

from coach.piece import Busy, CannotKeep, Sitting, Store, look, start_piece
from coach.piece.events import Counted, Noted, TakenBack
from coach.piece.piece_errors import StillWriting
from coach.piece.sitting import disk_jobs
from coach.piece.storage import database as database_room
from coach.piece.storage import writer
from coach.session.unsaved_counts import Watch

KNOTS = ["clove hitch"] * 40


class Held:
    """Holds every writing of a store until it is let go, and may let it fail before or after."""

    def __init__(self, store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
        self.holds = False
        self.fails: tuple[str, Exception] | None = None
        self._go = threading.Event()
        self._append_all = store.append_all
        monkeypatch.setattr(store, "append_all", self._held)
        monkeypatch.setattr(writer, "MOMENT_S", 60.0)

    def _held(self, *given: object) -> object:
        if self.holds:
            assert self._go.wait(60), "it is never let go"
        fails, self.fails = self.fails, None
        if fails and fails[0] == "before":
            raise fails[1]
        last = self._append_all(*given)  # type: ignore[arg-type]
        if fails:
            raise fails[1]
        return last

    def hold(self) -> None:
        self.holds = True
        writer.MOMENT_S = 0.0  # type: ignore[misc]
        self._go.clear()

    def let_go(self, sitting: Sitting) -> None:
        """Let the disk go on, and see what came of it."""
        self.holds = False
        self._go.set()
        writer.MOMENT_S = 60.0  # type: ignore[misc]
        if sitting._disk.asked:
            sitting._disk.asked.exception(60)


@pytest.fixture
def sitting(store: Store, clock: HandClock) -> Sitting:
    number = start_piece(
        store, clock, title="Tide belt", project_text="x", source="b", total=len(KNOTS)
    )
    sitting = Sitting(store, clock, number, KNOTS)
    sitting.hurry()
    return sitting


@pytest.fixture
def held(store: Store, sitting: Sitting, monkeypatch: pytest.MonkeyPatch) -> Iterator[Held]:
    held = Held(store, monkeypatch)
    yield held
    held.let_go(sitting)


def test_no_key_waits_for_the_disk_and_all_is_told_as_waiting_until_it_is_there(
    sitting: Sitting, held: Held, store: Store, clock: HandClock
) -> None:
    watch = Watch(sitting)
    sitting.count(3)
    assert (sitting.waiting, watch.line()) == (0, "")
    held.hold()
    for n in (1, 2, 3):
        clock.go_on(2)
        assert sitting.count().done == 3 + n
        assert sitting.waiting == n
        assert isinstance(sitting.trouble, StillWriting)
    assert watch.line() == "Being saved: 3 counts."
    sitting.take_back()
    sitting.jot(Noted, tie=5, place="x", within=0, words="here")
    sitting.pause()
    assert sitting.refresh().done == 5
    assert not sitting.keep()
    with Store(store.path) as other:
        assert look(other, sitting.piece_id).done == 3
    held.let_go(sitting)
    assert sitting.refresh().done == 5
    assert (sitting.waiting, sitting.trouble, watch.line()) == (0, None, "")
    with Store(store.path) as other:
        assert look(other, sitting.piece_id) == sitting.state
        counts = [e for e in other.events_after(1, 1) if isinstance(e, Counted | TakenBack)]
    assert [(e.count, e.from_done) for e in counts] == [(3, 0), (1, 3), (1, 4), (1, 5), (1, 6)]


@pytest.mark.parametrize("when", ["before", "after"])
def test_what_fails_in_the_end_waits_and_is_stored_once(
    sitting: Sitting, held: Held, store: Store, clock: HandClock, when: str
) -> None:
    held.hold()
    held.fails = when, CannotKeep("There is no room.")
    sitting.count(2)
    sitting.count()
    held.let_go(sitting)
    assert sitting.count().done == 4
    assert isinstance(sitting.trouble, CannotKeep)
    assert sitting.waiting == 4
    clock.go_on(2)
    assert sitting.count().done == 5
    assert (sitting.waiting, sitting.trouble) == (0, None)
    assert look(store, sitting.piece_id) == sitting.state


def test_what_another_coach_counts_meanwhile_comes_first(
    sitting: Sitting, held: Held, store: Store, clock: HandClock
) -> None:
    with Store(store.path) as elsewhere:
        Sitting(elsewhere, clock, sitting.piece_id, KNOTS).count(36)
        held.hold()
        sitting.count(3)  # shown beside the 36, of which nothing was read
        held.let_go(sitting)
        clock.go_on(2)
        sitting.refresh()
        assert sitting.keep()
        assert sitting.state.done == look(elsewhere, sitting.piece_id).done == 39


def test_a_sitting_whose_beginning_waited_goes_by_its_own_number(
    store: Store, clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    number = start_piece(store, clock, title="Ebb", project_text="x", source="b", total=len(KNOTS))
    with monkeypatch.context() as full:
        full.setattr(store, "append_all", lambda *_: (_ for _ in ()).throw(CannotKeep("full")))
        mine = Sitting(store, clock, number, KNOTS)
    mine.hurry()
    clock.go_on(1)
    with Store(store.path) as elsewhere:
        other = Sitting(elsewhere, clock, number, KNOTS)
    held = Held(store, monkeypatch)
    held.hold()
    clock.go_on(2)
    mine.count()
    mine.count()
    held.let_go(mine)
    assert mine.keep()
    sittings = {e.sitting for e in store.events_after(number, 2) if isinstance(e, Counted)}
    assert sittings == {mine.number}
    assert mine.number != other.number


def test_leaving_waits_a_little_longer_and_says_what_is_not_there(
    sitting: Sitting, held: Held, store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(disk_jobs, "LEAVING_S", 0.0)
    held.hold()
    sitting.count()
    sitting.leave()
    assert not sitting.keep_before_leaving()
    assert sitting.waiting == 1
    held.let_go(sitting)
    monkeypatch.setattr(disk_jobs, "LEAVING_S", 60.0)
    assert sitting.keep_before_leaving()
    assert look(store, sitting.piece_id) == sitting.state
    store.close()
    assert not [t for t in threading.enumerate() if t.name.startswith("store")]


def test_threads_take_turns_a_whole_transaction_each(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    inside, go = threading.Event(), threading.Event()

    def long() -> None:
        with store.atomic():
            inside.set()
            assert go.wait(60)

    asked = store.writer.ask(long)
    assert inside.wait(60)
    monkeypatch.setattr(database_room, "BUSY_TIMEOUT_S", 0.0)
    for deed in (store.pieces, store.stamp, store.see_whose, store.settle, store.reopen):
        with pytest.raises(Busy):
            deed()
    go.set()
    asked.result(60)
    assert store.pieces() == []


@contextmanager
def locked(path: Path) -> Iterator[None]:
    holder = sqlite3.connect(path, isolation_level=None)
    holder.execute("BEGIN IMMEDIATE")
    try:
        yield
    finally:
        holder.execute("ROLLBACK")
        holder.close()


def test_a_locked_database_holds_up_no_key(
    sitting: Sitting, store: Store, clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(writer, "MOMENT_S", 0.0)
    with locked(store.path):
        for n in range(1, 30):
            assert sitting.count().done == n
            clock.go_on(0.3)
        assert sitting.waiting == 29
    monkeypatch.setattr(writer, "MOMENT_S", 60.0)
    clock.go_on(2)
    sitting.refresh()
    assert sitting.keep()
    assert look(store, sitting.piece_id).done == 29


DEEDS = st.sampled_from(
    ["count", "count", "count", "back", "hold", "hold", "go", "go", "refresh", "wait", "other",
     "before", "after", "note"]
)  # fmt: skip


@settings(max_examples=12)
@given(st.lists(DEEDS, max_size=40))
@example(["before", "count", "count", "other", "after", "count"])
def test_whatever_the_disk_does_what_was_pressed_is_there_in_the_end(deeds: list[str]) -> None:
    """Counts of two benches: their sum is never over or under, and what is told as kept is kept."""
    go_through_in_a_folder(deeds)


def go_through_in_a_folder(deeds: list[str]) -> None:
    with tempfile.TemporaryDirectory() as folder, pytest.MonkeyPatch.context() as patch:
        _go_through(Path(folder) / "coach.db", deeds, patch)


def _go_through(path: Path, deeds: list[str], patch: pytest.MonkeyPatch) -> None:
    clock = HandClock()
    with Store(path) as store, Store(path) as elsewhere:
        number = start_piece(store, clock, title="Ebb", project_text="x", source="b", total=1000)
        other = Sitting(elsewhere, clock, number, [""] * 1000)
        other.count(500)  # so that taking back never meets the beginning
        mine = Sitting(store, clock, number, [""] * 1000)
        mine.hurry()
        held, pressed = Held(store, patch), 500
        acts: dict[str, Callable[[], object]] = {
            "hold": held.hold, "go": lambda: held.let_go(mine), "refresh": mine.refresh,
            "wait": lambda: clock.go_on(2),
            "note": lambda: mine.jot(Noted, tie=1, place="x", within=0, words="y"),
        }  # fmt: skip
        for deed in deeds:
            clock.go_on(0.3)
            if deed in acts:
                acts[deed]()
            elif deed == "other":
                other.count()
                pressed += 1
            elif deed in ("before", "after"):
                held.fails = deed, CannotKeep("There is no room.")
            else:
                (mine.count if deed == "count" else mine.take_back)()
                pressed += 1 if deed == "count" else -1
            assert mine.waiting or mine.trouble or _is_kept(elsewhere, mine)
        held.let_go(mine)
        held.fails = None
        clock.go_on(2)
        mine.refresh()
        assert mine.keep()
        assert mine.refresh().done == look(elsewhere, number).done == pressed
        notes = [e for e in store.events_after(number) if isinstance(e, Noted)]
        assert len(notes) == deeds.count("note")


def _is_kept(elsewhere: Store, mine: Sitting) -> bool:
    """Return whether all that is shown is on the disk, as another coach reads it."""
    return look(elsewhere, mine.piece_id).seq >= mine.state.seq
