"""Operations on stored pieces: begin, find, look at, list."""

from collections.abc import Sequence
from contextlib import suppress
from difflib import get_close_matches
from itertools import count as numbers
from typing import Final

from coach.pace.estimate import Paces
from coach.pace.pace_json import to_data
from coach.piece.beliefs import Beliefs, beliefs_to_data
from coach.piece.clock import Clock
from coach.piece.event_bounds import checked_event
from coach.piece.events import Begun, LearntFrom, LeftOut
from coach.piece.folding import fold
from coach.piece.piece_errors import NameTaken, NoSuchPiece, PieceError
from coach.piece.state import Note, State
from coach.piece.storage.read_piece import read_state, read_whole_piece, the_piece
from coach.piece.storage.store import Store
from coach.piece.storage.summary import Summary
from coach.text import name_key

_JOINERS: Final = "\u200c\u200d"


def start_piece(
    store: Store,
    clock: Clock,
    *,
    title: str,
    project_text: str,
    source: str,
    total: int,
    name: str = "",
    paces: Paces | None = None,
    beliefs: Beliefs | None = None,
) -> int:
    """Begin a piece and return its number.

    Args:
        store: The store of pieces.
        clock: Tells the time of the event.
        title: The project's title.
        project_text: The project file as it is now; the piece keeps it.
        source: The project's full path or its shipped name.
        total: How many counts its plan has.
        name: The maker's name for it; "" takes the title, numbered when taken.
        paces: The maker's paces, see `coach.piece.learning.carry_over`.
        beliefs: What is known of the cords, see `coach.piece.beliefs`.

    Raises:
        NameTaken: The name asked for belongs to another piece.
    """
    event = Begun(
        at_ms=clock.now_ms(), tick_ms=clock.tick_ms(), sitting=0, title=printable_name(title),
        project_text=project_text, source=_storable(source), total=total,
        paces=to_data(paces) if paces else {}, cord=beliefs_to_data(beliefs or {}),
    )  # fmt: skip
    with store.atomic():
        taken = [piece.name for piece in store.pieces()]
        chosen = claimed_name(name, taken) if printable_name(name) else free_name(title, taken)
        return store.begin(chosen, fold(State(), checked_event(event)), event)


def look(store: Store, piece_id: int) -> State:
    """Return the state of a piece, with its project's text, without opening it.

    Raises:
        NoSuchPiece: No piece has that number.
        Damaged: Its events cannot have happened.
        NewerVersion: A newer coach wrote some of it.
    """
    return read_whole_piece(store, piece_id).state


def list_pieces(store: Store) -> list[Summary]:
    """Return all pieces, last touched first."""
    return store.pieces()


def find_unfinished(store: Store, source: str) -> Summary | None:
    """Return the piece last touched that was begun from `source` and is not finished, or None."""
    known_by = _storable(source)
    unfinished = (p for p in store.pieces() if p.source == known_by and not p.finished)
    return next(unfinished, None)


def find_named(store: Store, name: str) -> Summary:
    """Return the piece of that name, without regard to case and spacing.

    Raises:
        NoSuchPiece: There is none; the message offers the nearest name.
    """
    known = {name_key(piece.name): piece for piece in store.pieces()}
    if name_key(name) in known:
        return known[name_key(name)]
    near = get_close_matches(name_key(name), known, n=1, cutoff=0.6)
    hint = f" Did you mean ‘{known[near[0]].name}’?" if near else ""
    raise NoSuchPiece(f"No piece is called ‘{printable_name(name)}’.{hint}")


def set_teaching(store: Store, clock: Clock, piece_id: int, *, teaches: bool) -> bool:
    """Set whether other pieces learn from a piece; return whether that changed.

    Args:
        store: The store of pieces.
        clock: Tells the time of the event.
        piece_id: The piece's number.
        teaches: Whether they do.

    Raises:
        PieceError: It cannot be stored.
    """
    kind = LearntFrom if teaches else LeftOut
    event = kind(at_ms=clock.now_ms(), tick_ms=clock.tick_ms(), sitting=0)
    with store.atomic():
        state = read_state(store, the_piece(store, piece_id))
        if state.teaches == teaches:
            return False
        store.append(piece_id, fold(state, checked_event(event, state)), event)
    return True


def notes_before(store: Store, piece_id: int) -> tuple[Note, ...]:
    """Return the worded notes of other pieces of the same project, latest piece first.

    A piece that cannot be read is skipped.
    """
    this = the_piece(store, piece_id)
    found: list[Note] = []
    for piece in store.pieces():
        if piece.source != this.source or piece.id == piece_id:
            continue
        with suppress(PieceError):
            found += [note for note in read_state(store, piece).notes if note.words]
    return tuple(found)


def claimed_name(name: str, taken: Sequence[str]) -> str:
    """Return the name asked for, on one line, if it is free."""
    name = printable_name(name)
    if name_key(name) in map(name_key, taken):
        raise NameTaken(
            f"A piece is called ‘{name}’ already. Give this one another name, such as "
            f"‘{free_name(name, taken)}’."
        )
    return name


def free_name(title: str, taken: Sequence[str]) -> str:
    """Return the title, or the title with the first number that makes it free."""
    title = printable_name(title) or "Piece"
    used = set(map(name_key, taken))
    names = (title if n == 1 else f"{title} {n}" for n in numbers(1))
    return next(name for name in names if name_key(name) not in used)


def printable_name(text: str) -> str:
    """Return `text` on one line without control characters; joiners of letters are kept."""
    spaced = " ".join(text.split())
    return "".join(c for c in spaced if c.isprintable() or c in _JOINERS)


def _storable(path: str) -> str:
    """Return a path as text that any database accepts, even if its bytes are not UTF-8."""
    return path.encode("utf-8", "backslashreplace").decode()
