"""Scenes of work on several boards: both sides of work begun in the middle, parts made apart."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Final

from coach.picture.layers import layers, stack_scenes
from coach.picture.scene import Box, Fitting, Run, Scene, Segment, Shape, Tie
from coach.plan.measure.section_measures import sides
from coach.plan.plan_model import Plan
from coach.plan.section_plans import SectionPlan
from coach.plan.sections import main_section
from coach.plan.steps import PlannedStep

_BETWEEN: Final = 0.15  # between pieces that lie side by side, of the wider one
_LEAST_MM: Final = 12.0
_HELD: Final = ("pin",)

Draw = Callable[[Plan, int], Scene]


def scene_of_boards(plan: Plan, done: int, draw: Draw) -> Scene:
    """Build the scene of a plan of several sections when `done` counts are made.

    While a part is made apart, that is drawn; otherwise the piece itself, and beside it, to the
    same scale, all that is made apart by then.

    Args:
        plan: The whole plan.
        done: How many counts are made.
        draw: Build the scene of one board.
    """
    step = plan.step_at(done)
    number = main_section(plan) if step is None else step.section
    if step is not None and plan.sections[number].name:
        return _whole(plan, number, done, draw, number)
    apart = [n for n in _made(plan, done) if plan.sections[n].name and n != number]
    main = [number] if plan.sections[number].order else []
    scenes = {n: _whole(plan, n, done, draw, number) for n in (*main, *apart)}
    if not scenes:
        return draw(plan.by_section[number].plan, 0)
    if main and not plan.sections[number].start.flat:
        _layer(plan, number, done, scenes)
    found = lay_side_by_side([*scenes.values()], plan)
    return found if main else replace(found, finish=(), made=done)


def _layer(plan: Plan, number: int, done: int, scenes: dict[int, Scene]) -> None:
    """Add attached parts as layers in front of the work or behind it, and no longer beside it."""
    work = scenes[number]
    for n, layer in layers(plan, plan.by_section[number], work, done).items():
        other = scenes.pop(n, None)
        if other is not None:
            x = layer.x_mm - (other.box[0] + other.box[2]) / 2
            placed = moved_scene(other, x, layer.y_mm)
            scenes[number] = stack_scenes(scenes[number], placed, layer.side)


def _made(plan: Plan, done: int) -> list[int]:
    """Return the sections that are finished, only the first side of each piece."""
    last: dict[int, PlannedStep] = {step.section: step for step in plan.steps}
    made = [n for n, step in last.items() if step.end <= done and not plan.sections[n].end]
    return sorted(made)


def _whole(plan: Plan, number: int, done: int, draw: Draw, at_hand: int) -> Scene:
    """Return a section's scene, with the other side of work begun in the middle above it."""
    own = plan.by_section[number]
    now = number == at_hand
    scene = _counted(draw(own.plan, own.done(done)), own, done if now else None)
    others = [n for n in sides(plan, number) if n != number]
    made = [plan.by_section[n] for n in others if plan.by_section[n].done(done)]
    for other in made:
        above = _counted(draw(other.plan, other.done(done)), other, None)
        scene = _above(_unpinned(above), _unpinned(scene))
    return replace(scene, length_mm=plan.places.made_mm[_seen(own, done, plan)])


def _counted(scene: Scene, own: SectionPlan[Plan], done: int | None) -> Scene:
    """Return a section's scene with ties and strands indexed by the whole plan.

    Strands that hang from the work being made lead to count `done`; None for other work.
    """
    counts = own.counts
    end = done if done is not None else counts[-1] if counts else -1
    return replace(
        scene,
        ties=tuple(replace(t, count=counts[t.count] if t.count >= 0 else -1) for t in scene.ties),
        runs=tuple(
            replace(r, count=counts[r.count] if 0 <= r.count < scene.made else end)
            for r in scene.runs
        ),
        made=end,
    )


def _seen(own: SectionPlan[Plan], done: int, plan: Plan) -> int:
    """Return the count after which the length of a section is given."""
    made = own.done(done)
    return own.counts[made - 1] + 1 if made and plan.step_at(done) is not None else done


def _unpinned(scene: Scene) -> Scene:
    """Return a scene without its start: cords that continue upward have no mounts."""
    return replace(
        scene, mounts=(), fittings=tuple(f for f in scene.fittings if f.kind not in _HELD)
    )


def _above(other: Scene, scene: Scene) -> Scene:
    """Put a scene above another, rotated by half a turn about the line between them."""
    turned = half_turned(other)
    return _together((turned, scene), scene)


def half_turned(scene: Scene) -> Scene:
    """Return a scene rotated by half a turn in its own plane."""
    left, top, right, bottom = scene.box
    return replace(
        scene,
        ties=tuple(
            replace(tie, shape=_half_turned(tie.shape), x_mm=-tie.x_mm, y_mm=-tie.y_mm)
            for tie in scene.ties
        ),
        runs=tuple(
            replace(
                run,
                start=(-run.end[0], -run.end[1]),
                end=(-run.start[0], -run.start[1]),
                bulge_mm=-run.bulge_mm,
            )
            for run in scene.runs
        ),
        fittings=tuple(
            Fitting(f.kind, (-f.box[2], -f.box[3], -f.box[0], -f.box[1]), f.thick_mm)
            for f in scene.fittings
        ),
        box=(-right, -bottom, -left, -top),
        finish=scene.finish[::-1],
    )


_HALF_TURNED: dict[int, tuple[Shape, Shape]] = {}
_MOST_KEPT: Final = 4096


def _half_turned(shape: Shape) -> Shape:
    """Return a shape rotated by half a turn; over stays over, shared shapes stay shared."""
    known = _HALF_TURNED.get(id(shape))
    if known and known[0] is shape:
        return known[1]
    left, top, right, bottom = shape.box
    found = replace(
        shape,
        stretches=tuple(
            Segment(s.strand, s.layer, s.width_mm, tuple((-x, -y) for x, y in s.path), s.capped)
            for s in shape.stretches
        ),
        enter=tuple((-x, -y) for x, y in shape.enter),
        leave=tuple((-x, -y) for x, y in shape.leave),
        box=(-right, -bottom, -left, -top),
        key=(*shape.key, "half turned") if shape.key else (),
    )
    if len(_HALF_TURNED) < _MOST_KEPT:
        _HALF_TURNED[id(shape)] = (shape, found)
    return found


def lay_side_by_side(scenes: Sequence[Scene], plan: Plan) -> Scene:
    """Lay pieces side by side from the left, their tops level; the first is the piece itself."""
    placed: list[Scene] = []
    for scene in scenes:
        if not placed:
            placed.append(scene)
            continue
        edge = placed[-1].box[2]
        wide = max(s.box[2] - s.box[0] for s in (placed[-1], scene))
        gap = max(_LEAST_MM, _BETWEEN * wide)
        placed.append(
            moved_scene(scene, edge + gap - scene.box[0], placed[0].box[1] - scene.box[1])
        )
    found = _together(placed, placed[0])
    return replace(found, length_mm=plan.length_mm if plan.sections[0].order else found.length_mm)


def moved_scene(scene: Scene, x_mm: float, y_mm: float) -> Scene:
    """Return a scene moved right and down.

    Args:
        scene: The work of one board.
        x_mm: How far to the right.
        y_mm: How far down; the box moves with it.
    """
    left, top, right, bottom = scene.box

    def tie(one: Tie) -> Tie:
        return replace(one, x_mm=one.x_mm + x_mm, y_mm=one.y_mm + y_mm)

    behind = moved_scene(scene.behind, x_mm, y_mm) if scene.behind else None
    return replace(
        scene,
        behind=behind,
        ties=tuple(map(tie, scene.ties)),
        mounts=tuple(map(tie, scene.mounts)),
        runs=tuple(
            replace(
                run,
                start=(run.start[0] + x_mm, run.start[1] + y_mm),
                end=(run.end[0] + x_mm, run.end[1] + y_mm),
            )
            for run in scene.runs
        ),
        fittings=tuple(
            Fitting(f.kind, _moved_box(f.box, x_mm, y_mm), f.thick_mm) for f in scene.fittings
        ),
        box=(left + x_mm, top + y_mm, right + x_mm, bottom + y_mm),
    )


def _moved_box(box: Box, x_mm: float, y_mm: float) -> Box:
    return box[0] + x_mm, box[1] + y_mm, box[2] + x_mm, box[3] + y_mm


def _together(scenes: Sequence[Scene], main: Scene) -> Scene:
    """Merge scenes into one, with the figures of `main`."""
    left, top, right, bottom = zip(*(scene.box for scene in scenes), strict=True)
    runs: tuple[Run, ...] = tuple(run for scene in scenes for run in scene.runs)
    return replace(
        main,
        ties=tuple(tie for scene in scenes for tie in scene.ties),
        runs=runs,
        mounts=tuple(tie for scene in scenes for tie in scene.mounts),
        fittings=tuple(fitting for scene in scenes for fitting in scene.fittings),
        box=(min(left), min(top), max(right), max(bottom)),
        left_out=sum(scene.left_out for scene in scenes),
    )
