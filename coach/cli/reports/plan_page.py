"""The page of a plan, for a maker who is about to cut."""

from collections.abc import Iterable, Iterator, Sequence

from coach.cli.options.cutting_options import CordStock, stock_lines
from coach.cli.output import in_sections
from coach.cli.reports.cutting_section import cutting, wrap_page
from coach.report.plan_report import PlanReport
from coach.report.report_phrases import (
    apart_words,
    learnt_words,
    size_known,
    size_words,
    time_line,
)
from coach.text import capital


def render_plan(report: PlanReport, stock: Sequence[CordStock] = (), called: str = "") -> list[str]:
    """Return a plan's report as lines of 78 columns.

    Args:
        report: The report.
        stock: How its pieces come out of the stock.
        called: The project's name on the command line.
    """
    sections: tuple[Iterable[str], ...] = (
        _head(report),
        cutting(report, called),
        _stock(stock, report.unit),
        _hanging(report),
        _knots(report),
        _size(report),
        _cautions(report),
    )
    return in_sections(sections)


def _head(report: PlanReport) -> Iterator[str]:
    yield report.title
    yield from wrap_page(report.about)
    told = (", ".join(report.kinds), time_line(report))
    yield from wrap_page(capital("; ".join(filter(None, told))))
    if report.ready:
        yield from wrap_page(f"Have ready: {', '.join(report.ready)}.")
    yield from wrap_page(learnt_words(report))
    for change in report.changes:
        yield from wrap_page(f"Changed: {change}.")


def _stock(stock: Sequence[CordStock], unit: str) -> Iterator[str]:
    if stock:
        yield "From what is in hand"
        yield from stock_lines(stock, unit)


def _hanging(report: PlanReport) -> Iterator[str]:
    hanging = report.hanging
    if not hanging.strands:
        return
    yield f"Hang on the {hanging.on}: {hanging.way}"
    for text in (hanging.from_left, *hanging.off_middle):
        yield from wrap_page(text)


def _knots(report: PlanReport) -> Iterator[str]:
    number = sum(ties for _, ties in report.knots)
    yield f"Knots: {number:,} in {report.steps:,} steps"
    for knot, ties in sorted(report.knots, key=lambda pair: -pair[1]):
        yield f"  {ties:6,} {knot}"


def _size(report: PlanReport) -> Iterator[str]:
    size, unit = report.size, report.unit
    state = f" {size.state}" if size.state else ""
    yield f"Size{state}: {size_words(size, unit)}"
    yield from wrap_page(size_known(size, unit))
    for one in report.apart:
        yield from wrap_page(apart_words(one, unit))


def _cautions(report: PlanReport) -> Iterator[str]:
    if report.cautions:
        yield "Take care"
    for caution in report.cautions:
        yield from wrap_page(caution)
