"""The pages on keys, on cord left, and on the plan with its cut list."""

from collections.abc import Sequence

from rich.text import Text

from coach.plan.cord.cord_left import StrandLeft
from coach.plan.plan_model import Plan
from coach.plan.wording.strand_names import beside, strand_short, strand_words, thickness
from coach.quantities import show_cut
from coach.report.plan_report import Hanging, PlanReport
from coach.report.report_phrases import cut_words, estimated_words, size_line, time_words
from coach.report.to_cut import CordToCut
from coach.session.keymap import Keys
from coach.settings.key_names import shown
from coach.settings.settings import Units
from coach.text import capital, counted
from coach.tui.layout.cord_summary import cord_rows, name_room
from coach.tui.layout.styled_text import Inks, fitted, paragraph, sized

_MANY = 99


def key_lines(keys: Keys, inks: Inks, width: int) -> list[Text]:
    """Return every action with the keys that are set for it."""
    lines = [Text("Keys", inks.style("text", bold=True)), Text()]
    for action in keys.actions:
        names = ", ".join(map(shown, action.keys)) or "no key"
        lines += paragraph(names, width, 2, inks.style("figure", bold=True))
        lines += _indented(action.help, inks, width)
    lines += [Text(), *paragraph(
        "Every count is kept at once: the window may be closed at any time. What was counted "
        "and then taken back keeps its time.", width, 5, inks.style("quiet"),
    )]  # fmt: skip
    return lines


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
        sized(Text(f"{'strand':<{at}}{'now':<13}at the end", inks.style("quiet")), width),
        *cord_rows(names, inks, cords, width, units=units),
        Text(),
        *paragraph(told, width, 3, inks.style("quiet")),
    ]


def plan_lines(report: PlanReport, inks: Inks, width: int, known: Sequence[str] = ()) -> list[Text]:
    """Return what there is to know before the first knot; `known` is what measures have shown."""
    made_of = ", ".join(counted(ties, knot) for knot, ties in report.knots)
    sections: dict[str, list[Text]] = {
        "have ready": _told([f"{', '.join(report.ready)}."] if report.ready else [], inks, width),
        "cut": [line for cord in report.cords for line in _cut(cord, report.unit, inks, width)],
        "hang": _told([_hanging(report.hanging)], inks, width),
        "made of": _told([made_of], inks, width),
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


def _hanging(hanging: Hanging) -> str:
    """Say on what the strands hang and how, which is which, and how folds are off the middle."""
    on = f"{counted(hanging.strands, 'strand')} on the {hanging.on}, {hanging.way}."
    return " ".join((on, hanging.from_left, *hanging.off_middle))


def _indented(text: str, inks: Inks, width: int) -> list[Text]:
    return [Text("  ") + line for line in paragraph(text, width - 2, _MANY, inks.style("text"))]


def _told(texts: Sequence[str], inks: Inks, width: int) -> list[Text]:
    ink = inks.style("text")
    return [line for text in texts for line in paragraph(capital(text), width, _MANY, ink)]


def _cut(cord: CordToCut, unit: str, inks: Inks, width: int) -> list[Text]:
    """Return a cord's pieces: how many, how long, and what they take together."""
    bold, quiet = inks.style("text", bold=True), inks.style("quiet")
    look = f"{beside(cord.cord.id, cord.cord.fibre)} {thickness(cord.cord)}".strip()
    told = f"  {look}, {show_cut(cord.cut.total_mm, unit)} in all"
    return [
        *(Text(fitted(cut_words(cut, unit), width), bold) for cut in cord.cut.cuts),
        Text(fitted(told, width), quiet),
        *paragraph(estimated_words(cord.cord), width, _MANY, quiet),
    ]
