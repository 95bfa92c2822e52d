"""Cord and size of work on several boards: each measured by itself, then put together."""

from array import array
from collections import Counter
from collections.abc import Mapping, Sequence

from coach.plan.measure.ledger import KnotTotals
from coach.plan.measure.measure import Measures, contact_mm, measured
from coach.plan.measure.places import Places
from coach.plan.measure.strand_ends import tails
from coach.plan.section_plans import P, SectionPlan
from coach.plan.steps import Ledger, Unfolded
from coach.project.model import Attach


def measured_sections(
    plan: Unfolded, sections: Sequence[SectionPlan[P]], *, by_knot: bool
) -> Measures:
    """Return the cord and size of a plan of several sections.

    The length after a count is that of the piece being worked: what is made apart counts by itself,
    the two sides of work begun in the middle together. What is attached adds its own length only
    where the file says so. The width is the greatest of the piece's sections.

    Args:
        plan: The whole plan.
        sections: The work on each board.
        by_knot: Whether to record what knots of each kind use as well.
    """
    found = [measured(own.plan, by_knot=by_knot) for own in sections]
    ledgers = tuple(
        _first_used([_of_whole(m.ledgers[s], own) for m, own in zip(found, sections, strict=True)])
        for s in range(len(plan.strands))
    )
    heights = _heights(plan, sections, found)
    width = max(
        (m.width_mm for m, own in zip(found, sections, strict=True) if not _apart(plan, own)),
        default=0.0,
    ) or max(m.width_mm for m in found)
    places = _places(plan, sections, found, heights, width)
    knots = _knots(plan, sections, found) if by_knot else ()
    return Measures(ledgers, tails(plan), heights, width, places, knots)


def _apart(plan: Unfolded, own: SectionPlan[P]) -> bool:
    """Whether a section is made apart from a piece that has a board of its own."""
    return bool(own.section.name) and bool(plan.sections[0].order)


def _of_whole(ledger: Ledger, own: SectionPlan[P]) -> Ledger:
    """Return a section's ledger, indexed by the counts of the whole."""
    at = array("q", [own.counts[count] for count in ledger.at])
    float_at = own.counts[ledger.float_at] if ledger.float_mm else 0
    return Ledger(at, ledger.used_mm, ledger.float_mm, float_at)


def _first_used(ledgers: Sequence[Ledger]) -> Ledger:
    """Return the ledger of the section that a strand was worked in."""
    return next((one for one in ledgers if one.at), ledgers[0])


def _heights(
    plan: Unfolded, sections: Sequence[SectionPlan[P]], found: Sequence[Measures]
) -> Sequence[float]:
    """Return the length after 0, 1, 2 ... counts."""
    heights = array("d", [0.0])
    now, added = [0.0] * len(found), [0.0] * len(found)
    attached: Counter[str] = Counter()
    for step in plan.steps:
        number = step.section
        if isinstance(step.source, Attach):
            if step.source.adds_length:
                added[number] += _made_mm(plan, step.source.apart, attached, now)
            attached[step.source.apart] += 1
        own, measures = sections[number], found[number]
        if not plan.sections[number].order:  # nothing hangs there: what was made last stays
            heights.extend([heights[-1]] * step.counts)
            continue
        for count in range(step.first, step.end):
            now[number] = measures.height_mm[own.done(count + 1)] + added[number]
            heights.append(_length_mm(plan, number, now))
    if plan.sections[0].order:
        heights[-1] = _length_mm(plan, 0, now)
    return heights


def _made_mm(plan: Unfolded, name: str, attached: Mapping[str, int], now: Sequence[float]) -> float:
    """Return the length of the next piece of a part made apart."""
    made = [n for n, own in enumerate(plan.sections) if own.name == name and not own.end]
    return _length_mm(plan, made[attached[name]], now)


def _length_mm(plan: Unfolded, number: int, now: Sequence[float]) -> float:
    """Return the length of the piece that a section belongs to, both of its sides."""
    return sum(now[one] for one in sides(plan, number))


def sides(plan: Unfolded, number: int) -> tuple[int, ...]:
    """Return the sections of the piece that one belongs to: itself, or both sides."""
    own = plan.sections[number]
    first = own.of if own.end else number
    return (first, *(n for n, s in enumerate(plan.sections) if s.end and s.of == first))


def _places(
    plan: Unfolded,
    sections: Sequence[SectionPlan[P]],
    found: Sequence[Measures],
    heights: Sequence[float],
    width_mm: float,
) -> Places:
    """Return the places of all ties on their own boards, indexed by the counts of the whole."""
    top, bottom = array("d", heights[:-1]), array("d", heights[:-1])
    for own, measures in zip(sections, found, strict=True):
        for local, count in enumerate(own.counts):
            top[count] = measures.places.top_mm[local]
            bottom[count] = measures.places.bottom_mm[local]
    return Places(top, bottom, heights, 0.0, width_mm, contact_mm(plan, plan.hands))


def _knots(
    plan: Unfolded, sections: Sequence[SectionPlan[P]], found: Sequence[Measures]
) -> Sequence[KnotTotals]:
    """Return what knots of each kind use of each strand, indexed by the counts of the whole."""
    knots: list[KnotTotals] = [{} for _ in plan.strands]
    for own, measures in zip(sections, found, strict=True):
        for strand, totals in enumerate(measures.knots):
            for knot, (at, used) in totals.items():
                knots[strand][knot] = ([own.counts[count] for count in at], used)
    return knots
