"""A loop that was worked on the pieces' middles, as it lies once they are folded."""

from dataclasses import replace
from math import cos, pi, sin

from coach.picture.layout.loom import Loom
from coach.picture.scene import Point, Segment, Shape, Tie
from coach.picture.shapes.curves import box_of, halved, moved


class Hairpin:
    """The way of a loop: up on the left, round, and down on the right, in so many mm of height.

    Its legs come together at their feet.
    """

    def __init__(self, high_mm: float, wide_mm: float) -> None:
        self.high_mm = high_mm
        self.round_mm = min(0.6 * wide_mm + 0.6, high_mm * 0.6)
        self.foot_mm = min(0.3 * wide_mm, self.round_mm)
        self.leg_mm = high_mm - self.round_mm
        self.scale = (2 * self.leg_mm + pi * self.round_mm) / (2 * high_mm)

    def bent(self, point: Point) -> Point:
        """Return where a point of the straight work comes to lie; 0 is the loop's left end."""
        x, way = point[0], point[1] * self.scale
        if way <= self.leg_mm:
            return x - self._apart(way), self.high_mm - way
        arc = way - self.leg_mm
        if arc < pi * self.round_mm:
            angle, out = arc / self.round_mm, self.round_mm - x
            return -out * cos(angle), self.round_mm - out * sin(angle)
        below = arc - pi * self.round_mm
        return self._apart(self.leg_mm - below) - x, self.round_mm + below

    def _apart(self, up: float) -> float:
        """Return how far a leg stands from the middle, so far above its foot."""
        share = min(1.0, max(0.0, up / (0.75 * self.leg_mm or 1.0)))
        return self.foot_mm + (self.round_mm - self.foot_mm) * share * share * (3 - 2 * share)


def bend(worked: Loom, pin: Hairpin) -> list[Tie]:
    """Return what was worked straight as it lies once it is folded."""
    bent = []
    for run in worked.runs:
        line = Segment(0, run.layer, run.width_mm, run.path)
        bent.append(_bent(Tie(run.count, "", _shape([line]), 0.0, 0.0, (run.strand,)), pin))
    return bent + [_bent(tie, pin) for tie in worked.ties]


def _shape(own: list[Segment]) -> Shape:
    return Shape(tuple(own), (), (), box_of(own))


def _bent(tie: Tie, pin: Hairpin) -> Tie:
    who = {strand: number for number, strand in enumerate(tie.strands)}
    own = [s for stretch in tie.stretches()
           for s in moved([halved(halved(stretch))], pin.bent, who[stretch.strand])]  # fmt: skip
    return replace(tie, shape=_shape(own), x_mm=0.0, y_mm=0.0)
