"""Rows that do not say how they lie: what the piece would be if they lay the other way."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Final, Literal

from coach.plan.measure.slant import rows_read
from coach.plan.plan_model import Plan
from coach.project.model import Row
from coach.quantities.formatting import centimetres
from coach.text import join_words, plural
from coach.yaml_reader.diagnostics import Problem, Span

_TELLING: Final = 0.1  # of the length; less is within the model's own range
_MOST_NAMED: Final = 6


_LAID: Final = {"level": "level", "slant": "slanting"}


@dataclass(frozen=True, slots=True)
class OtherReading:
    """Rows without `lie:`, how they are read, and the piece's length the other way."""

    taken: Literal["level", "slant"]
    other: Literal["level", "slant"]
    spans: tuple[Span, ...]  # of the rows, in the order of the file
    length_mm: float


def other_readings(plan: Plan) -> Iterator[OtherReading]:
    """Yield the other readings that would change the length by more than a tenth.

    All slanting rows are laid level at once, or all level ones that could slant laid slanting:
    rows of one fabric lie alike.
    """
    rows = rows_read(plan.steps, closed=plan.project.start.closed)
    slanting: dict[int, Row] = {}
    level: dict[int, Row] = {}
    for row in sorted(rows.doubtful):
        source = plan.steps[row].source
        if isinstance(source, Row) and rows.readings[row] != "along":
            (slanting if rows.readings[row] == "slant" else level)[id(source)] = source
    yield from _told(plan, slanting, "slant", "level")
    only_level = {key: source for key, source in level.items() if key not in slanting}
    yield from _told(plan, only_level, "level", "slant")


def _told(
    plan: Plan,
    rows: Mapping[int, Row],
    taken: Literal["level", "slant"],
    other: Literal["level", "slant"],
) -> Iterator[OtherReading]:
    if not rows or not plan.length_mm:
        return
    said = {key: replace(source, lie=other) for key, source in rows.items()}
    steps = tuple(replace(step, source=said.get(id(step.source), step.source))
                  for step in plan.steps)  # fmt: skip
    length_mm = replace(plan, steps=steps).length_mm
    if abs(length_mm / plan.length_mm - 1) > _TELLING:
        spans = sorted(source.about.span for source in rows.values())
        yield OtherReading(taken, other, tuple(spans), length_mm)


def lie_unsaid(plan: Plan) -> Iterator[Problem]:
    """Yield how rows without `lie:` are read, where the other reading is another piece."""
    for found in other_readings(plan):
        one = len(found.spans) == 1
        subject = "This row does" if one else f"The rows at {_lines(found)} do"
        message = (
            f"{subject} not say how {'it lies' if one else 'they lie'}. Read as "
            f"{_LAID[found.taken]}, the work comes to {centimetres(round(plan.length_mm))}; "
            f"{_LAID[found.other]}, it would come to {centimetres(round(found.length_mm))}."
        )
        hint = f"Write ‘lie: {found.taken}’ or ‘lie: {found.other}’ in {'it' if one else 'each'}."
        yield Problem("LIE", found.spans[0], message, hint, "warning")


def other_lie(plan: Plan, length_mm: float, within: float) -> str:
    """Return how rows would have to lie to meet a length, "" if that does not help.

    Args:
        plan: The plan.
        length_mm: The length that was measured or is aimed for.
        within: The greatest difference, as a share of that length.
    """
    for found in other_readings(plan):
        if abs(found.length_mm / length_mm - 1) <= within:
            length = centimetres(round(found.length_mm))
            return f"with ‘lie: {found.other}’ at {_lines(found)} it comes to about {length}"
    return ""


def _lines(found: OtherReading) -> str:
    lines = [str(span.line) for span in found.spans]
    rest = len(lines) - _MOST_NAMED
    named = [*lines[:_MOST_NAMED], f"{rest} more"] if rest > 0 else lines
    return f"{plural('line', len(lines))} {join_words(named)}"
