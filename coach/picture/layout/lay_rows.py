"""Rows: the mover goes across, and each strand that it crosses makes a tie with it."""

from functools import lru_cache
from typing import Final

from coach.knots import geometry
from coach.picture.layout.loom import Loom
from coach.picture.scene import Shape, mirrored_shape
from coach.picture.shapes.hitches_drawn import holder_tie, travelling_tie
from coach.plan.measure.tie_size import row_size
from coach.plan.plan_model import PlannedStep
from coach.project import model

_STEEPEST_DEG: Final = 80.0


def lay_row(loom: Loom, step: PlannedStep, done: int) -> None:
    """Lay the ties of a row that are made when `done` counts are."""
    row, counts, places = step.source, loom.plan.counts, loom.places
    assert isinstance(row, model.Row)  # noqa: S101 - the step's role says so
    mover, sign = step.groups[0][0], 1.0 if step.direction == "right" else -1.0
    x, slanting = loom.grid.x_mm[mover], loom.slanting[step.index]
    tops, bottoms, rooms, looks = places.top_mm, places.bottom_mm, loom.grid.room_mm, loom.looks
    closed = loom.grid.closed
    for number in range(step.first, min(step.end, done)):
        knot, (knotter,), (filler,), _ = counts[number]
        holds = filler == mover
        across = rooms[knotter if holds else filler] / row.times
        middle, x = x + sign * across / 2, x + sign * across
        if closed:
            x = _inside(loom, x)
        top, bottom = tops[number], bottoms[number]
        one, other = looks[knotter], looks[filler]
        if holds:
            drop = _drop(knot, one[0], other[0], row.slope_deg) if slanting else 0.0
            shape = holder_tie(knot, one, other, across, drop)
            y = (top + bottom + drop) / 2
        else:
            shape = travelling_tie(knot, one, other, across, round(bottom - top, 3))
            y = (top + bottom) / 2
        loom.put(number, knot, _faced(shape, sign), (middle, y), (knotter, filler))


def _faced(shape: Shape, sign: float) -> Shape:
    return shape if sign > 0 else mirrored_shape(shape)


def _inside(loom: Loom, x: float) -> float:
    """Return a place across in round work, counted on beyond its seam."""
    half = loom.grid.half_mm
    if -half < x < half:
        return x
    return x - 2 * half if x > 0 else x + 2 * half


@lru_cache(maxsize=1024)
def _drop(knot: str, knotter_mm: float, holder_mm: float, slope_deg: float | None) -> float:
    """Return how far a slanting row comes down from column to column, in mm."""
    slope = None if slope_deg is None else min(slope_deg, _STEEPEST_DEG)
    size = row_size(knot, knotter_mm, holder_mm, mover_holds=True)
    return round(geometry.slanted(size, slope).drop_mm, 3)
