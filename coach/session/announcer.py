"""What is spoken after a key: the step at its start, the count now and then, a short strand."""

from coach.plan.plan_model import Plan
from coach.session.cord_warning import warning
from coach.session.view_model import View


class Spoken:
    """Compares what is to be seen with what was seen before, and finds the words for it."""

    def __init__(self, plan: Plan, every: int) -> None:
        """Take the plan, and after how many counts of a step one is said; 0 for never."""
        self._plan = plan
        self._every = every
        self._step: int | None = None
        self._done = -1
        self._short: frozenset[int] = frozenset()

    def words(self, view: View) -> str:
        """Return what is to be said now, "" for nothing."""
        step = self._plan.step_at(view.done)
        number = step.index if step else len(self._plan.steps)
        said = []
        if number != self._step:
            said.append(view.sentence)
        elif view.done != self._done and self._every and (view.number - 1) % self._every == 0:
            said.append(f"{view.number} of {view.of}.")
        short = frozenset(left.strand for left in view.short)
        if short - self._short:
            said.append(warning(self._plan, view, self._short))
        self._step, self._done, self._short = number, view.done, short
        return " ".join(said)

    def again(self, view: View) -> str:
        """Return the step once more, with the tie at hand and what runs short."""
        count = f"{view.number} of {view.of}. " if view.of > 1 else ""
        return f"{count}{view.sentence} {warning(self._plan, view)}".strip()
