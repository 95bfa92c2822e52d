"""From a plan to its scene: steps are laid out one after the other up to a count."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from coach.picture.boards import scene_of_boards
from coach.picture.layout.hung_ends import Hairpin, bend, hang
from coach.picture.layout.lay_knots import lay_knots
from coach.picture.layout.lay_plain import lay_plain
from coach.picture.layout.lay_plaits import lay_plait
from coach.picture.layout.lay_rows import lay_row
from coach.picture.layout.loose_ends import let_hang
from coach.picture.layout.scene_builder import SceneBuilder
from coach.picture.reshaped import as_disc, turned_over
from coach.picture.scene import Box, Fitting, Point, Run, Scene, Tie
from coach.plan.board_at_count import order_at
from coach.plan.measure.measure import middle_mm
from coach.plan.measure.places import Places
from coach.plan.plan_model import Plan, PlannedStep

MOST_COUNTS: Final = 20_000
"""More are not drawn: nobody could look at them, and a browser would not show them."""
_TOP_TIES: Final = 64


def scene_of(
    plan: Plan, done: int | None = None, since: int = 0, *, back: bool = False
) -> Scene:  # fmt: skip
    """Build the scene of a plan when `done` counts are made, from count `since` on.

    Args:
        plan: The plan, whose hands set its size.
        done: How many counts are made; None for all of them.
        since: The first count that is drawn.
        back: Whether it is seen from behind the side that faces the maker then.
    """
    asked = len(plan.counts) if done is None else min(max(done, 0), len(plan.counts))
    if plan.sections:
        scene = scene_of_boards(plan, asked, scene_of)
        return turned_over(scene, back=True) if back and not scene.back else scene
    made = min(asked, since + MOST_COUNTS)
    found = plan.places
    loop = _loop(plan, found, made)
    loom = SceneBuilder(plan, found)
    mounts: list[Tie] = []
    held: list[Fitting] = []
    loom.at.update(loop.ends)
    if not loop.ties:
        mounts, held = hang(loom)
    for step in plan.steps:
        if step.first >= made and made < len(plan.counts):
            break
        if not step.unfolded:
            lay(loom, step, made)
    order = order_at(plan, made)
    let_hang(loom, order, made)
    scene = scene_from(loom, found, (loop.ties, mounts, held), made, order)
    scene = replace(scene, left_out=asked - made)
    if since > 0:
        scene = _since(scene, since)
    if plan.project.start.flat:
        scene = replace(as_disc(scene, middle_mm(plan)), length_mm=plan.height_mm[made])
    return turned_over(scene, back=back) if loom.turned != back else replace(scene, back=back)


def lay(loom: SceneBuilder, step: PlannedStep, made: int) -> None:
    """Lay out what is made of a step when `made` counts are.

    Args:
        loom: The layout so far, which is changed.
        step: The step; all before it are laid out.
        made: How many counts of the whole plan are made.
    """
    if step.role == "plain":
        if step.first < made:
            loom.grid.stand(step.before)
            lay_plain(loom, step)
            loom.grid.stand(step.after)
        return
    loom.grid.stand(step.before)
    if step.role in ("row", "weave"):
        lay_row(loom, step, made)
    elif step.role == "braid":
        lay_plait(loom, step, made)
    else:
        lay_knots(loom, step, made)
    if step.end <= made:
        loom.grid.stand(step.after)


@dataclass(frozen=True, slots=True)
class _Loop:
    """Work from before the fold, folded, and where the strands come out of it."""

    ties: list[Tie]
    ends: dict[int, Point]


def _loop(plan: Plan, found: Places, made: int) -> _Loop:
    """Return the work from before the fold, folded."""
    first = [step for step in plan.steps if step.unfolded]
    if not first or found.fold_mm <= 0:
        return _Loop([], {})
    worked = SceneBuilder(plan, found)
    for step in first:
        if step.first < made:
            lay(worked, step, made)
    wide = max((tie.box[2] - tie.box[0] for tie in worked.ties), default=2.0)
    pin = Hairpin(found.fold_mm, wide)
    ends = {strand: pin.bent((x, 2 * found.fold_mm)) for strand, (x, _) in worked.at.items()}
    starts = _starts(worked)
    for strand, x in starts.items():
        ends[strand + 1], ends[strand] = ends[strand], pin.bent((x, 0.0))
    return _Loop(bend(worked, pin), ends)


def _starts(worked: SceneBuilder) -> dict[int, float]:
    """Return where each piece enters the work from before the fold."""
    found: dict[int, float] = {}
    for tie in sorted(worked.ties, key=lambda t: -t.count):
        for strand, (x, _) in zip(tie.strands, tie.shape.enter, strict=True):
            found[strand] = tie.x_mm + x
    return {strand: found[strand] for strand in worked.at if strand in found}


def scene_from(
    loom: SceneBuilder, found: Places, start: tuple[list[Tie], list[Tie], list[Fitting]], made: int,
    order: Sequence[int],
) -> Scene:  # fmt: skip
    """Build a scene from a layout: the loop, mounts and what they hang on first.

    Args:
        loom: The layout.
        found: The places of the plan's ties, and its width.
        start: The loop, the mounts and what they hang on.
        made: How many counts of the plan are made.
        order: The strands from the left as they hang then.
    """
    loop, mounts, held = start
    ties, fittings = (*loop, *loom.ties), (*held, *loom.fittings)
    half = loom.grid.half_mm
    return Scene(
        cords=tuple([strand.cord for strand in loom.plan.strands]),
        ties=ties,
        runs=tuple(loom.runs),
        mounts=tuple(mounts),
        fittings=fittings,
        length_mm=found.made_mm[made],
        half_mm=half,
        box=_box((*ties, *mounts), loom.runs, fittings, half if loom.grid.closed else None),
        finish=tuple(order[::-1] if loom.turned else order),
        closed=loom.grid.closed,
        made=made,
        spread_mm=loom.grid.spread_mm,
    )


def _box(
    ties: Sequence[Tie], runs: Sequence[Run], fittings: Sequence[Fitting], most: float | None
) -> Box:
    """Return the bounding box of what is drawn; round work ends at its seam.

    Strands between ties stay within it, except those that swing out or hang free at the end.
    """
    last = max([run.count for run in runs], default=0)
    # Of ties of one shape below each other the lowest will do, and the topmost come first.
    few = [*ties[:_TOP_TIES], *{(id(tie.shape), tie.x_mm): tie for tie in ties}.values()]
    boxes = [*[tie.box for tie in few], *[fitting.box for fitting in fittings]]
    for run in runs:
        if run.count == last or run.bulge_mm:
            (x0, y0), (x1, y1), w = run.start, run.end, run.width_mm / 2 + abs(run.bulge_mm)
            boxes.append((min(x0, x1) - w, min(y0, y1), max(x0, x1) + w, max(y0, y1)))
    if not boxes:
        return -1.0, 0.0, 1.0, 1.0
    left, top, right, bottom = zip(*boxes, strict=True)
    if most is None:
        return min(left), min(top), max(right), max(bottom)
    held = [fitting.box for fitting in fittings]
    return (
        min([-most, *(box[0] for box in held)]), min(top),
        max([most, *(box[2] for box in held)]), max(bottom),
    )  # fmt: skip


def _since(scene: Scene, since: int) -> Scene:
    """Return the scene without what was made before a count."""
    ties = tuple([tie for tie in scene.ties if tie.count >= since])
    runs = tuple([run for run in scene.runs if run.count >= since])
    top = min([tie.box[1] for tie in ties], default=0.0)
    kept = tuple([f for f in scene.fittings if f.kind == "bead" and f.box[1] >= top])
    box = _box(ties, runs, kept, scene.half_mm if scene.closed else None)
    return replace(scene, ties=ties, runs=runs, mounts=(), fittings=kept, box=box)
