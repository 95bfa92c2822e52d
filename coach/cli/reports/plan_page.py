"""The plan on paper: lines for a maker who is about to cut."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from textwrap import wrap
from typing import Final

from coach.cli.hanks import CordStock, stock_lines
from coach.pace.estimate import Range
from coach.plan.as_json import tie_counts
from coach.plan.cord.cut_list import CordCut, Cut
from coach.plan.measure.mounting import way_of_hanging
from coach.plan.plan_model import Plan
from coach.plan.resize.varying import varied
from coach.plan.wording.cautions import cautions
from coach.plan.wording.from_left import MOST, from_left, spans
from coach.plan.wording.step_phrases import where
from coach.plan.wording.strand_names import cord_look
from coach.project.model import Cord
from coach.quantities import show_cut, show_fineness, show_length, show_mass, show_time
from coach.text import counted, plural
from coach.words.hanging import off_middle
from coach.words.preparing import size_words

WIDTH: Final = 78
_FOR: Final = {
    "hung": "", "added": "added later", "wrap": "to wrap with", "clasp": "for the clasp"
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Sheet:
    """What the page tells: a plan, its cut list, its time, and what was wished and is in hand."""

    plan: Plan
    cuts: tuple[CordCut, ...]
    time: Range
    unit: str = "cm"
    copies: int = 1
    changes: tuple[str, ...] = ()
    stock: tuple[CordStock, ...] = ()


def page(sheet: Sheet) -> list[str]:
    """Return the whole plan as lines of at most 78 columns."""
    sections = (
        _head(sheet),
        _cutting(sheet),
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


def _folded(text: str, indent: str = "  ") -> list[str]:
    return wrap(text, WIDTH, initial_indent=indent, subsequent_indent=indent)


def _head(sheet: Sheet) -> Iterator[str]:
    project, time = sheet.plan.project, sheet.time
    yield project.title
    if project.about:
        yield from _folded(project.about)
    kinds = [word for word in (project.kind, project.skill) if word]
    span = f"{show_time(time.low_s)} to {show_time(time.high_s)}"
    yield f"  {', '.join(kinds)}; about {show_time(time.likely_s)} of knotting ({span})"
    needs = [*project.tools, *project.findings]
    if needs:
        yield from _folded(f"Have ready: {', '.join(needs)}.")
    for change in sheet.changes:
        yield from _folded(f"Changed: {change}.")


def _cutting(sheet: Sheet) -> Iterator[str]:
    plan, unit = sheet.plan, sheet.unit
    times = f", for {sheet.copies} of them" if sheet.copies > 1 else ""
    yield f"Cut (with {plan.project.margin:.0%} to spare{times})"
    for cord in sheet.cuts:
        for cut in cord.cuts:
            yield from _cut(plan, cut, unit)
        whole = f"  {'':12} in all {show_cut(cord.total_mm, unit)}{_weighing(plan, cord)}"
        if cord.per_repeat_mm:
            part = varied(plan.project)
            whole += f"; one {part} more takes {show_length(cord.per_repeat_mm, unit)} a piece"
        yield whole
        yield from _folded(_estimated(plan.project.cords[cord.cord]), " " * 15)


def _weighing(plan: Plan, cord: CordCut) -> str:
    mass_g = plan.project.cords[cord.cord].mass_g(cord.total_mm)
    return f", about {show_mass(mass_g)}" if mass_g and round(mass_g) else ""


def _estimated(cord: Cord) -> str:
    """Say that nobody measured how thick a cord is, if so."""
    if not (cord.estimated and cord.fineness_tex):
        return ""
    return f"Its thickness is estimated from its weight, {show_fineness(cord.fineness_tex)}."


def _cut(plan: Plan, cut: Cut, unit: str) -> Iterator[str]:
    cord = plan.project.cords[cut.cord]
    pieces = f"{counted(cut.pieces, 'piece')} of {show_cut(cut.cut_mm, unit)}"
    purpose = f", {_FOR[cut.origin]}" if _FOR[cut.origin] else ""
    what = f"  {cut.cord:12} {pieces}{purpose} ({cord_look(cord)})"
    yield from wrap(what, WIDTH, subsequent_indent=" " * 15)
    yield from _folded(_decided(plan, cut), " " * 15)
    if cut.shorter:
        yield from _folded(f"could be shorter: {_shorter(plan, cut, unit)}", " " * 15)


def _shorter(plan: Plan, cut: Cut, unit: str) -> str:
    """Say which pieces need far less than their like: `2.26 m for strands 2-3 and 6-7`."""
    by_length: dict[float, list[int]] = {}
    for number, length_mm in cut.shorter:
        by_length.setdefault(length_mm, []).append(number)
    told = [
        f"{show_cut(length_mm, unit)} for {_strands(plan, cut, numbers)}"
        for length_mm, numbers in sorted(by_length.items(), reverse=True)[:MOST]
    ]
    return "; ".join([*told, "and others"] if len(by_length) > MOST else told)


def _strands(plan: Plan, cut: Cut, pieces: Sequence[int]) -> str:
    """Name pieces by where their strands hang at the start; those that join later by number."""
    places = [
        place
        for place, strand in enumerate(map(plan.strands.__getitem__, plan.start), start=1)
        if strand.cord == cut.cord and strand.piece in pieces
    ]
    what, numbers = ("strand", places) if places else ("piece", sorted(pieces))
    return f"{plural(what, len(numbers))} {spans(numbers)}"


def _decided(plan: Plan, cut: Cut) -> str:
    """Say which strand decides a length, and the count in which it takes its last cord."""
    ledger = plan.ledgers[cut.longest]
    name = plan.strands[cut.longest].id
    if cut.longest in plan.start:
        name = f"strand {plan.start.index(cut.longest) + 1} ({name})"
    if not ledger.at:
        return f"its tail decides ({name})"
    last = ledger.at[-1]
    return f"{name} decides, up to count {last + 1} ({', '.join(where(plan, last))})"


def _stock(sheet: Sheet) -> Iterator[str]:
    if sheet.stock:
        yield "From what is in hand"
        yield from stock_lines(sheet.stock, sheet.unit)


def _hanging(sheet: Sheet) -> Iterator[str]:
    plan, start = sheet.plan, sheet.plan.project.start
    yield f"Hang on the {start.on}: {way_of_hanging(start)}"
    yield from _folded(from_left(plan, MOST))
    for text in off_middle(plan, sheet.unit):
        yield from _folded(text)


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
        yield from _folded(told)


def _cautions(plan: Plan) -> Iterator[str]:
    found = cautions(plan.project)
    if found:
        yield "Take care"
    for caution in found:
        yield from _folded(caution)
