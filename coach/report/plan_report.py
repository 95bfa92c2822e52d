"""The report of a plan before the first knot, which every page renders.

The terminal's plan, the bench's plan screen, the written instructions and the card differ in
layout, not in what they gather. Lengths are in mm, times in seconds.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from coach.pace.estimate import Range
from coach.plan.as_json import tie_counts
from coach.plan.cord.cut_list import SURE, CordCut, cut_list, with_repeats
from coach.plan.cord.outlook import FoldSaving, Outlook, fold_savings, outlook
from coach.plan.cord.swatch import SwatchOffer, swatch_offer
from coach.plan.measure.strand_ends import hanging_method
from coach.plan.plan_model import Plan
from coach.plan.resize.varying import varied_part
from coach.plan.wording.cautions import cautions
from coach.plan.wording.cord_order_words import MOST, from_left
from coach.plan.wording.knot_how import KnotExplanation, own_hows
from coach.plan.wording.strand_names import strand_words
from coach.report.cutting_report import CordToCut, cords_to_cut, off_middle


@dataclass(frozen=True, slots=True)
class MadeApart:
    """A part made apart: how many are made, and the size of one in mm."""

    name: str
    pieces: int
    length_mm: float
    width_mm: float
    strands: int


def made_apart(plan: Plan) -> tuple[MadeApart, ...]:
    """Return the parts made apart, in the order in which they are made."""
    first = [own for own in plan.by_section if own.section.name and own.section.turn == 1]
    return tuple(
        MadeApart(
            own.section.name,
            own.section.turns,
            own.plan.length_mm,
            own.plan.width_mm,
            len(own.plan.start),
        )
        for own in first
        if not own.section.end
    )


@dataclass(frozen=True, slots=True)
class HangingReport:
    """What the cords hang on, how, and which strand hangs where.

    `off_middle` says how far the ends of cords hang that are not folded in the middle.
    """

    on: str
    way: str
    strands: int
    from_left: str
    off_middle: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FinishedSize:
    """The size of the work, the length that its file aims for, and the measured one.

    `repeats_vary` says whether the measured length depends on the number of repeats in the file.
    """

    length_mm: float
    width_mm: float
    state: str
    wish_mm: float | None
    measured_mm: float | None
    repeats_vary: bool


@dataclass(frozen=True, slots=True)
class PlanReport:
    """The report of a plan.

    `kinds` are the kind of piece and the skill it takes, `ready` the things to have at hand,
    `changes` the maker's changes to the file, `learnt_from` her pieces whose measures count for
    these cords. `knots` are the knots tied with their numbers, in the order in which they are met,
    `own_knots` how the maker's own are tied, `apart` the parts made apart. `varied` is the part of
    which one extra repeat is reported. `margin` is the file's own, None where the cut list is such
    that a share `sure` of pieces reach; `outlook` is what the cut list promises, `offer` the
    swatch to tie before cutting, and `folds` the savings of another fold.
    """

    title: str
    about: str
    kinds: tuple[str, ...]
    time: Range | None
    ready: tuple[str, ...]
    surface: str
    changes: tuple[str, ...]
    learnt_from: tuple[str, ...]
    unit: str
    copies: int
    margin: float | None
    sure: float
    outlook: Outlook
    decides: str
    offer: SwatchOffer | None
    folds: tuple[FoldSaving, ...]
    cords: tuple[CordToCut, ...]
    varied: str
    hanging: HangingReport
    knots: tuple[tuple[str, int], ...]
    steps: int
    size: FinishedSize
    cautions: tuple[str, ...]
    own_knots: Mapping[str, KnotExplanation]
    apart: tuple[MadeApart, ...]

    @property
    def cuts(self) -> tuple[CordCut, ...]:
        """The cut list."""
        return tuple(cord.cut for cord in self.cords)


def report_of(
    plan: Plan,
    *,
    unit: str = "cm",
    copies: int = 1,
    sure: float = SURE,
    time: Range | None = None,
    changes: tuple[str, ...] = (),
    learnt_from: tuple[str, ...] = (),
    one_more: bool = False,
    savings: bool = False,
) -> PlanReport:
    """Return the report of a plan.

    Args:
        plan: The plan.
        unit: "cm" or "in": the unit in which lengths are rounded up and shown.
        copies: How many of the piece are made.
        sure: The chance that every strand of a piece reaches, where the file has no margin.
        time: How long one takes.
        changes: The maker's changes to the file, in words.
        learnt_from: The names of pieces whose measures count for these cords.
        one_more: Whether to work out what one extra repeat takes, for which the longer piece is
            planned as well.
        savings: Whether to work out what a swatch or another fold would save.
    """
    project = plan.project
    cuts = cut_list(plan, unit, copies, sure)
    promised, each = outlook(plan, cuts), " (for each)" if copies > 1 else ""
    return PlanReport(
        title=project.title,
        about=project.about,
        kinds=tuple(word for word in (project.kind, project.skill) if word not in ("", "other")),
        time=time,
        ready=(*project.tools, *(f"{one}{each}" for one in project.findings)),
        surface=project.surface,
        changes=changes,
        learnt_from=learnt_from,
        unit=unit,
        copies=copies,
        margin=project.margin,
        sure=sure,
        outlook=promised,
        decides=strand_words(plan, promised.decides, plan.start),
        offer=swatch_offer(plan, cuts, unit, copies, sure) if savings else None,
        folds=tuple(fold_savings(plan, cuts, unit, sure)) if savings else (),
        cords=cords_to_cut(plan, with_repeats(cuts, plan) if one_more else cuts),
        varied=varied_part(project),
        hanging=_hanging(plan, unit),
        knots=tuple(tie_counts(plan).items()),
        steps=len(plan.steps),
        size=_size(plan),
        cautions=cautions(project),
        own_knots=own_hows(project),
        apart=made_apart(plan),
    )


def _hanging(plan: Plan, unit: str) -> HangingReport:
    start = plan.project.start
    return HangingReport(
        on=start.on,
        way=hanging_method(start),
        strands=len(plan.start),
        from_left=from_left(plan, MOST),
        off_middle=tuple(off_middle(plan, unit)),
    )


def _size(plan: Plan) -> FinishedSize:
    size = plan.project.size
    return FinishedSize(
        length_mm=plan.length_mm,
        width_mm=plan.width_mm,
        state=size.state if size else "",
        wish_mm=size.wish_mm if size else None,
        measured_mm=size.length_mm if size else None,
        repeats_vary=bool(size and size.vary),
    )
