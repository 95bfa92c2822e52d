"""Collecting intact rows of every layout from damaged files, piece by piece."""

from contextlib import suppress
from pathlib import Path
from typing import Any, Final

from coach.orders.desk_events import DeskEvent
from coach.piece.beliefs import beliefs_to_data
from coach.piece.event_reading import from_json, from_values
from coach.piece.events import Begun, Event, TookProject
from coach.piece.piece_errors import CannotKeep, PieceError
from coach.piece.rescue.page_scan import SalvagedRow, scan_rows
from coach.piece.service import printable_name
from coach.piece.state import State
from coach.piece.storage.desk_book import BOOK, desk_event_of
from coach.piece.storage.event_rows import checksum, event_of, is_sound, is_summed
from coach.piece.storage.packed_events import PLACES, is_whole, unpack_entry, without_sum
from coach.piece.storage.state_cache import FOLD, state_of

# How many columns a row has tells its table and its layout.
_EVENT_1, _EVENT_2_OR_4 = 5, 6
_EVENT_3: Final = 2
_FOLDED_3, _FOLDED_4 = 4, 5
_PIECE_1, _PIECE_2, _PIECE_4 = 10, 12, 13


class Heap:
    """Rows collected from several files, those of earlier files preferred.

    By the number of the piece: `names`, its ids in `uids`, and its `events` by their places.
    """

    def __init__(self) -> None:
        self.names: dict[int, str] = {}
        self.uids: dict[int, str] = {}
        self.events: dict[int, dict[int, Event]] = {}
        self.desk: dict[int, DeskEvent] = {}  # by their places
        self._doubtful: set[int] = set()  # pieces whose first entry is not as it was written
        self._stood: dict[int, State] = {}  # how they stood at some entry

    def gather(self, path: Path) -> None:
        """Add what a file and its journal hold, where it fits what is there.

        Raises:
            CannotKeep: The file cannot be read.
        """
        more = Heap()
        for row in scan_rows(read_bytes(path), read_bytes(Path(f"{path}-wal"))):
            more.put(row)
        for number, events in more.events.items():
            mine = self.events.get(number, {})
            if 1 not in mine or 1 not in events or _begun_alike(mine[1], events[1]):
                self.events[number] = {**events, **mine}
                if 1 not in mine and number in more._doubtful:
                    self._doubtful.add(number)
                if number in self._doubtful and 1 in events and number not in more._doubtful:
                    self.events[number][1] = events[1]
                    self._doubtful.discard(number)
        self.names = {**more.names, **self.names}
        self.uids = {**more.uids, **self.uids}
        self._stood = {**more._stood, **self._stood}
        self.desk = {**more.desk, **self.desk}

    def put(self, row: SalvagedRow) -> None:
        """Add a row, if it is intact and one of ours."""
        with suppress(PieceError, TypeError, ValueError, LookupError, AttributeError):
            if row.number is None:
                self._put_keyed(row.values)
            else:
                self._put_numbered(row.number, row.values)

    def begin_anew(self) -> None:
        """Start pieces whose first entry is lost or doubtful from a later stored state."""
        for number, state in self._stood.items():
            events = self.events.setdefault(number, {})
            taken = any(isinstance(event, TookProject) for event in events.values())
            if 1 not in events or (number in self._doubtful and not taken):
                events[1] = _begun(state)

    def _put_keyed(self, values: tuple[Any, ...]) -> None:
        """Add an event of a layout that keys it by piece and place."""
        if len(values) not in (_EVENT_1, _EVENT_2_OR_4):
            return
        if values[0] == BOOK:
            self._put_desk(values)
            return
        number, seq, kind, at, data, *kept = values
        if isinstance(at, str):
            texts = kind.encode(), at.encode(), data.encode()
            row = seq, *texts, kept[0]
            self._put_event(number, seq, event_of(row), sound=is_sound(number, row))
        else:
            sound = not kept or checksum(*values[:-1]) == kept[0]
            self._put_event(int(number), int(seq), from_json(kind, data), sound=sound)

    def _put_desk(self, values: tuple[Any, ...]) -> None:
        """Add a sound entry of the desk."""
        _, seq, kind, at, data, kept = values
        self.desk[seq] = desk_event_of((seq, kind.encode(), at.encode(), data.encode(), kept))

    def _put_numbered(self, number: int, values: tuple[Any, ...]) -> None:
        """Add a packed event, a state or a name: tables whose rows have numbers."""
        columns = len(values)
        if columns == _EVENT_3 and isinstance(values[1], bytes):
            (piece, seq), entry = divmod(number, PLACES), values[1]
            event = from_values(*unpack_entry(without_sum(entry)))
            self._put_event(piece, seq, event, sound=is_whole(entry, piece, seq))
        elif columns == _FOLDED_3 and is_whole(values[3], number, -FOLD):
            self._put_stood(number, without_sum(values[3]))
        elif columns == _FOLDED_4:
            data = values[3].encode()
            if is_summed(number, -FOLD, [data], values[4]):
                self._put_stood(number, data)
        elif columns >= _PIECE_1 and isinstance(values[1], str):
            self._put_name(number, values)

    def _put_stood(self, number: int, data: bytes) -> None:
        state = state_of(data)
        if state:
            self._stood[number] = state

    def _put_event(self, number: int, seq: int, event: Event, *, sound: bool) -> None:
        """Add an event; a piece can still be followed if its first one has a wrong letter."""
        events = self.events.setdefault(number, {})
        if sound:
            events[seq] = event
            self._doubtful -= {number} if seq == 1 else set()
        elif isinstance(event, Begun) and seq == 1 and 1 not in events:
            events[1] = event
            self._doubtful.add(number)

    def _put_name(self, number: int, values: tuple[Any, ...]) -> None:
        """Add a summary; the name's key, after the name, is in no checksum."""
        kept = values[_PIECE_2 - 1] if len(values) > _PIECE_1 else None
        summed = (number, values[1], *values[3 : _PIECE_2 - 1], *values[_PIECE_2:])
        if kept is None or checksum(*summed) == kept:
            self.names[number] = printable_name(values[1])
            if len(values) == _PIECE_4:
                self.uids[number] = values[_PIECE_4 - 1]


def _begun(state: State) -> Begun:
    """Return an event that begins a piece in a given state; its first paces are lost."""
    return Begun(
        at_ms=state.begun_ms, tick_ms=0, sitting=0, title=state.title, source=state.source,
        project_text=state.project_text, total=state.total, cord=beliefs_to_data(state.beliefs),
    )  # fmt: skip


def _begun_alike(one: Event, other: Event) -> bool:
    return one.at_ms == other.at_ms and one.tick_ms == other.tick_ms


def read_bytes(path: Path) -> bytes:
    """Return a file's bytes, b"" where there is no such file."""
    try:
        return path.read_bytes()
    except FileNotFoundError:
        return b""
    except OSError as error:
        raise CannotKeep(f"{path} cannot be read: {error.strerror}.") from error
