"""The pass over a plan's ties that computes the cord of each and how far down the work is.

A level row lies along a taut line below what it crosses, a slanting one at its slope; flat knots
on the same strands stand above each other, in alternating rows they nest. A strand that was left
out runs straight to where it is next tied.
"""

from collections.abc import Mapping, Sequence

from coach.knots import geometry
from coach.knots.names import FLAT_KNOTS
from coach.plan.measure.calibration import Calibration
from coach.plan.measure.ledger import Cluster, Cordwork, StrandProgress, lowest_mm
from coach.plan.measure.other_steps import plain_step
from coach.plan.measure.slant import Reading, rows_read
from coach.plan.measure.tie_size import widths
from coach.plan.measure.tie_sizes import Lie, Sizes
from coach.plan.steps import Count, PlannedStep, StepList
from coach.project import model

_REPEATED = (model.GroupKnot, model.AroundKnot, model.OwnTied)
_NOT_TIED = (model.Cross, model.LayAside)
_PAIR = 2  # strands of a row that is one tie
_BY_STEP = ("plain", "braid")  # roles worked on all strands of the step at once


class Measuring:
    """Measures planned steps one after the other into a `Cordwork`."""

    def __init__(
        self, work: Cordwork, calibration: Calibration, own: Mapping[str, model.OwnKnot]
    ) -> None:
        """Set up with the ledger to write to.

        Args:
            work: The ledger of all strands.
            calibration: The maker's measurements of knots and parts.
            own: The maker's own knots, by name.
        """
        self.work = work
        self.calibration = calibration
        self._sizes = Sizes(work.hands, calibration, own)

    def all(self, steps: Sequence[PlannedStep], counts: Sequence[Count]) -> None:
        """Measure all steps in order."""
        work = self.work
        hangs: tuple[int, ...] = ()
        frame: StepList | None = None
        readings = rows_read(steps, closed=work.closed).readings
        for step, lies in zip(steps, readings, strict=True):
            if work.folded == step.unfolded:
                self._fold_or_unfold(step)
            elif hangs not in ((), step.before):
                work.hang_as(step.before, hangs)
            if step.before is not hangs:
                work.stand_at(step.before)
            hangs = step.after
            if self.calibration.parts and step.frame is not frame:
                frame = step.frame
                work.use_factors(*self.calibration.inside(frame))
            work.standing = len(step.before)
            worked: list[StrandProgress] = []
            # Strands that are tied where they stand need no settling.
            if step.after is not step.before or step.role in _BY_STEP:
                worked = [work.hanging[strand] for group in step.groups for strand in group]
            self._step(step, counts[step.first : step.first + step.counts], worked, lies)
            work.stand(step.after)
            self._settle(step, worked)

    def _settle(self, step: PlannedStep, worked: Sequence[StrandProgress]) -> None:
        """Update where the worked strands stand; those only crossed have not run there."""
        if step.role == "plain":
            if step.after is not step.before:
                self.work.stand_at(step.after)
            if isinstance(step.source, _NOT_TIED):
                return
        elif step.after is not step.before:
            # All that is tied or plaited changes places with its like.
            for spot in [strand.spot for strand in worked]:
                self.work.hanging[step.after[spot]].spot = spot
        for strand in worked:
            strand.place = strand.spot

    def _fold_or_unfold(self, step: PlannedStep) -> None:
        if step.unfolded:
            self.work.unfold()
        else:
            self.work.fold(step.before)

    def _step(
        self,
        step: PlannedStep,
        own: Sequence[Count],
        worked: Sequence[StrandProgress],
        lies: Reading,
    ) -> None:
        source = step.source
        if isinstance(source, model.Row):
            self._row(step.first, source, own, worked, _lie(source, lies))
        elif step.role == "plain":
            plain_step(step, own, self.work)
            self.work.end_count()
        elif step.role == "braid":
            self._braid(step, own, worked)
        elif isinstance(source, model.RigidRow):
            self._rigid(step, source, own)
        else:
            times = source.times if isinstance(source, _REPEATED) else 1
            for made in range(0, len(own), times):
                self._knots(step, step.first + made, own[made : made + times])

    def _row(
        self,
        first: int,
        row: model.Row,
        own: Sequence[Count],
        worked: Sequence[StrandProgress],
        lie: Lie,
    ) -> None:
        """Measure a row; its line begins where its mover, or all that it crosses, hangs.

        A row along a slope ties each strand where it hangs, and adds one tie below it.
        """
        work, factor, mover = self.work, self.work.length_factor, worked[0]
        along = lie == "along"
        line = lowest_mm(worked) if lie == "level" else mover.down_mm
        if line > mover.down_mm:
            mover.place = mover.spot
            work.tie(first, (mover,), (0.0,), line, line)
        for made, count in enumerate(own):
            number, (knot, (knotter,), (filler,), _) = first + made, count
            holds = filler == mover.number
            crossed = work.hanging[knotter if holds else filler]
            size = self._sizes.row(knot, work.hanging[knotter], work.hanging[filler], lie, holds)
            to = crossed.down_mm
            if made % row.times == 0:
                ties = min(row.times, len(own) - made)
                drop = size.drop_mm * factor * ties
                fall = 0.0 if along else drop
                before, line = line, to if along and made else max(line + fall, to)
                mover.charge(number, abs(line - before) - drop)
                # A knotter leaves square to a slant: its next tie is one column back along the row.
                to, down = line, line + max(0.0, size.apart_mm * factor - fall)
            work.tie(number, (crossed,), (size.crossed_mm,), to, down)
            mover.charge(number, size.mover_mm)
            work.spread((crossed,), size.across_mm * ties)
            crossed.cluster = None
            if work.knots:
                work.note_knot(number, crossed if holds else mover, knot, size.own_mm)
            work.end_count(down)
        mover.cluster = None
        # Of a single tie both strands hang below it, so that what goes on to both sides is level.
        work.lower(mover, down if len(worked) == _PAIR else line)

    def _rigid(self, step: PlannedStep, row: model.RigidRow, own: Sequence[Count]) -> None:
        """Measure strands hitched onto something rigid: it lies below all of them, level."""
        work, factor = self.work, self.work.length_factor
        strands = work.of(count.knotters[0] for count in own)
        line = lowest_mm(strands)
        for made, strand in enumerate(strands):
            size = self._sizes.knot(row, own[made], (strand,), nested=False, spiral=False)
            down = line + size.down_mm * factor
            work.tie(step.first + made, (strand,), size.uses_mm, line, down)
            work.spread((strand,), size.across_mm * row.times)
            strand.cluster = None
            if work.knots:
                work.note_knot(step.first + made, strand, own[made].knot, size.own_mm[0])
            work.end_count(down)

    def _knots(self, step: PlannedStep, number: int, ties: Sequence[Count]) -> None:
        """Measure the knots of one group, one below the other, from count `number` on."""
        work, source, knot = self.work, step.source, ties[0].knot
        strands = hung = work.of(ties[0].knotters + ties[0].fillers)
        if step.new_strands:
            hung = [strand for strand in strands if strand.number not in step.new_strands]
        base = self._base(step, number, strands, hung)
        nested, last = _nests(strands)
        back = not work.doubled.isdisjoint([strand.number for strand in strands])
        twisting = len(ties) > 1 or last == knot
        before = ties[0]
        for made, count in enumerate(ties):
            if count is not before:
                strands = work.of(count.knotters + count.fillers)
            if count is not before or not made or nested:
                size = self._sizes.knot(source, count, strands, nested and not made, twisting)
            before, grown = count, size.down_mm * work.length_factor
            line, below = (base - grown, base) if back else (base, base + grown)
            base = line if back else below
            work.tie(number + made, strands, size.uses_mm, line, below)
            if work.knots:
                for strand, own_mm in zip(strands, size.own_mm, strict=False):
                    work.note_knot(number + made, strand, knot, own_mm)
            work.end_count(below)
        if not step.new_strands:
            work.spread(strands, size.across_mm)
        cluster = Cluster(len(strands), knot) if knot in FLAT_KNOTS else None
        for strand in hung:
            strand.cluster = cluster
            strand.down_mm = base  # round what is folded back the work goes up

    def _base(
        self,
        step: PlannedStep,
        number: int,
        strands: Sequence[StrandProgress],
        hung: Sequence[StrandProgress],
    ) -> float:
        """Return how far down a group's first knot begins; new strands are laid in there."""
        base = lowest_mm(hung)
        if step.net_row > 1 and isinstance(step.source, model.Net):
            base += step.source.gap_mm
            for strand in hung:  # to the next row of a net a strand hangs free on purpose: no float
                if strand.spot == strand.place:
                    strand.charge(number, base - strand.down_mm)
                    strand.down_mm = base
        if hung is not strands:
            for strand in strands:
                if strand.number in step.new_strands:
                    strand.down_mm = base
        return base

    def _braid(
        self, step: PlannedStep, own: Sequence[Count], strands: Sequence[StrandProgress]
    ) -> None:
        """Measure a plait, by its own length or crossing by crossing."""
        work = self.work
        contact = [strand.contact_mm for strand in work.hanging]
        size = geometry.plait_size([widths(group, contact) for group in step.groups])
        source = step.source
        given = source.length_mm if isinstance(source, model.Braid) else None
        run = size.pitch_mm if given is None else given
        uses_mm = [run * size.strand_use_mm / size.pitch_mm] * len(strands)
        base = lowest_mm(strands)
        for strand in strands:
            strand.place, strand.cluster = strand.spot, None
        for number, _ in enumerate(own, start=step.first):
            line = base
            base += run * work.length_factor
            work.tie(number, strands, uses_mm, line, base)
            work.end_count(base)
        work.spread(strands, size.width_mm)


def _lie(row: model.Row, reading: Reading) -> Lie:
    return reading if row.slope_deg is None else row.slope_deg


def _nests(strands: Sequence[StrandProgress]) -> tuple[bool, str]:
    """Return whether a knot on these strands nests under others, and else the knot it goes on."""
    above = strands[0].cluster
    for strand in strands:
        if strand.cluster is not above:
            return True, ""
    if above is None:
        return False, ""
    return (False, above.knot) if above.strands == len(strands) else (True, "")
