"""Projects of any length for the benchmarks: twelve pieces on a dowel."""

LINES = 200
HEAD = """\
coach: 1
title: Channel strap
kind: belt
cords:
  reed: {colour: "#5b7f3a", fibre: cotton, diameter: 2 mm, pieces: 6}
  clay: {colour: sienna, fibre: cotton, diameter: 2 mm, pieces: 6}
start:
  hang: [6 reed, 6 clay]
  on: dowel
  diameter: 10 mm
work:
"""
REPEATED = """\
  - {use: ripple, times: 96, mirror: every second}
parts:
  ripple:
    - {row: clove hitch, holder: 1, across: 2-24}
    - {row: clove hitch, holder: 24, across: 23-1}
    - {knot: square knot, groups: 1-24 by 4}
"""
STEPS = """\
  - row: clove hitch
    holder: 1
    across: 2-24
  - knot: square knot
    groups: 1-24 by 4
    times: 2
  - row: reverse clove hitch
    knotter: 24
    across: 23-1
  - knot: half knot
    groups: 3-22 by 4
    note: Half knots turn to the right by themselves.
"""

FIVE_THOUSAND_TIES = HEAD + REPEATED


def lines_of(number: int) -> str:
    """Return a sound project of so many lines, or up to two more: each step is written out."""
    whole_steps = -(-(number - HEAD.count("\n")) // 3)
    lines = STEPS.splitlines(keepends=True) * (whole_steps // 4 + 1)
    return HEAD + "".join(lines[: 3 * whole_steps])
