"""Libraries that tests compare the coach with, each loaded when a test first asks for it.

Loading them all takes longer than a thousand tests, and every process of the tests would.
"""

from fractions import Fraction
from functools import cache
from typing import Any


@cache
def units() -> Any:
    """Return pint's own units."""
    import pint

    return pint.UnitRegistry(cache_folder=None)


@cache
def exact_units() -> Any:
    """Return the same in exact fractions."""
    import pint

    return pint.UnitRegistry(cache_folder=None, non_int_type=Fraction)


def permutation(*cycles: Any, size: int | None = None) -> Any:
    """Return a permutation of sympy's."""
    from sympy.combinatorics import Permutation

    return Permutation(*cycles, size=size)


def determinant(rows: list[list[int]]) -> int:
    """Return how large the determinant of whole numbers is, without its sign."""
    from sympy import Matrix

    return abs(int(Matrix(rows).det()))
