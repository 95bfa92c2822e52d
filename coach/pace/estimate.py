"""Paces learnt count by count, and ranges of the time that is left.

Work is told in standard seconds by kind (see `coach.pace.prior`): each knot is a kind, and so are
handling, plaiting and each kind of step without a knot. The model of the time that work takes is

    log(seconds) = log(sum of standard_s * exp(kind)) + hand + day + practice * new + rest

where `hand` is how slow this maker is beside the trade, `kind` what is her own in one kind of
work, `day` how she is today, and `practice` how much slower hands are that are new to a kind.
All of them are jointly normal (`coach.pace.gaussian`); the sum is linearized about the
present means, so that each kind's slope is its share of the seconds (extended Kalman filter).

*Skill* gives the prior of `hand` and `practice`. *Day* is drawn anew at each sitting and wanders
within one. *Practice*: `new` is exp(-x / NEW_S) after x standard seconds of a kind. Over many
people time falls by a power of the repeats (Newell & Rosenbloom 1981; quoted), but for one person
an exponential often fits better (Heathcote, Brown & Mewhort 2000; read), and it ends, where a
power would promise that hands get quicker for ever. *Rest* differs from tie to tie with a spread
that is learnt, and its tails are heavy: a surprising time is believed less (Student's t; the weight
of one step of iteratively reweighted least squares, Lange, Little & Taylor, *JASA* 84 (1989), from
memory). A quick surprise is mostly a count that was forgotten and is believed less than a slow one.

Counts are taken in as stretches of half a minute and more, because hands count late, twice and
in bursts: what is right over the stretch is wrong at each count. What a file says that its work
`takes` is one weak observation more.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace
from math import exp, expm1, inf, log, sqrt
from types import MappingProxyType
from typing import Final

from coach.pace.gaussian import Belief, Joint, conditioned, extended, independent, redrawn, widened
from coach.pace.prior import SKILLS, WAIT
from coach.pace.work_amount import Z80, WorkAmount, read_range

HAND: Final = ":hand"
DAY: Final = ":day"
PRACTICE: Final = ":practice"


# Spreads of log seconds and what goes with them: common practice, no source, and set so that four
# in five real times fall inside on simulated makers (`tests/bench/pace_calibration.py`).
MOST_UNKNOWNS: Final = 100  # far more kinds than there are; a file from elsewhere may name any
KIND_SD: Final = 0.33  # one maker's likes and dislikes among kinds of work
DAY_SD: Final = 0.045  # from day to day
WALK_SD: Final = 0.09  # what an hour's moods and tired hands make of a day
SITTING_S: Final = 7200.0  # what is left beyond that is done on other days
MODEL_SD: Final = 0.036  # what no counting tells: the standard times are not hers in their parts
TIE_VARIANCE: Final = 0.13  # of the seconds of single ties, over their square
TIE_LOOKS: Final = 4.0  # as many stretches as that figure is worth
LOOKS_MEMORY: Final = 80.0  # stretches after which the spread forgets
QUICK_TAIL: Final = 8.0  # degrees of freedom of quick surprises: counts that catch up
SLOW_TAIL: Final = 24.0  # of slow ones, most of which come again: gaps that are no work are out
MUCH_SURPRISE: Final = 8.0  # squared deviations of a stretch that may mean changed hands
MOST_SURPRISE: Final = 12.0  # squared deviations: one wild stretch does not make all of them wild
CHANGED_SD: Final = 0.07  # a surprise may also be hands that have changed, and more will follow
NEW_S: Final = 300.0  # standard seconds of a kind after which a third of the practice is left
STRETCH_S: Final = 30.0  # standard seconds that are taken in at once, at least

WRITER_SD: Final = 1.0  # how far a file's figure may be off: writers, guesses, other repeats
PIECE_SD: Final = 0.01  # what comes between two pieces besides another day
OTHER_CORD_SD: Final = 0.20  # what another cord makes of a kind of work


@dataclass(frozen=True, slots=True)
class Timed:
    """Work with the seconds it took, and the fastest that any hand does it."""

    work: WorkAmount
    seconds: float
    least_s: float = 0.0


@dataclass(frozen=True, slots=True)
class Paces:
    """What is known of a maker's paces.

    `made` is how many standard seconds of each kind were worked, `tie_variance` the relative
    variance of single ties' times, known from `looks` stretches, and `open` the stretch under way.
    """

    known: Joint[str]
    made: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    tie_variance: float = TIE_VARIANCE
    looks: float = 0.0
    open: Timed | None = None


@dataclass(frozen=True, slots=True)
class Range:
    """Seconds: 80 % of real times should lie from `low_s` to `high_s`, half under `likely_s`."""

    low_s: float
    likely_s: float
    high_s: float


@dataclass(frozen=True, slots=True)
class _Outlook:
    """A prediction for some work: log seconds, slope by unknown, variance of the rest."""

    log_s: float
    slopes: Mapping[str, float]
    rest: float


def initial_paces(skill: str = "") -> Paces:
    """Return the prior paces of a maker of whom only the skill is known."""
    said = SKILLS.get(skill, SKILLS[""])
    day = Belief(0.0, DAY_SD)
    return Paces(independent({HAND: said.hand, DAY: day, PRACTICE: said.practice}))


def expected_seconds(paces: Paces, work: WorkAmount) -> float:
    """Return the seconds that work is likely to take at the current pace."""
    waiting = work.standard_s.get(WAIT, 0.0)
    if not work.hands_s:
        return waiting
    return waiting + exp(_outlook(_acquainted(paces, work), work).log_s)


def time_for(paces: Paces, work: WorkAmount) -> Range:
    """Return the range of time that work takes from here on, further days included."""
    waiting = work.standard_s.get(WAIT, 0.0)
    if not work.hands_s:
        return Range(waiting, waiting, waiting)
    paces = _acquainted(learn_stretch(paces), work)
    ahead = _outlook(paces, work)
    seconds = exp(ahead.log_s)
    today = min(1.0, SITTING_S / seconds)
    variance = paces.known.variance({**ahead.slopes, DAY: today}) + ahead.rest + MODEL_SD**2
    variance += _days_variance(seconds, today)
    other_days = (1 - today) * paces.known.belief(DAY).mean
    likely, off = exp(ahead.log_s - other_days - ahead.rest / 2), exp(Z80 * sqrt(variance))
    return Range(waiting + likely / off, waiting + likely, waiting + likely * off)


def learn_time(paces: Paces, work: WorkAmount, seconds: float, least_s: float = 0.0) -> Paces:
    """Learn from the time that some counts took, as part of the stretch under way.

    Args:
        paces: The maker's paces.
        work: What was counted.
        seconds: From the count before to this one, pauses left out.
        least_s: The fastest that any hand does it. A quicker count catches up with work done
            earlier: it ends no stretch and begins none.
    """
    late, under_way = seconds < least_s, paces.open
    if WAIT in work.standard_s:
        return practised(learn_stretch(paces), work)
    if late and under_way is None:
        return practised(paces, work)
    if under_way is None or (not late and under_way.work.hands_s >= STRETCH_S):
        return replace(learn_stretch(paces), open=Timed(work, seconds, least_s))
    more = under_way.work.and_also(work), under_way.seconds + seconds, under_way.least_s + least_s
    return replace(paces, open=Timed(*more))


def learn_stretch(paces: Paces) -> Paces:
    """Learn from the stretch under way and begin a new one."""
    if paces.open is None:
        return paces
    timed = paces.open
    enough = timed.seconds >= timed.least_s
    learnt = _learnt(paces, timed.work, timed.seconds) if enough else paces
    return replace(practised(learnt, timed.work), open=None)


def discard_stretch(paces: Paces) -> Paces:
    """Discard the stretch under way, because some of its counts were taken back."""
    return replace(practised(paces, paces.open.work), open=None) if paces.open else paces


def practised(paces: Paces, work: WorkAmount) -> Paces:
    """Add work of unknown time: it says nothing of the pace, but is practice."""
    made = {kind: paces.made.get(kind, 0.0) + s for kind, s in work.standard_s.items()}
    return replace(paces, made=MappingProxyType({**paces.made, **made}))


def new_day(paces: Paces) -> Paces:
    """Begin a sitting: forget how the last day differed."""
    paces = learn_stretch(paces)
    return replace(paces, known=redrawn(paces.known, DAY, Belief(0.0, DAY_SD)))


def new_piece(paces: Paces, elsewhere: Collection[str] = ()) -> Paces:
    """Return the paces for the next piece, less sure of kinds known only in another cord."""
    paces = new_day(paces)
    moved = {HAND: PIECE_SD**2, **dict.fromkeys(elsewhere, OTHER_CORD_SD**2)}
    return replace(paces, known=widened(paces.known, moved), looks=min(paces.looks, TIE_LOOKS))


def learn_claim(
    paces: Paces, whole: WorkAmount, takes: tuple[float, float], skill: str = ""
) -> Paces:
    """Learn from the time that a file's writer states for the whole work.

    Args:
        paces: The maker's paces.
        whole: All the work that the figure is about.
        takes: (least, most) seconds.
        skill: The skill for which the figure is stated; "" for whoever makes the piece.
    """
    likely, spread = read_range(*takes)
    likely -= whole.standard_s.get(WAIT, 0.0)
    if likely <= 0 or not whole.hands_s:
        return paces
    paces = _acquainted(paces, whole)
    slopes = {**_outlook(paces, whole).slopes, DAY: 0.0}
    meant = expected_seconds(
        initial_paces(skill) if skill else paces, whole
    ) - whole.standard_s.get(WAIT, 0.0)
    off = log(likely / meant)
    return replace(paces, known=_believed(paces.known, slopes, off, WRITER_SD**2 + spread**2))


def _acquainted(paces: Paces, work: WorkAmount) -> Paces:
    """Add kinds of work that were never met before, as long as they are few."""
    new = [kind for kind in work.standard_s if kind not in (WAIT, *paces.known.unknowns)]
    new = new[: max(0, MOST_UNKNOWNS - len(paces.known.unknowns))]
    if not new:
        return paces
    return replace(paces, known=extended(paces.known, dict.fromkeys(new, Belief(0.0, KIND_SD))))


def _outlook(paces: Paces, work: WorkAmount) -> _Outlook:
    """Predict work today, its kinds all known."""
    means = dict(zip(paces.known.unknowns, paces.known.means, strict=True))
    hands = {k: s for k, s in work.standard_s.items() if k != WAIT and s > 0}
    parts = {kind: s * exp(means.get(kind, 0.0)) for kind, s in hands.items()}
    total = sum(parts.values())
    shares = {kind: part / total for kind, part in parts.items()}
    new = sum(share * _new(paces.made.get(k, 0.0), hands[k]) for k, share in shares.items())
    log_s = log(total) + means[HAND] + means[DAY] + new * means[PRACTICE]
    rest = paces.tie_variance * work.squares / work.hands_s**2
    return _Outlook(log_s, {HAND: 1.0, DAY: 1.0, PRACTICE: new, **shares}, rest)


def _new(made_s: float, more_s: float) -> float:
    """Return the mean of exp(-x / NEW_S) over the next standard seconds of a kind."""
    return exp(-made_s / NEW_S) * -expm1(-more_s / NEW_S) * NEW_S / more_s


def _learnt(paces: Paces, work: WorkAmount, seconds: float) -> Paces:
    """Learn from a stretch and the seconds that it took."""
    if not 0 < seconds < inf or not work.hands_s:
        return paces
    paces = _acquainted(paces, work)
    known = widened(paces.known, {DAY: WALK_SD**2 * seconds / 3600})
    ahead = _outlook(paces, work)
    # A sum of skewed times is likely to lie below its mean: half the variance of its logarithm.
    off = log(seconds) + ahead.rest / 2 - ahead.log_s
    variance = known.variance(ahead.slopes) + ahead.rest
    surprise = min(off**2 / variance, MOST_SURPRISE)
    looks = min(paces.looks + 1, LOOKS_MEMORY)
    spread = 1 + (surprise - 1) * ahead.rest / variance / (TIE_LOOKS + looks)
    known = _believed(known, ahead.slopes, off, ahead.rest)
    return replace(
        paces,
        known=widened(known, {HAND: CHANGED_SD**2}) if surprise > MUCH_SURPRISE else known,
        tie_variance=paces.tie_variance * spread,
        looks=looks,
    )


def _believed(
    known: Joint[str], slopes: Mapping[str, float], off: float, variance: float
) -> Joint[str]:
    """Add one observation; a surprising one counts as less sure."""
    surprise = off**2 / (known.variance(slopes) + variance)
    tail = SLOW_TAIL if off > 0 else QUICK_TAIL
    return conditioned(known, slopes, off, variance * max(1.0, (tail + surprise) / (tail + 1)))


def _days_variance(seconds: float, today: float) -> float:
    """Return the variance that this day's drift and further days add, as a share squared."""
    hours = today * seconds / 3600
    days = max(1.0, (1 - today) * seconds / SITTING_S)
    return today**2 * WALK_SD**2 * hours / 3 + (1 - today) ** 2 * DAY_SD**2 / days
