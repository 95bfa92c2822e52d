"""One pass over the plan gives cord and size: what each tie uses, how far down the work has got.

A level row lies along a taut line below what it crosses, a slanting one at its slope; flat knots
on the same strands stand above each other, in alternating rows they nest. A strand that was left
out runs straight to where it is next tied.
"""

from collections.abc import Sequence

from coach.knots import geometry
from coach.knots.names import FLAT_KNOTS
from coach.plan.calibrate import Calibration
from coach.plan.cordwork import Cluster, Cordwork, Hanging, lowest_mm
from coach.plan.lie import slants
from coach.plan.model import Count, PlannedStep
from coach.plan.plain_steps import plain_step
from coach.plan.sizes import Lie, Sizes
from coach.plan.tie_size import widths
from coach.project import model


class Measuring:
    """Measures planned steps one after the other into a `Cordwork`."""

    def __init__(self, work: Cordwork, calibration: Calibration) -> None:
        self.work = work
        self.calibration = calibration
        self._sizes = Sizes(work.hands, calibration)

    def all(self, steps: Sequence[PlannedStep], counts: Sequence[Count]) -> None:
        """Measure all steps in order."""
        work = self.work
        hangs: tuple[int, ...] = ()
        for step, slanting in zip(steps, slants(steps), strict=True):
            if work.folded == step.unfolded:
                self._fold_or_unfold(step)
            elif hangs not in ((), step.before):
                work.hang_as(step.before, hangs)
            if step.before is not hangs:
                work.stand_at(step.before)
            hangs = step.after
            work.use_factors(*self.calibration.inside(step.trail))
            work.standing = len(step.before)
            own = counts[step.first : step.end]
            if step.role in ("row", "weave"):
                self._row(step, own, slanting=slanting)
            else:
                self._others(step, own)
            work.stand(step.after)
            self._settle(step)

    def _settle(self, step: PlannedStep) -> None:
        """Let what was worked stand where it is now; strands only crossed have not run there."""
        work, after = self.work, step.after
        if step.role == "plain":
            work.stand_at(after)
        if isinstance(step.source, model.Cross | model.LayAside):
            return
        worked = [strand for group in step.groups for strand in work.of(group)]
        if step.role != "plain" and after is not step.before:
            # All that is tied or plaited changes places with its like.
            for spot in [strand.spot for strand in worked]:
                work.hanging[after[spot]].spot = spot
        for strand in worked:
            strand.place = strand.spot

    def _fold_or_unfold(self, step: PlannedStep) -> None:
        if step.unfolded:
            self.work.unfold()
        else:
            self.work.fold(step.before)

    def _row(self, step: PlannedStep, own: Sequence[Count], *, slanting: bool) -> None:
        """Measure a row; its line begins where its mover, or all that it crosses, hangs."""
        work, hanging = self.work, self.work.hanging
        mover, *every = work.of(step.groups[0])
        line = mover.down_mm if slanting else lowest_mm((mover, *every))
        work.reach(step.first, mover, mover.place, line)
        times, lie = _times(step), _lie(step, slanting=slanting)
        for made in range(0, len(own), times):
            ties, number = own[made : made + times], step.first + made
            knot, (knotter,), (filler,), _ = ties[0]
            holds = filler == step.mover
            crossed = hanging[knotter if holds else filler]
            size = self._sizes.row(knot, hanging[knotter], hanging[filler], lie, holds=holds)
            drop = size.drop_mm * work.length_factor * len(ties)
            # A knotter leaves square to a slant: its next tie is one column back along the row.
            hangs = max(0.0, size.apart_mm * work.length_factor - drop)
            reached = max(line + drop, crossed.down_mm) if slanting else line
            mover.charge(number, reached - line - drop)
            work.reach(number, crossed, crossed.spot, reached)
            work.lower(crossed, reached + hangs)
            for at in range(number, number + len(ties)):
                hanging[knotter].charge(at, size.knotter_mm)
                hanging[filler].charge(at, size.filler_mm)
                if work.knots:
                    work.note_knot(at, hanging[knotter], knot, size.own_mm)
                work.end_count()
            work.column[crossed.number] = size.across_mm * len(ties)
            crossed.cluster = None
            line = reached
        work.lower(mover, line)
        mover.cluster = None

    def _others(self, step: PlannedStep, own: Sequence[Count]) -> None:
        if step.role == "plain":
            plain_step(step, self.work)
            self.work.end_count()
        elif step.role == "braid":
            self._braid(step, own)
        else:
            times = _times(step)
            for made in range(0, len(own), times):
                self._knots(step, step.first + made, own[made : made + times])

    def _knots(self, step: PlannedStep, number: int, ties: Sequence[Count]) -> None:
        """Measure the knots of one group, one below the other, from count `number` on."""
        work, new = self.work, step.new_strands
        strands = work.of((*ties[0].knotters, *ties[0].fillers))
        hung = [strand for strand in strands if strand.number not in new] if new else strands
        gap = step.source.gap_mm if isinstance(step.source, model.Net) and step.net_row > 1 else 0.0
        base = lowest_mm(hung) + gap
        nested, last = _nests(strands)
        for strand in hung:
            work.reach(number, strand, strand.spot, base)
        twisting = len(ties) > 1 or last == ties[0].knot
        before: Count | None = None
        for made, count in enumerate(ties):
            if count is not before or made == 1:
                before, knotters = count, len(count.knotters)
                strands = work.of((*count.knotters, *count.fillers))
                size = self._sizes.knot(
                    step.source, count.knot, strands, knotters,
                    nested=nested and not made, spiral=twisting,
                )  # fmt: skip
                if not new:
                    work.spread(strands, size.across_mm)
            for strand, use_mm in zip(strands, size.uses_mm, strict=True):
                strand.charge(number + made, use_mm)
            if work.knots:
                for strand, own_mm in zip(strands, size.own_mm, strict=False):
                    work.note_knot(number + made, strand, count.knot, own_mm)
            base += size.down_mm * work.length_factor
            work.lowest_mm = max(work.lowest_mm, base)
            work.end_count()
        for strand in strands:
            strand.down_mm = base
        flat = ties[0].knot in FLAT_KNOTS
        cluster = Cluster(len(strands), ties[0].knot) if flat else None
        for strand in hung:
            strand.cluster = cluster

    def _braid(self, step: PlannedStep, own: Sequence[Count]) -> None:
        """Measure a plait, by its own length or crossing by crossing."""
        work = self.work
        strands = [strand for group in step.groups for strand in work.of(group)]
        contact = [strand.contact_mm for strand in work.hanging]
        size = geometry.plait([widths(group, contact) for group in step.groups])
        source = step.source
        given = source.length_mm if isinstance(source, model.Braid) else None
        run = size.pitch_mm if given is None else given
        base = lowest_mm(strands)
        for number, _ in enumerate(own, start=step.first):
            for strand in strands:
                work.reach(number, strand, strand.place, base)
                strand.charge(number, run * size.strand_use_mm / size.pitch_mm)
            base += run * work.length_factor
            for strand in strands:
                work.lower(strand, base)
                strand.cluster = None
            work.end_count()
        work.spread(strands, size.width_mm)


def _times(step: PlannedStep) -> int:
    """Give how many ties follow each other on the same strands."""
    source = step.source
    return source.times if isinstance(source, model.Row | model.GroupKnot | model.AroundKnot) else 1


def _lie(step: PlannedStep, *, slanting: bool) -> Lie:
    if not slanting:
        return "level"
    slope = step.source.slope_deg if isinstance(step.source, model.Row) else None
    return "slant" if slope is None else slope


def _nests(strands: Sequence[Hanging]) -> tuple[bool, str]:
    """Give whether a knot on these strands nests under others, and else the knot it goes on."""
    above = strands[0].cluster
    if any(strand.cluster is not above for strand in strands):
        return True, ""
    if above is None:
        return False, ""
    going_on = above.strands == len(strands)
    return not going_on, above.knot if going_on else ""
