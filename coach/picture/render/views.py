"""A scene from its other side."""

from dataclasses import replace
from typing import Final

from coach.picture.scene import Fitting, Half, Run, Scene, Tie

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
    """Return a scene of several layers from its other side: what was behind all is before it."""
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
