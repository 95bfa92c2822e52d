"""The plan on paper: lines for a maker who is about to cut."""

from collections.abc import Iterator

from coach.cli.hanks import stock_lines
from coach.cli.reports.cutting_section import cutting, folded
from coach.cli.reports.plan_sheet import Sheet
from coach.plan.as_json import tie_counts
from coach.plan.measure.mounting import way_of_hanging
from coach.plan.plan_model import Plan
from coach.plan.wording.cautions import cautions
from coach.plan.wording.from_left import MOST, from_left
from coach.quantities import show_length, show_time
from coach.words.hanging import off_middle
from coach.words.preparing import size_words


def page(sheet: Sheet) -> list[str]:
    """Return the whole plan as lines of at most 78 columns."""
    sections = (
        _head(sheet),
        cutting(sheet),
        _stock(sheet),
        _hanging(sheet),
        _knots(sheet.plan),
        _size(sheet),
        _cautions(sheet.plan),
    )
    lines: list[str] = []
    for section in sections:
        found = list(section)
        if found:
            lines += [*found, ""]
    return lines[:-1]


def _head(sheet: Sheet) -> Iterator[str]:
    project, time = sheet.plan.project, sheet.time
    yield project.title
    if project.about:
        yield from folded(project.about)
    kinds = [word for word in (project.kind, project.skill) if word]
    span = f"{show_time(time.low_s)} to {show_time(time.high_s)}"
    yield f"  {', '.join(kinds)}; about {show_time(time.likely_s)} of knotting ({span})"
    needs = [*project.tools, *project.findings]
    if needs:
        yield from folded(f"Have ready: {', '.join(needs)}.")
    for change in sheet.changes:
        yield from folded(f"Changed: {change}.")


def _stock(sheet: Sheet) -> Iterator[str]:
    if sheet.stock:
        yield "From what is in hand"
        yield from stock_lines(sheet.stock, sheet.unit)


def _hanging(sheet: Sheet) -> Iterator[str]:
    plan, start = sheet.plan, sheet.plan.project.start
    yield f"Hang on the {start.on}: {way_of_hanging(start)}"
    yield from folded(from_left(plan, MOST))
    for text in off_middle(plan, sheet.unit):
        yield from folded(text)


def _knots(plan: Plan) -> Iterator[str]:
    ties = tie_counts(plan)
    yield f"Knots: {sum(ties.values()):,} in {len(plan.steps):,} steps"
    for knot, number in sorted(ties.items(), key=lambda pair: -pair[1]):
        yield f"  {number:6,} {knot}"


def _size(sheet: Sheet) -> Iterator[str]:
    plan, unit = sheet.plan, sheet.unit
    size = plan.project.size
    state = f" {size.state}" if size else ""
    length, width = show_length(plan.length_mm, unit), show_length(plan.width_mm, unit)
    yield f"Size{state}: about {length} long and {width} wide"
    told = size_words(plan, unit)
    if told:
        yield from folded(told)


def _cautions(plan: Plan) -> Iterator[str]:
    found = cautions(plan.project)
    if found:
        yield "Take care"
    for caution in found:
        yield from folded(caution)
