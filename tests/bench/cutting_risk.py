"""Prints how many of a crowd of makers have every strand reach its tail, cut as the coach says.

Run: python tests/bench/cutting_risk.py [MAKERS]
Makers and cords are drawn as the design tells of them (`CORDS` and the shares below, written here
once more), and each piece is measured anew in each maker's hands: nothing of the closed form by
which the coach finds its lengths is used.
"""

import sys
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

import numpy as np

from coach.plan.compile.compiler import compile_project
from coach.plan.cord.cut_list import CordCut, cut_list, lengths_of
from coach.plan.doubt.cut_lengths import Cutting
from coach.plan.from_text import read_plan
from coach.plan.pieces import pieces_of
from coach.plan.plan_model import Plan, remeasured
from coach.plan.resize.own_wish import refitted_to_own_wish
from coach.plan.tension import Hands

PROJECTS = sorted((Path(__file__).parents[2] / "projects").glob("*.yaml"))
MAKERS = 1000
WAYS = (("a tenth more", 0.1, "cm"), ("by risk, to 1 mm", None, "mm"), ("by risk", None, "cm"))
"""How it is cut: with which margin, rounded up in which unit."""
CORDS = {"cotton": (0.78, 0.0486), "hemp": (0.90, 0.0486), "waxed cotton": (0.90, 0.0486)}
"""Compression by fibre: mean and standard deviation."""
FIBRE, KIND = 0.5, 0.35  # of the variance of compression: shared by a fibre, and by a thickness
HAND, KNOT = 0.6, 0.36  # of the variance of slack: shared by all knots, and by one knot
SLACK_SD = 0.056
STRAND_SD = 0.015  # of its cord: what each strand takes more or less by itself


@dataclass(frozen=True)
class Row:
    """One project: cord to cut, the share that the coach says reaches, and that which does."""

    project: str
    cut: str
    cord_m: float
    told: float
    reached: float


def plan_of(path: Path, margin: float | None) -> Plan:
    """Return the plan of a shipped project as it comes, with this margin."""
    plan = read_plan(path.read_text(encoding="utf-8")).plan
    assert plan
    found = compile_project(replace(plan.project, margin=margin)).plan
    assert found
    fitted = refitted_to_own_wish(found)
    return fitted.plan if fitted else found


def some_hands(plan: Plan, rng: np.random.Generator) -> Hands:
    """Return the hands of somebody with cords from some shop."""
    shared: dict[object, float] = {}

    def drawn(what: object) -> float:
        return shared.setdefault(what, rng.standard_normal())

    compression, slack = {}, {}
    for name, cord in plan.project.cords.items():
        mean, sd = CORDS[cord.fibre]
        off = FIBRE**0.5 * drawn(cord.fibre) + KIND**0.5 * drawn((cord.fibre, cord.diameter_mm))
        own = (1 - FIBRE - KIND) ** 0.5 * rng.standard_normal()
        compression[name] = min(1.0, mean + sd * (off + own))
    for cord_name, knot in sorted({(plan.strands[s].cord, count.knot) for count in plan.counts
                              for s in count.knotters if count.knot}):  # fmt: skip
        own = (1 - HAND - KNOT) ** 0.5 * rng.standard_normal()
        off = HAND**0.5 * drawn("hand") + KNOT**0.5 * drawn(("knot", knot)) + own
        slack[cord_name, knot] = SLACK_SD * off
    return Hands(compression, slack)


def all_reach(plan: Plan, cuts: tuple[CordCut, ...], true: Plan, rng: np.random.Generator) -> bool:
    """Return whether every strand of a piece made in true hands ends with its tail."""
    lengths = lengths_of(cuts)
    folded = Cutting(plan).shares_mm(lengths)
    for piece, made in zip(pieces_of(plan), pieces_of(true), strict=True):
        for strand in piece.strands:
            used = true.ledgers[strand].total_mm * (1 + STRAND_SD * rng.standard_normal())
            if piece.fitted:  # folded where the list says, and the loop takes from both sides
                hangs = folded[strand] - (made.around_mm - piece.around_mm) / 2
            else:
                whole = lengths[piece.label] - made.around_mm - piece.lead_mm
                hangs = whole / len(piece.strands)
            if hangs - used < true.tail_mm[strand]:
                return False
    return True


def share_that_reach(plan: Plan, cuts: tuple[CordCut, ...], makers: int, seed: int) -> float:
    """Return the share of makers whose every strand reaches."""
    rng = np.random.default_rng(seed)
    reached = 0
    for _ in range(makers):
        true = remeasured(plan, some_hands(plan, rng))
        reached += all_reach(plan, cuts, true, rng)
    return reached / makers


def rows(makers: int = MAKERS) -> Iterator[Row]:
    """Yield each project cut in each of the ways."""
    for seed, path in enumerate(PROJECTS):
        for name, margin, unit in WAYS:
            plan = plan_of(path, margin)
            cuts = cut_list(plan, unit)
            cord_m = sum(cord.total_mm for cord in cuts) / 1000
            reached = share_that_reach(plan, cuts, makers, seed)
            yield Row(path.stem, name, cord_m, Cutting(plan).reach(lengths_of(cuts)), reached)


if __name__ == "__main__":
    print("| project | cut | cord, m | told | reached |\n|---|---|---|---|---|")
    for row in rows(int(sys.argv[1]) if len(sys.argv) > 1 else MAKERS):
        print(
            f"| {row.project} | {row.cut} | {row.cord_m:.2f} | {row.told:.1%} | {row.reached:.1%} |"
        )
