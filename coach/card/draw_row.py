"""A row or weave, drawn: the mover lies across, each strand it meets is tied and moves over."""

from collections.abc import Sequence
from typing import Final

from coach.card import hitches
from coach.card.cord_paths import Run
from coach.card.frame import PITCH
from coach.card.sketch import LEAD, TOP, Sketch
from coach.card.svg import Point
from coach.knots import names
from coach.plan.plan_model import Count
from coach.project import model

_SLANT: Final = 9.0  # by how much a slanting row drops from strand to strand


def draw_row(sketch: Sketch, own: Sequence[Count]) -> set[int]:
    """Draw a row: the mover lies across, each strand it meets is tied half way to its new place."""
    step, frame = sketch.step, sketch.frame
    mover, *crossed = step.groups[0]
    right = step.direction == "right"
    source = step.source
    drop = _SLANT if isinstance(source, model.Row) and source.lie == "slant" else 0.0
    line = TOP + LEAD + 4
    sketch.bottom = line + drop * len(crossed) + LEAD + 12
    times = source.times if isinstance(source, model.Row) else 1
    start = sketch.enters(mover)
    path: list[Point] = [start, (start[0], line - 4)]
    for number, strand in enumerate(crossed):
        count = own[number * times]
        here = frame.x(step.before.index(strand))
        gone = frame.x(step.after.index(strand))
        at = ((here + gone) / 2, line + drop * number)
        if count.fillers[0] == mover:
            path.append(at)
            way = (sketch.enters(strand), at, sketch.leaves(strand))
            sketch.runs += hitches.onto_holder(count.knot, sketch.yarn(strand), way, right)
            continue
        near, far, turns = hitches.round_filler(
            sketch.yarn(mover), at, right, count.knot == names.HALF_HITCH, PITCH * 0.3
        )
        sketch.runs += [Run(sketch.yarn(mover), (path[-1], near), 3), *turns]
        path.append(far)
        hang = ((here, at[1] - 16), at, (gone, at[1] + 16))
        points = (sketch.enters(strand), *hang, sketch.leaves(strand))
        sketch.runs.append(Run(sketch.yarn(strand), points, 2))
    _mover(sketch, mover, path, own)
    return {mover, *crossed}


def _mover(sketch: Sketch, mover: int, path: list[Point], own: Sequence[Count]) -> None:
    """Draw the travelling strand where it holds; where it knots, only its way in and out."""
    end = sketch.leaves(mover)
    out = (end[0], path[-1][1] + 8)
    if any(count.fillers[0] == mover for count in own):
        sketch.runs.append(Run(sketch.yarn(mover), (*path, out, end), 3))
        return
    sketch.runs.append(Run(sketch.yarn(mover), tuple(path[:2]), 3))
    sketch.runs.append(Run(sketch.yarn(mover), (path[-1], out, end), 3))
