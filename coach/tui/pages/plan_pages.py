"""The pages on keys, on cord left, and on the plan with its cut list."""

from collections.abc import Sequence

from rich.text import Text

from coach.plan.cord.cord_left import StrandLeft
from coach.plan.plan_model import Plan
from coach.plan.wording.strand_names import not_in_name, strand_short, strand_words, thickness
from coach.quantities import show_cut
from coach.report.cutting_report import CordToCut
from coach.report.plan_report import HangingReport, PlanReport
from coach.report.report_phrases import (
    cut_words,
    estimated_words,
    promise,
    size_line,
    swatch_words,
    time_words,
)
from coach.session.keymap import GROUPS, Action, Keys
from coach.session.view_model import outlook_words
from coach.settings.key_names import key_label
from coach.settings.settings import Units
from coach.text import capital, counted
from coach.tui.layout.cord_summary import cord_rows, name_room
from coach.tui.layout.styled_text import Inks, ellipsized, exact_width, in_columns, paragraph

_MANY = 99
_PLAIN = "For a screen reader or a simple terminal, `coach knot --plain` says all this in words."
_BESIDE = 70  # columns from which what a key does stands beside it
_KEYS = 26  # columns of the keys then


def hint_lines(told: Sequence[tuple[str, str]], inks: Inks, width: int) -> list[Text]:
    """Return keys, each with its explanation, and how to do without a screen."""
    lines = [Text("Keys", inks.style("text", bold=True)), Text()]
    for key, sentence in told:
        lines += paragraph(key, width, 2, inks.style("figure", bold=True))
        lines += _indented(sentence, inks, width)
    return [*lines, Text(), *paragraph(_PLAIN, width, 5, inks.style("quiet"))]


def key_lines(keys: Keys, inks: Inks, width: int) -> list[Text]:
    """Return every action with its keys, grouped by purpose."""
    lines = [Text("Keys", inks.style("text", bold=True))]
    for group, heading in GROUPS:
        lines += [Text(), Text(heading, inks.style("quiet"))]
        for action in (one for one in keys.actions if one.group == group):
            lines += _key_line(action, inks, width)
    told = (
        "Escape closes what is open, and never leaves.",
        "Every count is saved at once: you can close the window at any time.",
        "What was counted and then taken back keeps its time.",
        _PLAIN,
    )
    for text in told:
        lines += [Text(), *paragraph(text, width, 5, inks.style("quiet"))]
    return lines


def _key_line(action: Action, inks: Inks, width: int) -> list[Text]:
    """Return an action's keys with its explanation, beside them or below."""
    names = ", ".join(map(key_label, action.keys)) or "no key"
    ink = inks.style("figure", bold=True)
    if width < _BESIDE:
        return [*paragraph(names, width, 2, ink), *_indented(action.help, inks, width)]
    told = paragraph(action.help, width - _KEYS, _MANY, inks.style("text"))
    return in_columns(paragraph(names, _KEYS - 2, _MANY, ink), told, _KEYS)


def cord_lines(
    plan: Plan,
    inks: Inks,
    cords: Sequence[StrandLeft],
    order: Sequence[int],
    width: int,
    *,
    units: Units = "cm",
) -> list[Text]:
    """Return the page of cord left.

    Args:
        plan: The plan of the piece.
        inks: What is written with.
        cords: The cord left on each strand, in the order of the page.
        order: The strands as they hang, from the left.
        width: The columns that there are.
        units: The units of lengths.
    """
    names = [strand_words(plan, left.strand, order) for left in cords]
    if max(map(len, names), default=0) > name_room(names, width):
        names = [strand_short(plan, left.strand, order) for left in cords]
    at = name_room(names, width) + 1
    told = "Strands still to be hung, or laid aside, are left out. The end includes the tail."
    return [
        Text("Cord left on every strand that hangs", inks.style("text", bold=True)),
        Text(),
        exact_width(Text(f"{'strand':<{at}}{'now':<13}at the end", inks.style("quiet")), width),
        *_cord_rows(names, inks, cords, width, units),
        Text(),
        *paragraph(told, width, 3, inks.style("quiet")),
    ]


def _cord_rows(
    names: Sequence[str], inks: Inks, cords: Sequence[StrandLeft], width: int, units: Units
) -> list[Text]:
    """Return each strand's row, and the meaning of its range beside or below it."""
    lines = []
    for row, left in zip(cord_rows(names, inks, cords, width, units=units), cords, strict=True):
        means = Text(outlook_words(left, units), inks.style("quiet"))
        row.rstrip()
        beside = row.cell_len + 2 + means.cell_len <= width
        lines += [exact_width(row + "  " + means, width)] if beside else [row, Text("  ") + means]
    return lines


def plan_lines(report: PlanReport, inks: Inks, width: int, known: Sequence[str] = ()) -> list[Text]:
    """Return what to know before the first knot; `known` is what measures have shown."""
    made_of = ", ".join(counted(ties, knot) for knot, ties in report.knots)
    sections: dict[str, list[Text]] = {
        "have ready": _told([f"{', '.join(report.ready)}."] if report.ready else [], inks, width),
        "cut": _cutting(report, inks, width),
        "hang": _told([_hanging(report.hanging)], inks, width),
        "knots": _told([made_of], inks, width),
        "size": _told([size_line(report.size, report.unit)], inks, width),
        "as your measures show": _told(known, inks, width),
        "time": _told([f"{time_words(report.time)}."] if report.time else [], inks, width),
        "take care": _told(report.cautions, inks, width),
    }
    lines = paragraph(report.title, width, 3, inks.style("text", bold=True))
    lines += paragraph(report.about, width, 4, inks.style("quiet")) if report.about else []
    for heading, told in sections.items():
        lines += [Text(), Text(heading, inks.style("quiet")), *told] if told else []
    return lines


def foot(inks: Inks, *keys: tuple[str, str]) -> Text:
    """Return one line that names keys and what they do."""
    line = Text(no_wrap=True, overflow="ellipsis")
    for key, what in keys:
        line.append("  " if line else "")
        line.append(key, inks.style("figure", bold=True))
        line.append(f" {what}", inks.style("quiet"))
    return line


def _hanging(hanging: HangingReport) -> str:
    """Return what the strands hang on and how, which is which, and folds off the middle."""
    on = f"{counted(hanging.strands, 'strand')} on the {hanging.on}, {hanging.way}."
    return " ".join((on, hanging.from_left, *hanging.off_middle))


def _indented(text: str, inks: Inks, width: int) -> list[Text]:
    return [Text("  ") + line for line in paragraph(text, width - 2, _MANY, inks.style("text"))]


def _told(texts: Sequence[str], inks: Inks, width: int) -> list[Text]:
    ink = inks.style("text")
    return [line for text in texts for line in paragraph(capital(text), width, _MANY, ink)]


def _cutting(report: PlanReport, inks: Inks, width: int) -> list[Text]:
    """Return what to cut, what that promises, and the swatch to tie before."""
    lines = [line for cord in report.cords for line in _cut(cord, report.unit, inks, width)]
    said = [promise(report)]
    if report.offer:
        said.append(f"{swatch_words(report.offer, report.unit, report.margin)}: coach swatch FILE")
    return [*lines, *_told(said, inks, width)]


def _cut(cord: CordToCut, unit: str, inks: Inks, width: int) -> list[Text]:
    """Return a cord's pieces: how many, how long, and what they take together."""
    bold, quiet = inks.style("text", bold=True), inks.style("quiet")
    look = f"{not_in_name(cord.cord.id, cord.cord.fibre)} {thickness(cord.cord)}".strip()
    told = f"  {look}, {show_cut(cord.cut.total_mm, unit)} in all"
    return [
        *(line for p in cord.pieces for line in paragraph(cut_words(p, unit), width, _MANY, bold)),
        Text(ellipsized(told, width), quiet),
        *paragraph(estimated_words(cord.cord), width, _MANY, quiet),
    ]
