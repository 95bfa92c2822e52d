"""Makers who are simulated at the bench: what they do, and the time that it really took.

None of these figures stands in the estimator. Makers work the shipped projects, count as people
count (late, twice, in bursts, by the row), are called away and come back on another day. The truth
is the time that the hands worked, breaks of less than a minute included.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Literal

import numpy as np

import coach
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan, PlannedStep
from coach.project import model

SHELF = Path(coach.__file__).parent.parent / "projects"
PIECES = (
    "eel-lanyard", "marsh-pot-hanger", "reed-bed-coaster", "reed-keyring", "shoreline-hanging",
    "sluice-belt", "strandline-sampler", "tide-band",
)  # fmt: skip


@dataclass(frozen=True)
class Crowd:
    """How the makers of a crowd differ from each other, and from tie to tie."""

    name: str
    skill: str = "practised"  # what they answer when they are asked
    slower: float = 1.0  # than the trade, in the middle of the crowd
    maker_sd: float = 0.25
    kind_sd: float = 0.2
    tie_sd: tuple[float, float] = (0.2, 0.4)
    tail: float = 0.0  # share of ties that go wrong and take two to six times as long, if short
    practice: tuple[float, float] = (0.0, 0.2)  # log gain from the first tie to practised hands
    power: bool = False  # practice by a power of the ties, not an exponential
    burst: float = 0.0  # share of ties that are not counted before one or more are tied besides
    twice: float = 0.0  # share of ties that are counted twice, and one taken back
    dawdle: float = 0.0  # share of ties after which the hands rest for some seconds
    call: float = 0.0  # share of ties after which something takes the maker away
    days: float = 0.05  # sd of the log pace from day to day
    two_speeds: float = 0.0  # days are by so much slower or quicker, in log pace
    sitting_min: tuple[float, float] = (30.0, 120.0)
    tiring_an_hour: float = 0.0  # log loss an hour of the sitting, for two hours
    mood: float = 0.0  # how far one tie is like the one before
    by_row: bool = False


TRADE = Crowd("trade pace")
CROWDS = (
    TRADE,
    Crowd("novices x 2.5", "new to it", 2.5, tie_sd=(0.3, 0.5), practice=(0.1, 0.5)),
    Crowd("quick", "quick", 0.65, practice=(0.0, 0.05)),
    replace(TRADE, name="heavy-tailed", tail=0.06),
    replace(TRADE, name="fidgety", burst=0.15, twice=0.04, dawdle=0.1),
    replace(TRADE, name="phone calls", call=0.03),
    replace(TRADE, name="two-speed days", two_speeds=0.18, sitting_min=(20.0, 45.0)),
    replace(TRADE, name="tiring", tiring_an_hour=0.15, sitting_min=(60.0, 150.0)),
    replace(TRADE, name="counting by row", by_row=True),
)
"""Those that the goals name."""
OTHERS = (
    replace(TRADE, name="other paces", skill="", maker_sd=0.7, kind_sd=0.3),
    replace(TRADE, name="wide spreads", tie_sd=(0.5, 0.8)),
    replace(TRADE, name="practice, exponential", practice=(0.1, 0.6)),
    replace(TRADE, name="practice, a power", practice=(0.1, 0.3), power=True),
    replace(TRADE, name="moods", mood=0.5),
    replace(TRADE, name="novices not asked", skill="", slower=2.5, practice=(0.1, 0.5)),
    replace(TRADE, name="all together", skill="", maker_sd=0.5, tie_sd=(0.3, 0.6),
            practice=(0.0, 0.5), tiring_an_hour=0.1, call=0.02, mood=0.3, burst=0.05),
)  # fmt: skip


@dataclass(frozen=True)
class Act:
    """Something at the bench: seconds after the act before it. `worked_s` of them were work."""

    what: Literal["count", "take back", "open"]
    gap_s: float = 0.0
    worked_s: float = 0.0
    counts: int = 1


@dataclass(frozen=True)
class Maker:
    """One maker of a crowd: what is hers for as long as she lives."""

    crowd: Crowd
    pace: float
    likes: dict[str, float]
    tie_sd: float
    gain: float
    practice_ties: float
    pull_s_per_m: float
    handling: float


@cache
def plan_of(piece: str) -> Plan:
    """Return the plan of a shipped project."""
    plan = read_plan((SHELF / f"{piece}.yaml").read_text("utf-8")).plan
    assert plan
    return plan


def a_maker(rng: np.random.Generator, crowd: Crowd) -> Maker:
    """Draw a maker."""
    kinds = {count.knot for piece in PIECES for count in plan_of(piece).counts}
    return Maker(
        crowd,
        pace=float(np.log(crowd.slower) + rng.normal(0, crowd.maker_sd)),
        likes={kind: float(rng.normal(0, crowd.kind_sd)) for kind in sorted(kinds)},
        tie_sd=float(rng.uniform(*crowd.tie_sd)),
        gain=float(rng.uniform(*crowd.practice)),
        practice_ties=float(rng.uniform(15, 80)),
        pull_s_per_m=float(rng.uniform(0.5, 2.5)),
        handling=float(np.exp(rng.normal(0, 0.4))),
    )


def trade_s(plan: Plan, maker: Maker) -> np.ndarray:
    """Return what each count takes a maker whose hands are used to it, without chance."""
    return np.array(list(_trade_s(plan, maker)))


def _trade_s(plan: Plan, maker: Maker) -> Iterator[float]:
    for step in plan.steps:
        for number in range(step.first, step.end):
            count = plan.counts[number]
            like = np.exp(maker.pace + maker.likes[count.knot])
            if isinstance(step.source, model.Wait):
                yield step.source.time_s
            elif not count.knot:
                yield like * _plain_s(plan, step) / step.counts
            else:
                taking_up = 6.0 if step.role == "row" else 4.0
                before = plan.counts[number - 1] if number > step.first else None
                same = before is not None and (
                    step.role == "row"
                    or {*before.knotters, *before.fillers} == {*count.knotters, *count.fillers}
                )
                ends = [
                    plan.ledgers[s].total_mm - plan.used_mm(s, number) + plan.tail_mm[s]
                    for s in count.knotters
                ]
                end_m = min(1.0, sum(ends) / len(ends) / 1000)
                tie_s = count.passes * (_PASS_S.get(count.knot, 2.9) + maker.pull_s_per_m * end_m)
                yield like * (tie_s + (0.0 if same else maker.handling * taking_up))


_PASS_S = {
    "overhand knot": 14, "double overhand knot": 9, "barrel knot": 9, "berry knot": 7,
    "josephine knot": 60, "gathering knot": 150, "reverse clove hitch": 3.5, "lark's head": 3.5,
    "reverse lark's head": 3.5,
}  # fmt: skip


def _plain_s(plan: Plan, step: PlannedStep) -> float:
    """Return what a step without a knot takes in the middle of the trade."""
    if isinstance(step.source, model.Braid):
        cord = plan.project.cords[plan.strands[step.groups[0][0]].cord]
        length_mm = step.source.length_mm or step.counts * cord.diameter_mm
        return 8.0 + 1.1 * length_mm / (cord.diameter_mm * max(map(len, step.groups)) ** 0.5)
    stated = step.source.about.takes_s
    if stated:
        return 0.8 * float(np.sqrt(stated[0] * stated[1]))
    strands = len(plan.counts[step.first].knotters)
    usual = {model.Do: 70.0, model.Measure: 25.0, model.Trim: 20.0 + 2 * strands,
             model.Bead: 25.0, model.Space: 6.0 + strands}  # fmt: skip
    return usual.get(type(step.source), 6.0)


@dataclass(frozen=True)
class Made:
    """One piece by one maker: what she did, and how long each count really took."""

    plan: Plan
    acts: Sequence[Act]
    worked_s: np.ndarray  # by count

    def truth_s(self, done: int) -> float:
        """The seconds that the rest took after so many counts."""
        return float(self.worked_s[done:].sum())


def make(rng: np.random.Generator, maker: Maker, plan: Plan, made: dict[str, int]) -> Made:
    """Let a maker work a whole piece; `made` is how many of each knot she has tied, and grows."""
    crowd, usual = maker.crowd, trade_s(plan, maker)
    times = usual * np.exp(_chance(rng, maker, plan))
    rest = _Bench(rng, crowd)
    worked = np.zeros(plan.total)
    for number, count in enumerate(plan.counts):
        n = made[count.knot] = made.get(count.knot, 0) + 1
        better = (
            -maker.gain * np.log1p(n / maker.practice_ties) if crowd.power
            else maker.gain * np.exp(-n / maker.practice_ties)
        )  # fmt: skip
        seconds = float(times[number] * np.exp(better + rest.mood))
        if count.knot and rng.random() < crowd.tail:
            seconds += rng.uniform(1, 5) * min(seconds, 30.0)
        step = plan.step_of(number)
        worked[number] = rest.tied(seconds, last=number + 1 == step.end, tie=bool(count.knot))
    rest.counted()
    return Made(plan, rest.acts, worked)


def _chance(rng: np.random.Generator, maker: Maker, plan: Plan) -> np.ndarray:
    """Return the log chance of each count; steps without a knot differ more."""
    spread = np.array([maker.tie_sd if count.knot else 0.3 for count in plan.counts])
    noise, mood = rng.normal(0, 1, plan.total), maker.crowd.mood
    for i in range(1, plan.total):
        noise[i] = mood * noise[i - 1] + np.sqrt(1 - mood**2) * noise[i]
    return noise * spread


class _Bench:
    """Keeps the acts of a maker who ties, counts, is called away and goes home."""

    def __init__(self, rng: np.random.Generator, crowd: Crowd) -> None:
        self._rng = rng
        self._crowd = crowd
        self.acts: list[Act] = []
        self._waiting = 0  # counts made and not counted yet
        self._gap = self._worked = 0.0
        self._sit_down()

    def _sit_down(self) -> None:
        crowd, rng = self._crowd, self._rng
        self._sitting_s = 60 * rng.uniform(*crowd.sitting_min)
        self._sat_s = 0.0
        self._day = rng.normal(0, crowd.days) + crowd.two_speeds * rng.choice((-1, 1))
        self.acts.append(Act("open", 3600.0))

    @property
    def mood(self) -> float:
        """How slow she is now: the day, and how tired she is."""
        return float(self._day + self._crowd.tiring_an_hour * min(self._sat_s / 3600, 2.0))

    def tied(self, seconds: float, *, last: bool, tie: bool) -> float:
        """Make one count, and count it now or later; gives the seconds it took with its breaks."""
        crowd, rng = self._crowd, self._rng
        if rng.random() < crowd.dawdle:
            seconds += rng.uniform(3, 30)
        away = float(np.exp(rng.uniform(np.log(10), np.log(1200)))) if rng.random() < crowd.call \
            else 0.0  # fmt: skip
        worked = seconds + (away if away < 60 else 0.0)
        self._gap += seconds + away
        self._worked += worked
        self._sat_s += seconds
        self._waiting += 1
        late = last is False and tie and (crowd.by_row or rng.random() < crowd.burst)
        if not late:
            self.counted()
        return worked

    def counted(self) -> None:
        """Press the key: for all at once, or once for each count that waits."""
        if not self._waiting:
            return
        if self._crowd.by_row:
            self.acts.append(Act("count", self._gap, self._worked, self._waiting))
        else:
            quick = [self._rng.uniform(0.2, 0.5) for _ in range(self._waiting - 1)]
            self.acts.append(Act("count", self._gap, self._worked))
            self.acts += [Act("count", gap) for gap in quick]
            if self._rng.random() < self._crowd.twice:
                self.acts += [Act("count", 0.4), Act("take back", 1.5)]
        self._waiting, self._gap, self._worked = 0, 0.0, 0.0
        if self._sat_s > self._sitting_s:
            self._sit_down()
