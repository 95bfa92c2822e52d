"""Export and import of a piece with all its events as one text."""

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import accumulate, islice
from typing import Any, Final, TypeAlias

from coach import __version__
from coach.piece.event_bounds import checked_event
from coach.piece.event_reading import from_values
from coach.piece.events import Begun, Event
from coach.piece.folding import fold
from coach.piece.piece_errors import CannotBe, CannotTakeIn, Damaged, NewerVersion, OutOfTurn
from coach.piece.service import free_name, printable_name
from coach.piece.state import State
from coach.piece.storage.read_piece import KeptPiece, read_whole_piece
from coach.piece.storage.store import Store
from coach.text import file_stem, name_key, unseen

LAYOUT: Final = 1
MOST_BYTES: Final = 2**28
_MARK: Final = "coach piece"
_ID: Final = re.compile(r"[0-9a-f]{32}")


@dataclass(frozen=True, slots=True)
class ExportedPiece:
    """A piece read from a file: its name, all its events, and its id if the file has it."""

    name: str
    events: tuple[Event, ...]
    uid: str = ""

    @property
    def title(self) -> str:
        """The title of its project."""
        first = self.events[0]
        return first.title if isinstance(first, Begun) else ""

    def states(self) -> Iterator[State]:
        """Yield the state after each event. Raises Damaged."""
        return islice(accumulate(self.events, fold, initial=State()), 1, None)


def to_text(name: str, events: Sequence[Event], uid: str = "") -> str:
    """Return a piece as text for export.

    Args:
        name: The maker's name for it.
        events: All its events, in order.
        uid: Its permanent id; "" if it has none.

    Returns:
        JSON, an event a line.
    """
    head = {_MARK: LAYOUT, "written by": f"coach {__version__}", "name": name, "id": uid}
    lines = [json.dumps({"kind": e.kind, **e.values()}) for e in events]
    body = ",\n".join(lines)
    return f'{json.dumps(head, ensure_ascii=False)[:-1]}, "events": [\n{body}\n]}}\n'


def piece_file_name(name: str) -> str:
    """Return a file name for a piece that any system accepts."""
    return f"{file_stem(name) or 'piece'}.coach.json"


def from_text(text: str) -> ExportedPiece:
    """Read an exported piece.

    Raises:
        CannotTakeIn: It is no piece, is torn, or holds control characters.
        NewerVersion: A newer coach wrote it.
    """
    return from_object(read_json(text))


def read_json(text: str) -> object:
    """Read the JSON of an exported file. Raises CannotTakeIn."""
    try:
        return json.loads(text)
    except (ValueError, RecursionError) as error:
        raise CannotTakeIn("This is not an exported piece, or not all of it.") from error


def check_layout(layout: object, known: int, what: str) -> None:
    """See that this coach can read an exported file.

    Args:
        layout: The number of its form, as the file has it.
        known: The newest form of such files that this coach knows.
        what: What such files hold, in words.

    Raises:
        CannotTakeIn: It is no such number.
        NewerVersion: A newer coach wrote it.
    """
    if not isinstance(layout, int) or isinstance(layout, bool) or layout < 1:
        raise CannotTakeIn(f"This is not an exported {what}.")
    if layout > known:
        raise NewerVersion(
            f"A newer coach exported this (its form is {layout}; coach {__version__} knows "
            f"{known}). Bring this one up to date."
        )


def from_object(data: object) -> ExportedPiece:
    """Return the piece of an exported file's JSON. Raises as `from_text` does."""
    if not isinstance(data, dict) or not isinstance(data.get("events"), list):
        raise CannotTakeIn("This is not an exported piece.")
    check_layout(data.get(_MARK), LAYOUT, "piece")
    name, uid = data.get("name"), data.get("id")
    carried = ExportedPiece(
        printable_name(name) if isinstance(name, str) else "",
        tuple(_event(number, one) for number, one in enumerate(data["events"], 1)),
        uid if isinstance(uid, str) and _ID.fullmatch(uid) else "",
    )
    _judge(carried)
    if not carried.events:
        raise CannotTakeIn("Nothing happened to this piece: its events are missing.")
    return carried


def _judge(carried: ExportedPiece) -> None:
    """Check that all its events can have happened. Raises CannotTakeIn."""
    state = State()
    try:
        for event in carried.events:
            state = fold(state, checked_event(event, state))
    except (Damaged, CannotBe, ArithmeticError) as error:
        raise CannotTakeIn(f"What happened to this piece cannot have happened: {error}.") from error


def export_piece(store: Store, piece_id: int) -> str:
    """Return a stored piece as text. Raises PieceError."""
    kept = read_whole_piece(store, piece_id)
    return to_text(kept.summary.name, kept.events, kept.summary.uid)


def take_in_piece(
    store: Store, carried: ExportedPiece, name: str = "", *, instead: bool = False
) -> str:
    """Store an imported piece and return a sentence about the result.

    A piece of its name that has come less far along the same way is brought up to it.

    Args:
        store: The store of pieces.
        carried: The piece.
        name: Its name here; "" keeps its own.
        instead: Whether it may replace one that went another way.

    Raises:
        CannotTakeIn: A piece of that name went another way.
    """
    wanted = printable_name(name) or carried.name or carried.title or "Piece"
    taken = {name_key(piece.name): piece for piece in store.pieces()}
    there = taken.get(name_key(wanted))
    if there is None:
        _begin_anew(store, wanted, carried)
        return f"‘{wanted}’ is here now."
    kept = read_whole_piece(store, there.id)
    events = kept.events
    if events == carried.events[: len(events)]:
        _go_on(store, there.id, _parts(carried, len(events)))
        more = len(carried.events) - len(events)
        return f"‘{there.name}’ has {more} more entries now." if more else _SAME
    if carried.events == events[: len(carried.events)]:
        return f"‘{there.name}’ here has all of it, and came further. Nothing was changed."
    if not instead:
        other = free_name(wanted, [piece.name for piece in taken.values()])
        raise CannotTakeIn(
            f"A piece called ‘{there.name}’ is here already and went another way. Take this "
            f"one in beside it with `--name '{other}'`, or in its place with --replace."
        )
    _begin_anew(store, there.name, carried, kept)
    return f"‘{there.name}’ was replaced."


_SAME: Final = "It is here already, just as it is in the file. Nothing was changed."
PART: Final = 2_000
"""Events that are stored at once: whoever works on another piece waits no longer than for these."""
_Part: TypeAlias = Sequence[tuple[State, Event]]


def _parts(carried: ExportedPiece, stored: int = 0) -> Iterator[_Part]:
    """Yield the events not stored yet, with the state after each, in batches."""
    rest = islice(zip(carried.states(), carried.events, strict=True), stored, None)
    while part := tuple(islice(rest, PART)):
        yield part


def _begin_anew(
    store: Store, name: str, carried: ExportedPiece, instead: KeptPiece | None = None
) -> None:
    """Store a piece under a name, replacing another one if given.

    The rest of a long one follows in batches: after an interruption the piece is there as it once
    was, and importing it again brings it up to date.
    """
    parts = _parts(carried)
    first = next(parts)
    with store.atomic():
        if instead:
            _remove(store, instead)
        piece_id = _begin(store, name, first, carried.uid)
    _go_on(store, piece_id, parts)


def _begin(store: Store, name: str, part: _Part, uid: str, piece_id: int | None = None) -> int:
    piece_id = store.begin(name, *part[0], piece_id, uid)
    store.extend(piece_id, part[1:])
    return piece_id


def _go_on(store: Store, piece_id: int, parts: Iterator[_Part]) -> None:
    for part in parts:
        try:
            with store.atomic():
                store.extend(piece_id, part)
        except OutOfTurn as error:
            raise CannotTakeIn(
                "It was worked on in another window meanwhile. Leave it there and take it in again."
            ) from error


def _remove(store: Store, kept: KeptPiece) -> None:
    """Delete a piece, inside `atomic`, unless it changed since it was read."""
    now = store.piece(kept.summary.id)
    if now is None or now.events != kept.state.seq:
        raise CannotTakeIn("It was worked on in another window meanwhile. Leave it there first.")
    store.remove(now.id)


def remove_piece(store: Store, kept: KeptPiece) -> None:
    """Delete a piece with all its events. Raises CannotTakeIn if it changed meanwhile."""
    with store.atomic():
        _remove(store, kept)


def restore_piece(store: Store, piece_id: int, carried: ExportedPiece) -> None:
    """Store a piece again under its former number, inside `atomic`.

    Args:
        store: The store of pieces.
        piece_id: That number, which no other piece may have.
        carried: The piece as it was read.
    """
    parts = _parts(carried)
    _begin(store, carried.name, next(parts), carried.uid, piece_id)
    for part in parts:
        store.extend(piece_id, part)


def _event(number: int, values: object) -> Event:
    """Return one event, everything in it checked: the file may come from anybody."""
    if not isinstance(values, dict) or not isinstance(values.get("kind"), str):
        raise CannotTakeIn(f"Entry {number} has no kind.")
    kind = values["kind"]
    fields: Mapping[str, Any] = {key: value for key, value in values.items() if key != "kind"}
    try:
        event = from_values(kind[:40], fields)
        shown = [value for key, value in fields.items() if key != "project_text"]
        hidden = any(unseen(text) for text in texts_in(shown))
    except (Damaged, RecursionError) as error:
        raise CannotTakeIn(f"Entry {number} cannot be read: {error}.") from error
    if hidden:
        raise CannotTakeIn(f"Entry {number} holds characters that nobody can see.")
    return event


def texts_in(value: object) -> Iterator[str]:
    """Yield every text in a nested JSON value."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, Mapping):
        for key, one in value.items():
            yield key
            yield from texts_in(one)
    elif isinstance(value, list):
        for one in value:
            yield from texts_in(one)
