"""Prints how well a piece is foretold once it was measured, by hands and by faults of measuring.

Run: python tests/bench/learning.py [MAKERS]
Each maker measures the work and one strand at a quarter, at half and at three quarters. At half the
measure is spoilt, where the row says so; a question about it is answered by the reason that is
true, or else the measure is kept. *cord* and *length* are how often ranges for four in five hold at
the end, told after half; the errors are medians, of the cord that was still to be used and of the
finished length.
"""

import sys
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

sys.path.insert(0, str(Path(__file__).parents[2]))

import numpy as np
from numpy.typing import NDArray

from coach.piece.entering.measure_doubts import doubt_measure
from coach.piece.events import Happening, Measured
from coach.piece.learning.estimates import Known, estimates_of
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan, remeasured
from coach.plan.tension import Hands

PROJECTS: Final = ("tide-band", "sluice-belt")
HOME: Final = Path(__file__).parents[2] / "projects"
MAKERS: Final = 40
COMPRESSION: Final = {"hemp": 0.90, "waxed cotton": 0.90}
COMPRESSION_SD, SLACK_SD, STRAND_SD, LENGTH_SD, READING_SD_MM = 0.04, 0.05, 0.015, 0.03, 3.0
Spoil = Callable[[Measured, float], Measured]
"""Makes of a true measure a wrong one; the other figure is what another strand has left."""


@dataclass(frozen=True)
class Crowd:
    """Hands that tie this much looser on the whole, or by the end, and how they mismeasure."""

    name: str
    looser: float = 0.0
    drift: float = 0.0
    spoilt: Spoil | None = None
    strand: bool = False  # whether it is the strand that is mismeasured, and not the work
    why: str = ""  # the reason that is true


def _longer(by: float) -> Spoil:
    return lambda seen, _: replace(seen, length_mm=seen.length_mm * by)


CROWDS: Final = (
    Crowd("one hand"),
    Crowd("loose", looser=0.10),
    Crowd("tight", looser=-0.08),
    Crowd("drifting", drift=0.12),
    Crowd("under load", spoilt=_longer(1.12), why="loaded"),
    Crowd("x 1.5", spoilt=_longer(1.5)),
    Crowd("inches", spoilt=_longer(1 / 2.54), why="inches"),
    Crowd(
        "wrong strand",
        spoilt=lambda seen, other: replace(seen, length_mm=other),
        strand=True,
        why="a rest",
    ),
)


class Maker:
    """A piece as it really comes out: cord used by strand and count, and its length by count."""

    def __init__(self, plan: Plan, crowd: Crowd, rng: np.random.Generator) -> None:
        self.hands = Hands(
            {
                name: min(1.0, rng.normal(COMPRESSION[cord.fibre], COMPRESSION_SD))
                for name, cord in plan.project.cords.items()
            },
            dict.fromkeys(
                {(plan.strands[s].cord, c.knot) for c in plan.counts for s in c.knotters if c.knot},
                crowd.looser + rng.normal(0, SLACK_SD if not crowd.looser else SLACK_SD / 2),
            ),
        )
        self.true = remeasured(plan, self.hands)
        self.drift = crowd.drift * np.arange(plan.total) / plan.total
        self.by_strand = rng.normal(1, STRAND_SD, len(plan.strands))
        self.longer = rng.normal(1, LENGTH_SD)

    def used_mm(self, strand: int) -> NDArray[np.float64]:
        """Return the cord that a strand has used after each count."""
        used = [self.true.used_mm(strand, done) for done in range(self.true.total + 1)]
        more = np.diff(used) * (1 + self.drift) * self.by_strand[strand]
        return np.concatenate([[0.0], np.cumsum(more)])

    def length_mm(self, done: int) -> float:
        """Return the length of the work after a count."""
        return self.true.height_mm[done] * self.longer


def measure(done: int, length_mm: float, strand: str = "") -> Measured:
    return Measured(at_ms=0, tick_ms=0, sitting=0, at_done=done, total=0, strand=strand,
                    length_mm=length_mm)  # fmt: skip


def answered(now: Known, seen: Measured, why: str) -> Measured:
    """Return a measure as it is put down: believed, corrected by the true reason, or kept."""
    asked = doubt_measure(now, seen)
    if asked is None:
        return seen
    true = [reason.measure for reason in asked.reasons if reason.why == why]
    return true[0] if true else replace(seen, doubt=asked.doubt)


@dataclass(frozen=True)
class Told:
    """Whether the ranges of cord and length held at the end, and by what share they were off."""

    cord: bool
    length: bool
    cord_off: float
    length_off: float


def worked(plan: Plan, crowd: Crowd, rng: np.random.Generator, *, ask: bool) -> Told:
    """Work one piece to its half and tell the end of it."""
    maker, first = Maker(plan, crowd, rng), estimates_of(plan, ())
    strand, other = _two(plan)
    used, rest = maker.used_mm(strand), first.rests[strand].length_mm
    read = rng.normal(0, READING_SD_MM, 4)
    past: list[Happening] = []
    for place, done in enumerate((plan.total // 4, plan.total // 2)):
        work = measure(done, maker.length_mm(done) + read[2 * place])
        left = measure(done, rest - used[done] + read[2 * place + 1], plan.strands[strand].id)
        elsewhere = first.rests[other].length_mm - maker.used_mm(other)[done]
        for right in (work, left):
            seen = right
            if place and crowd.spoilt and bool(right.strand) == crowd.strand:
                seen = crowd.spoilt(right, elsewhere)
                seen = answered(estimates_of(plan, past), seen, crowd.why) if ask else seen
            past.append(seen)
    return _told(estimates_of(plan, past), maker, strand, used, rest)


def _two(plan: Plan) -> tuple[int, int]:
    """Return the strand that uses most, and one of its cord that uses least."""
    hung = [s for s in range(len(plan.strands)) if s in plan.start]
    most = max(hung, key=lambda s: plan.ledgers[s].total_mm)
    like = [s for s in hung if plan.strands[s].cord == plan.strands[most].cord and s != most]
    return most, min(like or hung, key=lambda s: plan.ledgers[s].total_mm)


def _told(now: Known, maker: Maker, strand: int, used: NDArray[np.float64], rest: float) -> Told:
    ahead = next(left for left in now.cord_left().at(now.plan.total // 2) if left.strand == strand)
    end, length = rest - float(used[-1]), now.length()
    true = maker.length_mm(maker.true.total)
    to_use = float(used[-1] - used[now.plan.total // 2])
    return Told(
        ahead.end_low_mm <= max(0.0, end) <= ahead.end_high_mm,
        length.low_mm <= true <= length.high_mm,
        abs(ahead.end_mm - end) / to_use,
        abs(length.likely_mm / true - 1),
    )


def row(plans: Sequence[Plan], crowd: Crowd, makers: int, *, ask: bool) -> str:
    rng = np.random.default_rng(3)
    told = [worked(plan, crowd, rng, ask=ask) for plan in plans for _ in range(makers)]
    cord, length = (np.mean([getattr(one, what) for one in told]) for what in ("cord", "length"))
    offs = [np.median([getattr(one, what) for one in told]) for what in ("cord_off", "length_off")]
    return f"{cord:.0%} | {length:.0%} | {offs[0]:.1%} | {offs[1]:.1%}"


def table(makers: int = MAKERS) -> Iterator[str]:
    """Yield the lines of the table: believed as written, then questioned."""
    plans = []
    for name in PROJECTS:
        plan = read_plan((HOME / f"{name}.yaml").read_text(encoding="utf-8")).plan
        assert plan
        plans.append(plan)
    yield "| hands | measures | cord | length | cord off | length off |"
    yield "|---|---|---|---|---|---|"
    for crowd in CROWDS:
        yield f"| {crowd.name} | believed | {row(plans, crowd, makers, ask=False)} |"
        if crowd.spoilt:
            yield f"| {crowd.name} | questioned | {row(plans, crowd, makers, ask=True)} |"


if __name__ == "__main__":
    for line in table(int(sys.argv[1]) if len(sys.argv) > 1 else MAKERS):
        print(line, flush=True)
