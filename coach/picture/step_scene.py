"""A step as a scene of its own: strands coming in, the ties, strands going out."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from coach.picture.compose import lay, scene_from
from coach.picture.layout.scene_builder import SceneBuilder
from coach.picture.scene import Scene
from coach.plan.measure.places import Places
from coach.plan.plan_model import Plan, PlannedStep
from coach.project import model

_MOST_TIES: Final = 6  # of a run on one group; an even number keeps who hangs where
_MOST_CROSSINGS: Final = 12
_LEAD: Final = 2.4  # of strands above and below, in widths of the thickest
_SPREAD: Final = 0.3  # of the way from the first to the last strand that come together in a knot
_PLAIT: Final = 6.0  # of a plait given by its length, how long it is drawn, in its strands' widths
_UNDRAWN: Final = (
    model.Do, model.Measure, model.Wait, model.Trim, model.Flip, model.Seam, model.Attach,
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class StepScene:
    """A step laid out by itself.

    Attributes:
        scene: The scene.
        above: Where each strand comes in, from the left.
        below: Where each strand goes out, from the left.
        times: How often a run's knot is tied on each group, where not all of them are drawn.
    """

    scene: Scene
    above: tuple[tuple[int, float], ...]
    below: tuple[tuple[int, float], ...]
    times: int = 0


def scene_of_step(plan: Plan, step: PlannedStep) -> StepScene | None:
    """Lay out one step by itself, as the maker sees it; None where no cord is worked."""
    if isinstance(step.source, _UNDRAWN):
        return None
    chosen, times = _chosen(step)
    loom = SceneBuilder(plan, plan.places)
    loom.slanting = [loom.slanting[step.index]]
    loom.grid.stand(step.before)
    loom.plan, loom.places, short = _alone(plan, step, chosen)
    lead = max(
        _LEAD * max(loom.loose_mm[s] for s in step.before), _SPREAD * _bundled_mm(loom, step)
    )
    tops = [loom.places.top_mm[number] for number in range(len(chosen))]
    high, low = min(tops, default=0.0), max(loom.places.bottom_mm, default=0.0)
    entering = {strand: loom.grid.x_mm[strand] for strand in step.before}
    loom.at.update({strand: (x, high - lead) for strand, x in entering.items()})
    lay(loom, short, len(chosen))
    low = max([low, *[tie.box[3] for tie in loom.ties]])
    leaving = _leave(loom, step, len(chosen), low + lead)
    scene = scene_from(loom, loom.places, ([], [], []), len(chosen), step.after)
    left, _, right, _ = scene.box
    box = (left, high - lead, right, low + lead)
    return StepScene(replace(scene, box=box), _placed(entering), _placed(leaving), times)


def _bundled_mm(loom: SceneBuilder, step: PlannedStep) -> float:
    """Return the distance between the outer strands that are drawn into one knot."""
    if step.role not in ("gathering", "knot", "around", "braid"):
        return 0.0
    xs = [[loom.grid.x_mm[s] for s in group if s in loom.grid.x_mm] for group in step.groups]
    return max([max(own) - min(own) for own in xs if own], default=0.0)


def _placed(at: dict[int, float]) -> tuple[tuple[int, float], ...]:
    return tuple(sorted(at.items(), key=lambda item: item[1]))


def _leave(loom: SceneBuilder, step: PlannedStep, made: int, low: float) -> dict[int, float]:
    """Let every strand hang to below the step, those laid aside a little less."""
    loom.grid.stand(step.after)
    for strand in step.before:
        if strand not in step.after and strand in loom.at:
            x, y = loom.at[strand]
            loom.reach(made, strand, x, max(y, low - loom.loose_mm[strand]))
    leaving = {strand: loom.grid.x_mm[strand] for strand in step.after}
    for strand, x in leaving.items():
        loom.reach(made, strand, x, low, 0.0)
    return leaving


def _chosen(step: PlannedStep) -> tuple[list[int], int]:
    """Return the counts that are drawn, and the length of a run that is not drawn whole."""
    every = list(range(step.first, step.end))
    if step.role == "braid" and len(every) > _MOST_CROSSINGS:
        most = _MOST_CROSSINGS - (len(every) - _MOST_CROSSINGS) % 2
        return every[: most + most % 2 - len(every) % 2], len(every)
    times = getattr(step.source, "times", 1)
    if step.role in ("row", "weave", "plain", "braid") or times <= _MOST_TIES:
        return every, 0
    shown = _MOST_TIES - (times - _MOST_TIES) % 2
    starts = range(step.first, step.end, times)
    return [number for start in starts for number in range(start, start + shown)], times


def _alone(
    plan: Plan, step: PlannedStep, chosen: Sequence[int]
) -> tuple[Plan, Places, PlannedStep]:  # fmt: skip
    """Return a plan with only some counts of one step, their places, and the step there."""
    places, source = plan.places, step.source
    times = getattr(source, "times", 1)
    if times > 1 and step.role not in ("row", "weave") and len(chosen) < step.counts:
        source = replace(source, times=times * len(chosen) // step.counts)  # type: ignore[arg-type]
    short = replace(step, source=source, index=0, first=0, counts=len(chosen))
    own = replace(plan, steps=(short,), counts=tuple([plan.counts[n] for n in chosen]))
    tops = [places.top_mm[n] for n in chosen]
    bottoms = [places.bottom_mm[n] for n in chosen]
    base = min(tops, default=0.0)
    if step.role == "braid" and len(chosen) == 1:
        wide = sum(places.contact_mm[strand] for group in step.groups for strand in group)
        bottoms = [min(bottoms[0], base + _PLAIT * wide)]
    made = [0.0, *[bottom - base for bottom in bottoms]]
    at = Places(
        [top - base for top in tops], [bottom - base for bottom in bottoms], made,
        places.fold_mm, places.width_mm, places.contact_mm,
    )  # fmt: skip
    return own, at, short
