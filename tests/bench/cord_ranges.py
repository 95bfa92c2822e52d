"""Prints how often ranges of cord and length hold on pieces of two cords, alone and together.

Run: python tests/bench/cord_ranges.py [MAKERS]
Makers are those of `cutting_risk`. Told at the start, at half, and at half once the work and one
strand were measured. Ranges are for four in five: *one* is the mean of single ranges, *length* the
finished length, *both* that the range of a strand of each cord holds at once.
"""

import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

import numpy as np
from cutting_risk import STRAND_SD, some_hands

from coach.piece.events import Happening, Measured
from coach.piece.learning.estimates import Known, estimates_of
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan, remeasured

PROJECTS = Path(__file__).parents[2] / "projects"
TWO_CORDS = ("reed-keyring", "shoreline-hanging", "sluice-belt")
MAKERS = 300
LENGTH_SD = 0.03  # how far the model's length is off where hands and cord are known
READING_SD_MM = 3.0


@dataclass(frozen=True)
class Held:
    """The shares of makers for whom ranges held."""

    one: float
    length: float
    both: float


@dataclass(frozen=True)
class Maker:
    """A piece as it comes out: its plan in true hands, and what differs by strand."""

    true: Plan
    strands: Sequence[float]
    length: float

    def rest_mm(self, hung: Known, strand: int, done: int) -> float:
        return hung.rests[strand].length_mm - self.true.used_mm(strand, done) * self.strands[strand]

    def length_mm(self, done: int) -> float:
        return self.true.height_mm[done] * self.length


def a_maker(plan: Plan, rng: np.random.Generator) -> Maker:
    strands = 1 + STRAND_SD * rng.standard_normal(len(plan.strands))
    true = remeasured(plan, some_hands(plan, rng))
    return Maker(true, strands.tolist(), 1 + LENGTH_SD * rng.standard_normal())


def measured(done: int, length_mm: float, strand: str = "") -> Happening:
    return Measured(at_ms=0, tick_ms=0, sitting=0, at_done=done, total=0, strand=strand,
                    length_mm=length_mm)  # fmt: skip


def one_of_each(plan: Plan) -> list[int]:
    """Return the strand of each cord that uses most."""
    most: dict[str, int] = {}
    for number, strand in enumerate(plan.strands):
        best = most.setdefault(strand.cord, number)
        if plan.ledgers[number].total_mm > plan.ledgers[best].total_mm:
            most[strand.cord] = number
    return list(most.values())


def holds(told: Known, first: Known, maker: Maker, strands: Sequence[int]) -> list[bool]:
    """Return whether the length's range held, then those of the strands at the end."""
    total = maker.true.total
    length = told.length()
    left = {one.strand: one for one in told.cord_left().at(0)}
    ends = [maker.rest_mm(first, strand, total) for strand in strands]
    return [
        length.low_mm <= maker.length_mm(total) <= length.high_mm,
        *(left[s].end_low_mm <= max(0.0, end) <= left[s].end_high_mm
          for s, end in zip(strands, ends, strict=True)),
    ]  # fmt: skip


def at_half(first: Known, maker: Maker, strand: int, rng: np.random.Generator) -> list[Happening]:
    """Return a measure of the work and of one strand's rest."""
    done = maker.true.total // 2
    read = READING_SD_MM * rng.standard_normal(2)
    rest = maker.rest_mm(first, strand, done) + read[1]
    return [
        measured(done, maker.length_mm(done) + read[0]),
        measured(done, rest, maker.true.strands[strand].id),
    ]


def held(rows: Sequence[list[bool]]) -> Held:
    shares = np.array(rows, dtype=float)
    return Held(shares[:, 1:].mean(), shares[:, 0].mean(), shares[:, 1:].all(axis=1).mean())


def table(makers: int = MAKERS) -> Iterator[tuple[str, str, Held]]:
    """Yield for each project and moment what held."""
    for seed, name in enumerate(TWO_CORDS):
        plan = read_plan((PROJECTS / f"{name}.yaml").read_text(encoding="utf-8")).plan
        assert plan
        rng, first = np.random.default_rng(seed), estimates_of(plan, ())
        strands = one_of_each(plan)
        begun, later = [], []
        for _ in range(makers):
            maker = a_maker(plan, rng)
            begun.append(holds(first, first, maker, strands))
            seen = at_half(first, maker, strands[0], rng)
            later.append(holds(estimates_of(plan, seen), first, maker, strands))
        yield name, "at the start", held(begun)
        yield name, "half, measured", held(later)


if __name__ == "__main__":
    print("| project | told | one | length | both |\n|---|---|---|---|---|")
    for project, when, share in table(int(sys.argv[1]) if len(sys.argv) > 1 else MAKERS):
        print(f"| {project} | {when} | {share.one:.0%} | {share.length:.0%} | {share.both:.0%} |")
