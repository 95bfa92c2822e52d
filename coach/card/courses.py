"""Where every strand has got to after each step, in mm: what a drawing at scale is made from."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from coach.plan.measure.ledger import Cordwork
from coach.plan.measure.measure import measured_work
from coach.plan.measure.slant import rows_read
from coach.plan.measure.tails import trimmed_mm
from coach.plan.plan_model import Plan
from coach.project.model import Trim

Place = tuple[float, float]  # across from the middle of the work, down from its top, in mm


@dataclass(frozen=True, slots=True)
class Stretch:
    """One strand through one step: from where to where, and how wide it lies there, in mm."""

    step: int
    strand: int
    start: Place
    end: Place
    wide_mm: float
    knotted: bool


class _CourseBooks(Cordwork):
    """Books that also keep, after each step, how far down each strand is and how wide it lies."""

    def __init__(self, *given: Any, **more: Any) -> None:
        super().__init__(*given, **more)
        self.after: list[dict[int, tuple[float, float]]] = []

    def stand(self, order: Sequence[int]) -> None:
        """Note how the strands stand at the end of a step."""
        super().stand(order)
        top = self.top_mm if self.folded else 0.0
        self.after.append({s: (top + self.hanging[s].down_mm, self.column[s]) for s in order})


def courses(plan: Plan) -> Iterator[Stretch]:
    """Yield all stretches that have some length, steps in order; a loop before a fold has none."""
    books = measured_work(plan, _CourseBooks)
    notes = books.after if isinstance(books, _CourseBooks) else []
    at: dict[int, Place] = {}
    readings = rows_read(plan.steps, closed=plan.project.start.closed).readings
    pitch = plan.width_mm / max(len(step.after) for step in plan.steps)
    for step, note in zip(plan.steps, notes, strict=True):
        if step.unfolded:
            continue
        across = _across(step.after, pitch)
        for strand, (down, column) in note.items():
            end = (across[strand], down)
            if strand in step.new_strands:  # hung in down the work, not at its top
                at[strand] = end
                continue
            start = at.get(strand, (across[strand], min(down, books.top_mm)))
            worked = any(strand in group for group in step.groups) and step.role != "plain"
            if strand == step.mover and readings[step.index] == "level" and step.role != "plain":
                corner = (start[0], end[1])
                yield Stretch(step.index, strand, start, corner, column, knotted=False)
                start = corner
            if end != start and (end[1] > start[1] or worked):
                yield Stretch(step.index, strand, start, end, column, worked)
            at[strand] = end


def _across(order: Sequence[int], pitch_mm: float) -> dict[int, float]:
    """Return where each strand is across, evenly about the middle.

    Columns of their own widths would shift to and fro from row to row; in the work they do not.
    """
    half = (len(order) - 1) / 2
    return {strand: (place - half) * pitch_mm for place, strand in enumerate(order)}


def last_trim_mm(plan: Plan) -> dict[int, float]:
    """Return how far each strand that is cut hangs below its last knot, in mm."""
    left: dict[int, float] = {}
    for step in plan.steps:
        if isinstance(step.source, Trim):
            left |= trimmed_mm(step.source, step.groups[0])
    return left
