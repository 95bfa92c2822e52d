"""Layout of plaits: whole ones, and crossing by crossing."""

from typing import Final

from coach.knots import geometry, names
from coach.picture.layout.scene_builder import SceneBuilder
from coach.picture.scene import mirrored_shape
from coach.picture.shapes.plaits import SIDE, crossing_shape, plait_shape
from coach.plan.plan_model import PlannedStep

_PERIOD: Final = 6  # crossings after which a plait's strands stand as before


def lay_plait(loom: SceneBuilder, step: PlannedStep, done: int) -> None:
    """Lay out a plait, whole if it is given by length, otherwise crossing by crossing.

    Args:
        loom: The layout so far, which is changed.
        step: A plait.
        done: How many counts of the whole plan are made.
    """
    last = min(step.end, done)
    if loom.plan.counts[step.first].fillers:
        for number in range(step.first, last):
            _lay_crossing(loom, step, number)
    elif step.first < last:
        _lay_whole_plait(loom, step)


def _plait_size(loom: SceneBuilder, step: PlannedStep) -> geometry.PlaitCrossing:
    bundles = [[look[0] for look in loom.look(group)] for group in step.groups]
    return geometry.plait_size(bundles)


def _lay_whole_plait(loom: SceneBuilder, step: PlannedStep) -> None:
    """Lay out a plait in whole periods; in mirrored work bundles count from the right."""
    size, places, number = _plait_size(loom, step), loom.places, step.first
    strands = tuple([strand for group in step.groups for strand in group])
    xs = loom.grid.side_by_side(strands) if step.unfolded else loom.coming(strands)
    x, top = sum(xs) / len(xs), places.top_mm[number]
    down, sign = round(places.bottom_mm[number] - top, 3), -1 if step.mirrored else 1
    crossings = max(1, round(down / size.pitch_mm / _PERIOD)) * _PERIOD
    spots = () if step.unfolded else tuple([round(sign * (spot - x), 3) for spot in xs])
    bundles = tuple([loom.look(group) for group in step.groups])
    across, spreads = round(size.width_mm, 3), bool(spots) and not _gathered_next(loom, step)
    shape = plait_shape(bundles, crossings, across, down, spots, spreads=spreads)
    shape = mirrored_shape(shape) if step.mirrored else shape
    loom.put(number, "", shape, (x, top), strands)


def _gathered_next(loom: SceneBuilder, step: PlannedStep) -> bool:
    """Return whether the strands are bundled by the next knot, and stay together below."""
    later = (s for s in loom.plan.steps[step.index + 1 :] if s.role != "plain")
    knot = next((loom.plan.counts[s.first].knot for s in later), "")
    return knot in (*names.BUNDLE_KNOTS, names.GATHERING)


def _lay_crossing(loom: SceneBuilder, step: PlannedStep, number: int) -> None:
    """Lay out one crossing, from the right or from the left in turn."""
    count, places = loom.plan.counts[number], loom.places
    across, top = round(_plait_size(loom, step).width_mm, 3), places.top_mm[number]
    right = ((number - step.first) % 2 == 0) != step.mirrored
    # The shape is of a crossing from the right, with its strands from the left.
    back = -1 if right == step.mirrored else 1
    mover, middle = count.knotters[::back], count.fillers[::back]
    down = round(places.bottom_mm[number] - top, 3)
    shape = crossing_shape(loom.look(mover), loom.look(middle), across, down)
    side = across * SIDE / 2
    x = loom.middle([strand for group in step.groups for strand in group])
    at = (x + side, top) if right else (x - side, top)
    loom.put(number, "", shape if right else mirrored_shape(shape), at, mover + middle)
