"""Working a piece in plain lines: typed lines in, lines to read out."""

from collections.abc import Callable
from difflib import get_close_matches
from functools import partial
from itertools import islice
from typing import Final

from coach.desk.batch_lines import CUT, cut_again, last_again
from coach.plain_ui import plain_deviations
from coach.plain_ui.plain_commands import LEAVING, WORD_OF, tellings
from coach.plain_ui.plain_endings import FREEHAND, MOUSE, Endings, GoingOver
from coach.plan.wording.sentences import ADMIRE
from coach.session import unsaved_counts
from coach.session.adjusting.deviations import DeviationRecorder
from coach.session.adjusting.measure_questions import Answer, MeasureQuestion
from coach.session.controller import BenchController
from coach.session.navigation import unpicking
from coach.session.ports import FinishedPieceActions, OnBench
from coach.session.preparation import pieces_to_ready, ticks_in_order
from coach.session.view_model import warning
from coach.text import one_line

_AHEAD: Final = 5
_MOST_FIGURES: Final = 6


class PlainWalk:
    """Answers each typed line with lines to read; `left` is true once the maker left."""

    def __init__(
        self,
        work: BenchController,
        cut: Callable[[], list[str]] = list,
        looks: Callable[[], list[str]] = list,
        *,
        ending: Callable[[], FinishedPieceActions | None] = lambda: None,
        take_up: Callable[[OnBench], BenchController] | None = None,
    ) -> None:
        """Set up for a piece.

        Args:
            work: Its controller.
            cut: Return the lines of its cut list.
            looks: Return lines about the look of the finished piece.
            ending: Return what can be done with it once it is finished.
            take_up: Start work on another piece of its order.
        """
        self.work = work
        self._cut = cut
        self._said = ""
        self._aside: tuple[str, ...] = ()
        self.left, self._going = False, GoingOver(take_up)
        self._asked: MeasureQuestion | None = None
        self._answers: dict[str, Callable[[str], list[str]]] = {
            "": lambda _: self._do("count"), "enter": lambda _: self._do("count"),
            "-": lambda _: self._do("take_back"), "rest": lambda _: self._do("rest"),
            "again": lambda _: self._do("restart"), "pause": lambda _: self._pause(),
            "mark": lambda _: self._do("mark"), "note": self._note,
            "by": self._by, "units": lambda _: self._do("units"),
            "voice": lambda _: self._do("speech"),
            "say": lambda _: self._step(), "where": lambda _: self._where(),
            "next": lambda _: [f"Next: {self.work.view().next}"], "ahead": self._ahead,
            "cut": lambda _: self._cut(),
            "ready": self._ready, "time": lambda _: list(self.work.view().time),
            "unpick": self._unpick, "go": self._go,
        }  # fmt: skip
        self._answers |= tellings(lambda: self.work)
        self._answers |= Endings(lambda: self.work, ending).by_word()
        self._answers |= {
            "theme": lambda _: self._do("theme"), "colours": lambda _: self._colours(),
            "mouse": lambda _: [MOUSE], "freehand": lambda _: [FREEHAND],
            "looks": lambda _: looks(),
        }  # fmt: skip
        size = work.plan.project.size
        lying = size.state if size else "relaxed"
        for word, deed in plain_deviations.word_actions(self._otherwise, lying).items():
            self._answers[word] = partial(self._differing, deed)

    def begin(self) -> list[str]:
        """Return the lines to read first: the piece, its count, and what to do."""
        view = self.work.view()
        told = [self.work.aids.told] if self.work.aids.told else []
        return [
            f"{one_line(view.title)}: {view.done} of {view.total} made.", *told,
            "Enter counts one, - takes one back, help lists all words.", *self._step(),
        ]  # fmt: skip

    def answer(self, typed: str) -> list[str]:
        """Carry out a typed line, and return the lines to read."""
        self.work.refresh()
        self._go_on()
        asked, self._asked = self._asked, None
        answer = asked.answer(one_line(typed).lower()) if asked else None
        if answer:
            return self._answered(answer)
        if asked and not one_line(typed):
            return ["Left out; measure again when you like."]
        word, _, rest = one_line(typed).partition(" ")
        if typed.strip() and not word:
            return [self._unknown("")]  # a key that sends no letters is no count
        word = self._key(word)
        if word.isdecimal() and len(word) <= _MOST_FIGURES:
            return self._several(int(word))
        if word.lower() in LEAVING:
            self.left = True
            self.work.leave()
            return [unsaved_counts.closing_line(self.work.sitting)]
        known = self._answers.get(word.lower())
        return known(rest) if known else [self._unknown(word)]

    def _go_on(self) -> None:
        """Follow the changed plan, also when another terminal changed it."""
        if self.work.stale:
            self.work = self.work.anew()

    def _otherwise(self) -> DeviationRecorder:
        return self.work.otherwise()

    def _differing(self, deed: Callable[[str], str | MeasureQuestion], rest: str) -> list[str]:
        told = deed(rest)
        if isinstance(told, MeasureQuestion):
            self._asked = told
            return plain_deviations.question_lines(told)
        return [told, *self._step()]

    def _answered(self, answer: Answer) -> list[str]:
        told = answer.take()
        return [told, *self._step()]

    def _key(self, word: str) -> str:
        """Return the word of an action for the key that is set for it, else the text itself."""
        action = self.work.keys.action(word) if len(word) == 1 and word.isalpha() else None
        return WORD_OF.get(action, word) if action else word

    def _unknown(self, word: str) -> str:
        near = get_close_matches(word.lower(), [*self._answers, *LEAVING], n=1)
        hint = f"Did you mean {near[0]}?" if near else "help lists them."
        return f"There is no word ‘{one_line(word)}’. {hint}"

    def _do(self, action: str) -> list[str]:
        if soon := self._going.too_soon(self.work, action):
            return soon
        before, back = self.work.done, action == "take_back" and self._going.back(self.work)
        ring = "" if back else self.work.act(action)
        if over := back or self._going.after(self.work, before):
            self.work, told = over
            return [*told, *self._step()]
        told = [self.work.message] if self.work.message else []
        return [*told, *(["The repeat is made."] if ring == "repeat" else []), *self._now()]

    def _several(self, n: int) -> list[str]:
        if n:
            self.work.go_to(self.work.done + n)
        return [self.work.message, *self._now()] if n else self._now()

    def _now(self) -> list[str]:
        """Return the count, and sentence and messages if they are new."""
        self._go_on()
        view = self.work.view()
        words = "" if view.sentence == self._said else view.sentence
        self._said = view.sentence
        if view.finished:
            return [f"Finished: all {view.total} made.", *([ADMIRE] if words else [])]
        number, of = view.passing
        passing = f", pass {number} of {of}" if of else ""
        lines = [f"{view.number} of {view.of}{passing}. {words}".rstrip()]
        aside = tuple(filter(None, [warning(self.work.plan, view), *view.noted, *view.notes]))
        told, self._aside = aside if aside != self._aside else (), aside
        return [*lines, *told]

    def _step(self) -> list[str]:
        self._said, self._aside = "", ()
        return self._now()

    def _pause(self) -> list[str]:
        self.work.act("pause")
        return ["Clock stopped." if self.work.view().paused else self.work.message]

    def _note(self, words: str) -> list[str]:
        if not words:
            return ["Write the words after it: note the third clay strand is frayed"]
        work = self.work
        work.keep(lambda: work.asides.note(work.done, words), "Noted.")
        return [work.message]

    def _by(self, rest: str) -> list[str]:
        return self._do("count_by_knot" if rest.lower() == "knot" else "count_by")

    def _colours(self) -> list[str]:
        work = self.work
        told = work.aids.colourways.turn(work.sitting.piece_id, work.plan.project)
        self.work = work.anew()
        return [told, *self._step()]

    def _where(self) -> list[str]:
        view = self.work.view()
        return [f"{view.done} of {view.total} made. {', '.join(view.where)}".strip()]

    def _ahead(self, rest: str) -> list[str]:
        plan, step = self.work.plan, self.work.plan.step_at(self.work.done)
        first = step.index if step else len(plan.steps)
        wanted = islice(range(first, len(plan.steps)), _figure(rest) or _AHEAD)
        return [*map(self.work.words.line, wanted)] or ["Nothing is left to make."]

    def _ready(self, rest: str) -> list[str]:
        asides, number = self.work.asides, _figure(rest.removesuffix("again").strip())
        to_tick = ticks_in_order(pieces_to_ready(self.work.plan))
        if 0 < number <= len(to_tick):
            tick = to_tick[number - 1]
            ticked = tick in asides.ticks
            if ticked and tick[1] == CUT:
                again = rest.endswith("again")
                last = last_again(tick[0], asides.ticks) or tick
                tick = cut_again(tick[0], asides.ticks) if again else last
                ticked = not again
            change = (lambda: asides.untick(tick)) if ticked else (lambda: asides.tick([tick]))
            self.work.keep(change)
        lines = (
            f"{i}. {label} {mark}: {'done' if (label, mark) in asides.ticks else 'to do'}"
            for i, (label, mark) in enumerate(to_tick, start=1)
        )
        return [*lines, *filter(None, [self.work.message])]

    def _unpick(self, rest: str) -> list[str]:
        work = self.work
        step = work.plan.step_of(work.done - 1) if work.done else None
        if step is None:
            return ["Nothing is made yet."]
        firsts = [work.plan.steps[i].first for i in range(step.index, -1, -1)]
        back = min(_figure(rest), len(firsts))
        if back:
            work.go_to(firsts[back - 1])
            return [work.message, *self._step()]
        return [
            f"unpick {n}: {unpicking(work.plan, work.done, first)}"
            for n, first in enumerate(firsts[:_AHEAD], start=1)
        ]

    def _go(self, rest: str) -> list[str]:
        if not rest.isdecimal() or len(rest) > _MOST_FIGURES:
            return ["Say how many counts are made: go 45"]
        self.work.go_to(int(rest))
        return [self.work.message or "There already.", *self._step()]


def _figure(words: str) -> int:
    return int(words) if words.isdecimal() and len(words) <= _MOST_FIGURES else 0
