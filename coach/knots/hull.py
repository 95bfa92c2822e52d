"""The convex hull of circles of any diameters: the length of a taut loop round them."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import acos, atan2, cos, hypot, pi, sin, sqrt

_NEAR = 1e-9


@dataclass(frozen=True, slots=True)
class Circle:
    """A strand cut across: centre and radius, in any one unit of length."""

    x: float
    y: float
    radius: float

    def gap(self, other: "Circle") -> float:
        """Return the distance between two circles; below 0 they overlap."""
        between = hypot(other.x - self.x, other.y - self.y)
        return between - self.radius - other.radius

    def tangent(self, other: "Circle") -> float:
        """Return the straight run of a taut loop from this circle to the next."""
        dx, dy, dr = other.x - self.x, other.y - self.y, other.radius - self.radius
        return sqrt(max(0.0, dx * dx + dy * dy - dr * dr))

    def handover(self, other: "Circle") -> float:
        """Return the direction, in radians, from which `other` reaches further out than this.

        A circle reaches x cos t + y sin t + radius in the direction t; the difference of two such
        sums is one cosine wave and a constant. Neither circle may lie within the other.
        """
        dx, dy, dr = other.x - self.x, other.y - self.y, other.radius - self.radius
        return atan2(dy, dx) - acos(max(-1.0, min(1.0, -dr / hypot(dx, dy))))


def hull_perimeter(circles: Sequence[Circle]) -> float:
    """Return the perimeter of the convex hull of circles, none of which lies within another.

    Exact: the sum of the arcs on the circles and the tangent runs between them (convex geometry).
    For equal circles it is the hull of the centres and one circumference.
    """
    return sum(at.radius * arc + at.tangent(then) for at, then, arc in _sides(circles))


def _sides(circles: Sequence[Circle]) -> Iterator[tuple[Circle, Circle, float]]:
    """Walk once round the hull: a circle, the one after it, and the angle of arc on the first."""
    at = first = max(circles, key=lambda c: (round(c.x + c.radius, 9), c.y))
    angle = 0.0
    while True:
        arc, then = _next(at, angle, circles)
        if then is None or angle + arc > 2 * pi - _NEAR:
            yield at, first, 2 * pi - angle
            return
        yield at, then, arc
        angle += arc
        at = then


def _next(at: Circle, angle: float, circles: Sequence[Circle]) -> tuple[float, Circle | None]:
    """Return the arc until the next circle stands out further, and that circle.

    Of circles in one straight line the furthest is taken.
    """
    best, then = 2 * pi, None
    for other in circles:
        if other is at:
            continue
        arc = max(0.0, (at.handover(other) - angle + _NEAR) % (2 * pi) - _NEAR)
        nearer = arc < best - _NEAR
        if nearer or (then and arc < best + _NEAR and at.tangent(other) > at.tangent(then)):
            best, then = arc, other
    return best, then


def touching(one: Circle, other: Circle, radius: float) -> tuple[Circle, ...]:
    """Return the circles of a radius that touch two others; none if these are too far apart.

    Args:
        one: A circle that is touched.
        other: The other one; they may overlap.
        radius: Radius of the circles looked for, in the same unit.
    """
    apart = hypot(other.x - one.x, other.y - one.y)
    near, far = one.radius + radius, other.radius + radius
    if apart > near + far:
        return ()
    towards = atan2(other.y - one.y, other.x - one.x)
    swing = acos(max(-1.0, min(1.0, (apart**2 + near**2 - far**2) / (2 * apart * near))))
    return tuple(
        Circle(one.x + near * cos(turn), one.y + near * sin(turn), radius)
        for turn in (towards + swing, towards - swing)
    )
