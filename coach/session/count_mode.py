"""What one press counts: a tie, a pass of it or the whole step; progress stays the ties."""

from coach.piece import Sitting
from coach.plan.plan_model import Plan
from coach.session.pass_store import Passes
from coach.settings.overrides import Kept
from coach.settings.settings import CountBy


class Tally:
    """Knows how the tie at hand is counted, and how many of its passes are made."""

    def __init__(self, plan: Plan, sitting: Sitting, kept: Kept, passes: Passes) -> None:
        """Take the piece, the settings in use, and where passes are kept."""
        self._plan = plan
        self._sitting = sitting
        self._kept = kept
        self._passes = passes

    def by(self, done: int) -> CountBy:
        """Return how the tie after `done` counts is counted."""
        if done >= self._plan.total:
            return self._kept.now.count_by
        return self._kept.now.counted_by(self._plan.counts[done].knot)

    def passing(self, done: int) -> tuple[int, int]:
        """Return which pass of the tie at hand comes next, of how many; nothing is (0, 0)."""
        if done >= self._plan.total or self.by(done) != "pass":
            return 0, 0
        passes = self._plan.counts[done].passes
        return (self.made(done) + 1, passes) if passes > 1 else (0, 0)

    def made(self, done: int) -> int:
        """Return how many passes of the tie at hand are made."""
        most = self._plan.counts[done].passes - 1 if done < self._plan.total else 0
        return min(self._passes.made(self._sitting.piece_id, done), most)

    def put(self, done: int, passes: int) -> None:
        """Keep how many are made now."""
        self._passes.put(self._sitting.piece_id, done, passes)

    def pass_made(self, done: int) -> bool:
        """Count one pass; False where it is the last one, with which the tie is made."""
        number, of = self.passing(done)
        if number >= of:
            return False
        self.put(done, number)
        return True

    def open_again(self, done: int) -> None:
        """After a tie was taken back: where passes are counted, only its last one is undone."""
        _, of = self.passing(done)
        self.put(done, max(0, of - 1))
