"""Fitting a project before it is begun: to a length, a body, a cord, a number of repeats."""

from collections.abc import Callable
from typing import Final

from coach.pace.estimate import Paces, Range, initial_paces
from coach.piece.changes.repeats import CannotFollow, part_varied
from coach.piece.reports.forecast import Forecast
from coach.plan.plan_model import Plan
from coach.plan.resize.body_sizes import BODIES, Body, finished_mm
from coach.plan.resize.refit import CannotRefit, as_wished, recompiled, to_length
from coach.plan.resize.size_request import Wish
from coach.plan.resize.varying import by_repeats, calls
from coach.plan.tension import Hands
from coach.project.model import Project
from coach.quantities import QuantityError, length_mm, show_length
from coach.text import repeats_of

NOTHING: Final = "Nothing is changed: "
_THIN_MM, _THICK_MM = 0.1, 100.0


class FittingController:
    """Collects wishes for one project, and compiles the plan that meets them.

    `plan` is the plan so far, `wish` all that is wished, `told` the sentence about the last wish.
    Every method returns that sentence; an impossible wish changes nothing. The file's `takes` is
    about the plan as the file has it, so that is the one from which the paces learn.
    """

    def __init__(
        self,
        plan: Plan,
        paces: Paces | None = None,
        written: Plan | None = None,
        hands: Callable[[Project], Hands] | None = None,
    ) -> None:
        """Set up for a plan.

        Args:
            plan: The plan to begin from, in the likely hands.
            paces: The maker's paces.
            written: The plan as its file has it, where `plan` is fitted to the file's own wish.
            hands: Return the hands for a project whose cords were changed.
        """
        self._base = plan
        self._hands = hands or (lambda _: plan.hands)
        self._paces = Forecast(written or plan).prior(paces or initial_paces())
        self.plan = plan
        self.wish = Wish()
        self.told = ""

    @property
    def time(self) -> Range:
        """The time that the piece as wished takes from its first count."""
        return Forecast(self.plan).left(self._paces, 0)

    @property
    def girths(self) -> tuple[Body, ...]:
        """The parts of the body that a project of this kind goes round."""
        return tuple(body for body in BODIES if self.plan.project.kind in body.kinds)

    def more(self, turns: int) -> str:
        """Wish for more steps of the varied repeats; fewer if negative."""
        project = self.plan.project
        try:
            part = part_varied(project)
        except CannotFollow as error:
            vary = project.size.vary if project.size else ""
            fits = f"{vary} varies in length: f fits the piece to a length."
            return self._say(f"{NOTHING}{fits if vary else error}")
        times = calls(project, part)[0].times + turns * by_repeats(project, part)
        least = project.size.least if project.size and project.size.vary == part else 1
        if times < least:
            return self._say(f"{NOTHING}{least} is the least for {part}.")
        named = {part: times}
        in_parts = part in project.parts
        wish = Wish(repeats=named) if in_parts else Wish(times=named)
        return self._take(wish, f"Now {repeats_of(times, part)}.")

    def length(self, text: str) -> str:
        """Wish for a finished length: `18 cm`."""
        return self._reach(text, lambda mm: (mm, ""))

    def girth(self, body: Body, text: str) -> str:
        """Wish that the piece fits a body of a measure, `16 cm`, with the usual ease."""

        def goal(mm: float) -> tuple[float, str]:
            ease = show_length(body.ease_mm)
            return (
                finished_mm(self.plan.project, body, mm, body.ease_mm),
                f", for a {body.name} with {ease} of ease",
            )

        return self._reach(text, goal)

    def cord(self, name: str, text: str) -> str:
        """Wish for a cord, by its name in the file, of another diameter: `1.5 mm`."""
        try:
            thick = length_mm(text)
        except QuantityError as error:
            return self._say(f"{NOTHING}{error.message} {error.hint}")
        if not _THIN_MM <= thick <= _THICK_MM:
            return self._say(f"{NOTHING}a cord is between 0.1 and 100 mm thick.")
        return self._take(Wish(cords={name: thick}), f"Now with {name} {thick:g} mm thick.")

    def _reach(self, text: str, goal: Callable[[float], tuple[float, str]]) -> str:
        try:
            wanted, why = goal(length_mm(text, zero=False))
            refitted = to_length(self.plan.project, wanted, self.plan.hands)
        except QuantityError as error:
            return self._say(f"{NOTHING}{error.message} {error.hint}")
        except CannotRefit as error:
            return self._say(f"{NOTHING}{error}")
        reached = show_length(refitted.plan.length_mm)
        told = f"Now about {reached}{why}: {refitted.changed}."
        return self._take(refitted.wish, told, refitted.plan)

    def _take(self, wish: Wish, told: str, plan: Plan | None = None) -> str:
        """Add a wish, with its plan if that is compiled already."""
        wanted = self.wish.also(wish)
        try:
            self.plan = plan or self._planned(wanted)
        except CannotRefit as error:
            return self._say(f"{NOTHING}{error}")
        self.wish = wanted
        return self._say(told)

    def _planned(self, wish: Wish) -> Plan:
        """Return the plan that follows from a wish. Raises CannotRefit."""
        project = as_wished(self._base.project, wish)
        return recompiled(project, self._hands(project) if wish.cords else self._base.hands)

    def _say(self, told: str) -> str:
        self.told = told
        return told
