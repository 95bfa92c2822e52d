"""The words to speak after a key: a step at its start, some counts, a short strand."""

from coach.plan.plan_model import Plan
from coach.session.ports import Aids
from coach.session.quick_settings import Toggles
from coach.session.view_model import View, warning
from coach.text import with_full_stop


class Spoken:
    """Finds what to say about a view by comparing it with the one before."""

    def __init__(self, plan: Plan, every: int) -> None:
        """Set how many counts of a step lie between two spoken ones; 0 speaks none.

        Args:
            plan: The plan that the piece follows.
            every: That number.
        """
        self._plan = plan
        self._every = every
        self._step: int | None = None
        self._done = -1
        self._short: frozenset[int] = frozenset()

    def words(self, view: View) -> str:
        """Return what to say now, "" for nothing, and remember the view."""
        step = self._plan.step_at(view.done)
        number = step.index if step else len(self._plan.steps)
        said = []
        if number != self._step:
            said.append(_step(view))
        elif view.done != self._done and self._every and (view.number - 1) % self._every == 0:
            said.append(f"{view.number} of {view.of}.")
        short = frozenset(left.strand for left in view.short)
        if short - self._short:
            said.append(warning(self._plan, view, self._short))
        self._step, self._done, self._short = number, view.done, short
        return " ".join(said)

    def again(self, view: View) -> str:
        """Return the count, the step and what runs short, said before or not."""
        count = f"{view.number} of {view.of}. " if view.of > 1 else ""
        return f"{count}{_step(view)} {warning(self._plan, view)}".strip()


def _step(view: View) -> str:
    """Return the sentence, and the maker's and the file's notes on the step."""
    return " ".join((view.sentence, *map(with_full_stop, (*view.noted, *view.notes))))


SILENT = "No program that speaks is installed here."


class SentenceSpeech:
    """Speaks the effect of sentences, as far as the maker wants that; never waits."""

    def __init__(self, aids: Aids) -> None:
        """Set the helpers of the run."""
        self._aids = aids

    def say(self, told: str, *, anyway: bool = False) -> None:
        """Speak a text; `anyway` even where steps are not spoken."""
        if self._aids.voice and told and (anyway or self._aids.kept.now.speech):
            self._aids.voice.say(told)

    def switch(self) -> str:
        """Switch speech on or off, and return which; spoken too where it is on."""
        if self._aids.voice is None:
            return SILENT
        told = Toggles(self._aids.kept).speech()
        self.say(told)
        return told
