"""The state of a piece as one value; `coach.piece.folding` computes it from events."""

from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Final

from coach.pace.estimate import (
    Paces,
    initial_paces,
)
from coach.piece.beliefs import Beliefs
from coach.piece.events import (
    Event,
    Happening,
    Left,
    Noted,
    Paused,
    Said,
)


@dataclass(frozen=True, slots=True)
class Note:
    """A marked spot, identified by `written_ms` and `tie`; `words` may still be empty.

    `place` and `within` name the spot in every repeat (see `coach.plan.board_at_count`).
    """

    written_ms: int
    tie: int
    place: str
    within: int
    words: str


def apply_note(notes: tuple[Note, ...], event: Noted) -> tuple[Note, ...]:
    """Return the notes with one added, with new words for one, or without one."""
    if not event.written_ms:
        return (*notes, Note(event.at_ms, event.tie, event.place, event.within, event.words))
    changed = Note(event.written_ms, event.tie, event.place, event.within, event.words)
    others = [n for n in notes if (n.written_ms, n.tie) != (changed.written_ms, changed.tie)]
    kept = [*others, changed] if event.words else others
    return tuple(sorted(kept, key=lambda note: (note.written_ms, note.tie)))


_STOPPED: Final = (Paused, Left)


@dataclass(frozen=True, slots=True)
class State:
    """A piece after `seq` events: `done` of `total` counts made.

    `worked_ms` is the time worked on it in all, `sitting_ms` in the latest sitting. `touched_ms`
    is when the last event happened (UTC epoch milliseconds). `paces` is what the counts have shown
    of the maker's paces. `ticks` are the cords prepared, each with what was done to it. `last` is
    the latest event of the count and the clock, `running_s` the current pace of what was counted
    last, `declined` the CRC-32 of an edited project that the maker declined. `happenings` are what
    the plan follows (see `coach.piece.changes.effective_plan`), and `beliefs` the prior of cords
    and knots. `teaches` is whether other pieces learn from it. `said` is what was knotted without
    a pattern since `project_text`.
    """

    seq: int = 0
    title: str = ""
    source: str = ""
    project_text: str = ""
    total: int = 0
    done: int = 0
    begun_ms: int = 0
    touched_ms: int = 0
    worked_ms: int = 0
    sitting_ms: int = 0
    sitting: int = 0
    running_s: float = 0.0
    paces: Paces = field(default_factory=initial_paces)
    last: Event | None = None
    declined: int | None = None
    ticks: frozenset[tuple[str, str]] = frozenset()
    notes: tuple[Note, ...] = ()
    happenings: tuple[Happening, ...] = ()
    beliefs: Beliefs = field(default_factory=lambda: MappingProxyType({}))
    teaches: bool = True
    said: tuple[Said, ...] = ()

    @property
    def paused(self) -> bool:
        """Whether the clock is stopped."""
        return isinstance(self.last, _STOPPED)

    @property
    def finished(self) -> bool:
        """Whether all counts have been made."""
        return self.done >= self.total

    @property
    def worked_s(self) -> float:
        """Time worked on the piece in all, in seconds."""
        return self.worked_ms / 1000

    @property
    def sitting_s(self) -> float:
        """Time worked in the latest sitting, in seconds."""
        return self.sitting_ms / 1000
