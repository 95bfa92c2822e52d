"""Layout of knots in groups, round others and round the bundle."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from coach.knots import geometry, names
from coach.picture.layout.lay_rigid import lay_rigid, own_knot_shape
from coach.picture.layout.scene_builder import SceneBuilder
from coach.picture.scene import Shape, mirrored_shape
from coach.picture.shapes.around_shapes import around_shape
from coach.picture.shapes.bundle_shapes import berry_shape, josephine_shape, overhand_shape
from coach.picture.shapes.sennits import flat_shape, swapped_shape, twist_deg
from coach.picture.shapes.wrap_shapes import wrap_shape
from coach.plan.measure.tie_size import around_size, bundle_size, flat_size
from coach.plan.plan_model import Count, PlannedStep
from coach.project import model

_HALVES: Final = (names.HALF_KNOT, names.REVERSE_HALF_KNOT)
_CLASP_ENDS_MM: Final = 15.0
_TURN_STEP_DEG: Final = 5.0
_FLAT: Final = (0.0, 0.0)


def lay_knots(loom: SceneBuilder, step: PlannedStep, done: int) -> None:
    """Lay out the knots of a step that are made when `done` counts are.

    Args:
        loom: The layout so far, which is changed.
        step: A step of knots on groups.
        done: How many counts of the whole plan are made.
    """
    times, last = getattr(step.source, "times", 1), min(step.end, done)
    lay = _lay_flat if loom.plan.counts[step.first].knot in names.FLAT_KNOTS else _lay_others
    for first in range(step.first, last, times):
        lay(
            loom,
            step,
            step.groups[(first - step.first) // times],
            range(first, first + times),
            done,
        )


def _lay_flat(
    loom: SceneBuilder, step: PlannedStep, group: Sequence[int], run: range, done: int
) -> None:
    """Lay out a run of square or half knots on one group, each from the end of the last."""
    x, counts, places = loom.middle(group), loom.plan.counts, loom.places
    clasped = bool(getattr(step.source, "clasp", ""))
    each = twist_deg(len(run)) if counts[run[0]].knot in _HALVES else 0.0
    for made, number in enumerate(run[: done - run[0]]):
        count, y = counts[number], places.top_mm[number]
        down = round(places.bottom_mm[number] - y, 3)
        turn = _turn(each, made) if each else _FLAT
        key = (id(count), down, turn)
        shape = loom.shapes.get(key)
        if shape is None:
            shape = loom.shapes[key] = _flat(loom, count, down, turn, bundled=clasped)
        strands = count.knotters + count.fillers
        loom.put(number, count.knot, shape, (x, y), strands, goes_on=made > 0)
    if clasped and run[-1] < done:
        _let_hang(loom, counts[run[-1]].knotters, run[-1])


def _let_hang(loom: SceneBuilder, clasp: Sequence[int], number: int) -> None:
    """Lay out the ends of a separate piece a little below the knots that it tied."""
    for strand in clasp:
        x, y = loom.at[strand]
        loom.reach(number, strand, x, y + _CLASP_ENDS_MM)


def _lay_others(
    loom: SceneBuilder, step: PlannedStep, group: Sequence[int], run: range, done: int
) -> None:
    for made, number in enumerate(run[: done - run[0]]):
        _lay(loom, step, group, number, (made, len(run)))


def _lay(
    loom: SceneBuilder, step: PlannedStep, group: Sequence[int], number: int, run: tuple[int, int]
) -> None:
    """Lay out one knot, given its place in its run."""
    count, source = loom.plan.counts[number], step.source
    x, y = loom.middle(group), loom.places.top_mm[number]
    down = round(loom.places.bottom_mm[number] - y, 3)
    strands = count.knotters + count.fillers
    if isinstance(source, model.RigidRow):
        lay_rigid(loom, step, source, number)
        return
    if isinstance(source, model.OwnTied):
        loom.put(
            number, count.knot, own_knot_shape(loom, strands, count.knot, down), (x, y), strands
        )
        return
    if count.knot == names.GATHERING:
        shape = _gathering(loom, count, down, mirrored=step.mirrored)
    elif isinstance(source, model.AroundKnot):
        x, shape = _around(loom, source, count, down, run)
    elif count.knot == names.CHAIN:
        x, shape = _chain(loom, x, group, count, down)
    elif count.knot == names.BERRY:
        shape = _berry(loom, count, down, getattr(source, "squares", 1), mirrored=step.mirrored)
    else:
        strands = tuple(group[::-1] if step.mirrored else group)
        shape = _bundle(loom, strands, count.knot, down)
        shape = mirrored_shape(shape) if step.mirrored else shape
    loom.put(number, count.knot, shape, (x, y), strands)


def _flat(
    loom: SceneBuilder, count: Count, down: float, turn: tuple[float, float], *, bundled: bool
) -> Shape:
    looks, held = loom.look(count.knotters), loom.look(count.fillers)
    pair, inner = (looks[0][0], looks[1][0]), tuple([look[0] for look in held])
    size = flat_size(count.knot, pair, inner, spiral=False, nested=False, bundled=bundled)
    across = round(size.across_mm, 3)
    return flat_shape(count.knot, (looks[0], looks[1]), held, across, down, degrees=turn)


def _turn(each: float, made: int) -> tuple[float, float]:
    """Return how far a run has turned above and below one knot.

    Rounded to a few degrees, so that many ties of a long run share a shape.
    """
    first = round(each * made / _TURN_STEP_DEG) * _TURN_STEP_DEG % 360
    return first, first + round(each)


def _gathering(loom: SceneBuilder, count: Count, down: float, *, mirrored: bool) -> Shape:
    wrap, bundle = loom.looks[count.knotters[0]], loom.look(count.fillers)
    inner = tuple([look[0] for look in bundle])
    across = geometry.gathering(wrap[0], inner, max(down, wrap[0])).across_mm
    turns = geometry.gathering_turns(wrap[0], down)
    own = bundle[::-1] if mirrored else bundle
    shape = wrap_shape(wrap, own, round(across, 3), down, turns)
    return _refilled(mirrored_shape(shape)) if mirrored else shape


def _around(
    loom: SceneBuilder, source: model.AroundKnot, count: Count, down: float, run: tuple[int, int]
) -> tuple[float, Shape]:
    """Return a knot round others, or a barrel knot, and the height of its middle."""
    knotter, held = count.knotters[0], count.fillers
    look, looks = loom.looks[knotter], loom.look(held)
    if not held:
        knot = names.OVERHAND if source.turns < 2 else names.DOUBLE_OVERHAND  # noqa: PLR2004
        return loom.grid.x_mm[knotter], overhand_shape(knot, (look,), source.turns)
    xs = loom.grid.side_by_side(held)
    x, left = sum(xs) / len(xs), loom.grid.x_mm[knotter] < sum(xs) / len(xs)
    own = looks if left else looks[::-1]
    inner = tuple([one[0] for one in looks])
    core = geometry.bundle_hull(inner).diameter_mm if len(inner) > 1 else looks[0][1]
    if count.knot == names.BARREL:
        across = around_size(count.knot, look[0], inner, source.turns).across_mm
        shape = wrap_shape(look, own, round(across, 3), down, source.turns)
        return x, shape if left else _refilled(mirrored_shape(shape))
    winds = count.knot == names.HALF_HITCH
    each = twist_deg(run[1]) if winds else 0.0
    turn = _turn(each, run[0]) if each else _FLAT
    shape = around_shape(count.knot, look, own, round(core, 3), down, degrees=turn)
    return x, shape if left else _refilled(mirrored_shape(shape))


def _refilled(shape: Shape) -> Shape:
    """Number a mirrored shape's fillers from the left again."""
    last = len(shape.enter)
    order = (0, *range(last - 1, 0, -1))
    stretches = tuple(
        [replace(s, strand=last - s.strand) if s.strand else s for s in shape.stretches]
    )
    enter, leave = (tuple([ends[n] for n in order]) for ends in (shape.enter, shape.leave))
    key = (*shape.key, "refilled")
    return Shape(stretches, enter, leave, shape.box, shape.lean_deg, key, shape.covers)


def _chain(
    loom: SceneBuilder, x: float, group: Sequence[int], count: Count, down: float
) -> tuple[float, Shape]:
    """Return one hitch of a chain, tied by its left or its right strand, and its place."""
    look, held = loom.looks[count.knotters[0]], loom.looks[count.fillers[0]]
    shape = around_shape(names.HALF_HITCH, look, (held,), held[1], down)
    aside = -shape.enter[0][0] / 2
    if count.knotters[0] == group[0]:
        return x + aside, shape
    return x - aside, mirrored_shape(shape)


def _berry(loom: SceneBuilder, count: Count, down: float, squares: int, *, mirrored: bool) -> Shape:
    pair, held = loom.look(count.knotters), loom.look(count.fillers)
    outer = (pair[0][0], *[look[0] for look in held], pair[1][0])
    across = bundle_size(count.knot, outer, squares).across_mm
    if mirrored:
        return swapped_shape(berry_shape((pair[1], pair[0]), held[::-1], round(across, 3), down))
    return berry_shape((pair[0], pair[1]), held, round(across, 3), down)


def _bundle(loom: SceneBuilder, group: Sequence[int], knot: str, down: float) -> Shape:
    looks = loom.look(group)
    if knot != names.JOSEPHINE:
        return overhand_shape(knot, looks)
    across = bundle_size(knot, tuple([look[0] for look in looks]), 0).across_mm
    return josephine_shape(looks, round(across, 3), down)
