"""A whole scene in another shape: bent into a disc, or seen from its other side."""

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from math import cos, pi, sin
from typing import Final

from coach.picture.scene import Box, Fitting, Half, Point, Run, Scene, Shape, Tie

Bend = Callable[[Point], Point]
"""Where a point of the unrolled work lies on the disc."""
_PARTS: Final = 4  # straight pieces that a strand between two ties is bent in


def as_disc(scene: Scene, middle_mm: float) -> Scene:
    """Bend unrolled round work into a disc.

    Args:
        scene: The work unrolled, from seam to seam, its first round at the top.
        middle_mm: The radius of the first round.
    """
    half = scene.half_mm or 1.0

    def bent(point: Point) -> Point:
        x, y = point
        angle, radius = pi * x / half, max(0.0, middle_mm + y)
        return radius * sin(angle), radius * cos(angle)

    ties = tuple(_bent_tie(tie, bent) for tie in scene.ties if tie.half != "left")
    runs = tuple(part for run in scene.runs for part in _bent_run(run, bent, half))
    points = [p for tie in ties for s in tie.shape.stretches for p in s.path]
    points += [p for run in runs for p in (run.start, run.end)]
    reach = max((max(abs(x), abs(y)) for x, y in points), default=1.0) + 2.0
    box: Box = (-reach, -reach, reach, reach)
    return replace(
        scene, ties=ties, runs=runs, mounts=(), fittings=(), box=box, half_mm=reach, closed=False
    )


def _bent_tie(tie: Tie, bent: Bend) -> Tie:
    stretches = tuple(
        replace(s, path=tuple(map(bent, s.path)), strand=tie.strands.index(s.strand))
        for s in tie.stretches()
    )
    at = [(x + tie.x_mm, y + tie.y_mm) for x, y in (*tie.shape.enter, *tie.shape.leave)]
    moved = tuple(map(bent, at))
    own = len(tie.shape.enter)
    xs, ys = zip(*(p for s in stretches for p in s.path), strict=True)
    box = (min(xs), min(ys), max(xs), max(ys))
    shape = Shape(stretches, moved[:own], moved[own:], box, tie.shape.lean_deg)
    return replace(tie, shape=shape, x_mm=0.0, y_mm=0.0, turned=False, half="")


def _bent_run(run: Run, bent: Bend, half: float) -> list[Run]:
    """Return a strand between two ties as straight pieces around the middle."""
    (x0, y0), (x1, y1) = run.start, run.end
    if abs(x1 - x0) > half:  # the shorter way is over the seam
        x1 += -2 * half if x1 > x0 else 2 * half
    ends = [(x0 + (x1 - x0) * n / _PARTS, y0 + (y1 - y0) * n / _PARTS) for n in range(_PARTS + 1)]
    at = list(map(bent, ends))
    return [replace(run, start=a, end=b, bulge_mm=0.0) for a, b in pairwise(at)]


_HALVES: Final[dict[Half, Half]] = {"left": "right", "right": "left", "": ""}


def turned_over(scene: Scene, *, back: bool) -> Scene:
    """Return a scene as it is seen from its other side."""
    if scene.behind and not scene.tube:
        return _layers_turned(scene, back=back)
    left, top, right, bottom = scene.box
    return replace(
        scene,
        ties=tuple(map(_other_side, scene.ties)),
        runs=tuple(
            [
                Run(
                    r.count, r.strand, (-r.start[0], r.start[1]), (-r.end[0], r.end[1]),
                    r.width_mm, -r.layer, -r.bulge_mm,
                )
                for r in scene.runs
            ]
        ),
        mounts=tuple(map(_other_side, scene.mounts)),
        fittings=tuple(
            [Fitting(f.kind, (-f.box[2], f.box[1], -f.box[0], f.box[3]), f.thick_mm)
             for f in scene.fittings]
        ),
        box=(-right, top, -left, bottom),
        finish=scene.finish[::-1],
        back=back,
    )  # fmt: skip


def _layers_turned(scene: Scene, *, back: bool) -> Scene:
    """Return a scene of several layers from its other side, front and back swapped."""
    layers, layer = [scene], scene.behind
    while layer:
        layers.append(layer)
        layer = layer.behind
    seen = [turned_over(replace(one, behind=None), back=back) for one in layers]
    found = seen[0]
    for one in seen[1:]:
        found = replace(one, behind=found)
    return replace(
        seen[0], ties=found.ties, runs=found.runs, mounts=found.mounts, fittings=found.fittings,
        behind=found.behind,
    )  # fmt: skip


def _other_side(tie: Tie) -> Tie:
    return replace(tie, x_mm=-tie.x_mm, turned=not tie.turned, half=_HALVES[tie.half])
