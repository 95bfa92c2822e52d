"""Work in the round as a tube: its front half over its back half, the seam behind."""

from dataclasses import replace
from math import cos, pi, sin

from coach.picture.boards import moved_scene
from coach.picture.scene import Fitting, Point, Run, Scene, Shape, Tie


def rolled_up(scene: Scene) -> Scene:
    """Return opened round work as it hangs closed; other work is returned as it is.

    The middle of the opened work is in front, its seam at the back. What lies to the side keeps its
    height and comes closer together. Parts made apart stay beside it as they are.
    """
    if not scene.closed or scene.half_mm <= 0:
        return scene
    apart = _beside(scene)
    own = {id(part) for parts in (apart.ties, apart.runs, apart.mounts) for part in parts}
    tube = _Tube(scene.half_mm)
    ties = [tie for tie in scene.ties if tie.half != "right" and id(tie) not in own]
    mounts = [tie for tie in scene.mounts if id(tie) not in own]
    runs = [run for run in scene.runs if id(run) not in own]
    fittings = tuple([tube.fitting(f) for f in scene.fittings if f not in apart.fittings])
    _, top, _, bottom = scene.box
    side = max([tube.radius_mm * 1.15, *[fitting.box[2] for fitting in fittings]])
    front = replace(
        scene, fittings=fittings, half_mm=tube.radius_mm, box=(-side, top, side, bottom),
        closed=False, spread_mm=scene.spread_mm / pi,
    )  # fmt: skip
    halves = [
        replace(
            front,
            ties=tuple([tube.tie(tie, behind=behind) for tie in ties]),
            mounts=tuple([tube.tie(tie, behind=behind) for tie in mounts]),
            runs=tuple([tube.run(r) for r in runs if tube.run_behind(r) == behind]),
        )
        for behind in (True, False)
    ]
    found = replace(halves[1], behind=replace(halves[0], fittings=()), tube=True)
    return _with(found, apart, scene.half_mm - tube.radius_mm) if own else found


def _beside(scene: Scene) -> Scene:
    """Return the parts made apart to the right of the work."""
    edge = scene.half_mm
    return replace(
        scene,
        ties=tuple([tie for tie in scene.ties if tie.box[0] > edge]),
        mounts=tuple([tie for tie in scene.mounts if tie.box[0] > edge]),
        runs=tuple([run for run in scene.runs if min(run.start[0], run.end[0]) > edge]),
        fittings=tuple([f for f in scene.fittings if f.box[0] > edge]),
        behind=None,
    )


def _with(tube: Scene, apart: Scene, nearer_mm: float) -> Scene:
    """Return a tube with the parts beside it moved nearer."""
    other = moved_scene(apart, -nearer_mm, 0.0)
    left, top, right, bottom = tube.box
    return replace(
        tube, ties=tube.ties + other.ties, runs=tube.runs + other.runs,
        mounts=tube.mounts + other.mounts, fittings=tube.fittings + other.fittings,
        box=(left, top, max(right, other.box[2]), bottom),
    )  # fmt: skip


class _Tube:
    """A tube whose circumference is the width of the opened work."""

    def __init__(self, half_mm: float) -> None:
        self.radius_mm = half_mm / pi
        self._half_mm = half_mm

    def behind(self, x: float) -> bool:
        """Return whether a horizontal place is at the back."""
        return cos(pi * x / self._half_mm) < 0

    def across(self, point: Point) -> Point:
        """Return where a point of the opened work is seen."""
        return self.radius_mm * sin(pi * point[0] / self._half_mm), point[1]

    def tie(self, tie: Tie, *, behind: bool) -> Tie:
        """Return the part of a tie in one half; that of the back is seen from within."""
        own = {strand: number for number, strand in enumerate(tie.strands)}
        laid = []
        for s in tie.stretches():
            if self.behind(sum(x for x, _ in s.path) / len(s.path)) == behind:
                layer = -s.layer if behind else s.layer
                path = tuple(map(self.across, s.path))
                laid.append(replace(s, strand=own[s.strand], layer=layer, path=path))
        laid.sort(key=lambda s: s.layer)
        xs = [x for s in laid for x, _ in s.path] or [0.0]
        box = (min(xs), tie.box[1], max(xs), tie.box[3])
        shape = Shape(tuple(laid), tie.shape.enter, tie.shape.leave, box, covers=tie.shape.covers)
        return replace(tie, shape=shape, x_mm=0.0, y_mm=0.0, turned=False, half="")

    def run_behind(self, run: Run) -> bool:
        """Return whether a strand between two ties is at the back."""
        return self.behind((run.start[0] + run.end[0]) / 2)

    def run(self, run: Run) -> Run:
        """Return a strand between two ties."""
        layer = -run.layer if self.run_behind(run) else run.layer
        start, end = self.across(run.start), self.across(run.end)
        return replace(run, layer=layer, start=start, end=end, bulge_mm=0.0)

    def fitting(self, fitting: Fitting) -> Fitting:
        """Return what it hangs on, no wider than the tube; beads keep their place."""
        left, top, right, bottom = fitting.box
        if fitting.kind == "bead":
            x = self.across(((left + right) / 2, top))[0] - (left + right) / 2
            return replace(fitting, box=(left + x, top, right + x, bottom))
        if fitting.kind in ("dowel", "bar", "cord"):
            over = max(3.0, (right - left) / 2 - self._half_mm)
            half = self.radius_mm + over
            return replace(fitting, box=(-half, top, half, bottom))
        return fitting
