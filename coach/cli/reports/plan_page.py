"""The plan on paper: lines for a maker who is about to cut."""

from collections.abc import Iterable, Iterator, Sequence
from textwrap import wrap
from typing import Final

from coach.cli.hanks import CordStock, stock_lines
from coach.plan.wording.from_left import MOST, spans
from coach.plan.wording.strand_names import cord_look
from coach.quantities import show_cut, show_length, show_mass
from coach.report.plan_report import PlanReport
from coach.report.report_phrases import (
    apart_words,
    estimated_words,
    purpose,
    size_known,
    size_words,
    spare_words,
    time_words,
)
from coach.report.to_cut import CordToCut, Deciding, PiecesToCut, Shorter
from coach.text import counted, plural

WIDTH: Final = 78
_INDENT: Final = " " * 15


def page(report: PlanReport, stock: Sequence[CordStock] = ()) -> list[str]:
    """Return a plan's report, and how its pieces come out of the stock, as lines of 78 columns."""
    sections: tuple[Iterable[str], ...] = (
        _head(report),
        _cutting(report),
        _stock(stock, report.unit),
        _hanging(report),
        _knots(report),
        _size(report),
        _cautions(report),
    )
    lines: list[str] = []
    for section in sections:
        found = list(section)
        if found:
            lines += [*found, ""]
    return lines[:-1]


def _folded(text: str, indent: str = "  ") -> list[str]:
    return wrap(text, WIDTH, initial_indent=indent, subsequent_indent=indent)


def _head(report: PlanReport) -> Iterator[str]:
    yield report.title
    yield from _folded(report.about)
    time = time_words(report.time) if report.time else ""
    yield from _folded("; ".join(filter(None, (", ".join(report.kinds), time))))
    if report.ready:
        yield from _folded(f"Have ready: {', '.join(report.ready)}.")
    for change in report.changes:
        yield from _folded(f"Changed: {change}.")


def _cutting(report: PlanReport) -> Iterator[str]:
    times = f", for {report.copies} of them" if report.copies > 1 else ""
    yield f"Cut (with {spare_words(report)}{times})"
    for cord in report.cords:
        for pieces in cord.pieces:
            yield from _cut(cord, pieces, report.unit)
        yield f"{_INDENT}{_in_all(cord, report)}"
        yield from _folded(estimated_words(cord.cord), _INDENT)


def _in_all(cord: CordToCut, report: PlanReport) -> str:
    """Say what a cord comes to, what that weighs, and what one repeat more takes."""
    weighs = f", about {show_mass(cord.mass_g)}" if cord.mass_g and round(cord.mass_g) else ""
    whole = f"in all {show_cut(cord.cut.total_mm, report.unit)}{weighs}"
    if not cord.cut.per_repeat_mm:
        return whole
    more = show_length(cord.cut.per_repeat_mm, report.unit)
    return f"{whole}; one {report.varied} more takes {more} a piece"


def _cut(cord: CordToCut, pieces: PiecesToCut, unit: str) -> Iterator[str]:
    cut = pieces.cut
    what_for = f", {purpose(cut)}" if purpose(cut) else ""
    told = f"{counted(cut.pieces, 'piece')} of {show_cut(cut.cut_mm, unit)}{what_for}"
    what = f"  {cord.cord.id:12} {told} ({cord_look(cord.cord)})"
    yield from wrap(what, WIDTH, subsequent_indent=_INDENT)
    yield from _folded(_decided(pieces.deciding), _INDENT)
    if pieces.shorter:
        yield from _folded(f"could be shorter: {_shorter(pieces.shorter, unit)}", _INDENT)


def _shorter(pieces: Sequence[Shorter], unit: str) -> str:
    """Say which pieces need far less than their like: `2.26 m for strands 2-3 and 6-7`."""
    told = [
        f"{show_cut(few.length_mm, unit)} for {plural(few.named_by, len(few.numbers))} "
        f"{spans(few.numbers)}"
        for few in pieces[:MOST]
    ]
    return "; ".join([*told, "and others"] if len(pieces) > MOST else told)


def _decided(deciding: Deciding) -> str:
    """Say which strand decides a length, and the count in which it takes its last cord."""
    name = f"strand {deciding.place} ({deciding.label})" if deciding.place else deciding.label
    if deciding.tie is None:
        return f"its tail decides ({name})"
    return f"{name} decides, up to count {deciding.tie} ({', '.join(deciding.where)})"


def _stock(stock: Sequence[CordStock], unit: str) -> Iterator[str]:
    if stock:
        yield "From what is in hand"
        yield from stock_lines(stock, unit)


def _hanging(report: PlanReport) -> Iterator[str]:
    hanging = report.hanging
    yield f"Hang on the {hanging.on}: {hanging.way}"
    for text in (hanging.from_left, *hanging.off_middle):
        yield from _folded(text)


def _knots(report: PlanReport) -> Iterator[str]:
    number = sum(ties for _, ties in report.knots)
    yield f"Knots: {number:,} in {report.steps:,} steps"
    for knot, ties in sorted(report.knots, key=lambda pair: -pair[1]):
        yield f"  {ties:6,} {knot}"


def _size(report: PlanReport) -> Iterator[str]:
    size, unit = report.size, report.unit
    state = f" {size.state}" if size.state else ""
    yield f"Size{state}: {size_words(size, unit)}"
    yield from _folded(size_known(size, unit))
    for one in report.apart:
        yield from _folded(apart_words(one, unit))


def _cautions(report: PlanReport) -> Iterator[str]:
    if report.cautions:
        yield "Take care"
    for caution in report.cautions:
        yield from _folded(caution)
