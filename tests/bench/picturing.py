"""Prints how long the picture of many ties takes, against planning and measuring them.

Run: python tests/bench/picturing.py [TIES]
Processor time, the least of seven runs.
"""

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from coach.picture.compose import scene_of
from coach.picture.render.shades import looks
from coach.picture.render.svg_drawing import render_svg
from coach.plan.from_text import read_plan

HEAD = """coach: 1
title: Tide
cords: {{reed: {{colour: "#5b7f3a", diameter: 2 mm}}}}
start: {{hang: [{pieces} reed], on: dowel}}
work:
  - {step}
"""
ROW = (
    "use: r\n    times: {times}\nparts:\n  r:\n    - {{row: clove hitch, holder: 1, across: 2-16}}"
)
TEXTS = {
    "rows": lambda ties: HEAD.format(pieces=8, step=ROW.format(times=ties // 15)),
    "net": lambda ties: HEAD.format(
        pieces=8, step=f"{{net: 1-16 by 4, of: square knot, rows: {ties * 2 // 7}}}"
    ),
    "sennit": lambda ties: HEAD.format(
        pieces=2, step=f"{{knot: half knot, strands: 1-4, times: {ties}}}"
    ),
}


def measured(text: str) -> tuple[float, float, float, int]:
    """Return seconds of planning and measuring, of the scene, of its SVG; and the SVG's bytes."""
    start = time.process_time()
    plan = read_plan(text).plan
    assert plan
    assert plan.length_mm
    planned = time.process_time()
    scene = scene_of(plan)
    seen = time.process_time()
    drawn = render_svg(scene, looks(["reed"], {"reed": "#5b7f3a"}), "Tide")
    return planned - start, seen - planned, time.process_time() - seen, len(drawn)


def main() -> None:
    ties = int(sys.argv[1]) if len(sys.argv) > 1 else 5_000
    for name, text in TEXTS.items():
        runs = [measured(text(ties)) for _ in range(7)]
        plan, scene, picture, size = (min(column) for column in zip(*runs, strict=True))
        print(
            f"{name:7} {ties} ties: plan {plan * 1e3:.0f} ms, scene {scene * 1e3:.0f} ms, "
            f"SVG {picture * 1e3:.0f} ms ({size // 1024} KB): "
            f"{(scene + picture) / plan:.1f} times planning"
        )


if __name__ == "__main__":
    main()
