"""The swatch: ten knots of the kind that takes most cord, to be tied and measured."""

import json
from collections import defaultdict
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import hypot, sqrt
from typing import Final

from coach.knots.names import CHAIN, FLAT_KNOTS
from coach.pace.cord_learning import OLDER_SD, Figure
from coach.pace.gaussian import conditioned
from coach.plan.compile.compiler import compile_project
from coach.plan.cord.cut_list import SURE, CordCut, cut_list
from coach.plan.doubt.doubt import MODEL_SD, READING_SD_MM, STRAND_SD
from coach.plan.doubt.risk import Risk, doubt_of
from coach.plan.doubt.sensitivity import slopes_of
from coach.plan.plan_model import Plan, PlannedStep
from coach.project import model
from coach.project.read import read_project

KNOTS: Final = 10
"""How many knots a swatch has."""
_ROWS: Final = 5  # there and back over two strands


@dataclass(frozen=True, slots=True)
class TrialSwatch:
    """Ten knots in one cord: their project and plan, and the strands that tie them.

    `around` is how many strands the knots go round where one strand ties them round others.
    """

    knot: str
    cord: str
    text: str
    plan: Plan
    ends: tuple[int, ...]

    @property
    def took_mm(self) -> float:
        """The cord that the knotting ends should take together, in mm."""
        return sum(self.plan.ledgers[end].total_mm for end in self.ends)

    @property
    def length_mm(self) -> float:
        """The expected length of the run of knots, in mm."""
        return self.plan.length_mm

    @property
    def in_rows(self) -> bool:
        """Whether the knots lie in rows, there and back."""
        return self.plan.steps[0].role == "row"


def swatch_for(plan: Plan) -> TrialSwatch | None:
    """Return the swatch that tells most about a plan's cord, None where no knot can be tried.

    It is of the knot that takes most of one cord among those not measured in the file.
    """
    for cord, knot in _by_cord_taken(plan):
        work = _work(plan, cord, knot)
        if work:
            return _made(plan, cord, knot, *work)
    return None


def _by_cord_taken(plan: Plan) -> list[Figure]:
    """Return the knots in their cords, the one that takes most cord first."""
    taken: dict[Figure, float] = defaultdict(float)
    for strand in range(len(plan.strands)):
        for figure, slope in slopes_of(plan).of_use(strand, plan.total).items():
            if figure[1]:
                taken[figure] += slope
    told = {(m.cord, m.knot) for m in plan.project.measured if isinstance(m, model.Swatch)}
    return sorted(taken.keys() - told, key=lambda figure: (-taken[figure], figure))


def _work(plan: Plan, cord: str, knot: str) -> tuple[str, list[str]] | None:
    """Return the start and the steps of a swatch of a knot; None for knots that come singly."""
    for step in plan.steps:
        count = plan.counts[step.first]
        if count.knot == knot and plan.strands[count.knotters[0]].cord == cord:
            laid = _LAID.get(step.role)
            return laid(step, knot, cord) if laid else None
    return None


def _rows(step: PlannedStep, knot: str, cord: str) -> tuple[str, list[str]]:
    """Return five rows of two, there and back; the mover holds, or knots, as in the piece."""
    source = step.source
    holds = isinstance(source, model.Row) and source.mover_holds
    mover = "holder" if holds else "knotter"
    there = f"{{row: {knot}, {mover}: 1, across: 2-3, lie: level}}"
    back = f"{{row: {knot}, {mover}: 3, across: 2-1, lie: level}}"
    return _singles(cord, 3), [there if row % 2 == 0 else back for row in range(_ROWS)]


def _knots(step: PlannedStep, knot: str, cord: str) -> tuple[str, list[str]] | None:
    del step
    if knot == CHAIN:
        return _singles(cord, 2), [f"{{knot: {knot}, strands: 1-2, times: {KNOTS}}}"]
    if knot not in FLAT_KNOTS:
        return None
    name = json.dumps(cord)
    return f"{{nest: [{name}, {name}]}}", [f"{{knot: {knot}, strands: 1-4, times: {KNOTS}}}"]


def _around(step: PlannedStep, knot: str, cord: str) -> tuple[str, list[str]] | None:
    source = step.source
    if isinstance(source, model.AroundKnot) and source.turns:
        return None
    held = len(step.groups[0]) - 1
    around = f"2-{held + 1}" if held > 1 else "2"
    tied = f"{{knot: {json.dumps(knot)}, knotter: 1, around: {around}, times: {KNOTS}}}"
    return _singles(cord, held + 1), [tied]


_LAID: Final[
    dict[str, Callable[[PlannedStep, str, str], tuple[str, list[str]] | None]]
] = {"row": _rows, "weave": _rows, "knot": _knots, "net": _knots, "around": _around}  # fmt: skip


def _singles(cord: str, number: int) -> str:
    names = ", ".join(json.dumps(f"{cord}.{piece}") for piece in range(1, number + 1))
    return f"{{strands: [{names}]}}"


def _made(plan: Plan, cord: str, knot: str, start: str, work: list[str]) -> TrialSwatch | None:
    of = plan.project.cords[cord]
    single = "strands" in start.split(":", 1)[0]
    look = {
        "colour": of.colour, "fibre": of.fibre, "diameter": f"{of.diameter_mm:g} mm",
        "pieces": start.count(json.dumps(cord)) or start.count(json.dumps(cord)[:-1]),
        "fold": "none" if single else "middle",
    }  # fmt: skip
    text = "\n".join(
        [
            "coach: 1",
            f"title: {json.dumps(f'Swatch: {knot} in {cord}', ensure_ascii=False)}",
            f"cords: {{{json.dumps(cord, ensure_ascii=False)}: {json.dumps(look)}}}",
            f"start: {start}",
            "margin: 25 %",
            "work:",
            *(f"  - {step}" for step in work),
            "",
        ]
    )
    project = read_project(text).project
    made = compile_project(project, plan.hands).plan if project else None
    if made is None:
        return None
    ends = tuple(sorted(made.knotted))
    return TrialSwatch(knot, cord, text, made, ends)


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
        doubt = conditioned(doubt, slopes, 0.0, (sd * OLDER_SD) ** 2)
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
