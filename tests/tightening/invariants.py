"""Which knot a closed polygon is, as far as its determinant tells: 1 unknotted, 3 a trefoil.

From a view of the polygon: the arcs between under-passes take the unknowns of its colouring, each
crossing gives one equation (twice the arc above less the two below), and the determinant is that
of any minor. R. H. Crowell and R. H. Fox, *Introduction to Knot Theory* (1963); from memory.
"""

import numpy as np
from tubes import Points

FAR = 100.0


def joined_far_away(points: Points, axis: int) -> Points:
    """Close an open strand, whose ends are pulled apart along an axis, by a wide way round."""
    pull = np.eye(3)[axis]
    aside = np.eye(3)[(axis + 1) % 3]
    ahead = points[-1] + FAR * np.sign(points[-1, axis]) * pull
    behind = points[0] + FAR * np.sign(points[0, axis]) * pull
    return np.array([*points, ahead, ahead + FAR * aside, behind + FAR * aside, behind])


def determinant(points: Points) -> int:
    """Return the determinant of a closed polygon, shape (n, 3), seen from an odd direction."""
    frame, _ = np.linalg.qr(np.array([[0.31, 0.87, 0.12], [0.74, -0.2, 0.55], [0.2, 0.1, -0.9]]))
    passes = _passes(points @ frame)
    under = sorted(low for low, _ in passes)
    count = len(under)
    if count < 3:
        return 1
    colours = np.zeros((count, count))
    for row, (low, high) in enumerate(passes):
        before = under.index(low)
        colours[row, before] -= 1
        colours[row, (before + 1) % count] -= 1
        colours[row, int(np.searchsorted(under, high)) % count] += 2
    return round(abs(np.linalg.det(colours[1:, 1:])))


def _passes(points: Points) -> list[tuple[float, float]]:
    """Return for each crossing of the view the places along the polygon below and above."""
    ahead = np.roll(points, -1, axis=0) - points
    found = []
    for i in range(len(points)):
        for j in range(i + 2, len(points) - (i == 0)):
            apart = points[j, :2] - points[i, :2]
            across = _cross(ahead[i], ahead[j])
            if not across:
                continue
            s, t = _cross(apart, ahead[j]) / across, _cross(apart, ahead[i]) / across
            if 0 < s < 1 and 0 < t < 1:
                gap = points[i, 2] + s * ahead[i, 2] - points[j, 2] - t * ahead[j, 2]
                found.append((i + s, j + t) if gap < 0 else (j + t, i + s))
    return found


def _cross(a: Points, b: Points) -> float:
    return float(a[0] * b[1] - a[1] * b[0])
