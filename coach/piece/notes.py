"""Notes of a piece: marked spots in the work, with words or for words later."""

from dataclasses import dataclass

from coach.piece.events import Noted


@dataclass(frozen=True, slots=True)
class Note:
    """A marked spot, identified by `written_ms` and `tie`; `words` may still be empty.

    `place` and `within` name the spot in every repeat (see `coach.plan.standing`).
    """

    written_ms: int
    tie: int
    place: str
    within: int
    words: str


def noted(notes: tuple[Note, ...], event: Noted) -> tuple[Note, ...]:
    """Return the notes with one added, with new words for one, or without one."""
    if not event.written_ms:
        return (*notes, Note(event.at_ms, event.tie, event.place, event.within, event.words))
    changed = Note(event.written_ms, event.tie, event.place, event.within, event.words)
    others = [n for n in notes if (n.written_ms, n.tie) != (changed.written_ms, changed.tie)]
    kept = [*others, changed] if event.words else others
    return tuple(sorted(kept, key=lambda note: (note.written_ms, note.tie)))
