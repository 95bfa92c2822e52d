"""Recording deviations from the plan: measures, repeats, joined cords, order, an end."""

import re
from collections.abc import Callable, Sequence
from functools import partial
from typing import Final

from coach.piece.changes.effective_plan import ended_at
from coach.piece.changes.repeat_search import Course, RepeatTimes, more_repeats, repeats_for_length
from coach.piece.changes.repeats import CannotFollow
from coach.piece.entering import happening_events as what
from coach.piece.entering.measure_events import Fields, Unlikely, length_event, rest_event
from coach.piece.events import Fitted, Happening, Measured
from coach.piece.learning.estimates import Expected, Known
from coach.plan.board_at_count import order_at
from coach.plan.plan_model import Plan
from coach.plan.wording.strand_names import strand_words
from coach.quantities import QuantityError, length_mm, show_length
from coach.session.adjusting.measure_questions import MeasureQuestion, measure_question
from coach.text import capital, repeats_of

Jot = Callable[[type[Happening], Fields], object]
_RUN: Final = re.compile(r"(\d{1,4})\s*-\s*(\d{1,4})")


class DeviationRecorder:
    """Checks the maker's reports, stores them, and says what follows from them.

    Methods that take a text return a sentence. If the text is unreadable or impossible, nothing is
    stored and the sentence says so. A surprising measurement is questioned before it is stored.
    """

    def __init__(self, known: Known, course: Course, jot: Jot) -> None:
        """Set up for a piece at its count.

        Args:
            known: The piece as its measures show it.
            course: The plan it was begun with, its happenings, and its count.
            jot: Store a happening with its fields; raises PieceError.
        """
        self.known = known
        self.course = course
        self._jot = jot

    @property
    def plan(self) -> Plan:
        """The plan that the piece follows now."""
        return self.known.plan

    @property
    def done(self) -> int:
        """The number of counts made."""
        return self.course.done

    @property
    def ended(self) -> bool:
        """Whether the piece was ended before its plan ends."""
        return ended_at(self.course.happenings) is not None

    def order(self) -> tuple[int, ...]:
        """Return the strands from the left, as they hang by the plan."""
        return order_at(self.plan, self.done)

    def rest(self, strand: int, text: str) -> str | MeasureQuestion:
        """Record what was measured of a strand below its last knot: `42 cm`."""
        name = capital(strand_words(self.plan, strand, self.order()))
        return self._measured(
            lambda: rest_event(self.known, strand, length_mm(text), self.done),
            f"{name}: {_shown(text)} left.",
        )

    def length(self, text: str, lying: str) -> str | MeasureQuestion:
        """Record the measured length of the work: `18 cm`; `lying` is how it lay, one of `LIES`."""
        return self._measured(
            lambda: length_event(self.known, length_mm(text), lying, self.done),
            f"{_shown(text)} long, {lying}.",
        )

    def _measured(
        self, read: Callable[[], tuple[type[Happening], Fields]], told: str
    ) -> str | MeasureQuestion:
        """Store a measurement, or return what to ask about it first."""
        asked: list[MeasureQuestion] = []
        keep = partial(self._jot, Measured)

        def put_down() -> None:
            refusal: Unlikely | None = None
            try:
                fields = read()[1]
            except Unlikely as error:
                fields, refusal = error.fields, error
            found = measure_question(self.known, fields, self.order(), keep, refusal)
            if refusal and not found:
                raise refusal
            if found:
                asked.append(found)
            else:
                keep(fields)

        said = self._say(put_down, told)
        return asked[0] if asked else said

    def join(self, strand: int, text: str) -> str:
        """Record that a strand goes on with a new cord: `2 m, 5 cm`, its length and the overlap."""
        first, _, second = text.partition(",")
        name = capital(strand_words(self.plan, strand, self.order()))

        def joined() -> None:
            overlap = length_mm(second) if second.strip() else 0.0
            self._keep(what.join_event(self.known, strand, length_mm(first), overlap, self.done))

        return self._say(joined, f"{name} continues with a new cord.")

    def reorder(self, text: str) -> str:
        """Record how the strands really hang: `2 1 3-8`, their numbers from the left."""

        def reordered() -> None:
            step = self.plan.step_at(self.done)
            if step is None:
                raise CannotFollow("Everything is made; the order no longer matters.")
            found = _positions(text, len(step.before))
            names = [self.plan.strands[step.before[place - 1]].id for place in found]
            base, past = self.course.base, self.course.happenings
            self._keep(what.order_event(base, past, names, step.first))

        return self._say(reordered, "The plan continues with the strands in this order.")

    def end(self) -> str:
        """Record that the piece ends at this count; a second time, that it goes on after all."""
        base, past, done = self.course.base, self.course.happenings, self.done
        event = what.reopen_event if self.ended else what.end_event
        told = (
            "The piece is open again." if self.ended else f"The piece ends here, with {done} made."
        )
        return self.record(lambda: event(base, past, done), told)

    def repeats(self, steps: int) -> str:
        """Record more repeats from here on, by steps; fewer if negative."""
        told: list[str] = []

        def turned() -> None:
            self._not_ended()
            turns = more_repeats(self.course, steps)
            self._keep(what.repeats_event(turns, self.done))
            told.append(self._told(turns, self.known.length_of(turns.plan)))

        said = self._say(turned, "")
        return said or told[0]

    def take(self, turns: RepeatTimes) -> str:
        """Record the repeats that `reach` found."""
        return self._say(
            lambda: self._keep(what.repeats_event(turns, self.done)),
            self._told(turns, self.known.length_of(turns.plan)),
        )

    def reach(self, text: str) -> tuple[str, RepeatTimes | None]:
        """Find the number of repeats that comes nearest to a finished length, `18 cm`.

        Returns:
            The sentence about the repeats, and the repeats to `take`; None instead of them where
            they are those planned, or where none can be found.
        """
        found: list[tuple[RepeatTimes, float]] = []

        def sought() -> None:
            self._not_ended()
            wish = length_mm(text, zero=False)
            found.append(repeats_for_length(self.course, wish, self.known.length_of))

        said = self._say(sought, "")
        if not found:
            return said, None
        turns, length = found[0]
        same = turns.plan.total == self.plan.total
        return self._told(turns, length) + (" That is what is planned." if same else ""), (
            None if same else turns
        )

    def wanted_mm(self) -> float | None:
        """Return the length that the piece was fitted to, or else the one its project states.

        A length that the project aims for comes before a measured one; without either, None.
        """
        if any(isinstance(happening, Fitted) for happening in self.course.happenings):
            return self.course.base.length_mm
        size = self.plan.project.size
        return (size.wish_mm or size.length_mm) if size else None

    def expected(self) -> Expected:
        """Return the length expected of the finished work, as a range."""
        return self.known.length()

    def _told(self, turns: RepeatTimes, length: float) -> str:
        return f"{repeats_of(turns.times, turns.part)}: about {show_length(length)} long."

    def _not_ended(self) -> None:
        if self.ended:
            raise CannotFollow("The piece was ended. Reopen it first, then repeats can change.")

    def record(self, found: Callable[[], tuple[type[Happening], Fields]], told: str) -> str:
        """Store what `found` returns and return `told`, or why it is impossible."""
        return self._say(lambda: self._keep(found()), told)

    def _keep(self, found: tuple[type[Happening], Fields]) -> None:
        self._jot(*found)

    def _say(self, deed: Callable[[], object], told: str) -> str:
        try:
            deed()
        except QuantityError as error:
            return f"Nothing is changed: {error.message} {error.hint}".strip()
        except CannotFollow as error:
            return f"Nothing is changed: {error}"
        return told


def _shown(text: str) -> str:
    """Return a length as the maker wrote it, on one line."""
    return " ".join(text.split())


def _positions(text: str, strands: int) -> Sequence[int]:
    """Read `2 1 3-8` as numbers from the left.

    Raises:
        CannotFollow: The text does not name each of the strands once.
    """
    found: list[int] = []
    for part in _RUN.sub(r"\1-\2", text).replace(",", " ").split():
        run = _RUN.fullmatch(part)
        if run:
            first, last = int(run[1]), int(run[2])
            if max(first, last) > strands:
                break
            found += range(first, last + 1) if first <= last else range(first, last - 1, -1)
        elif part.isdecimal() and len(part) <= 4:  # noqa: PLR2004 - strands have no longer number
            found.append(int(part))
        else:
            break
    if sorted(found) != list(range(1, strands + 1)):
        raise CannotFollow(
            f"Write the number of each of the {strands} strands once, as they hang from the left: "
            "exchanging the first two is "
            + (f"‘2 1 3-{strands}’." if strands > 3 else "‘2 1 3’." if strands == 3 else "‘2 1’.")  # noqa: PLR2004 - so short lists have no range
        )
    return found
