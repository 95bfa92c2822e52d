"""The page after a measurement: the expected length, cords, knots and repeats."""

from collections.abc import Iterator

from rich.text import Text

from coach.plan.cord.cord_left import StrandLeft
from coach.plan.wording.strand_names import strand_words
from coach.plan.wording.tension_text import figure_line
from coach.quantities import in_units, show_length
from coach.session.adjusting.deviations import DeviationRecorder
from coach.session.view_model import outlook_words
from coach.settings.settings import Units
from coach.text import capital
from coach.tui.layout.styled_text import Inks, ellipsized, paragraph

_MANY = 99
_MOST = 8  # strands, but for those that are short


def measure_lines(
    otherwise: DeviationRecorder, inks: Inks, width: int, said: str = "", units: Units = "cm"
) -> list[Text]:
    """Return the lines of the page.

    Args:
        otherwise: The piece as its measures show it.
        inks: The styles.
        width: The columns that there are.
        said: The result of the measurement, to stand first.
        units: The units of lengths.
    """
    text = inks.style("text")
    lines = paragraph(said, width, _MANY, inks.style("figure", bold=True)) if said else []
    lines += [Text(), _heading("length", inks)] if lines else [_heading("length", inks)]
    for sentence in _size(otherwise):
        lines += paragraph(in_units(sentence, units), width, _MANY, text)
    lines += [Text(), _heading("cord", inks)]
    for sentence, short in _cords(otherwise):
        ink = inks.style("warning", bold=True) if short else text
        lines += paragraph(in_units(sentence, units), width, _MANY, ink)
    lines += [Text(), _heading("how cords and knots turn out", inks)]
    lines += [Text(ellipsized(row, width), text) for row in _figures(otherwise)]
    return lines


def _heading(text: str, inks: Inks) -> Text:
    return Text(text, inks.style("quiet"))


def _size(otherwise: DeviationRecorder) -> Iterator[str]:
    """Yield how long the work will be, and how many repeats reach the wanted length."""
    length = otherwise.expected()
    yield (
        f"Finished about {show_length(length.likely_mm)} long, "
        f"{show_length(length.low_mm)} to {show_length(length.high_mm)}."
    )
    wanted = otherwise.wanted_mm()
    if wanted and not otherwise.ended:
        told, turns = otherwise.reach(f"{wanted:.1f} mm")
        yield f"For {show_length(wanted)}: {told}" + (" Press m to enter it." * bool(turns))


def _cords(otherwise: DeviationRecorder) -> Iterator[tuple[str, bool]]:
    """Yield what is left at the end of the first strands, short ones with their tie."""
    plan, done, order = otherwise.plan, otherwise.done, otherwise.order()
    cords = otherwise.known.cord_left()
    short = cords.short(done, order)
    reaching = [left for left in cords.hanging(done, order) if not left.short]
    for left in [*short, *reaching][: max(_MOST, len(short))]:
        name = capital(strand_words(plan, left.strand, order))
        tail = plan.tail_mm[left.strand]
        yield f"{name}: {_range(left)}{_falls_short(left, tail)}", left.short


def _range(left: StrandLeft) -> str:
    low, high = show_length(left.end_low_mm), show_length(left.end_high_mm)
    return f"{low} to {high} left at the end"


def _falls_short(left: StrandLeft, tail_mm: float) -> str:
    if left.end_mm >= tail_mm:
        return f"; {outlook_words(left)}"
    sure = "it will not reach" if left.short else "it may not reach"
    at = f", used up at tie {left.runs_out_at + 1}" if left.runs_out_at is not None else ""
    return f"; {sure} its tail of {show_length(tail_mm)}{at}"


def _figures(otherwise: DeviationRecorder) -> Iterator[str]:
    """Yield a line for each cord's compression and each knot's slack that measures spoke about."""
    told = 0
    for figure, belief in otherwise.known.learnt.beliefs.items():
        if otherwise.known.is_told(figure):
            told += 1
            yield figure_line(figure, belief)
    if not told:
        yield "Nothing measured yet; these are estimates."
