"""What the steps without a knot do to cord and height."""

from math import pi

from coach.knots import geometry
from coach.plan.measure.ledger import Cordwork, Hanging, lowest_mm
from coach.plan.steps import PlannedStep
from coach.project import model


def plain_step(step: PlannedStep, work: Cordwork) -> None:
    """Book one step without a knot."""
    match step.source:
        case model.Space(length_mm=length):
            _space(step, work, length)
        case model.Picot(loop_mm=loop):
            for strand in work.of(step.groups[0]):
                strand.charge(step.first, loop)
        case model.Bead(size_mm=size):
            _bead(step, work, size)
        case model.Turn():
            _turn(step, work)
        case model.Add() | model.LayAside() | model.TakeUp():
            _come_and_go(step, work)
        case model.Flip() | model.Seam():
            for place, strand in enumerate(work.of(step.after)):
                strand.place = place
        case _:
            return


def _space(step: PlannedStep, work: Cordwork, length_mm: float) -> None:
    for group in step.groups:
        for strand in work.of(group):
            strand.charge(step.first, length_mm)
            work.lower(strand, strand.down_mm + length_mm)
            strand.cluster = None


def _bead(step: PlannedStep, work: Cordwork, size_mm: float) -> None:
    strands = work.of(step.groups[0])
    base = lowest_mm(strands)
    work.tie(step.first, strands, [size_mm] * len(strands), base, base + size_mm)
    work.lowest_mm = max(work.lowest_mm, base + size_mm)


def _turn(step: PlannedStep, work: Cordwork) -> None:
    """Charge a turn round a neighbour, pi (D + d), or half a one round a pin: geometry."""
    holder, *around = work.of(step.groups[0])
    if around:
        holder.charge(step.first, pi * (holder.contact_mm + around[0].contact_mm))
    else:
        holder.charge(step.first, pi / 2 * (holder.contact_mm + geometry.PIN_MM))


def _come_and_go(step: PlannedStep, work: Cordwork) -> None:
    """Let strands come in at the height of their neighbours; all others keep their columns."""
    hung = set(step.before)
    for place, strand in enumerate(work.of(step.after)):
        if strand.number in hung:
            strand.place += place - strand.spot
        else:
            strand.place = place
            beside = [s for s in step.after[max(0, place - 1) : place + 2] if s in hung]
            _come_in(step, strand, lowest_mm(work.of(beside)) if beside else 0.0, work)


def _come_in(step: PlannedStep, strand: Hanging, down: float, work: Cordwork) -> None:
    """Let a strand hang from where its neighbours have got to; one taken up runs there."""
    if step.new_strands:
        strand.down_mm = down
    else:
        strand.charge(step.first, max(0.0, down - strand.down_mm))
        work.lower(strand, max(down, strand.down_mm))
