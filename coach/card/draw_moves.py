"""Plaits, and what is done with cords but without a knot, drawn."""

from collections.abc import Iterator, Sequence
from typing import Final

from coach.card import flat
from coach.card.cord_paths import Run, bent
from coach.card.sketch import LEAD, TOP, Draw, Sketch
from coach.card.svg import element
from coach.plan.plan_model import Count
from coach.project import model


def draw_braid(sketch: Sketch, own: Sequence[Count]) -> set[int]:
    """Draw a plait; one given by length is drawn over one period of six crossings."""
    step = sketch.step
    busy = {strand for group in step.groups for strand in group}
    crossings = min(len(own), 12) if len(own) > 1 else 6
    if len(own) > 1:
        crossings -= (len(own) - crossings) % 2
    bundles = [tuple(sorted(group, key=step.before.index)) for group in step.groups]
    bundles.sort(key=lambda group: step.before.index(group[0]))
    order = list(range(3))
    turned = step.mirrored
    slots = [_slots(sketch, bundles, order)]
    for crossing in range(crossings):
        from_right = (crossing % 2 == 0) != turned
        order = [order[0], order[2], order[1]] if from_right else [order[1], order[0], order[2]]
        slots.append(_slots(sketch, bundles, order))
    top = TOP + LEAD / 2
    sketch.bottom = top + crossings * flat.CROSSING + LEAD / 2
    yarns = [[sketch.yarn(strand) for strand in bundle] for bundle in bundles]
    sketch.runs += flat.plait(slots, yarns, top, mirrored=turned)
    for bundle, xs in zip(bundles, slots[0], strict=True):
        for strand, x in zip(bundle, xs, strict=True):
            sketch.runs.append(Run(sketch.yarn(strand), (sketch.enters(strand), (x, top)), 2))
    for bundle, xs in zip(bundles, slots[-1], strict=True):
        for strand, x in zip(bundle, xs, strict=True):
            end = (x, sketch.bottom - LEAD / 2)
            sketch.runs.append(Run(sketch.yarn(strand), (end, (x, sketch.bottom)), 40))
    return busy


def _slots(
    sketch: Sketch, bundles: Sequence[tuple[int, ...]], order: Sequence[int]
) -> list[list[float]]:
    """Return where the strands of each bundle stand when the bundles stand in this order."""
    at = min(sketch.step.before.index(strand) for bundle in bundles for strand in bundle)
    found: dict[int, list[float]] = {}
    for bundle in order:
        found[bundle] = [sketch.frame.x(at + n) for n in range(len(bundles[bundle]))]
        at += len(bundles[bundle])
    return [found[bundle] for bundle in range(len(bundles))]


def _cross(sketch: Sketch, own: Sequence[Count]) -> set[int]:
    """Draw strands that change places; those that go to the left lie over."""
    del own
    busy = set(sketch.step.before)
    for strand in sketch.step.before:
        start, end = sketch.enters(strand), sketch.leaves(strand)
        points = tuple(bent(start, end))
        sketch.runs.append(Run(sketch.yarn(strand), points, 3 if end[0] < start[0] else 2))
    return busy


def _turn(sketch: Sketch, own: Sequence[Count]) -> set[int]:
    """Draw a holder that turns round a pin or a neighbour."""
    del own
    holder, *around = sketch.step.groups[0]
    start, end = sketch.enters(holder), sketch.leaves(holder)
    y = (start[1] + end[1]) / 2
    if not around:
        side = 11.0 if start[0] > sketch.frame.width / 2 else -11.0
        points = (start, (start[0] + side, y - 10), (start[0] + side, y + 10), end)
        sketch.runs.append(Run(sketch.yarn(holder), points, 3))
        sketch.shapes.append(element("circle", cx=start[0] + side / 4, cy=y, r=4.0, class_="pin"))
        return {holder}
    x = sketch.enters(around[0])[0]
    far = x + (10.0 if x > start[0] else -10.0)
    sketch.runs.append(Run(sketch.yarn(holder), (start, (start[0], y - 12), (far, y - 6)), 3))
    sketch.runs.append(
        Run(sketch.yarn(holder), ((far, y - 6), (far, y + 6), (start[0], y + 12), end), 1)
    )
    return {holder}


def _bead(sketch: Sketch, own: Sequence[Count]) -> set[int]:
    """Draw a bead that strands go through."""
    del own
    xs = [sketch.enters(strand)[0] for strand in sketch.step.groups[0]]
    y = (TOP + sketch.bottom) / 2
    sketch.shapes.append(
        element("rect", x=min(xs) - 9, y=y - 13, width=max(xs) - min(xs) + 18, height=26.0,
                rx=11.0, class_="bead")
    )  # fmt: skip
    return set()


def _picot(sketch: Sketch, own: Sequence[Count]) -> set[int]:
    """Draw loops that stand out."""
    del own
    for strand in sketch.step.groups[0]:
        start, end = sketch.enters(strand), sketch.leaves(strand)
        y = (start[1] + end[1]) / 2
        side = -11.0 if start[0] < sketch.frame.width / 2 else 11.0
        points = (start, (start[0], y - 12), (start[0] + side, y), (start[0], y + 12), end)
        sketch.runs.append(Run(sketch.yarn(strand), points, 3))
    return set(sketch.step.groups[0])


def _add(sketch: Sketch, own: Sequence[Count]) -> set[int]:
    """Draw new strands that come in by pairs, as loops over what they hang on."""
    y = TOP + LEAD
    for pair in _pairs(sketch.step.new_strands):
        ends = [sketch.leaves(strand) for strand in pair]
        points = (ends[0], (ends[0][0], y), (ends[-1][0], y), ends[-1])
        sketch.runs.append(Run(sketch.yarn(pair[0]), points, 4))
    held = own[0].fillers
    for strand in held:
        way = tuple(bent(sketch.enters(strand), sketch.leaves(strand)))
        sketch.runs.append(Run(sketch.yarn(strand), way, 2))
    return {*sketch.step.new_strands, *held}


def _pairs(strands: Sequence[int]) -> Iterator[Sequence[int]]:
    for at in range(0, len(strands), 2):
        yield strands[at : at + 2]


def _aside(sketch: Sketch, own: Sequence[Count]) -> set[int]:
    """Draw strands that end here for now."""
    del own
    for strand in sketch.step.groups[0]:
        start = sketch.enters(strand)
        points = (start, (start[0], start[1] + 18), (start[0] - 8, start[1] + 26))
        sketch.runs.append(Run(sketch.yarn(strand), points, 3))
    return set(sketch.step.groups[0])


PLAIN: Final[dict[type, Draw]] = {
    model.Cross: _cross,
    model.Turn: _turn,
    model.Bead: _bead,
    model.Picot: _picot,
    model.Add: _add,
    model.LayAside: _aside,
}
