"""Reading the maker's choice at an open step: a number, a length, or a strand."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from coach.piece.changes.repeats import CannotFollow
from coach.plan.compile.open_choices import named_strands
from coach.plan.plan_model import Plan
from coach.plan.steps import PlannedStep
from coach.plan.wording.open_words import What, asked_mm, asked_number, made_each, open_to
from coach.plan.wording.strand_names import strand_words
from coach.project.model import Choice
from coach.quantities import length_mm, show_length
from coach.text import capital, counted, join_words

EXAMPLES: Final[Mapping[str, str]] = MappingProxyType({
    "times": "28, or nothing for as many as are made", "turns": "5", "length": "8.5 cm",
    "knotter": "3, the number of the strand that ties",
})  # fmt: skip
"""What to write, by what is chosen."""

_MOST: Final = 10_000


def read_choice(step: PlannedStep, what: What, text: str, done: int) -> Choice:
    """Read the maker's choice at an open step.

    Args:
        step: The open step.
        what: Which of its figures is chosen.
        text: What was typed; for `times`, "" means the number made so far.
        done: How many counts are made.

    Raises:
        CannotFollow: It cannot be read, or is less than the least that the file asks for.
        QuantityError: A length cannot be read.
    """
    if what == "knotter":
        return Choice(what, _place(step, text))
    if what == "length":
        mm = length_mm(text, zero=False)
        _check_least(step, what, mm >= asked_mm(step), show_length(asked_mm(step)))
        return Choice(what, mm)
    number = made_each(step, done) if what == "times" and not text else _number(text)
    asked = asked_number(step, what)
    _check_least(step, what, number >= asked, str(asked))
    return Choice(what, _at_least_one(number))


def _number(text: str) -> int:
    return _at_least_one(int(text) if text.isdecimal() and len(text) <= len(str(_MOST)) else 0)


def _at_least_one(number: int) -> int:
    if not 1 <= number <= _MOST:
        raise CannotFollow(f"Write a number from 1 to {_MOST:,}.")
    return number


def _check_least(step: PlannedStep, what: What, enough: bool, least: str) -> None:
    if (what, "more") in open_to(step) and not enough:
        raise CannotFollow(f"The pattern asks for {least} or more here.")


def _place(step: PlannedStep, text: str) -> int:
    """Return the place, among the strands named, of the one with this number from the left."""
    numbers = [step.before.index(strand) + 1 for strand in named_strands(step)]
    if not text.isdecimal() or int(text[:4]) not in numbers:
        said = join_words(list(map(str, sorted(numbers))), "or")
        raise CannotFollow(f"One of the strands named ties here. Write its number: {said}.")
    return numbers.index(int(text[:4]))


def chosen_words(plan: Plan, step: PlannedStep, choice: Choice) -> str:
    """Return the sentence that confirms a choice.

    Args:
        plan: The plan that is followed now.
        step: The open step.
        choice: The choice; a length is in mm, a knotter its place among the strands named.
    """
    number = int(choice.value)
    if choice.what == "knotter":
        return f"{capital(strand_words(plan, named_strands(step)[number], step.before))} ties."
    if choice.what == "length":
        return f"{show_length(choice.value)} long."
    return f"{counted(number, 'turn' if choice.what == 'turns' else 'tie')} here."
