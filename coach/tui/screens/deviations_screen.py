"""The forms for measurements, deviations from the plan, and choices."""

from typing import Final

from coach.piece.entering.measure_events import LIES
from coach.plan.wording.strand_names import strand_words
from coach.quantities import show_length
from coach.session.adjusting.choosing import Choosing
from coach.session.adjusting.deviations import DeviationRecorder
from coach.settings.settings import Units
from coach.tui.layout.styled_text import Inks
from coach.tui.screens.form_screen import AskScreen, FormField

_THREE: Final = 3


def measure_screen(otherwise: DeviationRecorder, inks: Inks, units: Units = "cm") -> AskScreen:
    """Return the form for a measurement: of the work as it lies, or a strand's rest."""
    size = otherwise.plan.project.size
    meant = size.state if size else "relaxed"
    lies = sorted(LIES, key=lambda lying: lying != meant)
    choices = [_length(otherwise, lying, units) for lying in lies]
    choices.append(_wish(otherwise))
    choices += [_rest(otherwise, strand) for strand in _strands(otherwise)]
    return AskScreen(inks, "Measured", choices)


def otherwise_screen(otherwise: DeviationRecorder, inks: Inks) -> AskScreen:
    """Return the form for deviations: another order, a joined cord, an early end."""
    end = "reopen the piece" if otherwise.ended else "the piece ends here"
    choices = [
        FormField("strands in another order", _order(otherwise), otherwise.reorder),
        *(_join(otherwise, strand) for strand in _strands(otherwise)),
        FormField(end, "enter, with nothing written", lambda _: otherwise.end()),
    ]
    return AskScreen(inks, "Something changed", choices)


def choose_screen(choosing: Choosing, inks: Inks) -> AskScreen | None:
    """Return the form for open choices, None where there is none."""
    rows = [FormField(option.label, option.example, option.deed) for option in choosing.options()]
    return AskScreen(inks, "Choose", rows) if rows else None


def _strands(otherwise: DeviationRecorder) -> list[int]:
    """Return the strands on the board that have cord of their own, from the left."""
    return [strand for strand in otherwise.order() if strand in otherwise.known.rests]


def _order(otherwise: DeviationRecorder) -> str:
    """Return another order of the strands, as an example: `2 1 3-8: …`."""
    last = len(otherwise.order())
    rest = "" if last < _THREE else " 3" if last == _THREE else f" 3-{last}"
    return f"2 1{rest}: their numbers, from the left"


def _named(otherwise: DeviationRecorder, strand: int) -> str:
    return strand_words(otherwise.plan, strand, otherwise.order())


def _length(otherwise: DeviationRecorder, lying: str, units: Units) -> FormField:
    now = otherwise.known.length(otherwise.done).likely_mm
    expected = f" ({show_length(now, units)} expected)" if now >= 1 else ""
    label = f"length, {lying}{expected}"
    return FormField(label, "7.5 cm", lambda text: otherwise.length(text, lying))


def _wish(otherwise: DeviationRecorder) -> FormField:
    """Return the row that finds the repeats for a length."""

    def reach(text: str) -> str:
        said, turns = otherwise.reach(text)
        return otherwise.take(turns) if turns else said

    return FormField("repeats to reach a finished length", "18 cm", reach)


def _rest(otherwise: DeviationRecorder, strand: int) -> FormField:
    label = f"rest of {_named(otherwise, strand)}"
    return FormField(label, "42 cm", lambda text: otherwise.rest(strand, text))


def _join(otherwise: DeviationRecorder, strand: int) -> FormField:
    label = f"new cord on {_named(otherwise, strand)}"
    return FormField(
        label, "2 m, 5 cm: its length, and the overlap", lambda text: otherwise.join(strand, text)
    )
