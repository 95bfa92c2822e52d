"""The plan on paper: lines for a maker who is about to cut."""

from collections.abc import Iterator
from textwrap import wrap
from typing import Final

from coach.pace.estimate import Range
from coach.plan.as_json import tie_counts
from coach.plan.cautions import cautions
from coach.plan.cuts import CordCut, Cut, varied
from coach.plan.hanging import way_of_hanging
from coach.plan.model import Plan
from coach.plan.naming import colour_word
from coach.quantities import show_length, show_time

WIDTH: Final = 78
_METRE_MM: Final = 1000.0
_FOR: Final = {
    "hung": "", "added": "added later", "wrap": "to wrap with", "clasp": "for the clasp"
}  # fmt: skip


def page(plan: Plan, cuts: tuple[CordCut, ...], time: Range) -> list[str]:
    """Give the whole plan as lines of at most 78 columns."""
    sections = (
        _head(plan, time),
        _cutting(plan, cuts),
        _hanging(plan),
        _knots(plan),
        _size(plan),
        _cautions(plan),
    )
    lines: list[str] = []
    for section in sections:
        found = list(section)
        if found:
            lines += [*found, ""]
    return lines[:-1]


def _folded(text: str, indent: str = "  ") -> list[str]:
    return wrap(text, WIDTH, initial_indent=indent, subsequent_indent=indent)


def _head(plan: Plan, time: Range) -> Iterator[str]:
    project = plan.project
    yield project.title
    if project.about:
        yield from _folded(project.about)
    kinds = [word for word in (project.kind, project.skill) if word]
    span = f"{show_time(time.low_s)} to {show_time(time.high_s)}"
    yield f"  {', '.join(kinds)}; about {show_time(time.likely_s)} of knotting ({span})"
    needs = [*project.tools, *project.findings]
    if needs:
        yield from _folded(f"Have ready: {', '.join(needs)}.")


def _cutting(plan: Plan, cuts: tuple[CordCut, ...]) -> Iterator[str]:
    yield f"Cut (with {plan.project.margin:.0%} to spare)"
    for cord in cuts:
        for cut in cord.cuts:
            yield from _cut(plan, cut)
        whole = f"  {'':12} in all {_long(cord.total_mm)}"
        if cord.per_repeat_mm:
            part = varied(plan.project)
            whole += f"; one {part} more takes {show_length(cord.per_repeat_mm)} a piece"
        yield whole


def _cut(plan: Plan, cut: Cut) -> Iterator[str]:
    cord = plan.project.cords[cut.cord]
    look = f"{colour_word(cord)} {cord.fibre} {show_length_mm(cord.diameter_mm)}".strip()
    pieces = f"{cut.pieces} piece{'s' * (cut.pieces > 1)} of {_long(cut.cut_mm)}"
    purpose = f", {_FOR[cut.origin]}" if _FOR[cut.origin] else ""
    yield f"  {cut.cord:12} {pieces}{purpose} ({look})"


def show_length_mm(length_mm: float) -> str:
    """Give a small length in millimetres."""
    return f"{length_mm:g} mm"


def _long(length_mm: float) -> str:
    if length_mm >= _METRE_MM:
        return f"{length_mm / _METRE_MM:.3f}".rstrip("0").rstrip(".") + " m"
    return show_length(length_mm)


def _hanging(plan: Plan) -> Iterator[str]:
    start = plan.project.start
    yield f"Hang on the {start.on}: {way_of_hanging(start)}"
    names = ", ".join(plan.strands[strand].id for strand in plan.start)
    yield from _folded(f"From the left: {names}.")


def _knots(plan: Plan) -> Iterator[str]:
    ties = tie_counts(plan)
    yield f"Knots: {sum(ties.values()):,} in {len(plan.steps):,} steps"
    for knot, number in sorted(ties.items(), key=lambda pair: -pair[1]):
        yield f"  {number:6,} {knot}"


def _size(plan: Plan) -> Iterator[str]:
    size = plan.project.size
    state = f" {size.state}" if size else ""
    length, width = show_length(plan.length_mm), show_length(plan.width_mm)
    yield f"Size{state}: about {length} long and {width} wide"
    if size and size.length_mm:
        yield f"  The maker measured {show_length(size.length_mm)}."


def _cautions(plan: Plan) -> Iterator[str]:
    found = cautions(plan.project)
    if found:
        yield "Take care"
    for caution in found:
        yield from _folded(caution)
