"""Ends that come down beside the work, and strands that are folded back along it."""

from typing import Final

from coach.picture.layout.loom import Loom
from coach.plan.plan_model import PlannedStep
from coach.project import model

_SEEN_MM: Final = 30.0  # of an end that comes down, or of one that points back


def bring_down(loom: Loom, step: PlannedStep, down: model.BringDown) -> None:
    """Let free ends of the start come down to the height of the work beside them.

    Args:
        loom: Where all strands are by now; it is written to.
        step: The step as it was planned, with the strands that come.
        down: The step as it was written.
    """
    del down
    loom.grid.stand(step.after)
    y = _height_mm(loom, step)
    for strand in step.new_strands:
        x = loom.grid.x_mm[strand]
        loom.at[strand] = (x, y - _SEEN_MM)
        loom.reach(step.first, strand, x, y)


def _height_mm(loom: Loom, step: PlannedStep) -> float:
    at = [step.after.index(strand) for strand in step.new_strands]
    beside = [*step.after[max(0, min(at) - 1) : min(at)], *step.after[max(at) + 1 : max(at) + 2]]
    return max([loom.at[s][1] for s in beside if s in loom.at], default=0.0)


def fold_back(loom: Loom, step: PlannedStep, fold: model.FoldBack) -> None:
    """Let strands go down to the end of their loop and back up to where they came from.

    Args:
        loom: Where all strands are by now; it is written to.
        step: The step as it was planned, with the strands that turn.
        fold: The step as it was written, with the length of the loop.
    """
    for strand in step.groups[0]:
        x, y = loom.at.get(strand, (loom.grid.x_mm[strand], loom.places.top_mm[step.first]))
        beside = x + loom.loose_mm[strand] / 2
        loom.reach(step.first, strand, beside, y + fold.loop_mm, 0.0)
        loom.at[strand] = (beside + loom.loose_mm[strand] / 2, y + fold.loop_mm)
        loom.reach(step.first, strand, beside + loom.loose_mm[strand] / 2, y, 0.0)
        loom.cut_mm[strand] = y - _SEEN_MM
        loom.back.add(strand)
