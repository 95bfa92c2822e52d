"""A swatch: ten knots of the kind that takes most of a project's cord, to be tied and measured.

It is a small project of its own, so that what it should take is worked out as for any piece.
"""

import json
from collections import defaultdict
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from coach.knots.names import CHAIN, FLAT_KNOTS
from coach.plan.compile.compiler import compile_project
from coach.plan.measure.sensitivity import slopes_of
from coach.plan.measure.tension import Figure
from coach.plan.plan_model import Plan, PlannedStep
from coach.project import model
from coach.project.read import read_project

KNOTS: Final = 10
"""How many knots a swatch has."""
_ROWS: Final = 5  # there and back over two strands


@dataclass(frozen=True, slots=True)
class Swatch:
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
        """What the ends that knot should take together, in mm."""
        return sum(self.plan.ledgers[end].total_mm for end in self.ends)

    @property
    def length_mm(self) -> float:
        """How long the run of knots should be, in mm."""
        return self.plan.length_mm

    @property
    def in_rows(self) -> bool:
        """Whether the knots lie in rows, there and back."""
        return self.plan.steps[0].role == "row"


def swatch_for(plan: Plan) -> Swatch | None:
    """Return the swatch that tells most of a plan's cord, None where no knot can be tried so.

    It is of the knot that takes most of one cord and that nobody has measured in the file.
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
    """Return how a swatch of a knot hangs, and its steps; None for knots that come singly."""
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


def _made(plan: Plan, cord: str, knot: str, start: str, work: list[str]) -> Swatch | None:
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
    return Swatch(knot, cord, text, made, ends)
