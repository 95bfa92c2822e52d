"""What is kept beside the counts: ticks of the list before the first knot, notes, marked spots."""

from collections.abc import Sequence
from functools import cached_property

from coach.piece import Note, Sitting
from coach.piece.events import Noted, Ticked, Unticked
from coach.plan.plan_model import Plan
from coach.plan.standing import place_at
from coach.session.preparation import Tick, in_order, pieces_to_ready
from coach.text import one_line


class Asides:
    """Joins plan and sitting for ticks and notes. What stores something raises PieceError."""

    def __init__(self, plan: Plan, sitting: Sitting, earlier: Sequence[Note] = ()) -> None:
        """Take up a piece; `earlier` are the notes of earlier pieces of its project."""
        self._plan = plan
        self._sitting = sitting
        self._earlier = earlier

    @property
    def ticks(self) -> frozenset[Tick]:
        """All that is ticked."""
        return self._sitting.state.ticks

    @property
    def notes(self) -> tuple[Note, ...]:
        """The notes and marked spots of this piece."""
        return self._sitting.state.notes

    def tick(self, ticks: Sequence[Tick]) -> None:
        """Tick what is not ticked yet."""
        for label, mark in ticks:
            if (label, mark) not in self.ticks:
                self._sitting.jot(Ticked, what=label, mark=mark)

    def untick(self, tick: Tick) -> None:
        """Take a tick back."""
        self._sitting.jot(Unticked, what=tick[0], mark=tick[1])

    def note(self, done: int, words: str, spot: Note | None = None) -> None:
        """Keep words at a count, or for a spot marked before; no words take that one away."""
        said = one_line(words)
        if spot:
            self._sitting.jot(
                Noted, tie=spot.tie, place=spot.place, within=spot.within, words=said,
                written_ms=spot.written_ms,
            )  # fmt: skip
        else:
            place, within = place_at(self._plan, done)
            self._sitting.jot(Noted, tie=done, place=place, within=within, words=said)

    def here(self, done: int) -> tuple[str, ...]:
        """Return the notes that come up at a count."""
        return notes_here(self._plan, done, self.notes, self._earlier)

    def offer(self, done: int, key: str) -> str:
        """Offer the list for cutting and hanging until the first count, or until all is ready."""
        if done or not key:
            return ""
        ticked, of = sum(tick in self.ticks for tick in self._to_tick), len(self._to_tick)
        if ticked == of:
            return ""
        if ticked:
            return f"{ticked} of {of} made ready; {key} goes on."
        return f"Begin, or see with {key} what to cut and hang."

    @cached_property
    def _to_tick(self) -> tuple[Tick, ...]:
        return in_order(pieces_to_ready(self._plan))


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
