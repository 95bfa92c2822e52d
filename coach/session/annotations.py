"""Ticks of the cutting list, notes and marked spots of a piece."""

from collections.abc import Sequence
from functools import cached_property

from coach.piece import Note, Sitting
from coach.piece.events import Noted, Ticked, Unticked
from coach.plan.board_at_count import place_at
from coach.plan.plan_model import Plan
from coach.session.preparation import Tick, pieces_to_ready, ticks_in_order
from coach.text import one_line, with_full_stop


class Annotations:
    """Stores ticks and notes of one piece; methods that store raise PieceError."""

    def __init__(self, plan: Plan, sitting: Sitting, earlier: Sequence[Note] = ()) -> None:
        """Set up for a piece.

        Args:
            plan: The plan that the piece follows.
            sitting: The piece, opened.
            earlier: The notes of earlier pieces of the same project.
        """
        self._plan = plan
        self._sitting = sitting
        self._earlier = earlier

    @property
    def ticks(self) -> frozenset[Tick]:
        """The preparations done: pieces of cord by their labels, and what was done to each."""
        return self._sitting.state.ticks

    @property
    def notes(self) -> tuple[Note, ...]:
        """The notes and marked spots of this piece."""
        return self._sitting.state.notes

    def tick(self, ticks: Sequence[Tick]) -> None:
        """Tick those of `ticks` that are still open; each is stored by itself."""
        for label, mark in ticks:
            if (label, mark) not in self.ticks:
                self._sitting.jot(Ticked, what=label, mark=mark)

    def untick(self, tick: Tick) -> None:
        """Take a tick back."""
        self._sitting.jot(Unticked, what=tick[0], mark=tick[1])

    def note(self, done: int, words: str, spot: Note | None = None) -> None:
        """Write a note, or mark a spot to write about later.

        Args:
            done: The count that a new note belongs to.
            words: The note; "" marks the spot, or deletes the note at `spot`.
            spot: The marked spot that the words are for; None writes a new note.
        """
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
        """Return the worded notes for the current step after `done` counts; see `notes_here`."""
        return notes_here(self._plan, done, self.notes, self._earlier)

    def offer(self, done: int, key: str) -> str:
        """Return the line that offers the cutting list, until the first count or all is ready.

        Args:
            done: How many counts are made.
            key: The name of its key; without a key there is no offer.
        """
        if done or not key:
            return ""
        ticked, of = sum(tick in self.ticks for tick in self._to_tick), len(self._to_tick)
        if ticked == of:
            return ""
        if ticked:
            return f"{ticked} of {of} made ready; press {key} for the rest."
        return f"Press {key} for the cutting list, or just begin."

    @cached_property
    def _to_tick(self) -> tuple[Tick, ...]:
        return ticks_in_order(pieces_to_ready(self._plan))


def notes_here(
    plan: Plan, done: int, notes: Sequence[Note], earlier: Sequence[Note]
) -> tuple[str, ...]:
    """Return the worded notes for the current step, the nearest to the next tie first.

    Args:
        plan: The plan of the piece.
        done: How many counts are made.
        notes: The notes of this piece; one in another repeat counts for all repeats.
        earlier: The notes of earlier pieces of the project.

    Returns:
        Each note once, with the tie of the step that it was written at.
    """
    place, within = place_at(plan, done)
    step = plan.step_at(done)
    of = step.of if step else 0
    here = [note for note in (*notes, *earlier) if note.words and note.place == place]
    here.sort(key=lambda note: abs(note.within - within))
    said = [_said(note, of, elsewhere=note not in notes) for note in here]
    return tuple(dict.fromkeys(said))


def _said(note: Note, of: int, *, elsewhere: bool) -> str:
    where = f" at {note.within + 1} of {of}" if of > 1 else ""
    return (
        f"Noted{where}{' in an earlier piece' if elsewhere else ''}: {with_full_stop(note.words)}"
    )


def marked_spots(notes: Sequence[Note]) -> tuple[Note, ...]:
    """Return spots in the order of a list: those without words first, then the newest."""
    return tuple(sorted(notes, key=lambda note: (bool(note.words), -note.written_ms, -note.tie)))
