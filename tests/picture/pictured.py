"""Ways to read a scene back: who is seen at a point, and what is drawn in a colour."""

from collections.abc import Iterator, Sequence
from math import hypot

from coach.cli.project_finder import shipped_projects
from coach.picture.compose import scene_of
from coach.picture.scene import Point, Scene, Segment, Tie
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan

PROJECTS = {path.stem: path for path in shipped_projects()}
HEAD = """coach: 1
title: Tide
cords:
  reed: {colour: "#5b7f3a", fibre: cotton, diameter: 2 mm}
  clay: {colour: "#a4553a", fibre: cotton, diameter: 2 mm}
"""


def shipped(name: str) -> Plan:
    return planned(PROJECTS[name].read_text("utf-8"))


def planned(text: str) -> Plan:
    reading = read_plan(text)
    assert reading.plan, [problem.message for problem in reading.problems]
    return reading.plan


def plan_of(
    *steps: str, start: str = "{hang: [reed, 2 clay, reed], on: dowel}", rest: str = ""
) -> Plan:
    """Return the plan of some steps, each written between braces."""
    lines = "".join(f"  - {{{step}}}\n" for step in steps)
    return planned(f"{HEAD}start: {start}\n{rest}work:\n{lines}")


def scene_with(*steps: str, **more: str) -> tuple[Plan, Scene]:
    plan = plan_of(*steps, **more)
    return plan, scene_of(plan)


def points(stretch: Segment, steps: int = 8) -> Iterator[Point]:
    """Yield points along a stretch's quadratic curves."""
    path = stretch.path
    for a, b, c in zip(path[:-1:2], path[1::2], path[2::2], strict=True):
        for step in range(steps + 1):
            t = step / steps
            u, v, w = (1 - t) ** 2, 2 * t * (1 - t), t * t
            yield u * a[0] + v * b[0] + w * c[0], u * a[1] + v * b[1] + w * c[1]


def seen_at(tie: Tie, x: float, y: float) -> int | None:
    """Return the strand that is seen at a point of a tie: the uppermost that reaches there."""
    found = None
    for stretch in tie.stretches():  # the lowest first
        if any(hypot(px - x, py - y) <= stretch.width_mm * 0.4 for px, py in points(stretch)):
            found = stretch.strand
    return found


def seen_in(ties: Sequence[Tie], scene: Scene) -> list[str]:
    """Return the cord that is uppermost at each tie."""
    return [scene.cords[tie.on_top] for tie in ties]


Drawn = dict[tuple[object, ...], list[tuple[Point, ...]]]


def as_drawn(scene: Scene, *, mirrored: bool = False) -> Drawn:
    """Return the ways of all that is drawn, by cord, layer, ends and number of points."""
    sign = -1 if mirrored else 1
    found: Drawn = {}
    for s in scene.stretches():
        path = tuple([(sign * x, y) for x, y in s.path])
        found.setdefault((scene.cords[s.strand], s.layer, s.capped, len(path)), []).append(path)
    return found


def differ(one: Drawn, other: Drawn) -> list[object]:
    """Return what is drawn in one alone, or where the other one has not as much."""
    left = {key: list(ways) for key, ways in other.items()}
    alone: list[object] = []
    for key, ways in one.items():
        for way in ways:
            near = next(
                (w for w in left.get(key, []) if _near(way, w) or _near(way, w[::-1])), None
            )
            if near is None:
                alone.append((key, way))
            else:
                left[key].remove(near)
    return alone + [(key, way) for key, ways in left.items() for way in ways]


def _near(one: Sequence[Point], other: Sequence[Point]) -> bool:
    return all(
        abs(a - c) < 0.02 and abs(b - d) < 0.02 for (a, b), (c, d) in zip(one, other, strict=True)
    )


def ends(scene: Scene) -> list[int]:
    """Return the strands in the order in which they hang at the bottom, from the left."""
    last = {run.strand: run.end[0] for run in scene.runs if run.count == scene.made}
    return sorted(last, key=last.__getitem__)
