"""Grouping of pieces that are cut alike, and lengths at which they reach as surely as asked."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from functools import cache, cached_property
from math import ceil
from operator import mul
from typing import Final, TypeAlias

from coach.plan.doubt.risk import Risk, risk_of
from coach.plan.pieces import Label, Piece, pieces_of
from coach.plan.plan_model import Origin, Plan

_NEAR: Final = 1e-6
_INCH_MM: Final = 25.4
_QUARTER_YARD_MM: Final = 9 * _INCH_MM
# Up to which length, in mm, a length is rounded up to which step: common practice, no source.
_STEPS: Final = {
    "mm": ((float("inf"), 1.0),),
    "cm": ((500.0, 10.0), (2000.0, 50.0), (float("inf"), 100.0)),
    "in": (
        (20 * _INCH_MM, _INCH_MM / 2), (72 * _INCH_MM, 2 * _INCH_MM),
        (float("inf"), _QUARTER_YARD_MM),
    ),
}  # fmt: skip


def rounded_up(length_mm: float, unit: str = "cm") -> float:
    """Return a length rounded up as a maker cuts.

    To 1 cm up to 50 cm, to 5 cm up to 2 m, to 10 cm beyond; for `in` to half an inch up to 20
    inches, to 2 inches up to 2 yards, to a quarter of a yard beyond; for `mm` to a millimetre.
    """
    step = step_mm(length_mm, unit)
    return ceil(length_mm / step - _NEAR) * step


def step_mm(length_mm: float, unit: str = "cm") -> float:
    """Return the step, in mm, to which a length of this size is rounded."""
    return next(step for most, step in _STEPS[unit] if length_mm <= most + _NEAR)


TYPICAL: Final = 2.0
"""Standard deviations of a need that are usually to spare, where the margin is not known yet."""
_ALIKE: Final = (0.9, 0.8, 0.7, 0.5, 0.0)
"""Pieces of a cord that need more than this share of the longest are cut alike: the first share
that leaves no more lengths than a maker keeps apart."""
_MOST_LENGTHS: Final = 3
_ONE_LENGTH: Final = 0.98  # the same for pieces of whatever cord: a maker cuts them to one length
_MOST: Final = 12.0
_CLOSE: Final = 0.005

Group: TypeAlias = tuple[Piece, ...]
"""Pieces of one cord that are cut to one length, the longest first."""

Lengths: TypeAlias = Mapping[Label, float]
"""What each piece is cut to, in mm."""


class Cutting:
    """The pieces of a plan in groups, and the lengths to cut them to."""

    def __init__(self, plan: Plan, unit: str = "cm", risk: Risk | None = None) -> None:
        """Set up for a plan.

        Args:
            plan: The plan, measured or not.
            unit: "cm" or "in": the unit in which lengths are rounded up.
            risk: The plan's risk, if it is known already.
        """
        self._plan = plan
        self._unit = unit
        self._margin = plan.project.margin
        self._risk = risk
        if self._margin is None:  # first: the pass that measures by knot serves for all else
            self._risk = risk or risk_of(plan)
        self.pieces = pieces_of(plan)

    @property
    def cords(self) -> Sequence[str]:
        """The cords in the order of the file."""
        return list(self._plan.project.cords)

    @property
    def risk(self) -> Risk:
        """The chance model of the plan's cord; only worked out when it is needed."""
        return self._risk or risk_of(self._plan)

    @cached_property
    def groups(self) -> tuple[Group, ...]:
        """The pieces that are cut alike: of one cord, for one use, of nearly one need."""
        kinds: dict[tuple[str, Origin, str], list[Piece]] = defaultdict(list)
        for piece in self.pieces:
            kinds[piece.cord, piece.origin, piece.apart].append(piece)
        return tuple(group for pieces in kinds.values() for group in self._alike(pieces))

    def _alike(self, pieces: Sequence[Piece]) -> Sequence[Group]:
        lengths = {piece.label: self._length(piece, TYPICAL) for piece in pieces}
        falling = sorted(pieces, key=lambda piece: -lengths[piece.label])
        tried = (list(_groups(falling, lengths, share)) for share in _ALIKE)
        return next(groups for groups in tried if len(groups) <= _MOST_LENGTHS)

    @cached_property
    def _classes(self) -> list[list[int]]:
        """The places of groups that are cut to one length though they are of other cords."""
        needs = [max(self._length(piece, TYPICAL) for piece in group) for group in self.groups]
        classes: list[list[int]] = []
        for place in sorted(range(len(needs)), key=lambda place: -needs[place]):
            if classes and needs[place] >= _ONE_LENGTH * needs[classes[-1][0]]:
                classes[-1].append(place)
            else:
                classes.append([place])
        return classes

    def lengths_mm(self, sure: float) -> Sequence[float]:
        """Return the length of each group: with the file's margin, or by the chance to reach.

        Args:
            sure: The chance that every strand reaches, where the file has no margin.
        """
        lengths = self._with_margin() if self._margin is not None else self._by_risk(sure)
        return self._of_groups(lengths)

    def _of_groups(self, lengths: Sequence[float]) -> list[float]:
        """Return the length of each group from those of the classes."""
        found = {
            place: length
            for places, length in zip(self._classes, lengths, strict=True)
            for place in places
        }
        return [found[place] for place in range(len(self.groups))]

    def _longest(self, places: Sequence[int], deviations: float) -> float:
        return max(self._length(p, deviations) for place in places for p in self.groups[place])

    def _with_margin(self) -> Sequence[float]:
        share = 1 + (self._margin or 0.0)
        return [
            rounded_up(self._longest(places, 0.0) * share, self._unit) for places in self._classes
        ]

    def shares_mm(self, lengths: Lengths) -> dict[int, float]:
        """Return the length that each strand hangs with: its share of its piece."""
        shares: dict[int, float] = {}
        for piece in self.pieces:
            weights = self._spares(piece) if piece.fitted else ()
            parts = piece.shares_mm(lengths[piece.label], weights)
            shares.update(zip(piece.strands, parts, strict=True))
        return shares

    def reach(self, lengths: Lengths) -> float:
        """Return the chance that every strand reaches its tail, cut to these lengths."""
        return self.risk.reach(self.given_mm(lengths))

    def given_mm(self, lengths: Lengths) -> dict[int, float]:
        """Return what each strand has for its need, including its half of the fold's way round."""
        shares = self.shares_mm(lengths)
        return {
            strand: shares[strand] + piece.around_mm / len(piece.strands)
            for piece in self.pieces
            for strand in piece.strands
        }

    def _spares(self, piece: Piece) -> list[float]:
        """Return the proportions in which surplus goes to a piece's strands."""
        if self._margin is not None:
            return list(piece.needs_mm)
        return [self.risk.sd_mm(strand) for strand in piece.strands]

    def _length(self, piece: Piece, deviations: float) -> float:
        """Return the length of a piece with so many standard deviations of each need to spare."""
        if self._margin is not None:
            return piece.need_mm
        beyond = [self.risk.beyond_mm(strand, deviations) for strand in piece.strands]
        return piece.length_mm(
            [need + more for need, more in zip(piece.needs_mm, beyond, strict=True)]
        )

    def _by_risk(self, sure: float) -> Sequence[float]:
        """Return the least lengths with which the whole piece is as sure to reach as asked.

        Every strand is given so many standard deviations. Rounding up may give too much and, a
        little less given, too little: then those of one length are cut a step shorter, or longer.
        """

        def lengths(deviations: float) -> tuple[float, ...]:
            return tuple(
                rounded_up(self._longest(places, deviations), self._unit)
                for places in self._classes
            )

        @cache
        def enough(found: tuple[float, ...]) -> bool:
            pieces = zip(self.groups, self._of_groups(found), strict=True)
            return self.reach({p.label: length for group, length in pieces for p in group}) >= sure

        low, high = 0.0, _MOST
        while high - low > _CLOSE:
            middle = (low + high) / 2
            low, high = (low, middle) if enough(lengths(middle)) else (middle, high)
        least, most = lengths(low), lengths(high)
        found = (most, *self._one_step(most, -1), *self._one_step(least, 1))
        pieces = [sum(len(self.groups[place]) for place in places) for places in self._classes]
        return min(filter(enough, found), key=lambda cut: sum(map(mul, pieces, cut)), default=most)

    def _one_step(self, lengths: tuple[float, ...], by: int) -> Iterator[tuple[float, ...]]:
        """Yield lengths of which one is cut a step longer or shorter."""
        for at, length in enumerate(lengths):
            other = max(0.0, length + by * step_mm(length, self._unit))
            yield (*lengths[:at], other, *lengths[at + 1 :])


def _groups(falling: Sequence[Piece], lengths: Lengths, share: float) -> Iterator[Group]:
    """Yield pieces, the longest first, in groups that need at least a share of their first."""
    group: list[Piece] = []
    for piece in falling:
        if group and lengths[piece.label] < share * lengths[group[0].label]:
            yield tuple(group)
            group = []
        group.append(piece)
    yield tuple(group)
