"""Layout of the start: how the pieces hang before the first knot, and on what."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import cos, pi, sin, sqrt
from typing import Final

from coach.knots import geometry, names
from coach.knots.geometry import PINNED
from coach.picture.layout.scene_builder import SceneBuilder
from coach.picture.scene import Fitting, FittingKind, Point, Segment, Shape, Tie
from coach.picture.shapes.curves import box_of, halved, placed_segments
from coach.picture.shapes.mountings import larks_head, pinned_shape, single_strand_shape
from coach.plan.measure.strand_ends import bar_mm, hanging_method

_LEAD: Final = 0.5  # of the way that strands go sideways, how far below the mounting they do it
_FREE_MM: Final = 25.0  # of a lead, what is drawn at most
_RING: Final = re.compile(r"(\d{1,3})\s*mm\b[^.;]*\bring\b", re.IGNORECASE)
_RING_MM: Final = 28.0
_KINDS: Final[dict[str, FittingKind]] = {
    "dowel": "dowel", "ring": "ring", "hook": "hook", "buckle": "buckle", "cord": "cord",
}  # fmt: skip


def hang(loom: SceneBuilder) -> tuple[list[Tie], list[Fitting]]:
    """Lay out the pieces before the first knot; return mounts and what they hang on."""
    start, loom_of = loom.plan.project.start, _pieces(loom)
    loom.grid.stand(loom.plan.start)
    if start.from_middle and not start.pieces:  # the other side: its cords go on upward
        loom.at.update({s: (loom.grid.x_mm[s], 0.0) for s in loom.plan.start})
        return [], []
    if hanging_method(start) == PINNED:
        return _pinned(loom, loom_of)
    if start.layout == "nest":
        return _nest(loom, loom_of)
    return _each(loom, loom_of)


def _pieces(loom: SceneBuilder) -> list[tuple[int, ...]]:
    """Return the strands of each piece from the left, pieces from the left."""
    found: dict[tuple[str, int], list[int]] = {}
    for strand in loom.plan.start:
        named = loom.plan.strands[strand]
        found.setdefault((named.cord, named.piece), []).append(strand)
    return [tuple(strands) for strands in found.values()]


def _nest(loom: SceneBuilder, pieces: list[tuple[int, ...]]) -> tuple[list[Tie], list[Fitting]]:
    """Hang all pieces as one lark's head, the first outermost."""
    looks = loom.look([piece[0] for piece in pieces])
    thick = round(geometry.bundle_hull([look[0] for look in looks]).diameter_mm, 3)
    strands = [piece[0] for piece in pieces] + [piece[-1] for piece in pieces]
    bar = _bar(loom, 2.2 * thick)
    front = loom.plan.project.start.by != names.REVERSE_LARKS_HEAD
    ring = bar.round_mm > 0
    ports = larks_head(looks, bar.thick_mm, thick, 0.0, front=front, ring=ring).leave
    away = max(abs(loom.grid.x_mm[s] - x) for s, (x, _) in zip(strands, ports, strict=True))
    lead = round(away * _LEAD, 3)
    shape = larks_head(looks, bar.thick_mm, thick, lead, front=front, ring=ring)
    low = -lead - 1.1 * looks[0][0] - thick
    tie = _hung(loom, shape, 0.0, strands)
    return [tie], [_fitting(bar, low - bar.thick_mm / 2, 2.2 * thick)]


def _hung(loom: SceneBuilder, shape: Shape, x: float, strands: Sequence[int]) -> Tie:
    for strand, (dx, dy) in zip(strands, shape.leave, strict=True):
        loom.at[strand] = (x + dx, dy)
    return Tie(-1, "", shape, x, 0.0, tuple(strands))


def _each(loom: SceneBuilder, pieces: list[tuple[int, ...]]) -> tuple[list[Tie], list[Fitting]]:
    """Hang every piece on its own."""
    bar = _bar(loom, loom.grid.half_mm)
    front = loom.plan.project.start.by != names.REVERSE_LARKS_HEAD
    most = max(loom.looks[piece[0]][0] for piece in pieces)
    ties = []
    for piece in pieces:
        look = loom.looks[piece[0]]
        x = sum(loom.grid.x_mm[strand] for strand in piece) / len(piece)
        lead = 1.4 * most + 2.1 * (most - look[0]) + bar.rise_mm(x)
        if len(piece) == 1:
            shape = single_strand_shape(
                look, round(lead + 2.1 * most + bar.thick_mm + _free(loom, piece[0]), 3)
            )
        else:
            ring = bar.round_mm > 0
            shape = larks_head(
                (look,), bar.thick_mm, look[0], round(lead, 3), front=front, ring=ring
            )
        ties.append(_hung(loom, shape, x, piece))
    return ties, [_fitting(bar, -3.5 * most - bar.thick_mm / 2, loom.grid.half_mm)]


def _pinned(loom: SceneBuilder, pieces: list[tuple[int, ...]]) -> tuple[list[Tie], list[Fitting]]:
    ties, pins = [], []
    for piece in pieces:
        look, xs = loom.looks[piece[0]], [loom.grid.x_mm[strand] for strand in piece]
        x, lead = sum(xs) / len(xs), round(1.2 * look[0], 3)
        if len(piece) == 1:
            ties.append(
                _hung(loom, single_strand_shape(look, lead + _free(loom, piece[0])), x, piece)
            )
            pins.append((x, -lead - 2 * look[0]))
            continue
        apart = round(xs[-1] - xs[0], 3)
        shape = pinned_shape(look, apart, lead)
        ties.append(_hung(loom, shape, x, piece))
        pins.append((x, shape.box[1] + look[1] + 0.6))
    return ties, [_pin(x, y) for x, y in pins]


def _free(loom: SceneBuilder, strand: int) -> float:
    """Return how much of a single strand's free end is drawn."""
    lead = loom.plan.project.cords[loom.plan.strands[strand].cord].lead_mm
    return round(min(max(lead, 6.0), _FREE_MM), 3)


def _pin(x: float, y: float) -> Fitting:
    return Fitting("pin", (x - 0.8, y - 0.8, x + 0.8, y + 0.8))


@dataclass(frozen=True, slots=True)
class _Bar:
    """What the mounts go round: its thickness, and its width if it is round."""

    kind: FittingKind
    thick_mm: float
    round_mm: float = 0.0

    def rise_mm(self, x: float) -> float:
        """Return how much higher a ring is at a distance from its lowest point."""
        bend = max(0.0, self.round_mm - self.thick_mm) / 2
        return bend - sqrt(max(0.0, bend * bend - x * x))


def _bar(loom: SceneBuilder, half: float) -> _Bar:
    """Return what the pieces hang on, wide enough for all that hangs on it."""
    start = loom.plan.project.start
    kind, thick = _KINDS.get(start.on, "bar"), bar_mm(start)
    if kind == "ring":
        return _Bar(kind, thick, _ring_mm(loom.plan.project.findings, thick, half))
    return _Bar(kind, thick, max(3.5 * thick, 2.3 * half) if kind == "hook" else 0.0)


def _fitting(bar: _Bar, middle: float, half: float) -> Fitting:
    """Return the fitting whose lowest part has its middle at a height."""
    low, over = middle + bar.thick_mm / 2, max(6.0, 0.14 * half)
    wide = bar.round_mm or 2 * (half + over)
    high = {"ring": wide, "hook": 3.4 * wide, "buckle": 0.4 * wide}.get(bar.kind, bar.thick_mm)
    return Fitting(bar.kind, (-wide / 2, low - high, wide / 2, low), bar.thick_mm)


def _ring_mm(findings: Sequence[str], thick: float, half: float) -> float:
    """Return a ring's outer diameter: as bought, else wide enough for what hangs on it."""
    for found in findings:
        told = _RING.search(found)
        if told and float(told[1]) > max(3 * thick, 1.4 * half):
            return float(told[1])
    return max(_RING_MM, 2.4 * half, 6 * thick)


class Hairpin:
    """The path of a loop: up on the left, round, and down on the right, within a height.

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
        """Return how far a leg is from the middle, at a height above its foot."""
        share = min(1.0, max(0.0, up / (0.75 * self.leg_mm or 1.0)))
        return self.foot_mm + (self.round_mm - self.foot_mm) * share * share * (3 - 2 * share)


def bend(worked: SceneBuilder, pin: Hairpin) -> list[Tie]:
    """Return the ties of straight work as they lie once it is folded."""
    bent = []
    for run in worked.runs:
        line = Segment(0, run.layer, run.width_mm, run.path)
        bent.append(_bent(Tie(run.count, "", _shape([line]), 0.0, 0.0, (run.strand,)), pin))
    return bent + [_bent(tie, pin) for tie in worked.ties]


def _shape(own: list[Segment]) -> Shape:
    return Shape(tuple(own), (), (), box_of(own))


def _bent(tie: Tie, pin: Hairpin) -> Tie:
    who = {strand: number for number, strand in enumerate(tie.strands)}
    own = [
        segment
        for stretch in tie.stretches()
        for segment in placed_segments([halved(halved(stretch))], pin.bent, who[stretch.strand])
    ]
    return replace(tie, shape=_shape(own), x_mm=0.0, y_mm=0.0)
