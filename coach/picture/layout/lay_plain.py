"""Layout of steps without a knot: beads, picots, turns, crossings, additions, folds, cuts."""

from collections.abc import Callable
from typing import Any, Final

from coach.picture.layout.scene_builder import SceneBuilder
from coach.picture.scene import Fitting, mirrored_shape
from coach.picture.shapes.mountings import onto_strand, pinned_shape, single_strand_shape
from coach.picture.shapes.wrap_shapes import picot_shape, threaded_shape, turn_shape
from coach.plan.plan_model import PlannedStep
from coach.project import model

_SEEN_MM: Final = 30.0  # of an end that comes down, or of one that points back


def bring_down(loom: SceneBuilder, step: PlannedStep, down: model.BringDown) -> None:
    """Lay out free ends of the start that come down to the height of the work.

    Args:
        loom: The layout so far, which is changed.
        step: The planned step, with the strands that come.
        down: The step as written.
    """
    del down
    loom.grid.stand(step.after)
    y = _height_mm(loom, step)
    for strand in step.new_strands:
        x = loom.grid.x_mm[strand]
        loom.at[strand] = (x, y - _SEEN_MM)
        loom.reach(step.first, strand, x, y)


def _height_mm(loom: SceneBuilder, step: PlannedStep) -> float:
    at = [step.after.index(strand) for strand in step.new_strands]
    beside = [*step.after[max(0, min(at) - 1) : min(at)], *step.after[max(at) + 1 : max(at) + 2]]
    return max([loom.at[s][1] for s in beside if s in loom.at], default=0.0)


def fold_back(loom: SceneBuilder, step: PlannedStep, fold: model.FoldBack) -> None:
    """Lay out strands that go down to the end of their loop and back up.

    Args:
        loom: The layout so far, which is changed.
        step: The planned step, with the strands that turn.
        fold: The step as written, with the length of the loop.
    """
    for strand in step.groups[0]:
        x, y = loom.at.get(strand, (loom.grid.x_mm[strand], loom.places.top_mm[step.first]))
        beside = x + loom.loose_mm[strand] / 2
        loom.reach(step.first, strand, beside, y + fold.loop_mm, 0.0)
        loom.at[strand] = (beside + loom.loose_mm[strand] / 2, y + fold.loop_mm)
        loom.reach(step.first, strand, beside + loom.loose_mm[strand] / 2, y, 0.0)
        loom.cut_mm[strand] = y - _SEEN_MM
        loom.back.add(strand)


_BEAD_WIDE: Final = 1.05  # of its length
_STUB_MM: Final = 40.0  # of a strand that is laid aside with nothing said of its end


def lay_plain(loom: SceneBuilder, step: PlannedStep) -> None:
    """Lay out a step without a knot."""
    laid = _LAID.get(type(step.source))
    if laid:
        laid(loom, step, step.source)


def _bead(loom: SceneBuilder, step: PlannedStep, bead: model.Bead) -> None:
    strands = step.groups[0]
    xs, looks = loom.grid.side_by_side(strands), loom.look(strands)
    x, top = sum(xs) / len(xs), loom.places.top_mm[step.first]
    down = loom.places.bottom_mm[step.first] - top
    inside = max(look[1] for look in looks) * min(len(looks), 3)
    wide = max(bead.size_mm * _BEAD_WIDE, inside * 1.4)
    loom.put(step.first, "", threaded_shape(looks, inside, round(down, 3)), (x, top), strands)
    x = -x if loom.turned else x
    loom.fittings.append(Fitting("bead", (x - wide / 2, top, x + wide / 2, top + down), inside))


def _picot(loom: SceneBuilder, step: PlannedStep, loop: model.Picot) -> None:
    for strand in step.groups[0]:
        x, y = loom.at.get(strand, (loom.grid.x_mm[strand], loom.places.top_mm[step.first]))
        shape = picot_shape(loom.looks[strand], loop.loop_mm)
        middle = abs(loom.grid.x_mm[strand]) < loom.grid.room_mm[strand] / 4
        right = step.mirrored if middle else loom.grid.x_mm[strand] > 0
        loom.put(step.first, "", mirrored_shape(shape) if right else shape, (x, y), (strand,))


def _turn(loom: SceneBuilder, step: PlannedStep, turn: model.Turn) -> None:
    holder, *around = step.groups[0]
    x, y = loom.at.get(holder, (loom.grid.x_mm[holder], loom.places.top_mm[step.first]))
    if turn.around is None:
        out = 1.0 if x > 0 else -1.0
        loom.bulge[holder] = out * loom.loose_mm[holder] * 0.9
        return
    shape = turn_shape(loom.looks[holder], loom.looks[around[0]])
    beside = loom.grid.x_mm[around[0]]
    face = shape if loom.grid.x_mm[holder] < beside else mirrored_shape(shape)
    low = max(y, loom.at.get(around[0], (0.0, y))[1])
    middle = (loom.grid.x_mm[holder] + beside) / 2
    loom.put(step.first, "", face, (middle, low), (holder, around[0]))


def _cross(loom: SceneBuilder, step: PlannedStep, cross: model.Cross) -> None:
    """Lay out crossing strands, those going right on top; in a mirror those going left."""
    del cross
    before = {strand: place for place, strand in enumerate(step.before)}
    for place, strand in enumerate(step.after):
        if place != before[strand]:
            right = place > before[strand]
            loom.lift[strand] = 1 if right != step.mirrored else -1


def _add(loom: SceneBuilder, step: PlannedStep, add: model.Add) -> None:
    loom.grid.stand(step.after)
    new, held = step.new_strands, loom.plan.counts[step.first].fillers
    at = min(map(step.after.index, new))
    beside = [*step.after[max(0, at - 1) : at], *step.after[at + len(new) : at + len(new) + 1]]
    ys = [loom.at[strand][1] for strand in beside if strand in loom.at]
    y = max(ys, default=loom.places.top_mm[step.first])
    by_piece: dict[tuple[str, int], list[int]] = {}
    for strand in new:
        named = loom.plan.strands[strand]
        by_piece.setdefault((named.cord, named.piece), []).append(strand)
    for strands in by_piece.values():
        _hang(loom, step, strands, held if add.onto else (), y)


def _hang(
    loom: SceneBuilder, step: PlannedStep, strands: list[int], held: tuple[int, ...], y: float
) -> None:
    """Lay out one new piece: on a strand, or with its fold above the next knots."""
    look, xs = loom.looks[strands[0]], [loom.grid.x_mm[strand] for strand in strands]
    middle = sum(xs) / len(xs)
    if held:
        x, down = loom.at.get(held[0], (loom.grid.x_mm[held[0]], y))
        shape, right = onto_strand(look, loom.looks[held[0]]), middle > x
        near = sorted(strands, key=lambda s: round(abs(loom.grid.x_mm[s] - x), 3))
        own = tuple(near[: len(shape.enter)])
        loom.put(step.first, "", shape if right else mirrored_shape(shape), (x, down), own)
    elif len(strands) == 1:
        loom.put(
            step.first, "", single_strand_shape(look, 3 * look[0]), (middle, y), tuple(strands)
        )
    else:
        own = tuple(sorted(strands, key=loom.grid.x_mm.__getitem__))
        apart = round(loom.grid.x_mm[own[1]] - loom.grid.x_mm[own[0]], 3)
        loom.put(step.first, "", pinned_shape(look, apart, look[0]), (middle, y), own)


def _lay_aside(loom: SceneBuilder, step: PlannedStep, gone: model.LayAside) -> None:
    for strand in step.groups[0]:
        loom.aside[strand] = _STUB_MM if gone.leave_mm is None else gone.leave_mm
    loom.grid.stand(step.after)


def _take_up(loom: SceneBuilder, step: PlannedStep, back: model.TakeUp) -> None:
    del back
    loom.grid.stand(step.after)
    for strand in step.groups[0]:
        loom.aside.pop(strand, None)
        loom.lift[strand] = -1


def _trim(loom: SceneBuilder, step: PlannedStep, trim: model.Trim) -> None:
    """Cut ends along a line below the lowest knot, lower in the middle."""
    strands = step.groups[0]
    low = max(loom.at[strand][1] for strand in strands if strand in loom.at)
    low = max(low, loom.places.made_mm[step.first]) if len(strands) > 1 else low
    half = (len(strands) - 1) / 2
    more = 0.0 if trim.middle_mm is None else trim.middle_mm - trim.leave_mm
    for place, strand in enumerate(strands):
        share = 1 - abs(place - half) / half if half else 1.0
        if strand in loom.back:
            loom.cut_mm[strand] = loom.at[strand][1] - trim.leave_mm
            continue
        loom.cut_mm[strand] = low + trim.leave_mm + share * more


def _flip(loom: SceneBuilder, step: PlannedStep, flip: model.Flip) -> None:
    del flip
    loom.turn_over(step.after)


def _seam(loom: SceneBuilder, step: PlannedStep, seam: model.Seam) -> None:
    del seam
    loom.grid.count_from(step.after)


_LAID: Final[dict[type, Callable[[SceneBuilder, PlannedStep, Any], None]]] = {
    model.Bead: _bead,
    model.Picot: _picot,
    model.Turn: _turn,
    model.Cross: _cross,
    model.Add: _add,
    model.LayAside: _lay_aside,
    model.TakeUp: _take_up,
    model.Trim: _trim,
    model.Flip: _flip,
    model.Seam: _seam,
    model.BringDown: bring_down,
    model.FoldBack: fold_back,
}
