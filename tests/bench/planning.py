"""Prints how fast, and in how little memory, a project that is read becomes a plan.

Run: python tests/bench/planning.py [ROUNDS]
All ratios are of processor time, both sides in turn in one run, medians over the rounds; memory
is told by fresh processes. The yardstick is what plain Python takes to append a tuple of six and
to update a dictionary for each tie.

Needs POSIX: limits of the system and what Linux tells of processes and drives.
"""

import gc
import re
import resource
import sys
import time
from collections.abc import Callable
from pathlib import Path
from statistics import median

sys.path.insert(0, str(Path(__file__).parents[1]))
sys.path.insert(0, str(Path(__file__).parents[2]))

from processes import run_python

from coach.plan.board_at_count import order_at
from coach.plan.compile.compiler import compile_project
from coach.plan.plan_model import Plan
from coach.plan.wording.place_words import place_in_piece
from coach.plan.wording.sentences import step_sentence
from coach.project.model import Project
from coach.project.read import read_project

ROUNDS = 21
TIES = 100_000
HEAD = """coach: 1
title: Long
cords:
  reed: {colour: green, fibre: cotton, diameter: 2 mm}
  clay: {colour: sienna, fibre: cotton, diameter: 3 mm}
"""
ORDINARY = """start: {hang: [40 reed, 20 clay, 40 reed], on: dowel}
work: [{use: wave, mirror: every second, times: %d}]
parts:
  wave:
    - {row: clove hitch, holder: 1, across: 2-100}
    - {row: clove hitch, holder: 200, across: 199-101}
    - {row: clove hitch, holder: 120, across: 119-62}
    - {knot: square knot, groups: 1-200 by 4, times: 3}
    - {net: 1-200 by 4, of: square knot, rows: 6}
    - {knot: half knot, groups: [1-4, 197-200], times: 8}
"""
SIX = "start: {nest: [6 reed]}\nwork: [{use: m, times: %d, mirror: %s}]\nparts: {m: [%s]}\n"
HUNDRED = "start: {hang: [100 reed]}\nwork: [{use: m, times: %d, mirror: %s}]\nparts: {m: [%s]}\n"
THOUSAND = HUNDRED.replace("100", "1000")
ROW = "{row: clove hitch, holder: 1, across: %s}"
SQUARE = "{knot: square knot, %s}"
ONES = ", ".join([ROW % "2", SQUARE % "strands: 4-7", "{row: clove hitch, holder: 12, across: 11}"])
TO_AND_FRO = f"{ROW % '2-4'}, {{row: clove hitch, holder: 4, across: 3-1}}"
EACH = "{each: 1-200 by %d, mirror: every second, steps: [%s]}"
SHAPES = {
    "rows": SIX % (18_182, "none", ROW % "2-12"),
    "steps of one tie": SIX % (66_666, "none", ONES),
    "steps of one tie, mirrored": SIX % (66_666, "every second", ONES),
    "sennits": SIX % (40, "none", SQUARE % "strands: 1-12, times: 4999"),
    "each, one tie": HUNDRED % (1_100, "none", EACH % (4, SQUARE % "strands: 1-4")),
    "each in each": HUNDRED % (1_100, "none", EACH % (8, EACH.replace("200", "8") % (4, ROW % 2))),
    "each, rows": HUNDRED % (500, "every second", EACH % (4, TO_AND_FRO)),
    "each, repeats": HUNDRED % (500, "none", EACH % (4, TO_AND_FRO)),
    "net": HUNDRED % (180, "none", "{net: 1-200 by 4, of: square knot, rows: 20}"),
    "orders that never return": HUNDRED
    % (
        5_600,
        "none",
        ", ".join(
            f"{{row: clove hitch, holder: {first}, across: {first + 1}-{last}}}"
            for first, last in [(1, 7), (8, 18), (19, 31), (32, 48)]
        ),
    ),
    "2,000 strands, short rows": THOUSAND % (5_800, "none", ROW % "2-30"),
    "2,000 strands, long rows": THOUSAND % (120, "every second", ROW % "all"),
    "2,000 strands, nets": THOUSAND % (19, "none", "{net: 1-2000 by 4, of: square knot, rows: 24}"),
    "2,000 strands, each": THOUSAND % (11, "none", EACH.replace("200", "2000") % (4, ROW % "2-4")),
    "2,000 strands, knots of all": THOUSAND
    % (1_240, "none", "{knot: overhand knot, strands: all}"),
    "2,000 strands, spaces": THOUSAND % (1_240, "none", "{space: 1 cm}"),
    "2,000 strands, plaits": THOUSAND
    % (170, "none", "{braid: [1-600, 601-1300, 1301-2000], crossings: 7}"),
}


def read(text: str) -> Project:
    """Read a project that has to be sound."""
    reading = read_project(HEAD + text)
    assert reading.project, reading.problems
    return reading.project


def ordinary(ties: int) -> Project:
    """Return a broad piece with about so many ties."""
    return read(ORDINARY % round(ties / 723))


def compiled(project: Project) -> Plan:
    """Compile a project that has to be sound."""
    plan = compile_project(project).plan
    assert plan
    return plan


def measured(project: Project) -> Plan:
    """Compile, and ask for cord and size."""
    plan = compiled(project)
    assert plan.length_mm
    return plan


def yardstick(ties: int = TIES) -> None:
    """Do what plain Python cannot do without for so many ties."""
    kept, last = [], {}
    for tie in range(ties):
        kept.append((tie, "knot", 1, 2, 3, 4))
        last[tie] = tie


def took_s(work: Callable[[], object]) -> float:
    """Return the processor time of one run; rubbish of the run before is no part of it."""
    gc.collect()
    began = time.process_time()
    work()
    return time.process_time() - began


def in_turn(rounds: int, *sides: Callable[[], object]) -> list[float]:
    """Return the median seconds of each side, all sides run in turn."""
    runs = [[took_s(side) for side in sides] for _ in range(rounds)]
    return [median(side) for side in zip(*runs, strict=True)]


def peak_mb() -> float:
    """Return this process's own peak of memory; a child's ru_maxrss starts with its parent's."""
    status = Path("/proc/self/status")
    own = re.search(r"VmHWM:\s+([0-9]+)", status.read_text()) if status.exists() else None
    peak = int(own[1]) if own else resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return peak / 1024


def show_step(plan: Plan, done: int) -> None:
    """Ask for what a screen tells of one count."""
    step_sentence(plan, done)
    place_in_piece(plan, done)
    order_at(plan, done)
    plan.used_mm(0, done)


def alone(what: str) -> str:
    """Return what a fresh process prints that measures one thing."""
    return str(run_python(__file__, what, check=True).stdout).rstrip()


def measure_alone(what: str) -> None:
    """Print the counts, seconds and growth of memory of one project in this process."""
    began = time.process_time()
    project = ordinary(int(what)) if what.isdigit() else read(SHAPES[what])
    read_s = time.process_time() - began
    before = peak_mb()
    began = time.process_time()
    plan = compiled(project)
    planned_s, planned_mb = time.process_time() - began, peak_mb() - before
    began = time.process_time()
    assert plan.ledgers
    measured_s, measured_mb = time.process_time() - began, peak_mb() - before
    print(
        f"{plan.total:9,}{read_s:7.2f}{planned_s:7.2f}{measured_s:7.2f}"
        f"{planned_mb:8.1f}{measured_mb:8.1f}{peak_mb():7.0f}"
    )


def main(rounds: int) -> None:
    """Print the table."""
    once, twice = ordinary(TIES), ordinary(2 * TIES)
    plan = measured(once)
    middle = next(s.first for s in plan.steps[len(plan.steps) // 2 :] if s.number == 1)
    ruler, single, double, whole, first, later = in_turn(
        rounds,
        yardstick,
        lambda: compiled(once),
        lambda: compiled(twice),
        lambda: measured(once),
        lambda: [show_step(plan, 0) for _ in range(500)],
        lambda: [show_step(plan, middle) for _ in range(500)],
    )
    print(f"{plan.total:,} ties over {len(plan.strands)} strands, {rounds} rounds")
    print(f"plain Python {ruler * 1e3:.1f} ms, a plan {single * 1e3:.0f} ms")
    print(f"a plan over plain Python                {single / ruler:.1f}")
    print(f"with its cord and size                  {whole / ruler:.1f}")
    print(f"twice the ties over once                {double / single:.2f}")
    print(f"a step in the middle over the first     {later / first:.2f}")
    print("each alone in a process; s of processor time, MB that the process grew, MB in all:")
    print(f"{'':32}   counts   read   plan  sizes    plan   sizes  whole")
    for what in (str(TIES), str(2 * TIES), *SHAPES):
        print(f"{what:32}{alone(what)}")


if __name__ == "__main__":
    given = sys.argv[1] if len(sys.argv) > 1 else str(ROUNDS)
    # What `alone` asks of a process of its own is a shape or a number of ties, else it is rounds.
    if given in SHAPES or int(given) >= TIES:
        measure_alone(given)
    else:
        main(int(given))
