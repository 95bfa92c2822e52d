"""Layout of strands hitched onto something rigid, and of the maker's own knots."""

from functools import lru_cache
from typing import Final

from coach.knots import names
from coach.picture.layout.scene_builder import SceneBuilder
from coach.picture.scene import Fitting, FittingKind, Point, Shape, mirrored_shape
from coach.picture.shapes.bundle_shapes import josephine_shape, overhand_shape
from coach.picture.shapes.hitch_shapes import holder_tie
from coach.picture.shapes.wrap_shapes import wrap_shape
from coach.plan.measure.strand_ends import BAR_MM
from coach.plan.plan_model import PlannedStep
from coach.project import model

_KINDS: Final[dict[str, FittingKind]] = {"dowel": "dowel", "cord": "cord"}
_OVER: Final = 0.6  # of its thickness, how far a bar stands out beyond the outer ties
_FEWEST_WOVEN: Final = 2


def lay_rigid(loom: SceneBuilder, step: PlannedStep, row: model.RigidRow, number: int) -> None:
    """Lay out one tie onto something rigid; with the first one, the rigid thing itself.

    Args:
        loom: The layout so far, which is changed.
        step: The planned step.
        row: The step as written: onto what, and its thickness.
        number: The index of the count in the plan.
    """
    thick = row.diameter_mm or BAR_MM[row.onto]
    top = loom.places.top_mm[number]
    down = loom.places.bottom_mm[number] - top
    if number == step.first:
        xs = [loom.grid.x_mm[group[0]] for group in step.groups]
        rooms = [loom.grid.room_mm[group[0]] for group in step.groups]
        out = max(rooms) / 2 + _OVER * thick
        middle, half = top + down / 2, thick / 2
        box = (min(xs) - out, middle - half, max(xs) + out, middle + half)
        loom.fittings.append(Fitting(_KINDS.get(row.onto, "bar"), box, thick))
    strand = loom.plan.counts[number].knotters[0]
    across = loom.grid.room_mm[strand] / row.times
    place = (number - step.first) % row.times - (row.times - 1) / 2
    sign = -1.0 if step.direction == "left" else 1.0
    knot = loom.plan.counts[number].knot
    shape = bar_hitch_shape(knot, loom.looks[strand], round(thick, 3), round(across, 3))
    shape = shape if sign > 0 else mirrored_shape(shape)
    x = loom.grid.x_mm[strand] + sign * place * across
    loom.put(number, knot, shape, (x, top + down / 2), (strand,))


@lru_cache(maxsize=1024)
def bar_hitch_shape(knot: str, look: Point, thick_mm: float, across_mm: float) -> Shape:
    """Return the shape of a hitch onto an opaque bar, which hides what lies behind it.

    Args:
        knot: Its first name.
        look: Width and contact diameter of the strand that ties it, in mm.
        thick_mm: The thickness of the bar.
        across_mm: How much of the bar the hitch takes.
    """
    tied = holder_tie(knot, look, (thick_mm, thick_mm), across_mm, 0.0)
    seen = tuple(s for s in tied.stretches if s.strand == 0 and s.layer > 0)
    key = ("on bar", knot, look, thick_mm, across_mm)
    covers = tied.covers[:1] if tied.covers else ()
    return Shape(seen, tied.enter[:1], tied.leave[:1], tied.box, tied.lean_deg, key, covers)


def own_knot_shape(
    loom: SceneBuilder, strands: tuple[int, ...], knot: str, down_mm: float
) -> Shape:
    """Return the shape of a maker's own knot: like a known one, or else a plain knob.

    Args:
        loom: The layout so far.
        strands: Those that tie it, from the left.
        knot: The maker's name of it.
        down_mm: Its length down the work.
    """
    looks = loom.look(strands)
    like = loom.plan.project.knots[knot].like
    across = max(down_mm, sum(look[0] for look in looks))
    if like == names.JOSEPHINE and len(looks) % 2 == 0:
        return josephine_shape(looks, round(across, 3), down_mm)
    if like in names.BUNDLE_KNOTS or len(looks) < _FEWEST_WOVEN:
        return overhand_shape(like if like in names.BUNDLE_KNOTS else names.OVERHAND, looks)
    turns = max(2, round(down_mm / looks[0][1]))
    return wrap_shape(looks[0], looks[1:], round(across, 3), down_mm, turns)
