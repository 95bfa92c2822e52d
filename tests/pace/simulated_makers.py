"""Makers who are simulated: other paces, spreads, practice, tiredness and interruptions.

None of these figures stands in the estimator. Time goes through the same gaps between counts as
at a bench; the truth is the time that the hands worked, breaks of less than a minute included.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from coach.pace.estimate import Paces, Range, expect, observe, time_for
from coach.pace.gaps import worked_gap
from coach.pace.prior import prior_s

QUARTERS = (0.25, 0.5, 0.75)
PIECES = {
    "bracelet": ["clove hitch"] * 168 + ["overhand knot"] * 2,
    "wall hanging": [
        *(["lark's head"] * 12),
        *((["clove hitch"] * 5 + ["square knot"] * 3 + ["half knot"] * 2) * 20),
        *(["gathering knot"] * 2),
    ],
    "plant hanger": (["square knot"] * 8 + ["half knot"] * 10) * 4
    + ["square knot"] * 24 + ["gathering knot"] * 2,
    "net": ["square knot"] * 823,
}  # fmt: skip


@dataclass(frozen=True)
class Crowd:
    """How the makers of a crowd differ from each other and from tie to tie."""

    name: str
    maker_sd: float = 0.45
    knot_sd: float = 0.2
    tie_sd: tuple[float, float] = (0.25, 0.5)
    practice: tuple[float, float] = (0.0, 0.0)  # log gain from the first tie to the practised hand
    practice_ties: tuple[float, float] = (15.0, 120.0)
    power: bool = False  # practice by a power of the ties, not an exponential
    tiring_an_hour: float = 0.0  # log loss an hour since the last break, for two hours
    interrupted: float = 0.0  # share of ties after which something comes between
    mood: float = 0.0  # how far one tie is like the one before


CROWDS = (
    Crowd("steady hands"),
    Crowd("other paces", maker_sd=0.7, knot_sd=0.3),
    Crowd("wide spreads", tie_sd=(0.5, 0.8)),
    Crowd("practice, exponential", practice=(0.1, 0.6)),
    Crowd("practice, a power", practice=(0.1, 0.3), power=True),
    Crowd("tiring", tiring_an_hour=0.15),
    Crowd("interrupted", interrupted=0.03),
    Crowd("moods", mood=0.5),
    Crowd("all together", maker_sd=0.6, knot_sd=0.25, tie_sd=(0.3, 0.6), practice=(0.0, 0.5),
          tiring_an_hour=0.1, interrupted=0.02, mood=0.3),
)  # fmt: skip


@dataclass(frozen=True)
class Work:
    """One piece by one maker: the gap before each count is made, and what of it was work."""

    knots: Sequence[str]
    gaps_s: np.ndarray
    worked_s: np.ndarray


def simulate(rng: np.random.Generator, crowd: Crowd, knots: Sequence[str]) -> Work:
    """Let a maker of a crowd tie all knots of a piece."""
    kinds = sorted(set(knots))
    likes = dict(zip(kinds, rng.normal(0, crowd.knot_sd, len(kinds)), strict=True))
    pace = rng.normal(0, crowd.maker_sd)
    noise = rng.normal(0, rng.uniform(*crowd.tie_sd), len(knots))
    for i in range(1, len(noise)):
        noise[i] = crowd.mood * noise[i - 1] + np.sqrt(1 - crowd.mood**2) * noise[i]
    gain, ties = rng.uniform(*crowd.practice), rng.uniform(*crowd.practice_ties)
    made = dict.fromkeys(kinds, 0)
    gaps, worked, since_break = [], [], 0.0
    for i, knot in enumerate(knots):
        n = made[knot]
        better = -gain * np.log1p(n / ties) if crowd.power else gain * np.exp(-n / ties)
        tired = crowd.tiring_an_hour * min(since_break / 3600, 2.0)
        tie_s = prior_s(knot) * np.exp(pace + likes[knot] + noise[i] + better + tired)
        made[knot] += 1
        away = np.exp(rng.uniform(np.log(10), np.log(1200))) if rng.random() < crowd.interrupted \
            else 0.0  # fmt: skip
        gaps.append(tie_s + away)
        worked.append(tie_s + (away if away < 60 else 0.0))
        since_break = 0.0 if away > 300 else since_break + tie_s
    return Work(knots, np.array(gaps), np.array(worked))


def told(work: Work, parts: Sequence[float] = QUARTERS) -> list[tuple[Range, float]]:
    """Give, at each part of the piece, the range told for the rest and the time it then took."""
    ends = [round(part * len(work.knots)) for part in parts]
    paces, found = Paces(), []
    for i, knot in enumerate(work.knots):
        if i in ends:
            left = work.knots[i:]
            rest = {kind: left.count(kind) for kind in sorted(set(left))}
            found.append((time_for(paces, rest), float(work.worked_s[i:].sum())))
        gap = worked_gap(float(work.gaps_s[i]), expect(paces, knot))
        if gap.shows_pace:
            paces = observe(paces, knot, gap.worked_s)
    return found


@dataclass(frozen=True)
class Calibration:
    """Shares of truths inside the ranges told at each quarter, and the median error at half."""

    inside: tuple[float, ...]
    error_at_half: float
    too_high: float  # share of likely figures above the truth, at half


def calibrate(
    crowd: Crowd, pieces: Sequence[str], makers: int, seed: int,
    tell: Callable[[Work], list[tuple[Range, float]]] = told,
) -> Calibration:  # fmt: skip
    """Let so many makers make each piece."""
    rng = np.random.default_rng(seed)
    runs = [
        tell(simulate(rng, crowd, PIECES[piece])) for piece in pieces for _ in range(makers)
    ]  # fmt: skip
    inside = tuple(
        sum(at[q][0].low_s <= at[q][1] <= at[q][0].high_s for at in runs) / len(runs)
        for q in range(len(QUARTERS))
    )
    errors = [abs(at[1][0].likely_s / at[1][1] - 1) for at in runs]
    above = sum(at[1][0].likely_s > at[1][1] for at in runs) / len(runs)
    return Calibration(inside, float(np.median(errors)), above)


def pooled(found: Sequence[Calibration]) -> Calibration:
    """Return the mean over crowds of the same number of makers; of the errors, the median."""
    inside = tuple(
        float(np.mean(shares)) for shares in zip(*(f.inside for f in found), strict=True)
    )
    return Calibration(
        inside,
        float(np.median([f.error_at_half for f in found])),
        float(np.mean([f.too_high for f in found])),
    )
