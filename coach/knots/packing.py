"""How strands bunch up into a bundle, and the length of one turn round it."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations
from math import fsum, hypot, pi, sqrt
from typing import Final

from coach.knots.hull import Circle, hull_perimeter, touching

PLACED_ONE_BY_ONE: Final = 12
_NEAR = 1e-9


@dataclass(frozen=True, slots=True)
class Hull:
    """A taut loop of no thickness round a bundle.

    `diameter_mm` is that of the round strand with the same girth, perimeter / pi.
    """

    perimeter_mm: float

    @property
    def diameter_mm(self) -> float:
        """Diameter of the single strand that has this girth."""
        return self.perimeter_mm / pi


def bundle_hull(diameters_mm: Sequence[float]) -> Hull:
    """Return the hull of strands pulled together into a bundle; their order does not matter.

    For 1 to 7 equal strands it is pi d more than 0, 2, 3, 4, 5, 4 + sqrt(3) and 6 d (convex
    geometry). Above twelve strands the twelve thickest are packed and the girth grows with the
    square root of the area of cord, so the packing stays as dense as it is at twelve: rough.

    Raises ValueError when there is no strand or a diameter is not above nought.
    """
    thickest, ratios = _ratios(diameters_mm)
    packed = ratios[:PLACED_ONE_BY_ONE]
    growth = sqrt(fsum(r * r for r in ratios) / fsum(r * r for r in packed))
    return Hull(thickest * growth * _packed_perimeter(packed))


def flat_hull(diameters_mm: Sequence[float]) -> Hull:
    """Return the hull of strands lying side by side in one flat layer, in the order given.

    For n equal strands it is 2 (n - 1) d + pi d (convex geometry); the layer lies on a board, so
    thinner strands between thicker ones touch the board too.

    Raises ValueError as `bundle_hull` does.
    """
    _ratios(diameters_mm)
    row: list[Circle] = []
    for diameter in diameters_mm:
        radius = diameter / 2
        x = max((c.x + 2 * sqrt(c.radius * radius) for c in row), default=0.0)
        row.append(Circle(x, radius, radius))
    return Hull(hull_perimeter(row))


def turn_mm(knotter_mm: float, bundle: Hull) -> float:
    """Return the length of one bare turn of a knotter round a bundle, along the knotter's axis.

    It is the hull's perimeter + pi k, so pi (D + k) round one strand; for equal diameters that is
    2 pi d, the component of the tightest Hopf link (Cantarella, Kusner, Sullivan, Invent. Math.
    150 (2002)). Real knots take 15 to 45 % more, which the figures of each knot add.
    """
    return bundle.perimeter_mm + pi * knotter_mm


def pack_circles(diameters: Sequence[float]) -> tuple[Circle, ...]:
    """Place circles side by side, the largest first, so that the hull stays short.

    Each next one touches two of those placed, where it lengthens the hull least; of equal places
    the one nearest to the middle. Greedy and deterministic, near the tightest but not proved to
    be; meant for about a dozen circles. Unit: that of the diameters, the first at the origin.
    """
    placed: list[Circle] = []
    for diameter in sorted(diameters, reverse=True):
        placed.append(_best_place(placed, diameter / 2))
    return tuple(placed)


def _ratios(diameters_mm: Sequence[float]) -> tuple[float, tuple[float, ...]]:
    """Return the largest diameter, and every diameter as a share of it, largest first.

    The cache is keyed by the shares, so that bundles of any thickness share their packing.
    """
    if not diameters_mm or min(diameters_mm) <= 0:
        raise ValueError("A bundle needs at least one strand, each thicker than nought.")
    thickest = max(diameters_mm)
    return thickest, tuple(sorted((round(d / thickest, 12) for d in diameters_mm), reverse=True))


@lru_cache(maxsize=1024)
def _packed_perimeter(ratios: tuple[float, ...]) -> float:
    return hull_perimeter(pack_circles(ratios))


def _best_place(placed: list[Circle], radius: float) -> Circle:
    if not placed:
        return Circle(0.0, 0.0, radius)
    if len(placed) == 1:
        return Circle(placed[0].radius + radius, 0.0, radius)
    middle_x = fsum(c.x for c in placed) / len(placed)
    middle_y = fsum(c.y for c in placed) / len(placed)
    free = (
        place
        for one, other in combinations(placed, 2)
        for place in touching(one, other, radius)
        if all(place.gap(c) > -_NEAR for c in placed)
    )
    # Rounded, so that places equal by symmetry are told apart by the same rule on every machine.
    return min(
        free,
        key=lambda place: (
            round(hull_perimeter([*placed, place]), 9),
            round(hypot(place.x - middle_x, place.y - middle_y), 9),
            round(place.x, 9),
            round(place.y, 9),
        ),
    )
