"""The pass over a plan's ties that computes the cord of each and how far down the work is.

A level row lies along a taut line below what it crosses, a slanting one at its slope; flat knots
on the same strands stand above each other, in alternating rows they nest. A strand that was left
out runs straight to where it is next tied.
"""

from collections.abc import Collection, Mapping, Sequence

from coach.knots import geometry
from coach.knots.names import FLAT_KNOTS
from coach.plan.measure.calibration import Calibration
from coach.plan.measure.ledger import Cordwork, Ends
from coach.plan.measure.other_steps import book_plain_step
from coach.plan.measure.slant import Reading, rows_read
from coach.plan.measure.strand_progress import Cluster, StrandProgress, lowest_mm
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
            book_plain_step(step, own, self.work)
        elif step.role == "braid":
            self._braid(step, own, worked)
        elif isinstance(source, model.RigidRow):
            self._rigid(step, source, own)
        else:
            self._groups(step, own)

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
        along, lines, downs = lie == "along", list[float](), list[float]()
        # A level row hangs from the lowest strand that it crosses; a slanting one from its own
        # mover.
        line = lowest_mm(worked) if lie == "level" else mover.down_mm
        if line > mover.down_mm:
            mover.place = mover.spot
            work.tie(first, (mover,), (0.0,), line, line)
        crossed, columns, charges = list[StrandProgress](), list[float](), list[float]()
        down = line
        for made, (knot, (knotter,), (filler,), _) in enumerate(own):
            holds = filler == mover.number
            strand = work.hanging[knotter if holds else filler]
            size = self._sizes.row(knot, work.hanging[knotter], work.hanging[filler], lie, holds)
            to, uses_mm = down, size.mover_mm
            if made % row.times == 0:
                to = strand.down_mm
                ties = min(row.times, len(own) - made)
                drop = size.drop_mm * factor * ties
                fall = 0.0 if along else drop
                before, line = line, to if along and made else max(line + fall, to)
                # What the mover runs beyond the drop that its knots include already.
                uses_mm += max(0.0, abs(line - before) - drop)
                # A knotter leaves square to a slant: its next tie is one column back along the row.
                to, down = line, line + max(0.0, size.apart_mm * factor - fall)
                crossed.append(strand)
                columns.append(size.across_mm * ties)
            work.tie(first + made, (strand,), (size.crossed_mm,), to, down)
            charges.append(uses_mm)
            lines.append(to)
            downs.append(down)
            if work.knots:
                knotting = strand if holds else mover
                work.note_knots(first + made, knot, (knotting,), (size.own_mm,))
        mover.charge_each(range(first, first + len(own)), charges)
        work.spread(crossed, columns)
        work.end_counts(lines, downs)
        mover.cluster = None
        # Of a single tie both strands hang below it, so that what goes on to both sides is level.
        work.lower(mover, down if len(worked) == _PAIR else line)

    def _rigid(self, step: PlannedStep, row: model.RigidRow, own: Sequence[Count]) -> None:
        """Measure strands hitched onto something rigid: it lies below all of them, level."""
        work, factor = self.work, self.work.length_factor
        strands = work.of(count.knotters[0] for count in own)
        line = lowest_mm(strands)
        for number, (count, strand) in enumerate(zip(own, strands, strict=True), start=step.first):
            size = self._sizes.knot(row, count, (strand,), nested=False, spiral=False)
            down = line + size.down_mm * factor
            work.tie(number, (strand,), size.uses_mm, line, down)
            work.spread((strand,), (size.across_mm * row.times,))
            if work.knots:
                work.note_knots(number, count.knot, (strand,), size.own_mm)
            work.end_counts((line,), (down,))

    def _groups(self, step: PlannedStep, own: Sequence[Count]) -> None:
        """Measure a knot tied in every group of a step."""
        source = step.source
        times = source.times if isinstance(source, _REPEATED) else 1
        gap = source.gap_mm if step.net_row > 1 and isinstance(source, model.Net) else None
        ends: list[Ends] = []
        for made in range(0, len(own), times):
            ends += self._knots(step, step.first + made, own[made : made + times], gap)
        self.work.end_counts([line for line, _ in ends], [down for _, down in ends])

    def _knots(
        self, step: PlannedStep, first: int, ties: Sequence[Count], gap: float | None
    ) -> list[Ends]:
        """Measure the knots of one group, one below the other, from count `first` on.

        In a net strands hang free on purpose, for a gap of so many mm at least: that is no float.
        """
        work, knot = self.work, ties[0].knot
        strands = work.tied_in(ties[0])
        base, nested, last = _under(strands)
        if step.new_strands:
            base = _laid_in(step.new_strands, strands)
        base += gap or 0.0
        twisting, back, ends = len(ties) > 1 or last == knot, work.goes_back(strands), list[Ends]()
        for number, count in enumerate(ties, start=first):
            if len(ties) > 1:
                strands = work.tied_in(count)
            size = self._sizes.knot(step.source, count, strands, nested, twisting)
            nested, grown = False, size.down_mm * work.length_factor
            line, below = (base - grown, base) if back else (base, base + grown)
            run_to = line if gap is None else base
            work.tie(number, strands, size.uses_mm, run_to, below, free=gap is not None)
            base = line if back else below  # round what is folded back the work goes up
            ends.append((line, below))
            if work.knots:
                work.note_knots(number, knot, strands, size.own_mm)
        cluster = Cluster(len(strands), knot) if knot in FLAT_KNOTS else None
        columns = work.columns(strands) if step.new_strands else size.columns_mm
        work.spread(strands, columns, cluster)
        if back:
            for strand in strands:
                # Work goes up along what was folded back, so that it hangs where the last knot
                # ended.
                strand.down_mm = base
        return ends

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
            strand.place = strand.spot
        for number, _ in enumerate(own, start=step.first):
            line = base
            base += run * work.length_factor
            work.tie(number, strands, uses_mm, line, base)
            work.end_counts((line,), (base,))
        work.spread(strands, [size.width_mm / len(strands)] * len(strands))


def _lie(row: model.Row, reading: Reading) -> Lie:
    return reading if row.slope_deg is None else row.slope_deg


def _under(strands: Sequence[StrandProgress]) -> tuple[float, bool, str]:
    """Return where a knot on strands begins, whether it nests under others, or what it goes on."""
    above, base, nested = strands[0].cluster, strands[0].down_mm, False
    for strand in strands:
        if strand.down_mm > base:  # noqa: PLR1730 - at every tie, and max takes thrice as long
            base = strand.down_mm
        if strand.cluster is not above:
            nested = True
    if nested or above is None:
        return base, nested, ""
    return (base, False, above.knot) if above.strands == len(strands) else (base, True, "")


def _laid_in(new: Collection[int], strands: Sequence[StrandProgress]) -> float:
    """Lay new strands in where the others hang, and return how far down that is."""
    base = lowest_mm(strand for strand in strands if strand.number not in new)
    for strand in strands:
        if strand.number in new:
            strand.down_mm = base
    return base
