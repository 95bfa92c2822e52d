"""The word that stands for a step in which there is nothing to count."""

from typing import Final

from coach.plan.plan_model import Plan, PlannedStep
from coach.project import model

_WORDS: Final[dict[type, str]] = {
    model.Do: "DO", model.Measure: "SIZE", model.Wait: "WAIT", model.Space: "GAP",
    model.Picot: "LOOP", model.Bead: "BEAD", model.Turn: "TURN", model.Cross: "SWAP",
    model.Add: "ADD", model.LayAside: "ASIDE", model.TakeUp: "TAKE", model.Flip: "FLIP",
    model.Seam: "SEAM", model.Trim: "CUT", model.Braid: "PLAIT",
}  # fmt: skip


def sign_for(plan: Plan, step: PlannedStep) -> str:
    """Return the word for a step of one count without a knot; nothing for one that is counted."""
    if step.counts != 1 or plan.counts[step.first].knot:
        return ""
    return _WORDS.get(type(step.source), "DO")
