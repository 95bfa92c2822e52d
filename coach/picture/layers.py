"""Parts made apart as layers in front of the work or behind it."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Literal

from coach.picture.scene import Scene
from coach.plan.plan_model import Plan
from coach.plan.section_plans import SectionPlan
from coach.plan.steps import PlannedStep
from coach.project.model import Attach


@dataclass(frozen=True, slots=True)
class Layer:
    """Where one part lies: in front or behind, its middle at `x_mm` and its top at `y_mm`."""

    side: Literal["front", "behind"]
    x_mm: float
    y_mm: float


def layers(plan: Plan, own: SectionPlan[Plan], scene: Scene, done: int) -> Mapping[int, Layer]:
    """Return the layer of each part made apart, by its section.

    Args:
        plan: The whole plan.
        own: The section of the work.
        scene: The scene of that section.
        done: How many counts of the whole are made.
    """
    found: dict[int, Layer] = {}
    attached: Counter[str] = Counter()
    for step in plan.steps:
        source = step.source
        if not isinstance(source, Attach) or step.end > done:
            continue
        number = _made(plan, source.apart, attached[source.apart])
        attached[source.apart] += 1
        if source.layer and number is not None and plan.sections[step.section] == own.section:
            x, y = _at(step, scene), own.plan.places.top_mm[own.done(step.first)]
            found[number] = Layer(source.layer, x, y)
    return found


def _made(plan: Plan, name: str, before: int) -> int | None:
    """Return the section of the next piece of a part made apart."""
    made = [n for n, own in enumerate(plan.sections) if own.name == name and not own.end]
    return made[before] if before < len(made) else None


def _at(step: PlannedStep, scene: Scene) -> float:
    """Return the middle of the strands that a part is attached at; 0 where it names none."""
    strands = step.groups[0] if step.groups else ()
    places = [step.before.index(strand) for strand in strands if strand in step.before]
    if not places:
        return 0.0
    each = 2 * scene.half_mm / len(step.before)
    return (sum(places) / len(places) + 0.5) * each - scene.half_mm


def stack_scenes(scene: Scene, other: Scene, side: Literal["front", "behind"]) -> Scene:
    """Return a scene with another one in front of it or behind it.

    Args:
        scene: The work, which sets the figures of the result.
        other: The other scene, in the same millimetres.
        side: Where it lies.
    """
    boxes = zip(scene.box, other.box, strict=True)
    left, top, right, bottom = boxes
    box = (min(left), min(top), max(right), max(bottom))
    if side == "behind":
        return replace(scene, behind=replace(other, behind=scene.behind), box=box)
    return replace(
        scene, ties=other.ties, runs=other.runs, mounts=other.mounts, fittings=other.fittings,
        behind=scene, box=box,
    )  # fmt: skip
