"""What to cut, how sure it is to reach, and what would save cord: the first part of the page."""

import shlex
from collections.abc import Iterator
from textwrap import wrap
from typing import Final

from coach.cli.reports.plan_sheet import Sheet
from coach.piece.learning.swatches import Offer
from coach.plan.cord.cut_list import CordCut, Cut, varied
from coach.plan.plan_model import Plan
from coach.plan.wording.cutting_words import promise, whose
from coach.plan.wording.step_phrases import where
from coach.plan.wording.strand_names import cord_look, strand_words
from coach.project.model import Cord
from coach.quantities import show_cut, show_fineness, show_length, show_mass
from coach.text import capital, one_line
from coach.words.phrases import plural

WIDTH: Final = 78
_INDENT: Final = " " * 15
_WORTH_MM: Final = 20.0  # of cord: less than that is hardly any
_FOR: Final = {
    "hung": "", "added": "added later", "wrap": "to wrap with", "clasp": "for the clasp"
}  # fmt: skip


def folded(text: str, indent: str = "  ") -> list[str]:
    """Return text as lines that the page has room for."""
    return wrap(text, WIDTH, initial_indent=indent, subsequent_indent=indent)


def cutting(sheet: Sheet) -> Iterator[str]:
    """Yield the cut list in lines, with what it promises and what would save cord."""
    plan, unit = sheet.plan, sheet.unit
    yield f"Cut for {sheet.copies} of them" if sheet.copies > 1 else "Cut"
    for cord in sheet.cuts:
        for cut in cord.cuts:
            yield from _cut(plan, cord, cut, unit)
        whole = f"{_INDENT}in all {show_cut(cord.total_mm, unit)}{_weighing(plan, cord)}"
        if cord.per_repeat_mm:
            part = varied(plan.project)
            whole += f"; one {part} more takes {show_length(cord.per_repeat_mm, unit)} a piece"
        yield whole
        yield from folded(_estimated(plan.project.cords[cord.cord]), _INDENT)
    yield from folded(" ".join(_promised(sheet)))
    for text in _savings(sheet):
        yield from folded(text)


def _weighing(plan: Plan, cord: CordCut) -> str:
    mass_g = plan.project.cords[cord.cord].mass_g(cord.total_mm)
    return f", about {show_mass(mass_g)}" if mass_g and round(mass_g) else ""


def _estimated(cord: Cord) -> str:
    """Say that nobody measured how thick a cord is, if so."""
    if not (cord.estimated and cord.fineness_tex):
        return ""
    return f"Its thickness is estimated from its weight, {show_fineness(cord.fineness_tex)}."


def _cut(plan: Plan, cord: CordCut, cut: Cut, unit: str) -> Iterator[str]:
    look = cord_look(plan.project.cords[cut.cord])
    pieces = f"{cut.pieces} piece{'s' * (cut.pieces > 1)} of {show_cut(cut.cut_mm, unit)}"
    purpose = f", {_FOR[cut.origin]}" if _FOR[cut.origin] else ""
    what = f"  {cut.cord:12} {pieces}{purpose} ({look})"
    yield from wrap(what, WIDTH, subsequent_indent=_INDENT)
    if sum(other.origin == cut.origin for other in cord.cuts) > 1:
        yield from folded(f"for {whose(plan, cut)}", _INDENT)
    yield from folded(_decided(plan, cut), _INDENT)


def _decided(plan: Plan, cut: Cut) -> str:
    """Say which strand needs the whole length, and the count in which it takes its last cord."""
    ledger = plan.ledgers[cut.longest]
    name = plan.strands[cut.longest].id
    if cut.longest in plan.start:
        name = f"strand {plan.start.index(cut.longest) + 1} ({name})"
    if not ledger.at:
        return f"Longest need: {name}, for its tail."
    last = ledger.at[-1]
    return f"Longest need: {name}, up to count {last + 1} ({', '.join(where(plan, last))})."


def _promised(sheet: Sheet) -> Iterator[str]:
    plan, found = sheet.plan, sheet.outlook
    yield promise(plan, found, sheet.sure)
    name = strand_words(plan, found.decides, plan.start)
    yield f"{capital(name)} decides: it is the likeliest to fall short."


def _savings(sheet: Sheet) -> Iterator[str]:
    """Yield what sorting, another fold and a swatch save of cord, where they do."""
    unit = sheet.unit
    for cord, saved_mm in _sorted(sheet):
        yield f"Cut by need, {cord} takes {show_cut(saved_mm, unit)} less than in one length."
    for fold in sheet.folds:
        saved, whole = (show_cut(mm * sheet.copies, unit) for mm in (fold.saved_mm, fold.whole_mm))
        yield f"`fold: fit` for {fold.cord} would save {saved} of {whole}."
    if sheet.offer:
        yield _offered(sheet, sheet.offer)


def _sorted(sheet: Sheet) -> Iterator[tuple[str, float]]:
    """Yield the cords of which like pieces are cut to several lengths, and what that saves."""
    for cord in sheet.cuts:
        longest: dict[str, float] = {}
        saved = 0.0
        for cut in cord.cuts:
            most = longest.setdefault(cut.origin, cut.cut_mm)
            saved += cut.pieces * (most - cut.cut_mm)
        if saved:
            yield cord.cord, saved


def _offered(sheet: Sheet, offer: Offer) -> str:
    """Say what a swatch would save, and how it is begun."""
    swatch = offer.swatch
    what = f"A swatch of ten {plural(swatch.knot)} in {swatch.cord}"
    call = f"coach swatch {shlex.quote(one_line(sheet.called))}"
    if sheet.plan.project.margin is not None:
        return f"{what} tells what your hands take: {call}"
    if offer.saves_mm < _WORTH_MM:
        return f"{what} would save hardly any cord: {call}"
    return f"{what} would save about {show_cut(offer.saves_mm, sheet.unit)}: {call}"


def cutting_json(sheet: Sheet) -> dict[str, object]:
    """Return how sure the cut list is and what would save cord, for other programs; in mm."""
    plan, found, offer = sheet.plan, sheet.outlook, sheet.offer
    return {
        "margin": plan.project.margin,
        "sure": sheet.sure if plan.project.margin is None else None,
        "reach": round(found.reach, 3),
        "extra": [round(share, 3) for share in found.extra],
        "decided_by": plan.strands[found.decides].id,
        "swatch": None if offer is None else {
            "knot": offer.swatch.knot, "cord": offer.swatch.cord,
            "saves_mm": round(offer.saves_mm, 1),
        },
        "fold_fit": [
            {"cord": fold.cord, "saves_mm": round(fold.saved_mm * sheet.copies, 1)}
            for fold in sheet.folds
        ],
    }  # fmt: skip
