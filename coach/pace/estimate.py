"""Paces learnt count by count, and the range of time that is left.

The logarithm of the seconds of one tie is taken as

    log(trade's median for the knot) + maker + knot + gain * new(n) + tie

with `maker` one figure for all that this maker ties, `knot` one for each knot, and `tie` new at
every tie, all normal. Given what has been seen, maker and knot are normal again (conjugate
normal model); the spread of single ties is pooled over the knots. The sum of what is left is
matched by one log-normal of the same mean and variance (Fenton-Wilkinson).

Practice: `new(n)` = exp(-n / NEW_TIES) after n ties of a knot, and `gain` is how much slower the
first tie is than the practised hand, one normal figure for the maker, learnt from how the pace
falls within each knot. Time over many people's repeats falls by a power of them (Newell &
Rosenbloom 1981; quoted), but for one person an exponential often fits better (Heathcote, Brown &
Mewhort 2000; read), and it is one person who sits here. It also ends: a power promises that the
hands get quicker for ever, and what is left of a piece would be told too short.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from math import exp, expm1, hypot, log, log1p, sqrt
from types import MappingProxyType
from typing import Final

from coach.pace.prior import prior_s

Z80: Final = 1.2815515655446004  # half-width of the middle 80 % of a normal, in sd

# Spreads of log seconds: common practice, no source.
MAKER_SD: Final = 0.45  # from maker to maker
WRITER_SD: Final = 0.30  # from whoever wrote a figure down to whoever ties
KNOT_SD: Final = 0.25  # one maker's likes and dislikes among knots
TIE_SD: Final = 0.40  # from tie to tie
DRIFT_SD: Final = 0.02  # from the work seen to the work to come, however little that is
DRIFT_SD_HOUR: Final = 0.09  # what moods and tired hands add in an hour, growing as its root does
LONGEST_DRIFT_H: Final = 4.0  # a rest comes before that
GAIN: Final = 0.15  # mean of the practice that is still to come at a first tie
GAIN_SD: Final = 0.15  # and how far makers differ in it
NEW_TIES: Final = 40.0  # ties of a knot after which a third of that is left

TIE_SD_WEIGHT: Final = 10.0  # as many observations as TIE_SD is worth
MEMORY: Final = 60.0  # ties after which the oldest begin to fade: tired hands are followed
SPREAD_MEMORY: Final = 300.0  # observations after which the spread forgets
CLIP: Final = 2.5  # sd: what lies farther off is taken to lie there
WIDEST_SCALE: Final = log(50.0)  # a figure farther off than that is about other work


@dataclass(frozen=True, slots=True)
class Seen:
    """What was seen of one knot, as log(seconds / trade's median).

    `ties` is how many ties the mean rests on, `looks` how many observations, `squares` their
    squared distances from the mean, each weighted by its ties. `made` is how many ties were made
    in all, faded ones too; `new` the mean of the practice still to come, `new_squares` and
    `together` its squared distances and their products with those of the figure.
    """

    ties: float = 0.0
    looks: float = 0.0
    mean: float = 0.0
    squares: float = 0.0
    made: float = 0.0
    new: float = 0.0
    new_squares: float = 0.0
    together: float = 0.0


@dataclass(frozen=True, slots=True)
class Paces:
    """A maker's paces: what was seen of each knot, and what is expected of one never seen.

    `scale` and `scale_sd` are mean and sd of the maker's log factor before anything was seen.
    """

    seen: Mapping[str, Seen] = field(default_factory=lambda: MappingProxyType({}))
    scale: float = 0.0
    scale_sd: float = MAKER_SD


@dataclass(frozen=True, slots=True)
class Range:
    """Seconds: 80 % of real times should lie from `low_s` to `high_s`, half under `likely_s`."""

    low_s: float
    likely_s: float
    high_s: float


@dataclass(frozen=True, slots=True)
class _Belief:
    """Log pace of one knot: its mean, its own variance, how far it follows maker and gain."""

    mean: float
    own_var: float
    follows: float
    gains: float


@dataclass(frozen=True, slots=True)
class _Hands:
    """What is thought of a maker: log factor and gain of practice, each with its variance."""

    noise: float
    maker: float
    maker_var: float
    gain: float
    gain_var: float


def tie_var(paces: Paces) -> float:
    """Return the variance of log seconds from tie to tie, pooled over the knots."""
    looks = sum(max(seen.looks - 1, 0.0) for seen in paces.seen.values())
    squares = sum(seen.squares for seen in paces.seen.values())
    return (TIE_SD_WEIGHT * TIE_SD**2 + squares) / (TIE_SD_WEIGHT + looks)


def observe(paces: Paces, knot: str, seconds: float, ties: int = 1) -> Paces:
    """Take in that `ties` ties of `knot` took `seconds` together.

    Returns:
        The paces with it. A time far off the expected one counts as if it were `CLIP` standard
        deviations off. Nothing changes where seconds or ties are not above zero.
    """
    if not (0 < seconds < float("inf")) or ties < 1:
        return paces
    hands = _hands(paces)
    noise = hands.noise
    new = _still_new(paces, knot, ties)
    belief = _belief(paces, knot, hands, new)
    # A mean of several log-normal times lies above their median: half the variance it lost.
    value = log(seconds / ties / _median_s(knot)) - noise * (1 - 1 / ties) / 2
    reach = CLIP * sqrt(_together(belief, belief, hands) + belief.own_var + noise / ties)
    value = min(max(value, belief.mean - reach), belief.mean + reach)
    seen = _with(paces.seen.get(knot, Seen()), value, ties, new)
    return replace(paces, seen=MappingProxyType({**paces.seen, knot: seen}))


def expect(paces: Paces, knot: str) -> float:
    """Return the running pace: mean seconds for a tie of `knot` once the hands are used to it."""
    hands = _hands(paces)
    belief = _belief(paces, knot, hands, 0.0)
    return _median_s(knot) * exp(belief.mean + hands.noise / 2)


def time_for(
    paces: Paces, ties: Mapping[str, int], stated: Iterable[tuple[float, float]] = ()
) -> Range:
    """Return the range of time that work takes.

    Args:
        paces: The maker's paces.
        ties: How many ties of each knot; `""` is a count without a knot.
        stated: For each step that says its time itself, (least, most) seconds, read as an
            80 % range; both alike for a time that is certain.
    """
    return time_beside(paces, ties, [stated_time(least, most) for least, most in stated])


def time_beside(
    paces: Paces, ties: Mapping[str, int], stated: Iterable[tuple[float, float]]
) -> Range:
    """Return the same where what the steps state was read already; see `stated_time`."""
    mean, variance = _sum_of_ties(paces, {k: n for k, n in ties.items() if n > 0})
    for step_mean, step_variance in stated:
        mean += step_mean
        variance += step_variance
    return _log_normal(mean, variance)


def scale_to(
    paces: Paces,
    ties: Mapping[str, int],
    takes: tuple[float, float],
    stated: Iterable[tuple[float, float]] = (),
) -> Paces:
    """Scale what is expected of knots never seen so that the whole piece takes `takes`.

    Args:
        paces: The maker's paces; what was seen stays and outweighs the figure by and by.
        ties: How many ties of each knot the whole piece has.
        takes: (least, most) seconds for the whole piece, as written by its maker.
        stated: As for `time_for`; these keep their own times.
    """
    likely, spread = _read_range(*takes)
    bare = sum(n * prior_s(k) * exp(GAIN * _still_new(paces, k, n)) for k, n in ties.items() if n)
    for_ties = likely - sum(stated_time(*step)[0] for step in stated)
    if bare <= 0 or for_ties <= 0:
        return paces
    scale = min(max(log(for_ties / bare), -WIDEST_SCALE), WIDEST_SCALE)
    return replace(paces, scale=scale, scale_sd=hypot(WRITER_SD, spread))


def _median_s(knot: str) -> float:
    """Return the trade's median seconds a tie; its figures are means over many ties."""
    return prior_s(knot) * exp(-(TIE_SD**2) / 2)


def _still_new(paces: Paces, knot: str, ties: int) -> float:
    """Return the mean of `new` over the next ties of a knot: a geometric sum."""
    seen = paces.seen.get(knot)
    first = exp(-(seen.made if seen else 0.0) / NEW_TIES)
    return first * expm1(-ties / NEW_TIES) / (ties * expm1(-1 / NEW_TIES))


def _with(seen: Seen, value: float, ties: int, new: float) -> Seen:
    """Add one observation (running means and squares, after Welford), fading the oldest ones."""
    total = seen.ties + ties
    away, newer, part = value - seen.mean, new - seen.new, ties * (1 - ties / total)
    fade, spread_fade = min(1.0, MEMORY / total), min(1.0, SPREAD_MEMORY / (seen.looks + 1))
    return Seen(
        ties=total * fade,
        looks=(seen.looks + 1) * spread_fade,
        mean=seen.mean + away * ties / total,
        squares=(seen.squares + away**2 * part) * spread_fade,
        made=seen.made + ties,
        new=seen.new + newer * ties / total,
        new_squares=(seen.new_squares + newer**2 * part) * fade,
        together=(seen.together + newer * away * part) * fade,
    )


def _hands(paces: Paces) -> _Hands:
    """Return what all that was seen says of the maker: gain first, from within each knot."""
    noise = tie_var(paces)
    sure = 1 / GAIN_SD**2 + sum(seen.new_squares for seen in paces.seen.values()) / noise
    gain = (GAIN / GAIN_SD**2 + sum(s.together for s in paces.seen.values()) / noise) / sure
    precision = 1 / paces.scale_sd**2
    weighted = paces.scale * precision
    for seen in paces.seen.values():
        weight = 1 / (KNOT_SD**2 + noise / seen.ties + seen.new**2 / sure)
        precision += weight
        weighted += weight * (seen.mean - gain * seen.new)
    return _Hands(noise, weighted / precision, 1 / precision, gain, 1 / sure)


def _belief(paces: Paces, knot: str, hands: _Hands, new: float) -> _Belief:
    """Weigh what was seen of one knot against what is expected of this maker, for ties so new."""
    seen = paces.seen.get(knot)
    if seen is None:
        return _Belief(hands.maker + hands.gain * new, KNOT_SD**2, 1.0, new)
    trust = KNOT_SD**2 / (KNOT_SD**2 + hands.noise / seen.ties)
    practised = seen.mean - hands.gain * seen.new
    mean = hands.maker + trust * (practised - hands.maker) + hands.gain * new
    return _Belief(mean, KNOT_SD**2 * (1 - trust), 1 - trust, new - trust * seen.new)


def _together(one: _Belief, other: _Belief, hands: _Hands) -> float:
    """Return the variance that two knots share: the maker's and the gain's."""
    return one.follows * other.follows * hands.maker_var + one.gains * other.gains * hands.gain_var


def _sum_of_ties(paces: Paces, ties: Mapping[str, int]) -> tuple[float, float]:
    """Return mean and variance, in s and s², of the time that all the ties take together."""
    hands = _hands(paces)
    noise = hands.noise
    beliefs = {
        knot: _belief(paces, knot, hands, _still_new(paces, knot, number))
        for knot, number in ties.items()
    }
    drift = _drift_var(sum(n * _median_s(k) * exp(beliefs[k].mean) for k, n in ties.items()))
    means: dict[str, float] = {}
    variance = 0.0
    for knot, number in ties.items():
        belief = beliefs[knot]
        shared = belief.own_var + _together(belief, belief, hands) + drift
        one = _median_s(knot) * exp(belief.mean + (shared + noise) / 2)
        means[knot] = number * one
        variance += number * one**2 * exp(shared) * expm1(noise)
    for knot, mean in means.items():
        for other, other_mean in means.items():
            together = _together(beliefs[knot], beliefs[other], hands) + drift
            own = beliefs[knot].own_var if knot == other else 0.0
            variance += mean * other_mean * expm1(together + own)
    return sum(means.values()), variance


def _drift_var(seconds: float) -> float:
    """Return the variance that comes with so much work: part of it is a walk without aim."""
    return DRIFT_SD**2 + DRIFT_SD_HOUR**2 * min(seconds / 3600, LONGEST_DRIFT_H)


def _read_range(least: float, most: float) -> tuple[float, float]:
    """Read (least, most) as an 80 % range: its middle in s, and its sd in log seconds."""
    most = max(least, most)
    least = max(least, most / 100)  # a range from nothing has no logarithm
    if most <= 0:
        return 0.0, 0.0
    return sqrt(least * most), log(most / least) / (2 * Z80)


def stated_time(least: float, most: float) -> tuple[float, float]:
    """Return mean and variance, in s and s², of a step that says its time itself."""
    likely, spread = _read_range(least, most)
    mean = likely * exp(spread**2 / 2)
    return mean, mean**2 * expm1(spread**2)


def _log_normal(mean: float, variance: float) -> Range:
    """Return the 80 % range of the log-normal with that mean and variance."""
    if mean <= 0:
        return Range(0.0, 0.0, 0.0)
    spread = sqrt(log1p(variance / mean**2))
    likely = mean * exp(-(spread**2) / 2)
    return Range(likely * exp(-Z80 * spread), likely, likely * exp(Z80 * spread))
