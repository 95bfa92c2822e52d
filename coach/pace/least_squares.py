"""Weighted linear least squares with what was believed before, solved by Householder's QR.

Small systems only: a few unknowns, some dozens of observations. The method is the textbook one
(Golub & Van Loan, *Matrix Computations*, from memory); QR keeps the digits that normal equations
lose.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, sqrt
from typing import Final

_SMALLEST: Final = 1e-12


class Undetermined(ValueError):
    """The observations and beliefs leave an unknown open."""

    def __init__(self) -> None:
        super().__init__("These observations do not say enough to find every unknown.")


@dataclass(frozen=True, slots=True)
class Row:
    """One observation: coefficients of the unknowns, the value seen, and its sd."""

    coefficients: tuple[float, ...]
    value: float
    sd: float = 1.0


@dataclass(frozen=True, slots=True)
class Fit:
    """The unknowns' values and their covariance, for observations with the sds that they claim.

    `misfit` is the sum of squared residuals, each over its sd.
    """

    values: tuple[float, ...]
    covariance: tuple[tuple[float, ...], ...]
    misfit: float

    def sd(self, unknown: int) -> float:
        """Return the standard deviation of one unknown."""
        return sqrt(max(0.0, self.covariance[unknown][unknown]))


def fit(rows: Sequence[Row]) -> Fit:
    """Return the unknowns that fit the rows best; a belief is a row about one unknown.

    Raises:
        Undetermined: There are fewer independent rows than unknowns.
    """
    if not rows or len(rows) < len(rows[0].coefficients):
        raise Undetermined
    size = len(rows[0].coefficients)
    work = [[c / row.sd for c in row.coefficients] + [row.value / row.sd] for row in rows]
    for column in range(size):
        _reflect(work, column)
    scale = max((abs(work[i][i]) for i in range(size)), default=0.0)
    if any(abs(work[i][i]) <= _SMALLEST * max(scale, 1.0) for i in range(size)):
        raise Undetermined
    values = _back(work, [work[i][size] for i in range(size)])
    misfit = sum(row[size] ** 2 for row in work[size:])
    return Fit(tuple(values), _covariance(work, size), misfit)


def belief(unknown: int, size: int, value: float, sd: float) -> Row:
    """Return the row that says what was believed of one unknown before anything was seen."""
    return Row(tuple(float(at == unknown) for at in range(size)), value, sd)


def beliefs_together(means: Sequence[float], covariance: Sequence[Sequence[float]]) -> list[Row]:
    """Return the rows that say what was believed of unknowns that move together.

    `covariance` is positive definite; its Cholesky factor makes them independent.
    """
    size, rows = len(means), list[Row]()
    lower: list[list[float]] = []
    for i in range(size):
        own: list[float] = []
        for j in range(i):
            known = sum(a * b for a, b in zip(own, lower[j], strict=False))
            own.append((covariance[i][j] - known) / lower[j][j])
        own.append(sqrt(max(covariance[i][i] - sum(a * a for a in own), _SMALLEST)))
        lower.append(own)
        # What is left of this unknown once those before it are known, over its deviation.
        left = [float(i == j) - sum(own[k] * rows[k].coefficients[j] for k in range(i))
                for j in range(size)]  # fmt: skip
        mean = means[i] - sum(own[k] * rows[k].value for k in range(i))
        rows.append(Row(tuple(part / own[i] for part in left), mean / own[i]))
    return rows


def _reflect(work: list[list[float]], column: int) -> None:
    """Make a column zero below the diagonal by one Householder reflection, in place."""
    below = [row[column] for row in work[column:]]
    length = hypot(*below)
    if length == 0:
        return
    head = below[0] + (length if below[0] >= 0 else -length)
    mirror = [head, *below[1:]]
    square = sum(v * v for v in mirror)
    for other in range(column, len(work[0])):
        along = (
            2 * sum(v * row[other] for v, row in zip(mirror, work[column:], strict=True)) / square
        )
        for v, row in zip(mirror, work[column:], strict=True):
            row[other] -= along * v


def _back(work: list[list[float]], right: list[float]) -> list[float]:
    """Solve the upper triangle for one right side."""
    size = len(right)
    values = [0.0] * size
    for i in reversed(range(size)):
        known = sum(work[i][j] * values[j] for j in range(i + 1, size))
        values[i] = (right[i] - known) / work[i][i]
    return values


def _covariance(work: list[list[float]], size: int) -> tuple[tuple[float, ...], ...]:
    """Return the inverse of R transposed times R."""
    columns = [_back(work, [float(i == j) for i in range(size)]) for j in range(size)]
    return tuple(
        tuple(sum(columns[k][i] * columns[k][j] for k in range(size)) for j in range(size))
        for i in range(size)
    )
