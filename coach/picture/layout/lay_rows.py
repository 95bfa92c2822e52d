"""Layout of rows: the mover goes across, and ties with each strand that it crosses."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from coach.knots import geometry
from coach.picture.layout.scene_builder import SceneBuilder
from coach.picture.scene import Shape, mirrored_shape
from coach.picture.shapes.hitch_shapes import holder_tie, travelling_tie
from coach.plan.measure.tie_size import row_size
from coach.plan.plan_model import Count, PlannedStep
from coach.project import model

_STEEPEST_DEG: Final = 80.0


def lay_row(loom: SceneBuilder, step: PlannedStep, done: int) -> None:
    """Lay out the ties of a row that are made when `done` counts are.

    Args:
        loom: The layout so far, which is changed.
        step: A row or weave.
        done: How many counts of the whole plan are made.
    """
    row, counts, places = step.source, loom.plan.counts, loom.places
    assert isinstance(row, model.Row)  # noqa: S101 - the step's role says so
    mover, sign = step.groups[0][0], 1.0 if step.direction == "right" else -1.0
    x, slanting, rooms = loom.grid.x_mm[mover], loom.slanting[step.index], loom.grid.room_mm
    for number in range(step.first, min(step.end, done)):
        count = counts[number]
        knotter, filler = count.knotters[0], count.fillers[0]
        across = rooms[knotter if filler == mover else filler] / row.times
        middle, x = x + sign * across / 2, x + sign * across
        if loom.grid.closed:
            x = _inside(loom, x)
        top = places.top_mm[number]
        down = places.bottom_mm[number] - top
        key = (id(count), slanting, sign, id(row), round(down, 3))
        shape = loom.shapes.get(key)
        if shape is None:
            tied = _Tied(count, filler == mover, across, round(down, 3), slanting)
            shape = loom.shapes[key] = _shape(loom, row, tied, sign)
        loom.put(number, count.knot, shape, (middle, top + down / 2), (knotter, filler))


@dataclass(frozen=True, slots=True)
class _Tied:
    """One tie of a row: whether its mover holds, and its size."""

    tie: Count
    holds: bool
    across_mm: float
    down_mm: float
    slanting: bool


def _shape(loom: SceneBuilder, row: model.Row, tied: _Tied, sign: float) -> Shape:
    one, other = (loom.looks[who[0]] for who in (tied.tie.knotters, tied.tie.fillers))
    knot = tied.tie.knot
    if not tied.holds:
        shape = travelling_tie(knot, one, other, tied.across_mm, tied.down_mm)
    else:
        drop = _drop(knot, one[0], other[0], row.slope_deg) if tied.slanting else 0.0
        shape = holder_tie(knot, one, other, tied.across_mm, drop)
    return shape if sign > 0 else mirrored_shape(shape)


def _inside(loom: SceneBuilder, x: float) -> float:
    """Return a horizontal place in round work, wrapped at its seam."""
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
