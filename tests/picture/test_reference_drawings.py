"""The seven hardest states are drawn as they were looked at and found right.

The drawings in `references/` are made by `python tests/picture/test_reference_drawings.py`; look at
each that changes before it is kept. They have no cord's colour, so that none can break them: a path
is as grey as its layer is low.
"""

import re
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from pictured import plan_of, shipped

from coach.picture.compose import scene_of
from coach.picture.scene import Scene, Segment

REFERENCES = Path(__file__).parent / "references"
ROUND = "{hang: [reed, 2 clay, reed], on: ring, round: yes}"
SVG = "http://www.w3.org/2000/svg"
NEAR_MM = 0.06


def part(*steps: str, back: bool = False, **more: str) -> Scene:
    return scene_of(plan_of(*steps, **more), back=back)


STATES: dict[str, Callable[[], Scene]] = {
    "diamonds": lambda: scene_of(shipped("shoreline-hanging"), 50),
    "spiral": lambda: part("knot: half knot, strands: 1-4, times: 9"),
    "josephine-and-berry": lambda: part(
        "knot: josephine knot, strands: 1-4", "knot: berry knot, strands: 5-8, of: 3"
    ),
    "over-the-seam": lambda: part("knot: square knot, groups: 3-10 by 4", start=ROUND),
    "plait-of-bundles": lambda: part("braid: [1-3, 4-5, 6-8], crossings: 7"),
    "folded-loop": lambda: scene_of(shipped("tide-band"), 2),
    "rows-from-the-back": lambda: part(
        "row: clove hitch, holder: 1, across: 2-8, lie: slant",
        "row: reverse clove hitch, knotter: 8, across: 7-1",
        "row: lark's head, holder: 1, across: 2-8",
        back=True,
    ),
}


def drawn(scene: Scene) -> str:
    """Draw a scene as bare paths, the lowest first, each strand told by a class."""
    left, top, right, bottom = scene.box
    seen = f"{left:.1f} {top:.1f} {right - left:.1f} {bottom - top:.1f}"
    lines = [
        f'<svg xmlns="{SVG}" viewBox="{seen}" fill="none" stroke-linecap="round">',
    ]
    lines += [_path(stretch) for stretch in scene.stretches()]
    return "\n".join([*lines, "</svg>", ""])


def _path(stretch: Segment) -> str:
    (x, y), *rest = stretch.path
    curves = zip(rest[::2], rest[1::2], strict=True)
    way = f"M{x:.2f} {y:.2f}" + "".join(
        f"Q{ax:.2f} {ay:.2f} {bx:.2f} {by:.2f}" for (ax, ay), (bx, by) in curves
    )
    grey = min(220, max(40, 130 + 18 * stretch.layer))
    return (
        f'<path class="s{stretch.strand} l{stretch.layer}" d="{way}" '
        f'stroke="rgb({grey},{grey},{grey})" stroke-width="{stretch.width_mm:.2f}"/>'
    )


NUMBER = re.compile(r"-?\d+\.\d+")


@pytest.mark.parametrize("name", STATES)
def test_the_hardest_states_are_drawn_as_they_were_reviewed(name: str) -> None:
    kept = REFERENCES.joinpath(f"{name}.svg").read_text(encoding="utf-8").splitlines()
    now = drawn(STATES[name]()).splitlines()
    assert [NUMBER.sub("", line) for line in now] == [NUMBER.sub("", line) for line in kept]
    for line, other in zip(now, kept, strict=True):
        for one, two in zip(NUMBER.findall(line), NUMBER.findall(other), strict=True):
            assert float(one) == pytest.approx(float(two), abs=NEAR_MM), line


def test_another_colour_changes_no_reference() -> None:
    steps = "knot: half knot, strands: 1-4, times: 9"
    plan = plan_of(steps, rest="colourways: {dusk: {reed: navy}}\n")
    assert drawn(scene_of(plan)) == drawn(STATES["spiral"]())


if __name__ == "__main__":
    for state, made in STATES.items():
        REFERENCES.joinpath(f"{state}.svg").write_text(drawn(made()), encoding="utf-8")
        sys.stdout.write(f"{state}\n")
