"""Pieces as the bench uses them: begun, found, opened, counted; each stored before it is shown."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from difflib import get_close_matches
from itertools import count as numbers
from types import MappingProxyType
from typing import Final

from coach.pace.data import to_data
from coach.pace.estimate import Paces, expect
from coach.piece.clock import Clock
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
from coach.piece.problems import Damaged, NameTaken, NoSuchPiece, OutOfTurn, PieceError
from coach.piece.state import State, fold
from coach.piece.store import Store, Summary, name_key

_JOINERS: Final = "\u200c\u200d"
_NO_TIMES: Final[Mapping[int, float]] = MappingProxyType({})


def start(
    store: Store,
    clock: Clock,
    *,
    title: str,
    project_text: str,
    source: str,
    total: int,
    name: str = "",
    paces: Paces | None = None,
) -> int:
    """Begin a piece and give its number.

    Args:
        store: Where it is kept.
        clock: Tells when it was begun.
        title: The project's title.
        project_text: The project file as it is now; the piece keeps it.
        source: What the project is known by: its file's full path or its shipped name.
        total: How many counts its plan has.
        name: The maker's name for it; without one the title serves, numbered when taken.
        paces: What the maker brings along, see `paces_so_far`.

    Raises:
        NameTaken: The name asked for belongs to another piece.
    """
    event = Begun(
        at_ms=clock.now_ms(), tick_ms=clock.tick_ms(), sitting=0, title=_one_line(title),
        project_text=project_text, source=_storable(source), total=total,
        paces=to_data(paces) if paces else {},
    )  # fmt: skip
    with store.atomic():
        taken = [piece.name for piece in store.pieces()]
        chosen = _asked_name(name, taken) if _one_line(name) else _free_name(title, taken)
        return store.begin(chosen, fold(State(), event), event)


def look(store: Store, piece_id: int) -> State:
    """Give how a piece stands, with its project's text, without opening it.

    Raises:
        NoSuchPiece: No piece has that number.
        Damaged: What is kept of it cannot have happened.
        NewerVersion: A newer coach wrote some of it.
    """
    return _caught_up(store, _piece(store, piece_id), State())


def pieces(store: Store) -> list[Summary]:
    """Give all pieces, last touched first."""
    return store.pieces()


def find_unfinished(store: Store, source: str) -> Summary | None:
    """Give the piece last touched that was begun from `source` and is not finished, or None."""
    known_by = _storable(source)
    unfinished = (p for p in store.pieces() if p.source == known_by and not p.finished)
    return next(unfinished, None)


def find_named(store: Store, name: str) -> Summary:
    """Give the piece of that name, without regard to case and spacing.

    Raises:
        NoSuchPiece: None is called so; the message offers the nearest name.
    """
    known = {name_key(piece.name): piece for piece in store.pieces()}
    if name_key(name) in known:
        return known[name_key(name)]
    near = get_close_matches(name_key(name), known, n=1, cutoff=0.6)
    hint = f" Is “{known[near[0]].name}” meant?" if near else ""
    raise NoSuchPiece(f"No piece is called “{_one_line(name)}”.{hint}")


def paces_so_far(store: Store) -> Paces:
    """Give the maker's paces as the piece last touched shows them, for the next one to begin with.

    A piece that cannot be read has none to give; the next one is asked.
    """
    for piece in store.pieces():
        try:
            state = _caught_up(store, piece, State())
        except PieceError:
            continue
        return replace(Paces(), seen=state.paces.seen)
    return Paces()


class Sitting:
    """A piece opened for work: every change is on the disk before `state` shows it.

    Other coaches may work on the same piece: whatever they did is taken in first.
    """

    def __init__(
        self,
        store: Store,
        clock: Clock,
        piece_id: int,
        knots: Sequence[str],
        takes_s: Mapping[int, float] = _NO_TIMES,
    ) -> None:
        """Open the piece.

        Args:
            store: Where it is kept.
            clock: Tells the time of each event.
            piece_id: Its number.
            knots: The knot of each count of its plan, `""` for a count without one.
            takes_s: Seconds of those counts whose step says its time itself.

        Raises:
            NoSuchPiece: No piece has that number.
            PieceError: It cannot be read or written.
        """
        self._store = store
        self._clock = clock
        self._knots = knots
        self._takes_s = takes_s
        self._piece = _piece(store, piece_id)
        self.state = _caught_up(store, self._piece, State())
        self._sitting = 0
        self._record(self._opened)
        self._sitting = self.state.sitting

    @property
    def piece_id(self) -> int:
        """The piece's number."""
        return self._piece.id

    @property
    def name(self) -> str:
        """The maker's name for the piece."""
        return self._piece.name

    def count(self, n: int = 1) -> State:
        """Count `n` made, or as many as are left."""
        return self._record(lambda: self._counted(n))

    def take_back(self, n: int = 1) -> State:
        """Take `n` counts back, or as many as were made."""
        return self._record(lambda: self._taken_back(n))

    def pause(self) -> State:
        """Stop the clock."""
        return self._record(lambda: None if self.state.paused else self._now(Paused))

    def resume(self) -> State:
        """Let the clock go on; a count does so too."""
        return self._record(lambda: self._now(Resumed) if self.state.paused else None)

    def leave(self) -> State:
        """End the sitting; nothing needs saving, this only tells when."""
        return self._record(lambda: None if self._has_left() else self._now(Left))

    def as_of_now(self) -> State:
        """Give the state with the time up to this moment in it; nothing is stored."""
        return fold(self.state, self._now(Left))

    def refresh(self) -> State:
        """Take in what other coaches have done to the piece meanwhile."""
        self.state = _caught_up(self._store, self._piece, self.state)
        return self.state

    def _record(self, happening: Callable[[], Event | None]) -> State:
        """Store what happens, then show it; it is asked anew when another coach came first."""
        while True:
            event = happening()
            if event is None:
                return self.state
            after = fold(self.state, event)
            try:
                self._store.append(self.piece_id, after, event)
            except OutOfTurn:
                self.refresh()
            else:
                self.state = after
                return after

    def _opened(self) -> Opened:
        return Opened(
            at_ms=self._clock.now_ms(), tick_ms=self._clock.tick_ms(), sitting=self.state.seq + 1
        )

    def _now(self, kind: type[Paused | Resumed | Left]) -> Event:
        return kind(
            at_ms=self._clock.now_ms(), tick_ms=self._clock.tick_ms(), sitting=self._sitting
        )

    def _has_left(self) -> bool:
        last = self.state.last
        return isinstance(last, Left) and last.sitting == self._sitting

    def _counted(self, n: int) -> Counted | None:
        first = self.state.done
        n = min(n, self.state.total - first)
        if n < 1:
            return None
        knot, expected_s = self._expected(first, n)
        return Counted(
            at_ms=self._clock.now_ms(), tick_ms=self._clock.tick_ms(), sitting=self._sitting,
            count=n, from_done=first, knot=knot, expected_s=expected_s,
        )  # fmt: skip

    def _taken_back(self, n: int) -> TakenBack | None:
        n = min(n, self.state.done)
        if n < 1:
            return None
        return TakenBack(
            at_ms=self._clock.now_ms(), tick_ms=self._clock.tick_ms(), sitting=self._sitting,
            count=n, from_done=self.state.done,
        )  # fmt: skip

    def _expected(self, first: int, n: int) -> tuple[str, float]:
        """Give the one knot of these counts, or else how many seconds they should take."""
        knots = self._knots[first : first + n]
        says_itself = any(first + i in self._takes_s for i in range(n))
        if len(set(knots)) == 1 and not says_itself:
            return knots[0], 0.0
        paces = {knot: expect(self.state.paces, knot) for knot in set(knots)}
        times = (self._takes_s.get(i, paces[knot]) for i, knot in zip(numbers(first), knots))
        return "", sum(times)


def _piece(store: Store, piece_id: int) -> Summary:
    piece = store.piece(piece_id)
    if piece is None:
        raise NoSuchPiece(f"There is no piece number {piece_id}.")
    return piece


def _caught_up(store: Store, piece: Summary, state: State) -> State:
    """Fold what the store has after `state`; an entry that cannot be is told with the piece."""
    try:
        for event in store.events_after(piece.id, state.seq):
            state = fold(state, event)
    except Damaged as error:
        raise Damaged(f"The piece “{piece.name}” cannot be read: {error}.") from error
    return state


def _asked_name(name: str, taken: Sequence[str]) -> str:
    """Give the name asked for, on one line, if it is free."""
    name = _one_line(name)
    if name_key(name) in map(name_key, taken):
        raise NameTaken(
            f"A piece is called “{name}” already. Give this one another name, such as "
            f"“{_free_name(name, taken)}”."
        )
    return name


def _free_name(title: str, taken: Sequence[str]) -> str:
    """Give the title, or the title with the first number that makes it free."""
    title = _one_line(title) or "Piece"
    used = set(map(name_key, taken))
    names = (title if n == 1 else f"{title} {n}" for n in numbers(1))
    return next(name for name in names if name_key(name) not in used)


def _one_line(text: str) -> str:
    """Give `text` on one line without what acts on a terminal; joiners of letters are kept."""
    spaced = " ".join(text.split())
    return "".join(c for c in spaced if c.isprintable() or c in _JOINERS)


def _storable(path: str) -> str:
    """Give a path as text that any database takes, also where its bytes are no UTF-8."""
    return path.encode("utf-8", "backslashreplace").decode()
