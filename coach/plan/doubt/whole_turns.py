"""Wraps in whole turns, which make the cord they take jump by a turn at a time."""

from dataclasses import dataclass
from typing import Final

from coach.knots import geometry
from coach.plan.plan_model import Plan
from coach.project.model import Gathering

_TURN_SD: Final = 12**-0.5  # of a number that may be anything from none to one more. Geometry.
_HALF: Final = 0.5


@dataclass(frozen=True, slots=True)
class WholeTurns:
    """The surplus of the mean over the likely cord, and its standard deviation, in mm."""

    more_mm: float
    sd_mm: float


def whole_turns(plan: Plan) -> dict[int, WholeTurns]:
    """Return the effect of whole turns on each strand that wraps a length."""
    found = {}
    for step in plan.steps:
        if isinstance(step.source, Gathering):
            wrap = plan.counts[step.first].knotters[0]
            cord, length_mm = plan.strands[wrap].cord, step.source.length_mm
            thick = plan.project.cords[cord].diameter_mm * plan.hands.compression_of(cord)
            turns = geometry.gathering_turns(thick, length_mm)
            turn_mm = plan.ledgers[wrap].total_mm / turns
            more = length_mm / thick + _HALF - turns
            found[wrap] = WholeTurns(more * turn_mm, _TURN_SD * turn_mm)
    return found
