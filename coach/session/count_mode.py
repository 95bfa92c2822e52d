"""What one press counts: a tie, a pass of it or the whole step; progress stays whole ties.

Passes of the next tie are stored beside the pieces, each on the disk before it is shown, or a
little later where the disk is slow. Ties are events of the piece.
"""

from pathlib import Path
from typing import Final

from coach.piece import Sitting
from coach.plan.plan_model import Plan
from coach.settings.overrides import Kept
from coach.settings.settings import CountBy
from coach.settings.small_file import SmallFile

FILE: Final = "passes.json"


class PassStore:
    """Stores how many passes of the next tie are made, for each piece."""

    def __init__(self, folder: Path | None = None) -> None:
        """Set the folder of the file; None keeps them in memory only."""
        self._file = SmallFile(folder / FILE if folder else None)
        self._made: dict[int, tuple[int, int]] = {}

    def made(self, piece_id: int, done: int) -> int:
        """Return how many passes are made of the tie that follows `done` counts of a piece."""
        if piece_id not in self._made:
            self._made[piece_id] = self._stored(piece_id)
        at, passes = self._made[piece_id]
        return passes if at == done else 0

    def put(self, piece_id: int, done: int, passes: int) -> None:
        """Store how many passes are made of the tie that follows `done` counts of a piece.

        Args:
            piece_id: The piece's number in the database.
            done: How many counts are made.
            passes: How many turns of the tie that follows.
        """
        if self.made(piece_id, done) == passes:
            return
        self._made[piece_id] = (done, passes)
        self._file.change({str(piece_id): [done, passes] if passes else None})

    def _stored(self, piece_id: int) -> tuple[int, int]:
        match self._file.read().get(str(piece_id)):
            case [int(done), int(passes)] if passes > 0:
                return done, passes
        return -1, 0


class Tally:
    """Decides what a press counts on one piece, and keeps the passes of its next tie."""

    def __init__(self, plan: Plan, sitting: Sitting, kept: Kept, passes: PassStore) -> None:
        """Set up for a piece.

        Args:
            plan: Its plan.
            sitting: The piece in the store.
            kept: The settings in use.
            passes: The store of passes.
        """
        self._plan = plan
        self._sitting = sitting
        self._kept = kept
        self._passes = passes

    def by(self, done: int) -> CountBy:
        """Return whether a press after `done` counts counts a tie, a pass or a step."""
        if done >= self._plan.total:
            return self._kept.now.count_by
        return self._kept.now.counted_by(self._plan.counts[done].knot)

    def passing(self, done: int) -> tuple[int, int]:
        """Return the number of the next pass and those of its tie; (0, 0) if none are counted."""
        if done >= self._plan.total or self.by(done) != "pass":
            return 0, 0
        passes = self._plan.counts[done].passes
        return (self.made(done) + 1, passes) if passes > 1 else (0, 0)

    def made(self, done: int) -> int:
        """Return how many passes of the tie after `done` counts are made; never all of them."""
        most = self._plan.counts[done].passes - 1 if done < self._plan.total else 0
        return min(self._passes.made(self._sitting.piece_id, done), most)

    def put(self, done: int, passes: int) -> None:
        """Store how many passes are made of the tie that follows `done` counts."""
        self._passes.put(self._sitting.piece_id, done, passes)

    def pass_made(self, done: int) -> bool:
        """Count one pass and return True; return False for the last one, which makes the tie."""
        number, of = self.passing(done)
        if number >= of:
            return False
        self.put(done, number)
        return True

    def open_again(self, done: int) -> None:
        """Set all passes but the last as made, after the tie after `done` was taken back."""
        _, of = self.passing(done)
        self.put(done, max(0, of - 1))
