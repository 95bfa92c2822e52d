"""The maker's notes: at which spots they come up again, and in which words."""

from collections.abc import Sequence

from coach.piece import Note
from coach.plan.place import place_at
from coach.plan.plan_model import Plan


def notes_here(
    plan: Plan, done: int, notes: Sequence[Note], earlier: Sequence[Note]
) -> tuple[str, ...]:
    """Return the worded notes of the step at hand, those of the tie at hand first.

    Args:
        plan: The plan of the piece.
        done: How many counts are made.
        notes: What was noted in this piece, in this or another repeat.
        earlier: What was noted in earlier pieces of the project.

    Returns:
        Each note once, with the tie of the step that it was written at.
    """
    place, within = place_at(plan, done)
    step = plan.step_at(done)
    of = step.counts if step else 0
    here = [note for note in (*notes, *earlier) if note.words and note.place == place]
    here.sort(key=lambda note: abs(note.within - within))
    said = [_said(note, of, elsewhere=note not in notes) for note in here]
    return tuple(dict.fromkeys(said))


def _said(note: Note, of: int, *, elsewhere: bool) -> str:
    where = f" at {note.within + 1} of {of}" if of > 1 else ""
    return f"Noted{where}{' in an earlier piece' if elsewhere else ''}: {note.words}"


def spots(notes: Sequence[Note]) -> tuple[Note, ...]:
    """Return the marked spots as a list shows them: those still without words, then the latest."""
    return tuple(sorted(notes, key=lambda note: (bool(note.words), -note.written_ms, -note.tie)))
