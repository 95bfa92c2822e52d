"""Linear algebra for small covariance matrices, a dozen figures at most, in plain Python.

A numerical library would take longer to load than everything that is worked out here.
"""

from collections.abc import Sequence
from math import sqrt
from typing import Final, TypeAlias

Matrix: TypeAlias = tuple[tuple[float, ...], ...]
_LEAST: Final = 1e-14  # of a variance: what rounding leaves of one that is nothing


def cholesky(matrix: Sequence[Sequence[float]]) -> list[list[float]]:
    """Return the lower triangular Cholesky factor of a positive definite matrix.

    Variances that rounding has made zero or negative are taken as tiny.
    """
    size = len(matrix)
    lower = [[0.0] * size for _ in range(size)]
    for i in range(size):
        for j in range(i + 1):
            rest = matrix[i][j] - sum(lower[i][k] * lower[j][k] for k in range(j))
            if i == j:
                lower[i][i] = sqrt(max(rest, _LEAST))
            else:
                lower[i][j] = rest / lower[j][j]
    return lower


def solved(matrix: Sequence[Sequence[float]], right: Sequence[float]) -> list[float]:
    """Solve a linear system with a positive definite matrix."""
    lower, size = cholesky(matrix), len(matrix)
    half = [0.0] * size
    for i in range(size):
        half[i] = (right[i] - sum(lower[i][k] * half[k] for k in range(i))) / lower[i][i]
    found = [0.0] * size
    for i in reversed(range(size)):
        known = sum(lower[k][i] * found[k] for k in range(i + 1, size))
        found[i] = (half[i] - known) / lower[i][i]
    return found


def times(matrix: Sequence[Sequence[float]], right: Sequence[float]) -> list[float]:
    """Return the product of a matrix and a column."""
    return [sum(a * b for a, b in zip(row, right, strict=True)) for row in matrix]
