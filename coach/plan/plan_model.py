"""The plan: a project as one flat sequence of counts, with cord and size."""

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import cached_property, wraps
from itertools import chain
from typing import Any, TypeVar

from coach.plan.group_order import sections_worked
from coach.plan.measure.in_worked_order import in_worked_order
from coach.plan.measure.ledger import KnotTotals
from coach.plan.measure.measure import Measures, measured
from coach.plan.measure.places import Places
from coach.plan.measure.section_measures import measured_sections
from coach.plan.section_plans import SectionPlan, section_plans
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
from coach.plan.tension import Hands, usual_hands

__all__ = [
    "Count", "Direction", "Ledger", "Origin", "Plan", "PlannedStep", "Role", "Strand", "Visit",
]  # fmt: skip

Answer = TypeVar("Answer")


class Plan(Unfolded):
    """A compiled project; cord and size are measured when they are first asked for."""

    @cached_property
    def _measures(self) -> Measures:
        return self.measured(by_knot=False)

    def measured(self, *, by_knot: bool) -> Measures:
        """Measure the plan again.

        Args:
            by_knot: Whether to record what knots of each kind use as well.
        """
        if isinstance(self.written, Plan):
            written = replace(self.written, hands=self.hands)
            return in_worked_order(written.measured(by_knot=by_knot), self.worked)
        if self.sections:
            return measured_sections(self, self.by_section, by_knot=by_knot)
        return measured(self, by_knot=by_knot)

    @cached_property
    def by_section(self) -> "tuple[SectionPlan[Plan], ...]":
        """The work on each board as a plan of its own; empty where there is one board."""
        if isinstance(self.written, Plan):
            return sections_worked(self, self.written) if self.sections else ()
        return section_plans(self)

    @cached_property
    def worked_out(self) -> dict[object, Any]:
        """The cache of what functions have computed from this plan; see `once`."""
        return {}

    @cached_property
    def by_knot(self) -> Sequence[KnotTotals]:
        """What knots of each kind use of each strand, by strand, without slack.

        It comes from the same pass as all other measures, if nothing was measured before.
        """
        measures = self.measured(by_knot=True)
        vars(self).setdefault("_measures", measures)
        return measures.knots

    @cached_property
    def knotted(self) -> Counter[int]:
        """In how many ties each strand knots, by its index."""
        return Counter(chain.from_iterable(tie.knotters for tie in self.counts if tie.knot))

    @cached_property
    def filled(self) -> Counter[int]:
        """In how many ties each strand is tied onto or round, by its index."""
        return Counter(chain.from_iterable(tie.fillers for tie in self.counts if tie.knot))

    @property
    def ledgers(self) -> tuple[Ledger, ...]:
        """The cord that each strand uses."""
        return self._measures.ledgers

    @property
    def places(self) -> Places:
        """The place of each tie."""
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
        """Return the cord that a strand has used when `done` counts have been made."""
        return self.ledgers[strand].used_after(done)


def remeasured(plan: Plan, hands: Hands) -> Plan:
    """Return the same ties with the cord and size that they have in these hands."""
    return replace(plan, hands=usual_hands(plan.project, hands))


def once(work: Callable[[Plan], Answer]) -> Callable[[Plan], Answer]:
    """Cache a function of a plan on the plan itself.

    What is measured of a plan takes long and is used often; the result lives as long as the plan.
    """

    @wraps(work)
    def answered(plan: Plan) -> Answer:
        if work not in plan.worked_out:
            plan.worked_out[work] = work(plan)
        answer: Answer = plan.worked_out[work]
        return answer

    return answered
