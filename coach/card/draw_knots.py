"""Knots in groups, round others and round the bundle, drawn."""

from collections.abc import Sequence
from typing import Final

from coach.card import flat, hitches
from coach.card.cord_paths import Run, bent
from coach.card.interlaced import interlaced
from coach.card.sketch import LEAD, TOP, Sketch
from coach.knots import names
from coach.knots.stages import STAGES
from coach.plan.plan_model import Count, PlannedStep
from coach.project import model

_MOST_HALVES: Final = 4
_MOST_TURNS: Final = 6


def draw_knots(sketch: Sketch, own: Sequence[Count]) -> set[int]:
    """Draw the knots of a step, each group's at most a few times over."""
    busy: set[int] = set()
    sketch.bottom = TOP + LEAD * 2 + _room(sketch.step, own)
    per_group = max(1, len(own) // max(1, len(sketch.step.groups)))
    for number, group in enumerate(sketch.step.groups):
        ties = own[number * per_group : (number + 1) * per_group]
        if not ties or not any(_inside(sketch, strand) for strand in group):
            continue
        busy.update(group)
        knot = ties[0].knot
        if knot in names.FLAT_KNOTS and not sketch.step.new_strands:
            _flat(sketch, group, ties)
        elif isinstance(sketch.step.source, model.AroundKnot) or knot == names.CHAIN:
            _around(sketch, group, ties)
        else:
            _bundle(sketch, group, ties)
    return busy


def _inside(sketch: Sketch, strand: int) -> bool:
    step = sketch.step
    return strand in step.before and sketch.frame.has(step.before.index(strand))


def _halves(ties: Sequence[Count]) -> list[bool]:
    """Return for each half knot to draw whether it begins on the left; long runs are cut short."""
    knot = ties[0].knot
    left = knot in (names.SQUARE, names.HALF_KNOT)
    if knot in (names.SQUARE, names.REVERSE_SQUARE):
        return [left, not left] * min(len(ties), 2)
    shown = len(ties) if len(ties) < _MOST_HALVES else _MOST_HALVES - 2 + len(ties) % 2
    return [left] * shown


def _room(step: PlannedStep, own: Sequence[Count]) -> float:
    """Return how high the knots of a step are drawn."""
    knot = own[0].knot
    per_group = len(own) // max(1, len(step.groups))
    if knot in names.FLAT_KNOTS and not step.new_strands:
        return flat.HALF * len(_halves(own[:per_group]))
    if isinstance(step.source, model.AroundKnot) or knot == names.CHAIN:
        return 13.0 * len(_heights(own[:per_group]))
    return {names.JOSEPHINE: 120.0, names.BERRY: 56.0, names.GATHERING: 52.0}.get(knot, 44.0)


def _flat(sketch: Sketch, group: tuple[int, ...], ties: Sequence[Count]) -> None:
    """Draw flat knots: the outer two round the inner ones, which hang straight."""
    top = TOP + LEAD
    halves = _halves(ties)
    left, right = ties[0].knotters
    xs = sketch.enters(group[0])[0], sketch.enters(group[-1])[0]
    for strand, x in ((left, xs[0]), (right, xs[1])):
        lead = sketch.enters(strand)
        sketch.runs.append(Run(sketch.yarn(strand), ((x, lead[1]), (x, top + 1)), 2))
    for from_left in halves:
        first, second = (left, right) if from_left else (right, left)
        sides = xs if from_left else xs[::-1]
        back = sides[0] + (8.0 if from_left else -8.0)
        sketch.runs += flat.half_knot(sketch.yarn(first), sketch.yarn(second), sides, top, back)
        left, right = right, left
        top += flat.HALF
    for strand, x in ((left, xs[0]), (right, xs[1])):
        sketch.runs.append(Run(sketch.yarn(strand), ((x, top - 1), sketch.leaves(strand)), 2))
    for strand in group[1:-1]:
        way = (sketch.enters(strand), sketch.leaves(strand))
        sketch.runs.append(Run(sketch.yarn(strand), way, 2))


def _heights(ties: Sequence[Count]) -> list[float]:
    """Return the height of each turn of hitches round others; long runs are cut short."""
    turns = max(1, min(sum(max(1, tie.passes) for tie in ties), _MOST_TURNS))
    return [TOP + LEAD + 6 + 13.0 * turn for turn in range(turns)]


def _around(sketch: Sketch, group: tuple[int, ...], ties: Sequence[Count]) -> None:
    """Draw one strand's turns round others; in a chain the two strands take turns."""
    ys = _heights(ties)
    knotter, fillers = ties[0].knotters[0], ties[0].fillers or ties[0].knotters
    xs = [sketch.enters(strand)[0] for strand in fillers]
    for strand in group:
        if strand != knotter or not ties[0].fillers:
            way = tuple(bent(sketch.enters(strand), sketch.leaves(strand)))
            sketch.runs.append(Run(sketch.yarn(strand), way, 2))
    start, end = sketch.enters(knotter), sketch.leaves(knotter)
    if ties[0].knot == names.CHAIN:
        sketch.runs.append(Run(sketch.yarn(knotter), (start, end), 2))
        for number, y in enumerate(ys):
            hitching, other = (knotter, fillers[0]) if number % 2 == 0 else (fillers[0], knotter)
            own_x, over_x = sketch.enters(hitching)[0], sketch.enters(other)[0]
            far = over_x + (hitches.REACH if over_x > own_x else -hitches.REACH)
            sketch.runs.append(Run(sketch.yarn(hitching), ((own_x, y), (far, y)), 4))
        return
    if not ties[0].fillers:
        sketch.runs += flat.wrapped(sketch.yarn(knotter), xs, ys[0], min(ties[0].passes, 5))
        return
    left = start[0] < min(xs)
    side = min(xs) - hitches.REACH if left else max(xs) + hitches.REACH
    sketch.runs.append(Run(sketch.yarn(knotter), (start, (start[0], ys[0] - 8), (side, ys[0])), 4))
    sketch.runs.append(Run(sketch.yarn(knotter), ((side, ys[-1]), (end[0], ys[-1] + 14), end), 1))
    bar = ties[0].knot in (names.LARKS_HEAD, names.REVERSE_LARKS_HEAD)
    sketch.runs += hitches.turns_round(sketch.yarn(knotter), xs, ys, start[0], bar)


def _bundle(sketch: Sketch, group: tuple[int, ...], ties: Sequence[Count]) -> None:
    """Draw strands drawn together under a wrap, or rolled into a berry or a knot of the bundle."""
    knot = ties[0].knot
    ways = [(sketch.enters(strand), sketch.leaves(strand)) for strand in group]
    middle = (sum(start[0] for start, _ in ways) / len(ways), TOP + LEAD + 6)
    yarns = [sketch.yarn(strand) for strand in group]
    high = sketch.bottom - middle[1] - LEAD
    if knot == names.JOSEPHINE:
        _josephine(sketch, group, middle[1])
        return
    sketch.runs += flat.gathered(yarns, ways, middle, high)
    near = [middle[0] - 1.7 * len(group), middle[0] + 1.7 * len(group)]
    wrap = sketch.yarn(ties[0].knotters[0])
    if knot == names.GATHERING or sketch.step.new_strands:
        sketch.runs += flat.wrapped(wrap, near, middle[1] + 2, 5)
    elif knot == names.BERRY:
        sketch.runs += flat.wrapped(wrap, [near[0] - 4, near[1] + 4], middle[1], 4)
    else:
        turns = 2 if knot == names.DOUBLE_OVERHAND else 1
        sketch.runs += flat.wrapped(yarns[0], near, middle[1] + high / 2 - 4, turns)


def _josephine(sketch: Sketch, group: tuple[int, ...], top: float) -> None:
    """Draw two halves that interlace, the strands of each side by side."""
    diagram = STAGES[names.JOSEPHINE][-1].diagram
    half, apart = len(group) // 2, 8.0
    xs = [sketch.enters(strand)[0] for strand in group]
    unit = max(max(xs) - min(xs), 66.0) / 12
    left = sum(xs) / len(xs) - 6 * unit
    sides = (group[:half], group[half:])
    cords = [
        [(sketch.yarn(s), (n - (half - 1) / 2) * apart) for n, s in enumerate(side)]
        for side in sides
    ]
    sketch.runs += interlaced(diagram, lambda x, y: (left + x * unit, top + y * unit), cords, 4)
    for side, path, strands in zip(sides, diagram.cords, cords, strict=True):
        for strand, (yarn, aside) in zip(side, strands, strict=True):
            ends = [(left + x * unit + aside, top + y * unit + aside) for x, y in path.corners]
            sketch.runs.append(Run(yarn, (sketch.enters(strand), ends[0]), 2))
            sketch.runs.append(Run(yarn, (ends[-1], sketch.leaves(strand)), 2))
