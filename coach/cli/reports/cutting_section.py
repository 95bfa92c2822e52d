"""The first section of the plan's page: what to cut, how sure it is, what would save cord."""

import shlex
from collections import Counter
from collections.abc import Iterator
from textwrap import wrap
from typing import Final

from coach.cli.output import WIDTH
from coach.plan.cord.cut_list import CordCut
from coach.plan.plan_model import Plan
from coach.plan.wording.strand_names import cord_look
from coach.quantities import show_cut, show_length, show_mass
from coach.report.cutting_report import CordToCut, Deciding, PiecesToCut
from coach.report.plan_report import PlanReport
from coach.report.report_phrases import (
    PURPOSES,
    cut_heading,
    estimated_words,
    promise,
    swatch_words,
)
from coach.text import capital, counted, join_words, one_line, plural

_INDENT: Final = " " * 15
_NIL_MM: Final = 1e-6


def wrap_page(text: str, indent: str = "  ") -> list[str]:
    """Return text wrapped to the width of the page."""
    return wrap(text, WIDTH, initial_indent=indent, subsequent_indent=indent)


def cutting(report: PlanReport, called: str = "") -> Iterator[str]:
    """Yield the cut list in lines, with what it promises and what would save cord.

    Args:
        report: The report of the plan.
        called: The project's name on the command line, for the offer of a swatch; "" for no offer.
    """
    yield cut_heading(report)
    for cord in report.cords:
        for pieces in cord.pieces:
            yield from _cut(cord, pieces, report.unit)
        yield f"{_INDENT}{_in_all(cord, report)}"
        yield from wrap_page(estimated_words(cord.cord), _INDENT)
    decides = f"{capital(report.decides)} is the likeliest to run short."
    yield from wrap_page(f"{promise(report)} {decides}")
    for text in _savings(report, called):
        yield from wrap_page(text)


def _in_all(cord: CordToCut, report: PlanReport) -> str:
    """Return the total of a cord, its weight, and what one extra repeat takes."""
    weighs = f", about {show_mass(cord.mass_g)}" if cord.mass_g and round(cord.mass_g) else ""
    whole = f"in all {show_cut(cord.cut.total_mm, report.unit)}{weighs}"
    if not cord.cut.per_repeat_mm:
        return whole
    return f"{whole}; {_more(cord.cut, report)}"


def _more(cut: CordCut, report: PlanReport) -> str:
    """Return what extra repeats take: longer pieces, more of them, or both."""
    number = cut.new_every if cut.new else 1
    extra = f"each extra {report.varied} takes"
    if number > 1:
        extra = f"every {number} extra {plural(report.varied)} take"
    longer_mm = cut.longer_mm * number
    longer = [f"{show_length(longer_mm, report.unit)} per piece"] if longer_mm > _NIL_MM else []
    lengths = Counter(show_cut(mm, report.unit) for mm in cut.new)
    new = [f"{counted(pieces, 'more length')} of {mm}" for mm, pieces in lengths.items()]
    return f"{extra} {join_words([*longer, *new])}"


def _cut(cord: CordToCut, pieces: PiecesToCut, unit: str) -> Iterator[str]:
    cut = pieces.cut
    purpose = f", {PURPOSES[cut.origin]}" if PURPOSES[cut.origin] else ""
    told = f"{counted(cut.pieces, 'length')} of {show_cut(cut.cut_mm, unit)}{purpose}"
    what = f"  {cord.cord.id:12} {told} ({cord_look(cord.cord)})"
    yield from wrap(what, WIDTH, subsequent_indent=_INDENT)
    if pieces.whose:
        yield from wrap_page(f"for {pieces.whose}", _INDENT)
    yield from wrap_page(_decided(pieces.deciding), _INDENT)


def _decided(deciding: Deciding) -> str:
    """Return which strand needs the whole length, and the tie in which it takes its last cord."""
    name = f"strand {deciding.place} ({deciding.label})" if deciding.place else deciding.label
    if deciding.tie is None:
        return f"Longest need: {name}, for its tail."
    return f"Longest need: {name}, up to tie {deciding.tie} ({', '.join(deciding.where)})."


def _savings(report: PlanReport, called: str) -> Iterator[str]:
    """Yield what sorting, another fold and a swatch would save of cord."""
    unit = report.unit
    for cord in report.cords:
        if saved_mm := cord.cut.sorted_mm:
            yield (
                f"Cut by need, {cord.cord.id} takes {show_cut(saved_mm, unit)} less than at one "
                "length."
            )
    for fold in report.folds:
        saved, whole = (show_cut(mm * report.copies, unit) for mm in (fold.saved_mm, fold.whole_mm))
        yield f"‘fold: fit’ for {fold.cord} would save {saved} of {whole}."
    if report.offer and called:
        told = swatch_words(report.offer, unit, report.margin)
        yield f"{told}: coach swatch {shlex.quote(one_line(called))}"


def cutting_json(plan: Plan, report: PlanReport) -> dict[str, object]:
    """Return how sure the cut list is and what would save cord, as JSON; in mm."""
    found, offer = report.outlook, report.offer
    return {
        "margin": report.margin,
        "sure": report.sure if report.margin is None else None,
        "reach": round(found.reach, 3),
        "extra": [round(share, 3) for share in found.extra],
        "decided_by": plan.strands[found.decides].id,
        "swatch": None if offer is None else {
            "knot": offer.swatch.knot, "cord": offer.swatch.cord,
            "saves_mm": round(offer.saves_mm, 1),
        },
        "fold_fit": [
            {"cord": fold.cord, "saves_mm": round(fold.saved_mm * report.copies, 1)}
            for fold in report.folds
        ],
    }  # fmt: skip
