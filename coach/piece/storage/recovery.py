"""A database that cannot be read: what can be had back, and how it is put in its place.

Nothing is written over: the damaged file is put aside under a dated name and kept.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from itertools import count as numbers
from pathlib import Path
from shutil import copyfile
from typing import Any, Final

from coach.piece.event_reading import from_json
from coach.piece.events import Begun, Counted, Event, TakenBack, TookProject
from coach.piece.export_import import Carried, put
from coach.piece.learning.beliefs import beliefs_to_data
from coach.piece.piece_errors import CannotKeep, Damaged, PieceError
from coach.piece.service import free_name, plain_name
from coach.piece.state import State, fold
from coach.piece.storage.atomic_write import write_whole
from coach.piece.storage.event_codec import PLACES, are_sound, bare, unpacked
from coach.piece.storage.folders import own_file
from coach.piece.storage.migrations import checksum
from coach.piece.storage.page_scan import Row, rows
from coach.piece.storage.snapshots import snapshots, stamp
from coach.piece.storage.state_cache import FOLD, state_of
from coach.piece.storage.store import Store

BESIDE: Final = ("-wal", "-shm", "-journal")
_ENTRY: Final = 2  # columns
_FOLDED: Final = 4
_OLD_EVENT: Final = 5  # the same until layout 2, before rows had sums
_OLD_PIECE: Final = 10


@dataclass(frozen=True, slots=True)
class Recovered:
    """One piece: its number, what could be read of it, and how many of its entries are missing."""

    number: int
    carried: Carried
    state: State
    missing: int


@dataclass(frozen=True, slots=True)
class Recovery:
    """All that could be read: the pieces, and of how many others only parts are left."""

    pieces: tuple[Recovered, ...]
    torn: int


class _Heap:
    """Rows gathered from several files, the first one's taken before the others'."""

    def __init__(self) -> None:
        self.names: dict[int, str] = {}
        self.events: dict[int, dict[int, Event]] = {}
        self.doubtful: set[int] = set()  # pieces whose first entry is not as it was written
        self.stood: dict[int, State] = {}  # how they stood at some entry

    def gather(self, path: Path) -> None:
        """Take in what a file and the journal beside it hold, where it goes with what is there."""
        more = _Heap()
        for row in rows(_bytes(path), _bytes(Path(f"{path}-wal"))):
            more.put(row)
        for number, events in more.events.items():
            mine = self.events.get(number, {})
            if 1 not in mine or 1 not in events or _begun_alike(mine[1], events[1]):
                self.events[number] = {**events, **mine}
                if 1 not in mine and number in more.doubtful:
                    self.doubtful.add(number)
                if number in self.doubtful and 1 in events and number not in more.doubtful:
                    self.events[number][1] = events[1]
                    self.doubtful.discard(number)
        self.names = {**more.names, **self.names}
        self.stood = {**more.stood, **self.stood}

    def put(self, row: Row) -> None:
        """Take in a row, if it is whole and one of ours."""
        values = row.values
        if row.number is not None:
            if len(values) == _ENTRY and isinstance(values[1], bytes):
                with suppress(PieceError):
                    self._put_entry(*divmod(row.number, PLACES), values[1])
            elif len(values) == _FOLDED and isinstance(values[3], bytes):
                self._put_folded(row.number, values[3])
            elif len(values) > _OLD_PIECE - 1 and isinstance(values[1], str):
                self._put_name(row.number, values)
        elif len(values) in (_OLD_EVENT, _OLD_EVENT + 1):
            with suppress(PieceError, TypeError, ValueError):
                number, seq, kind, _, data = values[:_OLD_EVENT]
                self._put_event(int(number), int(seq), from_json(kind, data), sound=_sound(values))

    def _put_entry(self, number: int, seq: int, entry: bytes) -> None:
        sound = are_sound([entry], number, seq)
        self._put_event(number, seq, unpacked(bare(entry)), sound=sound)

    def _put_folded(self, number: int, data: bytes) -> None:
        state = state_of(bare(data)) if are_sound([data], number, -FOLD) else None
        if state:
            self.stood[number] = state

    def begin_anew(self) -> None:
        """Let pieces whose first entry is lost or doubtful begin as they stood later."""
        for number, state in self.stood.items():
            events = self.events.setdefault(number, {})
            taken = any(isinstance(event, TookProject) for event in events.values())
            if 1 not in events or (number in self.doubtful and not taken):
                events[1] = _begun(state)

    def _put_event(self, number: int, seq: int, event: Event, *, sound: bool) -> None:
        """Take in an event; of a first one with a wrong letter the piece can still be followed."""
        events = self.events.setdefault(number, {})
        if sound:
            events[seq] = event
            self.doubtful -= {number} if seq == 1 else set()
        elif isinstance(event, Begun) and seq == 1 and 1 not in events:
            events[1] = event
            self.doubtful.add(number)

    def _put_name(self, number: int, values: tuple[Any, ...]) -> None:
        # the name key stands between name and title, and belongs to no sum
        if len(values) == _OLD_PIECE or checksum(number, values[1], *values[3:-1]) == values[-1]:
            self.names[number] = plain_name(values[1])


def _begun(state: State) -> Begun:
    """Return an event that begins a piece that stands so; its first paces are lost."""
    return Begun(
        at_ms=state.begun_ms, tick_ms=0, sitting=0, title=state.title, source=state.source,
        project_text=state.project_text, total=state.total, cord=beliefs_to_data(state.beliefs),
    )  # fmt: skip


def _begun_alike(one: Event, other: Event) -> bool:
    return one.at_ms == other.at_ms and one.tick_ms == other.tick_ms


def _sound(values: tuple[Any, ...]) -> bool:
    return len(values) == _OLD_EVENT or checksum(*values[:-1]) == values[-1]


def recover(database: Path) -> Recovery:
    """Return what can be read of a damaged database; snapshots fill in what is missing.

    Nothing is changed. Raises CannotKeep where the file itself cannot be read.
    """
    heap = _Heap()
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
        found.append(
            Recovered(number, Carried(name, piece.carried.events), piece.state, piece.missing)
        )
    return Recovery(tuple(found), torn)


def _followed(number: int, events: Mapping[int, Event]) -> Recovered | None:
    """Follow the events from the first on.

    Where one is missing the next count tells how many were made: those are put in its place.
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
    return Recovered(number, Carried("", tuple(run)), state, max(0, max(events) - len(run)))


def _bridge(state: State, event: Event) -> Iterator[Event]:
    """Yield the event that leads from where a piece stands to where the next one finds it."""
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
    """Return a damaged database and what lies beside it a dated name, and give that.

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


def make_anew(database: Path, pieces: Iterable[Recovered], now_ms: int) -> Path:
    """Put a new database with these pieces where a damaged one is, which is put aside; give where.

    The new one is whole before the old one is moved.
    """
    fresh = database.with_name(f"{database.name}.mended")
    for ending in ("", *BESIDE):
        Path(f"{fresh}{ending}").unlink(missing_ok=True)
    with Store(fresh) as store, store.atomic():
        for piece in pieces:
            put(store, piece.number, piece.carried)
    return _exchange(fresh, database, now_ms)


def take_snapshot(database: Path, snapshot: Path, now_ms: int) -> Path:
    """Put a copy of a snapshot where a damaged database is, which is put aside; give where."""
    fresh = database.with_name(f"{database.name}.mended")
    write_whole(fresh, _bytes(snapshot), replace=True)
    return _exchange(fresh, database, now_ms)


def sound_snapshots(database: Path) -> list[tuple[Path, int, Counter[str]]]:
    """Return the snapshots that are whole, the latest first: path, pieces, counts made by name."""
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
    own_file(database)
    return aside


def _free(database: Path, now_ms: int) -> Path:
    """Return a dated name that nothing has yet."""
    day = stamp(now_ms)[:10]
    for n in numbers(1):
        number = f"-{n}" if n > 1 else ""
        aside = database.with_name(f"{database.stem}-damaged-{day}{number}{database.suffix}")
        if not any(Path(f"{aside}{ending}").exists() for ending in ("", *BESIDE)):
            return aside
    raise AssertionError  # numbers never end


def _twin(path: Path, other: Path) -> None:
    """Give a file a second name, or a copy where the file system knows no such."""
    try:
        other.hardlink_to(path)
    except OSError:
        copyfile(path, own_file(other))


def _bytes(path: Path) -> bytes:
    """Return a file's bytes, none where there is no such file."""
    try:
        return path.read_bytes()
    except FileNotFoundError:
        return b""
    except OSError as error:
        raise CannotKeep(f"{path} cannot be read: {error.strerror}.") from error
