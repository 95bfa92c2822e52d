"""The pages of a swatch: how to tie it, what to measure, and its result."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from coach.cli.reports.cutting_section import cutting, wrap_page
from coach.piece.learning.swatches import Doubtful
from coach.plan.cord.cut_list import Cut, cut_list
from coach.plan.cord.swatch import KNOTS, TrialSwatch
from coach.plan.plan_model import Plan
from coach.plan.wording.cord_order_words import ranges_in_words
from coach.quantities import show_cut, show_length
from coach.report.cutting_report import strand_owners
from coach.report.plan_report import PlanReport
from coach.text import counted, plural
from coach.words.hanging import hanging_instructions
from coach.words.instructions import instructions

LENGTH_ASKED: Final = "How long is the run of knots, from the first to the last?"


@dataclass(frozen=True, slots=True)
class Planned:
    """A plan in some hands, and its report."""

    plan: Plan
    report: PlanReport


def how_to_tie(swatch: TrialSwatch, report: PlanReport) -> Iterator[str]:
    """Yield what to cut, hang, tie and measure."""
    plan, unit = swatch.plan, report.unit
    yield f"Swatch for {report.title}: ten {plural(swatch.knot, KNOTS)} in {swatch.cord}"
    yield "Cut"
    for cord in cut_list(plan, unit):
        for cut in cord.cuts:
            yield from wrap_page(_pieces(swatch, cut, unit))
    yield "Hang"
    yield from wrap_page(hanging_instructions(plan, unit))
    yield "Tie, as firmly as you will tie the piece"
    for line in instructions(plan, unit):
        yield from wrap_page(line.text)
    yield "Measure"
    ends = _ends(swatch)
    yield from wrap_page(
        f"Measure {ends} from the top to the end before you begin, and from the last knot to the "
        "end when you are done. What is gone, all together, is what they took."
    )
    yield ""


def took_asked(swatch: TrialSwatch) -> str:
    """Return the question about the cord that went into the knots."""
    together = ", together" if len(swatch.ends) > 1 else ""
    return f"How much cord did {_ends(swatch)} take{together}?"


def measure_again_line(doubtful: Doubtful, unit: str) -> str:
    """Return why a measurement is asked for again."""
    low, high = (show_length(mm, unit) for mm in (doubtful.low_mm, doubtful.high_mm))
    again = "" if doubtful.impossible else " Write it again to keep it."
    never = " No cord is thicker than it is sold as." if doubtful.impossible else ""
    return f"Likely: {low} to {high}. {doubtful.reason}{never}{again}"


def swatch_outcome(before: Planned, after: Planned, swatch: TrialSwatch) -> Iterator[str]:
    """Yield the result of a swatch: what was learnt, the new cut list, the cord saved.

    Args:
        before: Plan and report as they were.
        after: Plan and report in the hands that the swatch has shown.
        swatch: What was tied and measured.
    """
    was, now = (before.plan.hands.compression_of(swatch.cord),
                after.plan.hands.compression_of(swatch.cord))  # fmt: skip
    yield ""
    yield from wrap_page(
        f"Your {swatch.cord} works up like {now:.0%} of its stated thickness ({was:.0%} was "
        f"expected), and a {swatch.knot} in it takes {_more(after.plan, swatch)}.", "",
    )  # fmt: skip
    for change in after.report.changes:
        yield from wrap_page(f"Changed: {change}.", "")
    yield ""
    yield from cutting(after.report)
    yield ""
    yield _saved(before.report, after.report)


def _more(plan: Plan, swatch: TrialSwatch) -> str:
    slack = plan.hands.slack_of(swatch.cord, swatch.knot)
    if abs(slack) < 0.005:  # noqa: PLR2004 - what rounds to no percent
        return "as much as expected"
    return f"{abs(slack):.0%} {'more' if slack > 0 else 'less'} than expected"


def _saved(before: PlanReport, after: PlanReport) -> str:
    """Return how much less, or more, is cut."""
    whole, now = (sum(cord.total_mm for cord in told.cuts) for told in (before, after))
    unit = before.unit
    if now > whole:
        more = show_cut(now - whole, unit)
        return (
            f"In all {show_cut(now, unit)}: {more} more than before, which would have been short."
        )
    if now == whole:
        return f"In all {show_cut(now, unit)}, as before."
    return f"In all {show_cut(now, unit)}: the swatch saves {show_cut(whole - now, unit)}."


def measured_block(swatch: TrialSwatch, length_mm: float, took_mm: float) -> str:
    """Return the measurements as YAML for a project file.

    Args:
        swatch: What was tied; the length across of a row is not known, so none is written.
        length_mm: How long it is.
        took_mm: The cord that all its knotters took together.
    """
    knotters = len(swatch.plan.counts[0].knotters)
    length = "" if swatch.in_rows else f", length: {length_mm:.0f} mm"
    return (
        "measured:\n"
        f'  - {{knot: "{swatch.knot}", cord: "{swatch.cord}", times: {KNOTS}, '
        f"uses: {took_mm / knotters:.0f} mm{length}}}\n"
    )


def _pieces(swatch: TrialSwatch, cut: Cut, unit: str) -> str:
    length = show_cut(cut.cut_mm, unit)
    return f"{counted(cut.pieces, 'piece')} of {length} for {strand_owners(swatch.plan, cut)}"


def _ends(swatch: TrialSwatch) -> str:
    places = sorted(swatch.plan.start.index(end) + 1 for end in swatch.ends)
    return f"{plural('strand', len(places))} {ranges_in_words(places)}"
