"""The cord that a swatch would save, estimated before it is tied."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot, sqrt
from typing import Final

from coach.pace.cord import OLDER_SD, Figure
from coach.pace.gaussian import observed
from coach.plan.cord.cut_list import SURE, CordCut, cut_list
from coach.plan.doubt.doubt import MODEL_SD, READING_SD_MM, STRAND_SD
from coach.plan.doubt.risk import Risk, doubt_of
from coach.plan.doubt.swatch import TrialSwatch, swatch_for
from coach.plan.measure.sensitivity import slopes_of
from coach.plan.plan_model import Plan

RULED_SD_MM: Final = 1.0
"""How exactly the run of a swatch is measured with a ruler beside it: rough."""


@dataclass(frozen=True, slots=True)
class SwatchOffer:
    """A swatch worth tying, and the cord in mm that measuring it would save."""

    swatch: TrialSwatch
    saves_mm: float


def swatch_offer(
    plan: Plan, cuts: tuple[CordCut, ...], unit: str = "cm", copies: int = 1, sure: float = SURE
) -> SwatchOffer | None:
    """Return the swatch to offer before cutting, None where none can be tied.

    The uncertainty left after a measurement does not depend on its result, so the saving is known
    beforehand, except for the length that the result itself may change.

    Args:
        plan: The plan.
        cuts: Its cut list.
        unit: "cm" or "in": the unit in which lengths are rounded up.
        copies: How many of the piece are made.
        sure: The chance that every strand of a piece reaches.
    """
    swatch = swatch_for(plan)
    if swatch is None:
        return None
    doubt = doubt_of(plan)
    for slopes, _, sd in expected_of(swatch, swatch.plan):
        doubt = observed(doubt, slopes, 0.0, (sd * OLDER_SD) ** 2)
    after = cut_list(plan, unit, copies, sure, Risk(plan, doubt))
    saved = sum(cord.total_mm for cord in cuts) - sum(cord.total_mm for cord in after)
    return SwatchOffer(swatch, max(0.0, saved))


def expected_of(
    swatch: TrialSwatch, plan: Plan
) -> Iterator[tuple[dict[Figure, float], float, float]]:
    """Yield slopes, likely value and error in mm, first of a run's length, then of its cord.

    Args:
        swatch: The swatch that is measured.
        plan: The swatch's own plan, in the likely hands.
    """
    error = hypot(RULED_SD_MM, MODEL_SD * plan.length_mm)
    yield dict(slopes_of(plan).of_length(plan.total)), plan.length_mm, error
    ends, total = len(swatch.ends), plan.total
    slopes: dict[Figure, float] = {}
    for end in swatch.ends:
        for figure, slope in slopes_of(plan).of_use(end, total).items():
            slopes[figure] = slopes.get(figure, 0.0) + slope
    took = sum(plan.ledgers[end].total_mm for end in swatch.ends)
    yield slopes, took, hypot(READING_SD_MM * sqrt(ends), STRAND_SD * took / sqrt(ends))
