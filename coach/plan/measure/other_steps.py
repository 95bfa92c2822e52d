"""The cord and height of steps without a knot."""

from collections.abc import Sequence
from itertools import zip_longest
from math import pi

from coach.knots import geometry
from coach.plan.measure.ledger import Cordwork
from coach.plan.measure.strand_progress import StrandProgress, lowest_mm
from coach.plan.steps import Count, PlannedStep
from coach.project import model


def book_plain_step(step: PlannedStep, own: Sequence[Count], work: Cordwork) -> None:
    """Add one step without a knot to the ledger.

    Args:
        step: The step.
        own: Its counts.
        work: The ledger, which is written to.
    """
    match step.source:
        case model.Space(length_mm=length):
            _space(step, work, length)
        case model.Picot(loop_mm=loop):
            for strand in work.of(step.groups[0]):
                strand.charge(step.first, loop)
        case model.Bead(size_mm=size):
            _bead(step, work, size)
            return
        case model.Turn():
            _turn(step, work)
        case model.FoldBack(loop_mm=loop):
            _fold_back(step, work, loop)
        case model.Add() | model.LayAside() | model.TakeUp() | model.BringDown():
            _come_and_go(step, own[0].fillers, work)
        case model.Flip() | model.Seam():
            for place, strand in enumerate(work.of(step.after)):
                strand.place = place
    work.end_untied()


def _space(step: PlannedStep, work: Cordwork, length_mm: float) -> None:
    for group in step.groups:
        for strand in work.of(group):
            strand.charge(step.first, length_mm)
            work.lower(strand, strand.down_mm + length_mm)
            strand.cluster = None


def _fold_back(step: PlannedStep, work: Cordwork, loop_mm: float) -> None:
    """Let strands leave a loop below the work and lie along it: there and back, geometry.

    What is tied round them from here on lies along the work, so that it adds no length.
    """
    strands = work.of(step.groups[0])
    line = lowest_mm(strands)
    for strand in strands:
        strand.charge(step.first, line - strand.down_mm + 2 * loop_mm)
        work.lower(strand, line)
        strand.cluster = None
    work.lowest_mm = max(work.lowest_mm, line + loop_mm)
    work.doubled |= set(step.groups[0])


def _bead(step: PlannedStep, work: Cordwork, size_mm: float) -> None:
    strands = work.of(step.groups[0])
    base = lowest_mm(strands)
    work.tie(step.first, strands, [size_mm] * len(strands), base, base + size_mm)
    work.end_counts((base,), (base + size_mm,))


def _turn(step: PlannedStep, work: Cordwork) -> None:
    """Charge a turn round a neighbour, pi (D + d), or half a one round a pin: geometry."""
    holder, *around = work.of(step.groups[0])
    if around:
        holder.charge(step.first, pi * (holder.contact_mm + around[0].contact_mm))
    else:
        holder.charge(step.first, pi / 2 * (holder.contact_mm + geometry.PIN_MM))


def _come_and_go(step: PlannedStep, onto: Sequence[int], work: Cordwork) -> None:
    """Let strands come in at the height of the work there; others keep their columns."""
    hung = set(step.before)
    coming = []
    for place, strand in enumerate(work.of(step.after)):
        if strand.number in hung:
            strand.place += place - strand.spot
        else:
            strand.place = place
            coming.append(strand)
    if coming:
        down = _height_mm(step, coming[0].place, onto, work)
        for strand in coming:
            _come_in(step, strand, down, work)


def _height_mm(step: PlannedStep, place: int, onto: Sequence[int], work: Cordwork) -> float:
    """Return how far down the work is where strands come in, the first of them at `place`.

    That is where the strand hangs that they are hung `onto` or else, outward from their place,
    the first that carries work; of one on either side, the lower. In a group only its own
    strands count, for the groups beside it may be much further down, or not begun.
    """
    group = set(step.window)
    here = [strand for strand in step.before if strand in group]
    first = here.index(onto[0]) if onto else sum(s in group for s in step.before[:place])
    left, right = here[:first][::-1], here[first:]
    if onto:
        left.insert(0, onto[0])
    if work.closed and len(here) == len(step.before):
        left, right = left + right[::-1], right + left[::-1]
    for beside in zip_longest(left, right):
        down = lowest_mm(work.of(strand for strand in beside if strand is not None))
        if down > 0:
            return down
    return 0.0


def _come_in(step: PlannedStep, strand: StrandProgress, down: float, work: Cordwork) -> None:
    """Let a strand hang from so far down; one taken up runs there."""
    if step.new_strands:
        strand.down_mm = down
    else:
        strand.charge(step.first, max(0.0, down - strand.down_mm))
        work.lower(strand, max(down, strand.down_mm))
