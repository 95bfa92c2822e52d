"""Recovery of a database that cannot be read, and replacing it by what was found.

Nothing is overwritten: the damaged file is renamed with the date and kept.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import count as numbers
from pathlib import Path
from shutil import copyfile
from typing import Final

from coach.orders.desk_bounds import desk_event_passes
from coach.orders.desk_events import DeskEvent
from coach.piece.events import Counted, Event, TakenBack
from coach.piece.export_import import ExportedPiece, restore_piece
from coach.piece.folding import fold
from coach.piece.piece_errors import CannotKeep, Damaged, PieceError
from coach.piece.rescue.salvage import Heap, read_bytes
from coach.piece.service import free_name
from coach.piece.state import State
from coach.piece.storage.atomic_write import write_whole
from coach.piece.storage.folders import ensure_private_file
from coach.piece.storage.snapshots import file_name_time, snapshots
from coach.piece.storage.store import Store

BESIDE: Final = ("-wal", "-shm", "-journal")


@dataclass(frozen=True, slots=True)
class Recovered:
    """One piece: its number, its readable events, and how many are missing."""

    number: int
    carried: ExportedPiece
    state: State
    missing: int


@dataclass(frozen=True, slots=True)
class Recovery:
    """All that could be read: the pieces, how many others are only in part, and the desk.

    Of the desk every whole entry is used, whatever is missing between: errors in the stock are put
    right by the next count.
    """

    pieces: tuple[Recovered, ...]
    torn: int
    desk: tuple[DeskEvent, ...] = ()


def recover(database: Path) -> Recovery:
    """Return what can be read of a damaged database, filled in from snapshots.

    Nothing is changed. Raises CannotKeep where the file itself cannot be read.
    """
    heap = Heap()
    for path in (database, *snapshots(database)):
        heap.gather(path)
    heap.begin_anew()
    found, torn = [], 0
    names: list[str] = []
    for number, events in sorted(heap.events.items()):
        piece = _followed(number, events)
        if piece is None:
            torn += 1
            continue
        name = free_name(heap.names.get(number, "") or piece.state.title, names)
        names.append(name)
        carried = ExportedPiece(name, piece.carried.events, heap.uids.get(number, ""))
        found.append(Recovered(number, carried, piece.state, piece.missing))
    desk = tuple(event for _, event in sorted(heap.desk.items()))
    return Recovery(tuple(found), torn, desk)


def _followed(number: int, events: Mapping[int, Event]) -> Recovered | None:
    """Follow the events from the first on.

    Where one is missing, the next count tells how many were made: those are put in its place.
    """
    state, run = State(), []
    for _, event in sorted(events.items()):
        try:
            for one in (*_bridge(state, event), event):
                state = fold(state, one)
                run.append(one)
        except Damaged:
            break
    if not run:
        return None
    return Recovered(number, ExportedPiece("", tuple(run)), state, max(0, max(events) - len(run)))


def _bridge(state: State, event: Event) -> Iterator[Event]:
    """Yield the event that leads from a state to where the next event starts."""
    if not isinstance(event, Counted | TakenBack) or not state.seq:
        return
    change = event.from_done - state.done
    kind = Counted if change > 0 else TakenBack
    if change:
        yield kind(
            at_ms=event.at_ms, tick_ms=event.tick_ms, sitting=event.sitting,
            count=abs(change), from_done=state.done,
        )  # fmt: skip


def put_aside(database: Path, now_ms: int) -> Path:
    """Rename a damaged database and its journal with the date, and return the new path.

    Raises:
        CannotKeep: It cannot be copied or linked there; then it stays where it is.
    """
    aside = _free(database, now_ms)
    try:
        for ending in ("", *BESIDE):
            there = Path(f"{database}{ending}")
            if there.exists():
                _twin(there, Path(f"{aside}{ending}"))
        for ending in (*BESIDE, ""):
            Path(f"{database}{ending}").unlink(missing_ok=True)
    except OSError as error:
        raise CannotKeep(f"{database} cannot be put aside: {error.strerror}.") from error
    return aside


def make_anew(
    database: Path, pieces: Iterable[Recovered], now_ms: int, desk: Sequence[DeskEvent] = ()
) -> Path:
    """Replace a damaged database by a new one with these pieces and desk events.

    The new one is complete before the old one is moved.

    Args:
        database: The damaged file.
        pieces: The pieces.
        now_ms: UTC in epoch milliseconds, for the name of the file put aside.
        desk: The events of the desk.

    Returns:
        Where the damaged file is now.
    """
    fresh = database.with_name(f"{database.name}.mended")
    for ending in ("", *BESIDE):
        Path(f"{fresh}{ending}").unlink(missing_ok=True)
    with Store(fresh) as store, store.atomic():
        for piece in pieces:
            restore_piece(store, piece.number, piece.carried)
        store.add_to_desk(0, [event for event in desk if desk_event_passes(event)])
    return _exchange(fresh, database, now_ms)


def restore_snapshot(database: Path, snapshot: Path, now_ms: int) -> Path:
    """Replace a damaged database by a copy of a snapshot.

    Args:
        database: The damaged file.
        snapshot: The snapshot that takes its place.
        now_ms: UTC in epoch milliseconds, for the name of the file put aside.

    Returns:
        Where the damaged file is now.
    """
    fresh = database.with_name(f"{database.name}.mended")
    write_whole(fresh, read_bytes(snapshot), replace=True)
    return _exchange(fresh, database, now_ms)


def sound_snapshots(database: Path) -> list[tuple[Path, int, Counter[str]]]:
    """Return the intact snapshots, latest first: path, number of pieces, counts by name."""
    found = []
    for path in snapshots(database):
        try:
            with Store(path) as store:
                store.check()
                pieces = store.pieces()
        except PieceError:
            continue
        found.append((path, len(pieces), Counter({p.name: p.done for p in pieces})))
    return found


def _exchange(fresh: Path, database: Path, now_ms: int) -> Path:
    aside = put_aside(database, now_ms)
    try:
        fresh.replace(database)
    except OSError as error:
        raise CannotKeep(f"{fresh} cannot be renamed to {database}: {error.strerror}.") from error
    ensure_private_file(database)
    return aside


def _free(database: Path, now_ms: int) -> Path:
    """Return an unused dated name."""
    day = file_name_time(now_ms)[:10]
    for n in numbers(1):
        number = f"-{n}" if n > 1 else ""
        aside = database.with_name(f"{database.stem}-damaged-{day}{number}{database.suffix}")
        if not any(Path(f"{aside}{ending}").exists() for ending in ("", *BESIDE)):
            return aside
    raise AssertionError  # numbers never end


def _twin(path: Path, other: Path) -> None:
    """Make a hard link to a file, or a copy where the file system has no links."""
    try:
        other.hardlink_to(path)
    except OSError:
        copyfile(path, ensure_private_file(other))
