"""What the coach tells simulated makers, through the events that a bench keeps."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import Literal

import numpy as np
from simulated_makers import Act, Crowd, Made, a_maker, make, plan_of

from coach.pace.estimate import Paces, Range, initial_paces, learn_claim, new_piece
from coach.pace.pace_json import to_data
from coach.piece.events import Begun, Counted, Event, Opened, TakenBack
from coach.piece.folding import fold
from coach.piece.reports.forecast import Forecast
from coach.piece.state import State

Takes = Literal["missing", "right", "wrong by 5", "shipped"]
PARTS = (0.0, 0.1, 0.25, 0.5)


@dataclass(frozen=True)
class Told:
    """A range told after a part of a piece, and what the rest then took."""

    part: float
    range: Range
    truth_s: float

    @property
    def holds(self) -> bool:
        """Whether the truth lay in the range."""
        return self.range.low_s <= self.truth_s <= self.range.high_s

    @property
    def width(self) -> float:
        """High over low."""
        return self.range.high_s / self.range.low_s


@cache
def forecast_of(piece: str) -> Forecast:
    """Return the forecast of a shipped project."""
    return Forecast(plan_of(piece))


def begun(
    forecast: Forecast, skill: str, takes: Takes, truth_s: float, rng: np.random.Generator
) -> Paces:
    """Return the paces that a piece begins with where its file makes a claim of that kind."""
    if takes == "missing":
        return initial_paces(skill)
    if takes == "shipped":
        return forecast.prior(initial_paces(skill))
    likely = truth_s * (1.0 if takes == "right" else float(rng.choice((0.2, 5.0))))
    whole = forecast.work(0, forecast.plan.total)
    return learn_claim(initial_paces(skill), whole, (likely * 0.85, likely * 1.2))


def walked(
    forecast: Forecast,
    made: Made,
    paces: Paces,
    parts: Sequence[float] = PARTS,
    *,
    whole: bool = False,
) -> tuple[list[Told], Paces]:
    """Return what is told at each part of a piece, and the paces then or at the end of the whole.

    No more of the piece is followed than that.
    """
    plan = forecast.plan
    ends = [round(part * plan.total) for part in parts]
    state = fold(State(), Begun(
        at_ms=0, tick_ms=0, sitting=0, title="", project_text="", source="", total=plan.total,
        paces=to_data(paces),
    ))  # fmt: skip
    told: list[Told] = []
    now_s = 0.0
    for act in made.acts:
        while len(told) < len(parts) and state.done >= ends[len(told)] and act.what != "open":
            left = forecast.left(state.paces, state.done)
            told.append(Told(parts[len(told)], left, made.truth_s(state.done)))
        if len(told) == len(parts) and not whole:
            break
        now_s += act.gap_s
        event = _event(state, forecast, act, round(now_s * 1000))
        state = fold(state, event) if event else state
    return told, state.paces


def _event(state: State, forecast: Forecast, act: Act, ms: int) -> Event | None:
    if act.what == "open":
        return Opened(at_ms=ms, tick_ms=ms, sitting=state.seq + 1)
    if act.what == "take back":
        return TakenBack(
            at_ms=ms, tick_ms=ms, sitting=state.sitting, count=1, from_done=state.done
        ) if state.done < state.total else None  # fmt: skip
    first, plan = state.done, forecast.plan
    end = min(first + act.counts, state.total)
    if first == end:
        return None
    knots = {count.knot for count in plan.counts[first:end]}
    return Counted(
        at_ms=ms, tick_ms=ms, sitting=state.sitting, count=end - first, from_done=first,
        knot=knots.pop() if len(knots) == 1 else "",
        standard_s=forecast.work(first, end).standard_s,
    )  # fmt: skip


@dataclass
class Row:
    """What was told to one crowd."""

    told: list[Told] = field(default_factory=list)
    again: list[Told] = field(default_factory=list)  # at the start of a second piece

    def held(self, *parts: float) -> float:
        """Return the share of ranges told at these parts that held."""
        return float(np.mean([t.holds for t in self.told if t.part in parts]))

    def width(self, part: float) -> float:
        """Return high over low in the median."""
        return float(np.median([t.width for t in self.told if t.part == part]))

    @property
    def width_again(self) -> float:
        """High over low at the start of a second piece, in the median."""
        return float(np.median([t.width for t in self.again]))

    def off(self, part: float) -> float:
        """Return the median error of the likely figure."""
        return float(np.median(
            [abs(t.range.likely_s / t.truth_s - 1) for t in self.told if t.part == part]
        ))  # fmt: skip


def told_to(
    crowd: Crowd, pieces: Sequence[str], makers: int, seed: int, takes: Takes = "missing",
    *, second: bool = False,
) -> Row:  # fmt: skip
    """Let so many makers of a crowd make each piece, and on demand a second one of each."""
    rng, row = np.random.default_rng(seed), Row()
    for piece in pieces:
        for _ in range(makers):
            maker, tied = a_maker(rng, crowd), dict[str, int]()
            first = make(rng, maker, plan_of(piece), tied)
            forecast = forecast_of(piece)
            start = begun(forecast, crowd.skill, takes, first.truth_s(0), rng)
            told, paces = walked(forecast, first, start, whole=second)
            row.told += told
            if second:
                again = make(rng, maker, plan_of(piece), tied)
                row.again += walked(forecast, again, new_piece(paces), (0.0,))[0]
    return row
