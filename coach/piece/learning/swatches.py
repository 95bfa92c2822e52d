"""Learning from a measured swatch, and questioning its measurements."""

from dataclasses import dataclass, replace
from math import hypot
from typing import Final

from coach.pace.cord_learning import Figure, Learnt, Observation, learn
from coach.piece.beliefs import Beliefs, hands_of, shared
from coach.piece.clock import Clock
from coach.piece.service import start_piece
from coach.piece.sitting.sitting import Sitting
from coach.piece.storage.store import Store
from coach.plan.cord.swatch import TrialSwatch, expected_of
from coach.plan.doubt.doubt import doubt_after_measures
from coach.plan.plan_model import remeasured
from coach.plan.tension import Slopes

_TURNS: Final = 3  # slopes are so nearly straight that the figures stand still after two


_FAR: Final = 3.0  # standard deviations: what is farther off is questioned
_LIKE: Final = 0.12  # how near a ratio is to one that has a reason
_MOST: Final = 1.0  # of a compression: no cord is thicker than it is
_INCH_CM: Final = 2.54


@dataclass(frozen=True, slots=True)
class Doubtful:
    """A surprising measurement: what is likely instead in mm, and why it may be wrong.

    One that is `impossible` is never accepted, however often it is entered.
    """

    low_mm: float
    high_mm: float
    reason: str
    impossible: bool = False


def learnt_from(swatch: TrialSwatch, beliefs: Beliefs, length_mm: float, took_mm: float) -> Learnt:
    """Return what is known of cord and knot after a swatch was measured.

    Args:
        swatch: The swatch, planned in the likely hands by the prior.
        beliefs: The prior.
        length_mm: The length of the run of knots.
        took_mm: The cord that the knotting ends took together.
    """
    project, plan = swatch.plan.project, swatch.plan
    figures: tuple[Figure, Figure] = ((swatch.cord, ""), (swatch.cord, swatch.knot))
    believed = doubt_after_measures(project, hands_of(beliefs), figures)
    learnt = believed
    for _ in range(_TURNS):
        at = {figure: plan.hands.figure(figure) for figure in figures}
        sights = [
            Observation(slopes, expected, seen, sd)
            for (slopes, expected, sd), seen in zip(
                expected_of(swatch, plan), (length_mm, took_mm), strict=True
            )
        ]
        learnt = learn(believed, at, sights)
        plan = remeasured(
            plan, plan.hands.with_figures(dict(zip(figures, learnt.means, strict=True)))
        )
    return learnt


def question_length(swatch: TrialSwatch, beliefs: Beliefs, length_mm: float) -> Doubtful | None:
    """Return what to ask about a run's measured length, None where it is likely.

    Args:
        swatch: The run that was to be tied.
        beliefs: The prior of cord and hands.
        length_mm: The length that was measured.
    """
    slopes, expected, sd = next(expected_of(swatch, swatch.plan))
    compression = swatch.plan.hands.compression_of(swatch.cord)
    impossible = compression * length_mm / expected > _MOST + _FAR * sd / expected
    return _question(swatch, beliefs, slopes, (expected, length_mm, sd), impossible=impossible)


def question_took(swatch: TrialSwatch, beliefs: Beliefs, took_mm: float) -> Doubtful | None:
    """Return what to ask about the cord that the ends took, None where it is likely.

    Args:
        swatch: The run that was to be tied.
        beliefs: The prior of cord and hands.
        took_mm: The cord that its ends took.
    """
    _, (slopes, expected, sd) = expected_of(swatch, swatch.plan)
    asked = _question(swatch, beliefs, slopes, (expected, took_mm, sd))
    ends = len(swatch.ends)
    if asked and ends > 1 and abs(took_mm * ends / expected - 1) < _LIKE:
        return replace(asked, reason="Was that one end alone? Both together are wanted.")
    return asked


def _question(
    swatch: TrialSwatch,
    beliefs: Beliefs,
    slopes: Slopes,
    measure: tuple[float, float, float],
    *,
    impossible: bool = False,
) -> Doubtful | None:
    expected, seen, sd = measure
    figures = ((swatch.cord, ""), (swatch.cord, swatch.knot))
    before = doubt_after_measures(swatch.plan.project, hands_of(beliefs), figures)
    off = hypot(before.spread(slopes), sd)
    if abs(seen - expected) <= _FAR * off and not impossible:
        return None
    low, high = max(0.0, expected - 2 * off), expected + 2 * off
    return Doubtful(low, high, _reason(seen / expected), impossible)


def _reason(ratio: float) -> str:
    """Return a likely reason why a measurement is off by a factor."""
    if abs(ratio * _INCH_CM - 1) < _LIKE or abs(ratio / _INCH_CM - 1) < _LIKE:
        return "Inches and centimetres mixed up?"
    if abs(ratio * 10 - 1) < _LIKE or abs(ratio / 10 - 1) < _LIKE:
        return "Is the decimal point where it belongs?"
    return "Are there ten knots, and is it the run alone that was measured?"


def beliefs_from(swatch: TrialSwatch, learnt: Learnt) -> Beliefs:
    """Return what a swatch teaches about its cord and its knot, for storing."""
    return shared(learnt, ((swatch.cord, ""), (swatch.cord, swatch.knot)))


_SOURCE = "swatch:"


def keep_swatch(
    store: Store, clock: Clock, swatch: TrialSwatch, beliefs: Beliefs, measured: str
) -> None:
    """Store a swatch as a finished piece that begins with what it taught.

    Args:
        store: The store of pieces.
        clock: Tells the time of the events.
        swatch: The swatch.
        beliefs: What it taught.
        measured: Its measurements, in the words of a project file.

    Raises:
        PieceError: It cannot be stored.
    """
    plan = swatch.plan
    piece = start_piece(
        store, clock, title=plan.project.title, project_text=swatch.text + measured,
        source=_SOURCE + swatch.cord, total=plan.total, beliefs=beliefs,
    )  # fmt: skip
    sitting = Sitting(store, clock, piece, [count.knot for count in plan.counts])
    sitting.count(plan.total)
    sitting.leave()
