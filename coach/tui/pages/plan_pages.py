"""The pages behind the work screen: keys, cord left, and the plan with its cut list."""

from collections import Counter
from collections.abc import Sequence

from rich.text import Text

from coach.pace.estimate import Range
from coach.plan.cord.cord_left import StrandLeft
from coach.plan.cord.cut_list import CordCut, cut_list
from coach.plan.cord.outlook import outlook
from coach.plan.doubt.swatch import swatch_for
from coach.plan.plan_model import Plan
from coach.plan.wording.cautions import cautions
from coach.plan.wording.cutting_words import promise, whose
from coach.plan.wording.from_left import MOST, from_left
from coach.plan.wording.strand_names import beside, strand_short, strand_words
from coach.quantities import show_cut, show_length
from coach.session.cord_warning import outlook_words
from coach.session.keymap import Keys
from coach.session.time_format import time_span
from coach.settings.key_names import shown
from coach.settings.settings import Units
from coach.tui.layout.cord_summary import cord_rows, name_room
from coach.tui.layout.styled_text import Inks, fitted, paragraph, sized
from coach.tui.pages.tension_text import known_lines

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
    """Return the cord left on every strand that hangs, by `order`, the strands from the left."""
    names = [strand_words(plan, left.strand, order) for left in cords]
    if max(map(len, names), default=0) > name_room(names, width):
        names = [strand_short(plan, left.strand, order) for left in cords]
    at = name_room(names, width) + 1
    told = "Strands still to be hung, or laid aside, are left out. The end includes the tail."
    return [
        Text("Cord left on every strand that hangs", inks.style("text", bold=True)),
        Text(),
        sized(Text(f"{'strand':<{at}}{'now':<13}at the end", inks.style("quiet")), width),
        *_cord_rows(names, inks, cords, width, units),
        Text(),
        *paragraph(told, width, 3, inks.style("quiet")),
    ]


def _cord_rows(
    names: Sequence[str], inks: Inks, cords: Sequence[StrandLeft], width: int, units: Units
) -> list[Text]:
    """Return each strand's row, and beside or below it what its range means."""
    lines = []
    for row, left in zip(cord_rows(names, inks, cords, width, units=units), cords, strict=True):
        means = Text(outlook_words(left, units), inks.style("quiet"))
        row.rstrip()
        beside = row.cell_len + 2 + means.cell_len <= width
        lines += [sized(row + "  " + means, width)] if beside else [row, Text("  ") + means]
    return lines


def plan_lines(
    plan: Plan, inks: Inks, width: int, time: Range | None = None, units: Units = "cm"
) -> list[Text]:
    """Return what there is to know before the first knot: cords to cut, knots, size, cautions."""
    project = plan.project
    lines = paragraph(project.title, width, 3, inks.style("text", bold=True))
    lines += paragraph(project.about, width, 4, inks.style("quiet")) if project.about else []
    lines += [Text(), _heading("cut", inks)]
    cuts = cut_list(plan)
    for cut in cuts:
        lines += _cut(plan, cut, inks, width, units)
    lines += _told(promise(plan, outlook(plan, cuts)), inks, width)
    lines += _told(_swatch(plan), inks, width) if time else []
    lines += [Text(), _heading("hang", inks), *_told(_hanging(plan), inks, width)]
    lines += [Text(), _heading("made of", inks), *_knots(plan, inks, width)]
    size = f"{show_length(plan.length_mm, units)} long, {show_length(plan.width_mm, units)} wide"
    lines += [Text(), _heading("size", inks), Text(fitted(size, width), inks.style("text"))]
    turned_out = known_lines(plan)
    if turned_out:
        lines += [Text(), _heading("as your measures show", inks)]
        lines += [part for line in turned_out for part in _told(line, inks, width)]
    if time:
        lines += [Text(), _heading("time", inks)]
        span = time_span(time.low_s, time.high_s)
        lines += [Text(fitted(span, width), inks.style("text"))]
    told = cautions(project)
    if told:
        lines += [Text(), _heading("take care", inks)]
        lines += [part for caution in told for part in _told(caution, inks, width)]
    return lines


def foot(inks: Inks, *keys: tuple[str, str]) -> Text:
    """Return one line that names keys and what they do."""
    line = Text(no_wrap=True, overflow="ellipsis")
    for key, what in keys:
        line.append("  " if line else "")
        line.append(key, inks.style("figure", bold=True))
        line.append(f" {what}", inks.style("quiet"))
    return line


def _hanging(plan: Plan) -> str:
    """Say which strands hang side by side at the start, and on what."""
    begin = plan.project.start
    on = f"{begin.on}, {begin.by}" if begin.by else begin.on
    return f"{from_left(plan, MOST)} {len(plan.start)} strands on the {on}."


def _heading(text: str, inks: Inks) -> Text:
    return Text(text, inks.style("quiet"))


def _indented(text: str, inks: Inks, width: int) -> list[Text]:
    return [Text("  ") + line for line in paragraph(text, width - 2, _MANY, inks.style("text"))]


def _told(text: str, inks: Inks, width: int) -> list[Text]:
    return paragraph(text, width, _MANY, inks.style("text"))


def _cut(plan: Plan, cord: CordCut, inks: Inks, width: int, units: Units) -> list[Text]:
    """Return a cord's pieces: how many, how long, and what they take together."""
    what = plan.project.cords[cord.cord]
    ink = inks.style("text", bold=True)
    lines = []
    for cut in cord.cuts:
        alike = sum(other.origin == cut.origin for other in cord.cuts) == 1
        told = f"{cut.pieces} of {show_cut(cut.cut_mm, units)}: {cord.cord}"
        told += "" if alike else f", {whose(plan, cut)}"
        lines.append(Text(fitted(told, width), ink))
    fibre = beside(cord.cord, what.fibre)
    about = "about " if what.estimated else ""
    thick = f"{fibre} {about}{show_length(what.diameter_mm)}".strip()
    kinds = [f"{thick}, {show_cut(cord.total_mm, units)} in all"]
    if what.estimated:
        kinds.append("thickness estimated from its weight")
    return [*lines, *(Text(fitted(f"  {kind}", width), inks.style("quiet")) for kind in kinds)]


def _swatch(plan: Plan) -> str:
    """Offer a swatch before anything is cut, "" where none can be tied."""
    swatch = swatch_for(plan)
    if swatch is None:
        return ""
    what = f"Ten {swatch.knot}{_plural(swatch.knot)} in {swatch.cord}"
    return f"{what}, tied and measured first, let you cut with less to spare: coach swatch PROJECT"


def _knots(plan: Plan, inks: Inks, width: int) -> list[Text]:
    ties = Counter(count.knot for count in plan.counts if count.knot)
    parts = [
        f"{number} {knot}{_plural(knot) if number > 1 else ''}" for knot, number in ties.items()
    ]
    return paragraph(", ".join(parts), width, _MANY, inks.style("text"))


def _plural(knot: str) -> str:
    return "es" if knot.endswith("h") else "s"
