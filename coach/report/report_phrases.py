"""The sentences of the report that every page shares."""

from collections.abc import Mapping
from typing import Final

from coach.pace.estimate import Range
from coach.plan.cord.swatch import KNOTS, SwatchOffer
from coach.plan.plan_model import Origin
from coach.project.model import Cord
from coach.quantities import show_cut, show_fineness, show_length, show_time
from coach.report.cutting_report import PiecesToCut
from coach.report.plan_report import FinishedSize, MadeApart, PlanReport
from coach.text import capital, counted, join_words, number_in_words, one_line, plural

PURPOSES: Final[Mapping[Origin, str]] = {
    "hung": "", "added": "to add later", "wrap": "for the wrap", "clasp": "for the clasp",
    "lead": "",
}  # fmt: skip
"""What pieces are for that do not hang from the start."""
_ALL: Final = 0.995
_NAMED: Final = 3  # pieces that are told by name
_WORTH_MM: Final = 20.0  # of cord: less than that is hardly any


def time_words(time: Range) -> str:
    """Return how long a piece takes: `about 2 h of knotting (1 h to 4 h)`."""
    span = f"{show_time(time.low_s)} to {show_time(time.high_s)}"
    return f"about {show_time(time.likely_s)} of knotting ({span})"


def cut_heading(report: PlanReport) -> str:
    """Return the heading over a cut list: `Cut`, or `Cut for 12`."""
    return f"Cut for {report.copies:,}" if report.copies > 1 else "Cut"


def each_heading(what: str, report: PlanReport) -> str:
    """Return the heading over what is done to every copy: `Hang`, or `Hang each of the 12`."""
    return f"{what} each of the {report.copies:,}" if report.copies > 1 else what


def time_line(report: PlanReport) -> str:
    """Return how long a piece takes, and that it is one of several; "" where it is not known."""
    if report.time is None:
        return ""
    return f"{time_words(report.time)}{' each' if report.copies > 1 else ''}"


def cut_words(pieces: PiecesToCut, unit: str) -> str:
    """Return what is cut: `Cut two 1.55 m lengths of tide, for strands 1-4`."""
    what = f"Cut {lengths_words(pieces, unit)}"
    return f"{what}, {purpose(pieces)}." if purpose(pieces) else f"{what}."


def lengths_words(pieces: PiecesToCut, unit: str) -> str:
    """Return how many lengths of a cord are cut: `two 1.55 m lengths of tide`."""
    cut = pieces.cut
    number, long = number_in_words(cut.pieces), show_cut(cut.cut_mm, unit)
    if number.isalpha():
        return f"{number} {long} {plural('length', cut.pieces)} of {cut.cord}"
    return f"{number} lengths of {cut.cord}, {long} each"  # never two figures side by side


def purpose(pieces: PiecesToCut) -> str:
    """Return what pieces are for, "" for all those of a cord that hang from the start."""
    told = PURPOSES[pieces.cut.origin]
    return told or (f"for {pieces.whose}" if pieces.whose else "")


def cut_sum(report: PlanReport) -> str:
    """Return what each cord comes to in all, and how sure it is to reach."""
    totals = [f"{show_cut(c.cut.total_mm, report.unit)} of {c.cord.id}" for c in report.cords]
    return f"In all {join_words(totals)}. {promise(report)}"


def promise(report: PlanReport) -> str:
    """Return how much more than the likely need is cut, and how often that is enough."""
    found = report.outlook
    if report.margin is None:
        low, high = (round(share * 100) for share in found.extra)
        span = f"{low} to {high} %" if high > low else f"{high} %"
        return f"Lengths include {span} extra, enough {report.sure * 100:.3g} times in 100."
    many = f"about {found.reach * 100:.0f} times in 100" if found.reach < _ALL else "nearly always"
    return f"Lengths include the project's {report.margin * 100:.3g} % extra, enough {many}."


def swatch_words(offer: SwatchOffer, unit: str, margin: float | None) -> str:
    """Return what a swatch would save: `A swatch of ten square knots in reed would save about 2 m`.

    Args:
        offer: The swatch, and the cord that it would save.
        unit: cm or in, what lengths are told in.
        margin: What the project itself adds to each length, as a share; None where it says nothing.
    """
    what = f"A swatch of ten {plural(offer.swatch.knot, KNOTS)} in {offer.swatch.cord}"
    if margin is not None:
        return f"{what} shows how much cord your hands take"
    if offer.saves_mm < _WORTH_MM:
        return f"{what} would hardly save any cord"
    return f"{what} would save about {show_cut(offer.saves_mm, unit)}"


def learnt_words(report: PlanReport) -> str:
    """Return which of the maker's pieces the figures come from, "" if they are any maker's."""
    if not report.learnt_from:
        return ""
    named = join_words([f"‘{one_line(name)}’" for name in report.learnt_from[:_NAMED]])
    more = " and others" if len(report.learnt_from) > _NAMED else ""
    return f"In your hands, as measured on {named}{more}."


def estimated_words(cord: Cord) -> str:
    """Return that nobody measured the thickness of a cord, "" where somebody did."""
    if not (cord.estimated and cord.fineness_tex):
        return ""
    return f"Its thickness is estimated from its weight, {show_fineness(cord.fineness_tex)}."


def size_words(size: FinishedSize, unit: str) -> str:
    """Return how large the work gets: `about 20 cm long and 1.3 cm wide`."""
    length, width = show_length(size.length_mm, unit), show_length(size.width_mm, unit)
    return f"about {length} long and {width} wide"


def size_line(size: FinishedSize, unit: str) -> str:
    """Return how large the work gets, in which state, and what is known of that beside the plan."""
    state = f", {size.state}" if size.state else ""
    return f"{capital(size_words(size, unit))}{state}. {size_known(size, unit)}".strip()


def size_known(size: FinishedSize, unit: str) -> str:
    """Return which length the file aims for and which one its maker measured, "" without either."""
    told = []
    if size.wish_mm:
        told.append(f"The project aims for {show_length(size.wish_mm, unit)}.")
    if size.measured_mm:
        repeats = " with the repeats in the file" if size.repeats_vary else ""
        told.append(f"Its maker measured {show_length(size.measured_mm, unit)}{repeats}.")
    return " ".join(told)


def apart_words(one: MadeApart, unit: str) -> str:
    """Return the size of a part made apart: `2 handles, each about 32 cm long and 2 cm wide`."""
    each = "each about" if one.pieces > 1 else "about"
    return (
        f"{counted(one.pieces, one.name)}, {each} {show_length(one.length_mm, unit)} long and "
        f"{show_length(one.width_mm, unit)} wide."
    )
