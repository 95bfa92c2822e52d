"""Which rows slant: rows that follow each other with a new holder from the same side."""

from collections.abc import Sequence

from coach.plan.steps import PlannedStep
from coach.project.model import Row


def slants(steps: Sequence[PlannedStep]) -> list[bool]:
    """Return for each step whether it is a row that lies slanting.

    A row that says how it lies is believed. Another one slants with the next row that meets one
    of the strands it crossed, if that goes the same way with another mover; a knot of another
    kind between them ends the fabric.
    """
    lying = [_said(step) for step in steps]
    last: dict[int, int] = {}  # strand -> the last row that crossed it
    for step in steps:
        if step.role == "row":
            strands = step.groups[0]
            for before in {last[strand] for strand in strands if strand in last}:
                _join(steps[before], step, lying)
            last.update(dict.fromkeys(strands, step.index))
            del last[strands[0]]
        elif last and step.role != "plain":
            _end_fabric(step, last)
    return [bool(lies) for lies in lying]


def _said(step: PlannedStep) -> bool | None:
    """Return how a row says that it lies; None where it does not."""
    if not isinstance(step.source, Row) or step.source.weave:
        return False
    if step.source.slope_deg is not None:
        return True
    return step.source.lie == "slant" if step.source.lie else None


def _end_fabric(step: PlannedStep, last: dict[int, int]) -> None:
    for group in step.groups:
        for strand in group:
            last.pop(strand, None)


def _join(before: PlannedStep, after: PlannedStep, lying: list[bool | None]) -> None:
    """Let two rows slant together where neither says otherwise."""
    if before.direction == after.direction and before.mover != after.mover:
        for step in (before.index, after.index):
            if lying[step] is None:
                lying[step] = True
