"""The plan: a project as one flat sequence of counts, most of them ties, with cord and size."""

from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property
from typing import TYPE_CHECKING

from coach.plan.measure.tension import Hands, usual_hands
from coach.plan.steps import (
    Count,
    Direction,
    Ledger,
    Origin,
    PlannedStep,
    Role,
    Strand,
    Unfolded,
    Visit,
)

if TYPE_CHECKING:
    from coach.plan.cord.cut_list import CordCut
    from coach.plan.doubt.risk import Risk
    from coach.plan.measure.ledger import KnotTotals
    from coach.plan.measure.measure import Measures
    from coach.plan.measure.places import Places
    from coach.plan.measure.sensitivity import ManySlopes

__all__ = [
    "Count", "Direction", "Ledger", "Origin", "Plan", "PlannedStep", "Role", "Strand", "Visit",
]  # fmt: skip


class Plan(Unfolded):
    """A project compiled. Cord and size are only measured when they are first asked for."""

    @cached_property
    def _measures(self) -> "Measures":
        from coach.plan.measure.measure import measured

        return measured(self)

    @cached_property
    def slopes(self) -> "ManySlopes":
        """By how much cord and length change with each figure of hands and cord."""
        from coach.plan.measure.sensitivity import ManySlopes

        return ManySlopes(self)

    @cached_property
    def risk(self) -> "Risk":
        """How sure the cord is to reach."""
        from coach.plan.doubt.risk import Risk

        return Risk(self)

    @cached_property
    def cut_lists(self) -> "dict[tuple[str, int, float], tuple[CordCut, ...]]":
        """The cut lists that were worked out, by unit, copies and how sure they are."""
        return {}

    @cached_property
    def by_knot(self) -> "Sequence[KnotTotals]":
        """What the knots of each kind use of each strand, by strand; slack is left out.

        It is booked in the one pass that measures everything, if nothing was measured before.
        """
        from coach.plan.measure.measure import measured

        measures = measured(self, by_knot=True)
        vars(self).setdefault("_measures", measures)
        return measures.knots

    @property
    def ledgers(self) -> tuple[Ledger, ...]:
        """What each strand uses."""
        return self._measures.ledgers

    @property
    def places(self) -> "Places":
        """Where each tie is, as the pass that gives the length has it."""
        return self._measures.places

    @property
    def tail_mm(self) -> tuple[float, ...]:
        """What must be left of each strand below its last knot."""
        return self._measures.tail_mm

    @property
    def height_mm(self) -> Sequence[float]:
        """The length of the work after 0, 1, 2 ... counts."""
        return self._measures.height_mm

    @property
    def width_mm(self) -> float:
        """The width of the finished work."""
        return self._measures.width_mm

    @property
    def length_mm(self) -> float:
        """The length of the finished work."""
        return self.height_mm[-1]

    def used_mm(self, strand: int, done: int) -> float:
        """Cord that a strand has used when `done` counts have been made."""
        return self.ledgers[strand].used_after(done)


def remeasured(plan: Plan, hands: Hands) -> Plan:
    """Return the same ties with the cord and size that these hands make of them."""
    return replace(plan, hands=usual_hands(plan.project, hands))
