"""Cord and size of a plan in the hands that it is for."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from math import pi

from coach.plan.measure.calibration import from_swatches, repeats_held, steps_held, with_parts
from coach.plan.measure.ledger import Cordwork, KnotTotals
from coach.plan.measure.measuring_pass import Measuring
from coach.plan.measure.places import Places, tie_places
from coach.plan.measure.strand_ends import mountings, tails
from coach.plan.steps import Ledger, Unfolded
from coach.plan.tension import Hands, usual_hands


@dataclass(frozen=True, slots=True)
class Measures:
    """Cord and size: see `coach.plan.plan_model.Plan`."""

    ledgers: tuple[Ledger, ...]
    tail_mm: tuple[float, ...]
    height_mm: Sequence[float]
    width_mm: float
    places: Places
    knots: Sequence[KnotTotals] = ()


def measured(plan: Unfolded, *, by_knot: bool = False) -> Measures:
    """Return the cord and size of a plan in the hands that it is for.

    Args:
        plan: The plan, its counts in order.
        by_knot: Whether to record what knots of each kind use as well, which takes longer.

    Returns:
        Lengths in mm: what each strand uses by count, the length after each count, the width.
    """
    work = measured_work(plan, partial(Cordwork, by_knot=by_knot))
    ledgers = work.ledgers()
    if plan.project.start.flat:
        heights = across_mm(work.heights, middle_mm(plan))
        return Measures(ledgers, tails(plan), heights, heights[-1], tie_places(work), work.knots)
    return Measures(ledgers, tails(plan), work.heights, work.width_mm, tie_places(work), work.knots)


def measured_work(plan: Unfolded, books: Callable[..., Cordwork] = Cordwork) -> Cordwork:
    """Return the ledger of a plan, measured in its hands.

    Parts measured in the file take a pass of their own: they show how far the model is off in
    average hands, and the plan's hands differ from there.

    Args:
        plan: The plan.
        books: The class of the ledger.
    """
    project = plan.project
    calibration = from_swatches(project)
    held = repeats_held(project, plan.steps)
    if held:
        work = _hung(plan, usual_hands(project), Cordwork)
        Measuring(work, calibration, project.knots).all(steps_held(held, plan.steps), plan.counts)
        calibration = with_parts(calibration, project, held, work)
    work = _hung(plan, plan.hands, books)
    Measuring(work, calibration, project.knots).all(plan.steps, plan.counts)
    return work


def _hung(plan: Unfolded, hands: Hands, books: Callable[..., Cordwork]) -> Cordwork:
    """Return a ledger in which the strands hang as at the start, with their mounting's width."""
    start, strands = plan.project.start, plan.strands
    contact = contact_mm(plan, hands)
    work = books(strands, contact, hands=hands, closed=start.closed)
    for place, strand in enumerate(work.of(plan.start)):
        strand.place = place
    firsts = hung_firsts(plan)
    hung = mountings(start, [contact[first] for first in firsts])
    for first, mounting in zip(firsts, hung, strict=True):
        if not strands[first].single and not start.from_middle:
            work.spread(work.of((first, first + 1)), [mounting.width_mm / 2] * 2)
    return work


def middle_mm(plan: Unfolded) -> float:
    """Return the radius of the first round of flat work, its strands side by side.

    Geometry: 2 pi r is the sum of their diameters.
    """
    contact = contact_mm(plan, plan.hands)
    return sum(contact[strand] for strand in plan.start) / (2 * pi)


def across_mm(radial_mm: Sequence[float], middle: float) -> Sequence[float]:
    """Return the diameters of flat round work from its growth outward.

    Args:
        radial_mm: The growth beyond the first round.
        middle: The radius of the first round, in mm.
    """
    return [2 * (middle + mm) if mm else 0.0 for mm in radial_mm]


def hung_firsts(plan: Unfolded) -> list[int]:
    """Return the strand a of each piece that hangs at the start of a plan's own board."""
    hanging = set(plan.start)
    return [
        number
        for number, strand in enumerate(plan.strands)
        if strand.end == "a" and strand.origin == "hung" and number in hanging
    ]


def contact_mm(plan: Unfolded, hands: Hands) -> list[float]:
    """Return the contact diameter of each strand.

    Args:
        plan: The plan with its strands.
        hands: The compression of each cord.

    Returns:
        Diameters in mm, in the order of the strands.
    """
    cords = plan.project.cords
    return [cords[s.cord].diameter_mm * hands.compression_of(s.cord) for s in plan.strands]
