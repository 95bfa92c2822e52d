"""The uncertainty of compression and slack, and how they are correlated.

A cord's compression is one value for all of its knots, and cords of one fibre and thickness share
most of it. Slack is the hand's: most of it is shared by all knots, a small part is each knot's.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import Final, TypeAlias

from coach.pace.gaussian import Joint
from coach.plan.doubt.joint_ranges import solved, times
from coach.plan.tension import SLACK_SD, Figure, Hands, give_of, usual_hands
from coach.project.model import Cord, Project

SAME_CORD: Final = 0.85
"""Correlation of the compressions of two cords of one fibre and thickness: rough, no source."""
SAME_FIBRE: Final = 0.5
"""The same of cords of one fibre that differ in thickness: rough, no source."""
SAME_KNOT: Final = 0.96
"""Correlation of one knot's slack in two cords of one maker: rough, no source."""
SAME_HAND: Final = 0.6
"""Correlation of the slack of two knots of one maker: rough, no source."""

MODEL_SD: Final = 0.03
"""How far the model's cord and length are off where hands and cord are known, as a share: rough.

The formulas meet the tightened knots within 5 %.
"""

STRAND_SD: Final = 0.015
"""What each strand takes more or less by itself, as a share of its cord: rough, no source."""

READING_SD_MM: Final = 3.0
"""How exactly a strand or the work is measured on the board: rough."""


Doubt: TypeAlias = Joint[Figure]
"""Figures that are not known exactly: their likely values and how they are off together."""


def prior_sd(project: Project, figure: Figure) -> float:
    """Return the standard deviation of a figure before anything was measured."""
    return SLACK_SD if figure[1] else give_of(project.cords[figure[0]].fibre).sd


def prior_correlation(project: Project, one: Figure, other: Figure) -> float:
    """Return the correlation of two figures before anything was measured.

    Args:
        project: The project, whose cords may be of one kind.
        one: A figure: compression of a cord, or slack of a knot in it.
        other: Another figure.
    """
    if one == other:
        return 1.0
    if bool(one[1]) != bool(other[1]):
        return 0.0
    if one[1]:
        return SAME_KNOT if one[1] == other[1] else SAME_HAND
    first, second = project.cords[one[0]], project.cords[other[0]]
    if _fibre(first) != _fibre(second):
        return 0.0
    return SAME_CORD if first.diameter_mm == second.diameter_mm else SAME_FIBRE


def prior(project: Project, figures: Iterable[Figure]) -> Doubt:
    """Return the mean and covariance of figures before anything was measured."""
    found, usual = tuple(figures), usual_hands(project)
    sds = [prior_sd(project, figure) for figure in found]
    covariance = tuple(
        tuple(
            prior_correlation(project, one, other) * sd * other_sd
            for other, other_sd in zip(found, sds, strict=True)
        )
        for one, sd in zip(found, sds, strict=True)
    )
    return Joint(found, tuple(usual.figure(figure) for figure in found), covariance)


def doubt_after_measures(project: Project, hands: Hands, figures: Iterable[Figure]) -> Doubt:
    """Return the mean and covariance of figures in hands of which some were measured.

    A figure that nobody measured follows those that were by their correlation in any maker's hands
    (the conditional distribution of a normal).

    Args:
        project: The project, whose cords may be of one kind.
        hands: The hands, with what was measured of them.
        figures: The figures asked for.
    """
    wanted = tuple(figures)
    known = [f for f in hands.sds if f[0] in project.cords]
    every = prior(project, (*wanted, *(f for f in known if f not in wanted)))
    return _part(_following(every, _measured(hands, known)) if known else every, wanted)


def _part(doubt: Doubt, wanted: tuple[Figure, ...]) -> Doubt:
    at = [doubt.unknowns.index(figure) for figure in wanted]
    rows = tuple(tuple(doubt.covariance[i][j] for j in at) for i in at)
    return Joint(wanted, tuple(doubt.means[i] for i in at), rows)


def _measured(hands: Hands, known: Sequence[Figure]) -> Doubt:
    def covariance(one: Figure, other: Figure) -> float:
        pair = hands.together.get((one, other), hands.together.get((other, one), 0.0))
        return (1.0 if one == other else pair) * hands.sds[one] * hands.sds[other]

    rows = tuple(tuple(covariance(one, other) for other in known) for one in known)
    return Joint(tuple(known), tuple(hands.figure(figure) for figure in known), rows)


def _following(before: Doubt, measured: Doubt) -> Doubt:
    """Condition all figures on the measured ones."""
    at = [before.unknowns.index(figure) for figure in measured.unknowns]
    own = [[before.covariance[i][j] for j in at] for i in at]
    weights = [solved(own, [row[j] for j in at]) for row in before.covariance]
    moved = [mean - before.means[i] for i, mean in zip(at, measured.means, strict=True)]
    narrowed = [
        [was - now for was, now in zip(*rows, strict=True)]
        for rows in zip(own, measured.covariance, strict=True)
    ]
    through = [times(narrowed, weight) for weight in weights]
    means = tuple(m + _dot(w, moved) for m, w in zip(before.means, weights, strict=True))
    rows = tuple(
        tuple(value - _dot(weights[j], through[i]) for j, value in enumerate(row))
        for i, row in enumerate(before.covariance)
    )
    return Joint(before.unknowns, means, rows)


def in_figures(project: Project, hands: Hands, figures: Iterable[Figure]) -> Hands:
    """Return hands with a value for every figure, unmeasured ones following the measured.

    Args:
        project: The project, whose cords may be of one kind.
        hands: The hands as they were measured.
        figures: The figures asked for.
    """
    if not hands.sds:
        return hands
    found = doubt_after_measures(project, hands, figures)
    return hands.with_figures(dict(zip(found.unknowns, found.means, strict=True)))


def _fibre(cord: Cord) -> str:
    return " ".join(cord.fibre.casefold().split())


def _dot(one: Sequence[float], other: Sequence[float]) -> float:
    return sum(a * b for a, b in zip(one, other, strict=True))


def figures_of(cords: Iterable[str], knots: Mapping[str, Iterable[str]]) -> tuple[Figure, ...]:
    """Return the compression of each cord and the slack of each knot tied in it, as figures."""
    return (
        *((cord, "") for cord in cords),
        *((cord, knot) for cord, tied in knots.items() for knot in sorted(tied)),
    )
