"""What a measured swatch teaches of a cord and a hand, and what it would save before it is tied."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import sqrt
from typing import Final

from coach.pace.cord import OLDER_SD, Belief, Figure, Learnt, Sight, learn
from coach.piece.learning.beliefs import Beliefs, hands_of
from coach.plan.cord.cut_list import SURE, CordCut, cut_list
from coach.plan.doubt.doubt import READING_SD_MM, Doubt, prior_sd, swatch_sd, told
from coach.plan.doubt.risk import Risk
from coach.plan.doubt.swatch import Swatch, swatch_for
from coach.plan.plan_model import Plan, remeasured

RULED_SD_MM: Final = 1.0
"""How exactly the run of a swatch is measured with a ruler beside it: rough."""
_TURNS: Final = 3  # slopes are so nearly straight that the figures stand still after two


@dataclass(frozen=True, slots=True)
class Offer:
    """A swatch that is worth tying, and the cord in mm that its measures would save."""

    swatch: Swatch
    saves_mm: float


def offer(
    plan: Plan, cuts: tuple[CordCut, ...], unit: str = "cm", copies: int = 1, sure: float = SURE
) -> Offer | None:
    """Return the swatch to offer before cutting, None where none can be tied.

    What is left to doubt after a measure does not depend on what it shows, so what it saves is
    known beforehand but for the length that the measure itself may change.
    """
    swatch = swatch_for(plan)
    if swatch is None:
        return None
    figures = ((swatch.cord, ""), (swatch.cord, swatch.knot))
    doubt = told(plan.project, plan.hands, figures).doubt
    for slopes, _, sd in _seen(swatch, swatch.plan):
        doubt = doubt.after(slopes, sd)
    sds = {f: min(prior_sd(plan.project, f), OLDER_SD * doubt.sd(f)) for f in figures}
    together = {figures: doubt.together(*figures)}
    hands = replace(plan.hands, sds={**plan.hands.sds, **sds}, together=together)
    left = _doubt_of(remeasured(plan, hands), plan)
    after = cut_list(plan, unit, copies, sure, Risk(plan, left))
    saved = sum(cord.total_mm for cord in cuts) - sum(cord.total_mm for cord in after)
    return Offer(swatch, max(0.0, saved))


def _doubt_of(sure: Plan, plan: Plan) -> Doubt:
    return told(sure.project, sure.hands, plan.slopes.figures).doubt


def learnt_from(swatch: Swatch, beliefs: Beliefs, length_mm: float, took_mm: float) -> Learnt:
    """Return what is thought of cord and knot once the swatch was measured.

    Args:
        swatch: The swatch, planned in the hands that the beliefs take for likely.
        beliefs: What was thought beforehand.
        length_mm: How long the run of knots came out.
        took_mm: What the ends that knotted took together.
    """
    project, plan = swatch.plan.project, swatch.plan
    figures: tuple[Figure, Figure] = ((swatch.cord, ""), (swatch.cord, swatch.knot))
    before = told(project, hands_of(beliefs), figures)
    believed = {f: Belief(mean, before.doubt.sd(f)) for f, mean in zip(figures, before.means, strict=True)}
    learnt = learn(believed, {}, (), before.doubt.together)
    for _ in range(_TURNS):
        at = {figure: plan.hands.figure(figure) for figure in figures}
        sights = [
            Sight(slopes, expected, seen, sd)
            for (slopes, expected, sd), seen in zip(_seen(swatch, plan), (length_mm, took_mm), strict=True)
        ]
        learnt = learn(believed, at, sights, before.doubt.together)
        plan = remeasured(plan, plan.hands.with_figures(dict(zip(figures, learnt.means, strict=True))))
    return learnt


def _seen(swatch: Swatch, plan: Plan) -> Iterator[tuple[dict[Figure, float], float, float]]:
    """Yield the slopes, the likely value and the error of the run's length, then of what it took."""
    yield dict(plan.slopes.of_length(plan.total)), plan.length_mm, swatch_sd(
        plan.length_mm, RULED_SD_MM
    )
    ends, total = len(swatch.ends), plan.total
    slopes: dict[Figure, float] = {}
    for end in swatch.ends:
        for figure, slope in plan.slopes.of_use(end, total).items():
            slopes[figure] = slopes.get(figure, 0.0) + slope
    took = sum(plan.ledgers[end].total_mm for end in swatch.ends)
    yield slopes, took, swatch_sd(took, READING_SD_MM * sqrt(ends), ends)
