"""A cache of the sizes of a plan's ties in given hands: many ties, of few kinds.

All lengths in mm. A strand's contact diameter follows from its cord, so the keys hold cords.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from operator import attrgetter
from typing import Final, Literal, TypeAlias

from coach.knots import geometry
from coach.knots.geometry import Slant, TieSize
from coach.knots.names import CHAIN, FLAT_KNOTS, HALF_KNOT, REVERSE_HALF_KNOT
from coach.plan.measure.calibration import Calibration
from coach.plan.measure.strand_ends import BAR_MM
from coach.plan.measure.strand_progress import StrandProgress
from coach.plan.measure.tie_size import (
    around_size,
    bundle_size,
    chain_size,
    flat_size,
    row_size,
    scaled,
    wrap_size,
)
from coach.plan.steps import Count
from coach.plan.tension import Hands
from coach.project import model

Lie: TypeAlias = float | Literal["level", "slant", "along"]
"""How a row lies: at so many degrees, level, slanting by itself, or along the row above it."""
_STEEPEST_DEG: Final = 80.0
_CORD: Final = attrgetter("cord")


@dataclass(frozen=True, slots=True)
class RowSize:
    """One tie of a row as it lies; `own_mm` is the knotter's cord without slack."""

    own_mm: float
    mover_mm: float
    crossed_mm: float
    across_mm: float
    drop_mm: float  # along the row
    apart_mm: float  # down to the next row


@dataclass(frozen=True, slots=True)
class KnotSize:
    """One other knot: the cord of each of its strands, and of its knotters without slack."""

    own_mm: tuple[float, ...]
    uses_mm: tuple[float, ...]
    across_mm: float
    columns_mm: tuple[float, ...]  # what each strand has of that
    down_mm: float


class Sizes:
    """Computes the sizes of ties, each kind once."""

    def __init__(
        self, hands: Hands, calibration: Calibration, own: Mapping[str, model.OwnKnot]
    ) -> None:
        """Keep what the sizes depend on.

        Args:
            hands: The maker's compression and slack.
            calibration: The maker's measurements of knots.
            own: The maker's own knots, by name, with the cord that they take.
        """
        self._own = own
        self._hands = hands
        self._calibration = calibration
        self._rows: dict[tuple[object, ...], RowSize] = {}
        self._ties: dict[tuple[int, int, bool, bool], KnotSize] = {}
        self._knots: dict[tuple[object, ...], KnotSize] = {}

    def row(  # positional: asked for at every tie
        self, knot: str, knotter: StrandProgress, filler: StrandProgress, lie: Lie, holds: bool
    ) -> RowSize:
        """Return the size of a row's tie; `holds` where the mover is the filler.

        Args:
            knot: The knot's first name.
            knotter: The strand that ties.
            filler: The one it ties onto.
            lie: How the row lies.
            holds: Whether the strand that travels is tied onto.
        """
        key = (knot, knotter.cord, filler.cord, lie, holds)
        found = self._rows.get(key)
        if found is None:
            size = row_size(knot, knotter.contact_mm, filler.contact_mm, mover_holds=holds)
            along = size.across_mm if holds else size.down_mm
            size = self._measured(knot, knotter.cord, size, along)
            own, slant = size.knotter_use_mm[0], _slant(size, lie)
            uses = (own * self._slack(knotter.cord, knot), size.filler_use_mm)
            found = RowSize(
                own, *(uses[::-1] if holds else uses),
                slant.across_mm, slant.drop_mm, slant.apart_mm,
            )  # fmt: skip
            self._rows[key] = found
        return found

    def knot(
        self,
        source: model.Step,
        count: Count,
        strands: Sequence[StrandProgress],
        nested: bool,
        spiral: bool,
    ) -> KnotSize:
        """Return the size of a step's knot on its strands, knotters first.

        Args:
            source: The step as it was written.
            count: The tie.
            strands: Those that take part, knotters first.
            nested: Whether it nests under others that its strands come from, as in a net.
            spiral: Whether the sennit turns.
        """
        tie = (id(source), id(count), nested, spiral)
        found = self._ties.get(tie)
        if found is None:
            found = self._ties[tie] = self._knot(source, count, strands, nested, spiral)
        return found

    def _knot(
        self,
        source: model.Step,
        count: Count,
        strands: Sequence[StrandProgress],
        nested: bool,
        spiral: bool,
    ) -> KnotSize:
        """Return the same from the cords."""
        knot, knotters = count.knot, len(count.knotters)
        key = (id(source), knot, tuple(map(_CORD, strands)), knotters, nested, spiral)
        found = self._knots.get(key)
        if found is None:
            contact = tuple([strand.contact_mm for strand in strands])
            if isinstance(source, model.OwnTied):
                size = _own_size(self._own[knot], strands, self._calibration.usual)
            else:
                size = _drawn(source, knot, contact, knotters, nested=nested, spiral=spiral)
            size = self._measured(knot, strands[0].cord, size, size.down_mm)
            uses, last = size.knotter_use_mm, size.knotter_use_mm[-1]
            own = (*uses, *[last] * (knotters - len(uses)))[:knotters]
            found = KnotSize(
                own,
                (
                    *(
                        use * self._slack(s.cord, knot)
                        for s, use in zip(strands, own, strict=False)
                    ),
                    *[size.filler_use_mm] * (len(strands) - knotters),
                ),
                size.across_mm,
                (size.across_mm / len(strands),) * len(strands),
                size.down_mm,
            )
            self._knots[key] = found
        return found

    def _slack(self, cord: str, knot: str) -> float:
        return 1 + self._hands.slack_of(cord, knot)

    def _measured(self, knot: str, cord: str, size: TieSize, along_mm: float) -> TieSize:
        """Return a tie's size with the maker's swatch, if there is one for it."""
        # A swatch is held against the model in cord that gives as usual.
        usual = self._calibration.usual.compression_of(cord) / self._hands.compression_of(cord)
        use_mm, along_mm = size.knotter_use_mm[0] * usual, along_mm * usual
        use, extent = self._calibration.swatch(knot, cord, use_mm, along_mm)
        return scaled(size, use, extent)


def _slant(size: TieSize, lie: Lie) -> Slant:
    if lie == "level":
        return Slant(size.across_mm, 0.0, size.down_mm)
    slant = geometry.slanted(size, None if isinstance(lie, str) else min(lie, _STEEPEST_DEG))
    return replace(slant, apart_mm=size.down_mm) if lie == "along" else slant


def _own_size(knot: model.OwnKnot, strands: Sequence[StrandProgress], usual: Hands) -> TieSize:
    """Return the size of a knot of the maker's own, by her measurement.

    It grows with the cord's diameter, as every knot that is drawn up alike does: geometry. It is
    taken to be as wide as it is long, or as its strands side by side: rough.
    """
    grown = [
        strand.contact_mm
        / (usual.compression_of(strand.cord) * (knot.cord_mm or knot.measured_in_mm[strand.cord]))
        for strand in strands
    ]
    uses = knot.uses_mm * len(strands) if len(knot.uses_mm) == 1 else knot.uses_mm
    down_mm = knot.size_mm * sum(grown) / len(grown)
    across_mm = max(down_mm, sum(strand.contact_mm for strand in strands))
    return TieSize(
        tuple(use * by for use, by in zip(uses, grown, strict=True)), 0.0, across_mm, down_mm
    )


def _drawn(
    source: model.Step,
    knot: str,
    contact_mm: tuple[float, ...],
    knotters: int,
    *,
    nested: bool,
    spiral: bool,
) -> TieSize:
    """Return the modelled size of a knot that is not in a row."""
    knotting, held = contact_mm[:knotters], contact_mm[knotters:]
    if isinstance(source, model.Gathering):
        return wrap_size(knotting[0], held, source.length_mm)
    if isinstance(source, model.RigidRow):
        onto_mm = source.diameter_mm or BAR_MM[source.onto]
        return row_size(knot, knotting[0], onto_mm, mover_holds=True)
    if isinstance(source, model.AroundKnot):
        return around_size(knot, knotting[0], held, source.turns)
    if knot == CHAIN:
        return chain_size(knotting[0], held[0])
    if knot in FLAT_KNOTS:
        half = knot in (HALF_KNOT, REVERSE_HALF_KNOT)
        clasped = isinstance(source, model.GroupKnot) and bool(source.clasp)
        pair = (knotting[0], knotting[-1])
        return flat_size(knot, pair, held, spiral=spiral and half, nested=nested, bundled=clasped)
    if not isinstance(source, model.GroupKnot):
        return bundle_size(knot, knotting)
    outer = (knotting[0], *held, knotting[-1]) if source.squares else knotting
    return bundle_size(knot, outer, source.squares, source.size_mm)
