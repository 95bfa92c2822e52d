"""The uncertainty left in work that the file's `measured:` figures cover: hardly any.

A measurement replaces the model for what it covers, so that cord there no longer follows
compression and slack. It follows the measurement, which has one error of its own.
"""

from collections.abc import Iterator
from math import hypot
from typing import Final

from coach.pace.gaussian import Belief
from coach.plan.doubt.doubt import MODEL_SD, READING_SD_MM
from coach.plan.doubt.sensitivity import slopes_of
from coach.plan.measure.calibration import repeats_held
from coach.plan.plan_model import Plan
from coach.plan.tension import Figure, Slopes
from coach.project.model import MeasuredPart, Swatch

_MEASURED: Final = "measured "  # before the name of a knot or part, so that it is no knot's slack


def own_figures(plan: Plan) -> dict[Figure, Belief]:
    """Return a figure for each measurement in the file: its error as a share of its cord."""
    found: dict[Figure, Belief] = {}
    for measured in plan.project.measured:
        if isinstance(measured, Swatch):
            if measured.uses_mm:
                found[measured.cord, _MEASURED + measured.knot] = _off(measured.uses_mm)
        else:
            for cord, uses_mm in measured.uses_mm.items():
                found[cord, _MEASURED + measured.part] = _off(uses_mm)
    return found


def _off(uses_mm: float) -> Belief:
    """Return the relative error of a measurement: it was read off, and in another piece."""
    return Belief(0.0, hypot(MODEL_SD, READING_SD_MM / uses_mm) if uses_mm else MODEL_SD)


def beside_measures(plan: Plan, strand: int, slopes: Slopes) -> dict[Figure, float]:
    """Return a strand's slopes with the work that was measured following the measurement alone.

    Args:
        plan: The plan, with what its file measured.
        strand: The strand.
        slopes: By how many mm its use grows for each unit of a figure.
    """
    left = dict(slopes)
    cord = plan.strands[strand].cord
    for measured in plan.project.measured:
        if isinstance(measured, MeasuredPart) and measured.uses_mm.get(cord):
            _cover_part(plan, strand, measured.part, left)
    for measured in plan.project.measured:
        if isinstance(measured, Swatch) and measured.cord == cord and measured.uses_mm:
            _cover_knot(plan, cord, measured.knot, left)
    return left


def _cover_part(plan: Plan, strand: int, part: str, left: dict[Figure, float]) -> None:
    used = 0.0
    for first, end in _stretches(plan, part):
        used += plan.used_mm(strand, end) - plan.used_mm(strand, first)
        for figure, slope in slopes_of(plan).of_use(strand, end, first).items():
            left[figure] = left.get(figure, 0.0) - slope
    left[plan.strands[strand].cord, _MEASURED + part] = used


def _cover_knot(plan: Plan, cord: str, knot: str, left: dict[Figure, float]) -> None:
    used = left.pop((cord, knot), 0.0)
    with_slack = used * (1 + plan.hands.slack_of(cord, knot))
    left[cord, ""] = left.get((cord, ""), 0.0) - with_slack / plan.hands.compression_of(cord)
    left[cord, _MEASURED + knot] = with_slack


def _stretches(plan: Plan, part: str) -> Iterator[tuple[int, int]]:
    """Yield the first count of each run of repeats of a part, and the count after its last."""
    first = end = 0
    for repeat in repeats_held(plan.project, plan.steps).get(part, ()):
        if repeat[0].first != end:
            if end > first:
                yield first, end
            first = repeat[0].first
        end = repeat[-1].end
    if end > first:
        yield first, end
