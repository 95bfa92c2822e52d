"""How far the figures of a project's cords and hands may be off, and which of them move together.

A cord's compression is one value for all of its knots, and cords of one fibre and thickness share
most of it. Slack is the hand's: most of it is shared by all knots, a small part is each knot's.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import hypot, sqrt
from typing import Final

from coach.plan.doubt.fibres import give_of
from coach.plan.doubt.matrices import Matrix, solved, times
from coach.plan.measure.tension import SLACK_SD, Figure, Hands, Slopes, usual_hands
from coach.project.model import Cord, Project

SAME_CORD: Final = 0.85
"""Correlation of the compressions of two cords of one fibre and thickness: rough, no source."""
SAME_FIBRE: Final = 0.5
"""The same of cords of one fibre that differ in thickness: rough, no source."""
SAME_KNOT: Final = 0.95
"""Correlation of one knot's slack in two cords of one maker: rough, no source."""
SAME_HAND: Final = 0.75
"""Correlation of the slack of two knots of one maker: rough, no source."""

MODEL_SD: Final = 0.03
"""How far the model's cord and length are off where hands and cord are known, as a share: rough.

The formulas meet the tightened knots within 5 %.
"""

READING_SD_MM: Final = 3.0
"""How exactly a strand or the work is measured on the board: rough."""


@dataclass(frozen=True, slots=True)
class Doubt:
    """Figures that are not known exactly, and their covariance."""

    figures: tuple[Figure, ...]
    covariance: Matrix

    def sd(self, figure: Figure) -> float:
        """Return the standard deviation of a figure. Raises ValueError for one not there."""
        at = self.figures.index(figure)
        return sqrt(max(0.0, self.covariance[at][at]))

    def together(self, one: Figure, other: Figure) -> float:
        """Return the correlation of two figures."""
        i, j = self.figures.index(one), self.figures.index(other)
        whole = sqrt(self.covariance[i][i] * self.covariance[j][j])
        return self.covariance[i][j] / whole if whole else 0.0

    def spread(self, slopes: Slopes) -> float:
        """Return the standard deviation in mm of what follows the figures along these slopes."""
        along = self.along(slopes)
        return sqrt(max(0.0, _dot(along, times(self.covariance, along))))

    def along(self, slopes: Slopes) -> list[float]:
        """Return slopes in the order of the figures, 0 where one has none."""
        return [slopes.get(figure, 0.0) for figure in self.figures]

    def after(self, slopes: Slopes, sd_mm: float) -> "Doubt":
        """Return what doubt is left once something that follows these slopes is measured so well.

        What is left does not depend on what the measure shows.
        """
        along = self.along(slopes)
        told = times(self.covariance, along)
        whole = _dot(along, told) + sd_mm**2
        if not whole:
            return self
        return Doubt(
            self.figures,
            tuple(
                tuple(
                    value - told[i] * other / whole for value, other in zip(row, told, strict=True)
                )
                for i, row in enumerate(self.covariance)
            ),
        )

    def with_own(self, figure: Figure, sd: float) -> "Doubt":
        """Return the doubt with one more figure, which moves with none of the others."""
        rows = (*((*row, 0.0) for row in self.covariance), (*(0.0 for _ in self.figures), sd**2))
        return Doubt((*self.figures, figure), rows)


@dataclass(frozen=True, slots=True)
class Told:
    """Figures as they are thought of: their likely values, and the doubt about them."""

    means: tuple[float, ...]
    doubt: Doubt


def prior_sd(project: Project, figure: Figure) -> float:
    """Return the standard deviation of a figure before anything was measured."""
    return SLACK_SD if figure[1] else give_of(project.cords[figure[0]].fibre).sd


def together(project: Project, one: Figure, other: Figure) -> float:
    """Return the correlation of two figures before anything was measured."""
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
    """Return the doubt about figures before anything was measured."""
    found = tuple(figures)
    sds = [prior_sd(project, figure) for figure in found]
    covariance = tuple(
        tuple(
            together(project, one, other) * sd * other_sd
            for other, other_sd in zip(found, sds, strict=True)
        )
        for one, sd in zip(found, sds, strict=True)
    )
    return Doubt(found, covariance)


def told(project: Project, hands: Hands, figures: Iterable[Figure]) -> Told:
    """Return what hands tell of figures: of some what was measured, of the others what follows.

    A figure that nobody measured moves with those that were, as far as they go together in any
    maker's hands (the conditional of a normal).
    """
    wanted = tuple(figures)
    known = tuple(f for f in hands.sds if f[0] in project.cords)
    every = (*wanted, *(f for f in known if f not in wanted))
    plain, usual = prior(project, every), usual_hands(project)
    means = [usual.figure(figure) for figure in every]
    covariance = [list(row) for row in plain.covariance]
    if known:
        _follow(means, covariance, [every.index(f) for f in known], _measured(hands, known))
    size = range(len(wanted))
    rows = tuple(tuple(covariance[i][j] for j in size) for i in size)
    return Told(tuple(means[: len(wanted)]), Doubt(wanted, rows))


def _measured(hands: Hands, known: Sequence[Figure]) -> Told:
    def covariance(one: Figure, other: Figure) -> float:
        pair = hands.together.get((one, other), hands.together.get((other, one), 0.0))
        return (1.0 if one == other else pair) * hands.sds[one] * hands.sds[other]

    rows = tuple(tuple(covariance(one, other) for other in known) for one in known)
    return Told(tuple(hands.figure(figure) for figure in known), Doubt(tuple(known), rows))


def _follow(
    means: list[float], covariance: list[list[float]], at: Sequence[int], measured: Told
) -> None:
    """Let all figures follow what was measured of those at some places, in place."""
    before = [[covariance[i][j] for j in at] for i in at]
    weights = [solved(before, [row[j] for j in at]) for row in covariance]
    moved = [mean - means[i] for i, mean in zip(at, measured.means, strict=True)]
    narrowed = [
        [was - now for was, now in zip(*rows, strict=True)]
        for rows in zip(before, measured.doubt.covariance, strict=True)
    ]
    for i, own in enumerate(weights):
        means[i] += _dot(own, moved)
        through = times(narrowed, own)
        for j, other in enumerate(weights):
            covariance[i][j] -= _dot(other, through)


def in_figures(project: Project, hands: Hands, figures: Iterable[Figure]) -> Hands:
    """Return hands in which all these figures follow what was measured of some of them."""
    if not hands.sds:
        return hands
    found = told(project, hands, figures)
    return hands.with_figures(dict(zip(found.doubt.figures, found.means, strict=True)))


def swatch_sd(length_mm: float, reading_mm: float, ends: int = 1) -> float:
    """Return how far a swatch may be off for the piece, in mm: it is read, and knots differ."""
    return hypot(reading_mm, MODEL_SD * length_mm / sqrt(ends))


def _fibre(cord: Cord) -> str:
    return " ".join(cord.fibre.casefold().split())


def _dot(one: Sequence[float], other: Sequence[float]) -> float:
    return sum(a * b for a, b in zip(one, other, strict=True))


def figures_of(cords: Iterable[str], knots: Mapping[str, Iterable[str]]) -> tuple[Figure, ...]:
    """Return the figures of cords, and of the knots that are tied in each of them."""
    return (
        *((cord, "") for cord in cords),
        *((cord, knot) for cord, tied in knots.items() for knot in sorted(tied)),
    )
