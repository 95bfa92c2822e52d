"""The ends of strands: the cord that mounting takes above, and the tail below the last knot."""

from collections.abc import Sequence
from typing import Final

from coach.knots import geometry
from coach.knots.geometry import LOOPED, PINNED, Mounting
from coach.knots.names import LARKS_HEAD
from coach.plan.steps import Unfolded
from coach.project.model import LayAside, Start, Trim

LAID_IN: Final = "laid in"
BAR_MM: Final = {
    "board": geometry.PIN_MM,
    "ring": 3.0,
    "dowel": 12.0,
    "bar": 6.0,
    "buckle": 4.0,
    "hook": 4.0,
    "cord": 3.0,
}
"""How thick these are when the file does not say; common practice, no source."""


def hanging_method(start: Start) -> str:
    """Return how the pieces are mounted, as the file says or by the trade's custom."""
    if start.by:
        return start.by
    if start.on == "board":
        return PINNED
    return LOOPED if start.layout == "nest" else LARKS_HEAD


def bar_mm(start: Start) -> float:
    """Return the thickness of what the pieces are folded over."""
    if start.diameter_mm is not None:
        return start.diameter_mm
    return BAR_MM.get(start.on, BAR_MM["board"])


def mountings(start: Start, contact_mm: list[float]) -> list[Mounting]:
    """Return the mounting of each piece, in the order listed; a nest is mounted as one."""
    way, bar = hanging_method(start), bar_mm(start)
    if start.layout != "nest" or not contact_mm:
        return [geometry.mount(way, bar, (cord,)) for cord in contact_mm]
    nest = geometry.mount(way, bar, tuple(contact_mm))
    return [Mounting((use,), nest.strand_width_mm * 2) for use in nest.piece_use_mm]


def onto_strand_mm(by: str, held_mm: float | None, cord_mm: float) -> float:
    """Return the cord that a new piece takes to be hung into the work.

    Args:
        by: How it is hung: a knot's name, laid in, or "" for the usual lark's head.
        held_mm: Contact diameter of what it is hung on, None where it is pinned.
        cord_mm: Contact diameter of the piece.
    """
    if held_mm is None or by == LAID_IN:
        return geometry.mount(PINNED, geometry.PIN_MM, (cord_mm,)).piece_use_mm[0]
    return geometry.mount(by or LARKS_HEAD, held_mm, (cord_mm,)).piece_use_mm[0]


def tails(plan: Unfolded) -> tuple[float, ...]:
    """Return each strand's tail in mm: its cord's, or more where a cut leaves more."""
    cords = plan.project.cords
    found = [cords[strand.cord].tail_mm for strand in plan.strands]
    for step in plan.steps:
        source = step.source
        if isinstance(source, LayAside) and source.leave_mm is not None:
            for strand in step.groups[0]:
                found[strand] = max(found[strand], source.leave_mm)
        elif isinstance(source, Trim):
            for strand, leave in trimmed_mm(source, step.groups[0]).items():
                found[strand] = max(found[strand], leave)
    return tuple(found)


def trimmed_mm(trim: Trim, strands: Sequence[int]) -> dict[int, float]:
    """Return what a cut leaves of each strand, in mm: one length, or a line to the middle.

    Args:
        trim: The cut: the outermost strands keep `leave`, the middle one `middle`.
        strands: The strands from the left.
    """
    if trim.middle_mm is None:
        return dict.fromkeys(strands, trim.leave_mm)
    half = (len(strands) - 1) / 2
    longer = trim.middle_mm - trim.leave_mm
    return {
        strand: trim.leave_mm + longer * (1 - abs(place - half) / half if half else 1.0)
        for place, strand in enumerate(strands)
    }
