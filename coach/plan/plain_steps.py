"""What the steps without a knot do to cord and height."""

from math import pi

from coach.knots import geometry
from coach.plan.cordwork import Cordwork
from coach.plan.model import PlannedStep
from coach.project import model


def plain_step(step: PlannedStep, work: Cordwork) -> None:
    """Book one step without a knot."""
    match step.source:
        case model.Space(length_mm=length):
            _space(step, work, length)
        case model.Picot(loop_mm=loop):
            for strand in step.groups[0]:
                work.charge(strand, loop)
        case model.Bead(size_mm=size):
            _bead(step, work, size)
        case model.Turn():
            _turn(step, work)
        case model.Add() | model.LayAside() | model.TakeUp():
            _come_and_go(step, work)
        case model.Flip() | model.Seam():
            for place, strand in enumerate(step.after):
                work.place[strand] = place
        case _:
            return


def _space(step: PlannedStep, work: Cordwork, length_mm: float) -> None:
    for group in step.groups:
        for strand in group:
            work.charge(strand, length_mm)
            work.lower(strand, work.down[strand] + length_mm)
            work.cluster[strand] = 0


def _bead(step: PlannedStep, work: Cordwork, size_mm: float) -> None:
    strands = step.groups[0]
    base = work.lowest(strands)
    for strand in strands:
        work.reach(strand, step.before.index(strand), base)
        work.charge(strand, size_mm)
        work.lower(strand, base + size_mm)


def _turn(step: PlannedStep, work: Cordwork) -> None:
    """Charge a turn round a neighbour, pi (D + d), or half a one round a pin: geometry."""
    holder = step.groups[0][0]
    own = work.contact_mm[holder]
    if len(step.groups[0]) > 1:
        work.charge(holder, pi * (own + work.contact_mm[step.groups[0][1]]))
    else:
        work.charge(holder, pi / 2 * (own + geometry.PIN_MM))


def _come_and_go(step: PlannedStep, work: Cordwork) -> None:
    """Let strands come in at the height of their neighbours; all others keep their columns."""
    was = {strand: place for place, strand in enumerate(step.before)}
    for place, strand in enumerate(step.after):
        if strand in was:
            work.place[strand] += place - was[strand]
        else:
            work.place[strand] = place
            _come_in(step, work, strand, place)


def _come_in(step: PlannedStep, work: Cordwork, strand: int, place: int) -> None:
    """Let a strand hang from where its neighbours have got to; one taken up runs there."""
    known = set(step.before)
    beside = [s for s in step.after[max(0, place - 1) : place + 2] if s in known]
    down = work.lowest(beside) if beside else 0.0
    if strand in step.new_strands:
        work.down[strand] = down
    else:
        work.charge(strand, max(0.0, down - work.down[strand]))
        work.lower(strand, max(down, work.down[strand]))
