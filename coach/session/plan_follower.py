"""The plan of a piece after all happenings, and what its measures show."""

from functools import cached_property

from coach.piece import Sitting
from coach.piece.changes.effective_plan import plan_after
from coach.piece.changes.repeat_search import Course
from coach.piece.events import Measured
from coach.piece.learning.estimates import Known, estimates_of
from coach.plan.cord.cord_left import CordLeft
from coach.plan.plan_model import Plan
from coach.session.adjusting.deviations import DeviationRecorder
from coach.session.quick_settings import Colourways, in_chosen_colourway


class PlanFollower:
    """Derives the plan that a piece follows from the one it was begun with.

    It includes the happenings up to its making; see `stale`.
    """

    def __init__(
        self,
        base: Plan,
        sitting: Sitting,
        now: Plan | None = None,
        colourways: Colourways | None = None,
    ) -> None:
        """Set up for a piece.

        Args:
            base: The plan that it was begun with.
            sitting: The piece, opened.
            now: Its plan by now, if that is known.
            colourways: The store of the colourway that it is shown in.

        Raises:
            CannotFollow: The plan cannot follow the happenings.
        """
        colourway = colourways.of(sitting.piece_id) if colourways else ""
        self._base = base = in_chosen_colourway(base, colourway)
        self._sitting = sitting
        self._happenings = sitting.state.happenings
        self._now = self._follow() if now is None else in_chosen_colourway(now, colourway)
        self.plan = self._likely()

    def _likely(self) -> Plan:
        """Return the plan after all happenings, in the hands that the measures show."""
        if any(isinstance(happening, Measured) for happening in self._happenings):
            return self.known.plan
        return self._now

    def _follow(self) -> Plan:
        """Return the plan after all happenings, measures left out."""
        return plan_after(self._base, self._happenings) if self._happenings else self._base

    @cached_property
    def known(self) -> Known:
        """The piece as its measures show it; computed late, because measuring takes time."""
        return estimates_of(self._base, self._happenings, self._sitting.state.beliefs, self._now)

    @cached_property
    def cord_left(self) -> CordLeft:
        """The cord left on every strand after any count."""
        return self.known.cord_left()

    @property
    def stale(self) -> bool:
        """Whether there are happenings since that the plan would have to follow."""
        return self._sitting.state.happenings != self._happenings

    def otherwise(self, done: int) -> DeviationRecorder:
        """Return the recorder of measures and deviations after `done` counts."""
        course = Course(self._base, self._happenings, done)
        return DeviationRecorder(
            self.known, course, lambda kind, what: self._sitting.jot(kind, **what)
        )
