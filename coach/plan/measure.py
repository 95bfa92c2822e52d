"""One pass over the plan gives cord and size: what each tie uses, how far down the work has got.

A level row lies along a taut line below what it crosses, a slanting one at its slope; flat knots
on the same strands stand above each other, in alternating rows they nest. A strand that was left
out runs straight to where it is next tied.
"""

from collections.abc import Mapping, Sequence
from functools import lru_cache
from itertools import groupby

from coach.knots import geometry
from coach.knots.geometry import COMPRESSION, TieSize
from coach.knots.names import CHAIN, FLAT_KNOTS, HALF_KNOT, REVERSE_HALF_KNOT
from coach.plan.calibrate import Calibration
from coach.plan.cordwork import Cordwork
from coach.plan.lie import slants
from coach.plan.model import Count, PlannedStep
from coach.plan.plain_steps import plain_step
from coach.plan.tie_size import (
    around_size,
    bundle_size,
    chain_size,
    flat_size,
    row_size,
    scaled,
    widths,
    wrap_size,
)
from coach.project import model

_STEEPEST_DEG = 80.0


class Measuring:
    """Measures planned steps one after the other into a `Cordwork`."""

    def __init__(self, work: Cordwork, calibration: Calibration) -> None:
        self.work = work
        self.calibration = calibration
        self._clusters: dict[int, tuple[frozenset[int], str]] = {}
        self._sizes: dict[tuple[object, ...], TieSize] = {}

    def all(self, steps: Sequence[PlannedStep], counts: Sequence[Count]) -> None:
        """Measure all steps in order."""
        lying = slants(steps)
        hangs: tuple[int, ...] = ()
        for step in steps:
            if self.work.folded == step.unfolded:
                self._fold_or_unfold(step)
            elif hangs not in ((), step.before):
                self.work.hang_as(step.before, hangs)
            hangs = step.after
            self.work.cord_factors, self.work.length_factor = self.calibration.inside(step.trail)
            self.work.standing = len(step.before)
            own = counts[step.first : step.end]
            if step.role in ("row", "weave"):
                self._row(step, own, slanting=lying[step.index])
            else:
                self._others(step, own)
            self.work.stand(step.after)
            self._settle(step)

    def _settle(self, step: PlannedStep) -> None:
        """Let what was worked stand where it is now; strands only crossed have not run there."""
        if isinstance(step.source, model.Cross):
            return
        places = _places(step.after)
        for group in step.groups:
            for strand in group:
                if strand in places:
                    self.work.place[strand] = places[strand]

    def _fold_or_unfold(self, step: PlannedStep) -> None:
        if step.unfolded:
            self.work.folded = False
        else:
            self.work.fold(step.before)

    def _size(self, count: Count, size: TieSize, along_mm: float) -> TieSize:
        """Give a tie's size with the maker's swatch, if there is one for it."""
        cord = self.work.strands[count.knotters[0]].cord
        # A swatch is held against the model in cord that gives as usual.
        usual = COMPRESSION / self.work.hands.compression_of(cord)
        use_mm, along_mm = size.knotter_use_mm[0] * usual, along_mm * usual
        use, extent = self.calibration.swatch(count.knot, cord, use_mm, along_mm)
        return scaled(size, use, extent)

    def _row_size(self, step: PlannedStep, count: Count) -> TieSize:
        contact = self.work.contact_mm
        holds = count.fillers[0] == step.mover
        knotter, filler = count.knotters[0], count.fillers[0]
        key = (count.knot, knotter, filler, holds)
        if key not in self._sizes:
            size = row_size(count.knot, contact[knotter], contact[filler], mover_holds=holds)
            along = size.across_mm if holds else size.down_mm
            self._sizes[key] = self._size(count, size, along)
        return self._sizes[key]

    def _row(self, step: PlannedStep, own: Sequence[Count], *, slanting: bool) -> None:
        """Measure a row; its line begins where its mover, or all that it crosses, hangs."""
        work, mover = self.work, step.groups[0][0]
        line = work.down[mover] if slanting else work.lowest(step.groups[0])
        work.start_count(step.first)
        work.reach(mover, work.place[mover], line)
        number, places = step.first, _places(step.before)
        for crossed, run in groupby(own, key=lambda count: _crossed(count, mover)):
            ties = list(run)
            size = self._row_size(step, ties[0])
            across, drop, apart = self._lie(step, size, slanting=slanting)
            drop *= len(ties)
            # A knotter leaves square to a slant: its next tie is one column back along the row.
            hangs = max(0.0, apart - drop)
            reached = max(line + drop, work.down[crossed]) if slanting else line
            work.start_count(number)
            work.charge(mover, reached - line - drop)
            work.reach(crossed, places[crossed], reached)
            for count in ties:
                work.start_count(number)
                work.tie(count.knotters[0], count.knot, size.knotter_use_mm[0])
                work.charge(count.fillers[0], size.filler_use_mm)
                work.lower(crossed, reached + hangs)
                work.end_count()
                number += 1
            work.column[crossed] = across * len(ties)
            work.cluster[crossed] = 0
            line = reached
        work.lower(mover, line)
        work.cluster[mover] = 0

    def _lie(
        self, step: PlannedStep, size: TieSize, *, slanting: bool
    ) -> tuple[float, float, float]:
        """Give a tie's column width, its drop along the row, and how far below the next row is."""
        if not slanting:
            return size.across_mm, 0.0, self.work.gain(size.down_mm)
        slope = step.source.slope_deg if isinstance(step.source, model.Row) else None
        slant = geometry.slanted(size, None if slope is None else min(slope, _STEEPEST_DEG))
        return slant.across_mm, self.work.gain(slant.drop_mm), self.work.gain(slant.apart_mm)

    def _others(self, step: PlannedStep, own: Sequence[Count]) -> None:
        if step.role == "plain":
            self.work.start_count(step.first)
            plain_step(step, self.work)
            self.work.end_count()
        elif step.role == "braid":
            self._braid(step, own)
        else:
            self._knots(step, own)

    def _knots(self, step: PlannedStep, own: Sequence[Count]) -> None:
        """Measure the knots of one step, a group at a time."""
        number = step.first
        for strands, run in groupby(own, key=_strands):
            ties = list(run)
            base = self._base(step, strands)
            nested, cluster = self._nests(strands)
            last = self._clusters.get(cluster, (strands, ""))[1]
            for made, count in enumerate(ties):
                self.work.start_count(number)
                if not made:
                    self._reach(step, strands, base)
                twisting = len(ties) > 1 or last == count.knot
                size = self._knot_size(step, count, nested=nested and not made, spiral=twisting)
                base += self.work.gain(size.down_mm)
                self._tie(count, size, base)
                self.work.end_count()
                number += 1
            self._keep_cluster(step, strands, ties[-1])

    def _base(self, step: PlannedStep, strands: frozenset[int]) -> float:
        """Give the height at which a group's first knot begins; new strands are laid in there."""
        gap = step.source.gap_mm if isinstance(step.source, model.Net) and step.net_row > 1 else 0.0
        base = self.work.lowest(strands.difference(step.new_strands)) + gap
        for strand in strands.intersection(step.new_strands):
            self.work.down[strand] = base
        return base

    def _reach(self, step: PlannedStep, strands: frozenset[int], base_mm: float) -> None:
        places = _places(step.before)
        for strand in strands.difference(step.new_strands):
            self.work.reach(strand, places[strand], base_mm)

    def _tie(self, count: Count, size: TieSize, down_mm: float) -> None:
        work, uses = self.work, size.knotter_use_mm
        for which, strand in enumerate(count.knotters):
            work.tie(strand, count.knot, uses[min(which, len(uses) - 1)])
        for strand in count.fillers:
            work.charge(strand, size.filler_use_mm)
        for strand in (*count.knotters, *count.fillers):
            work.lower(strand, down_mm)

    def _nests(self, strands: frozenset[int]) -> tuple[bool, int]:
        """Give whether a knot on these strands nests under others, and the cluster it goes on."""
        found = {self.work.cluster[strand] for strand in strands}
        flat = {number for number in found if number > 0}
        going_on = len(found) == 1 and bool(flat)
        number = next(iter(found)) if going_on else 0
        if going_on and self._clusters[number][0] != strands:
            return True, 0
        return len(found) > 1 and bool(flat), number

    def _keep_cluster(self, step: PlannedStep, strands: frozenset[int], count: Count) -> None:
        on_board = strands.difference(step.new_strands)
        number = len(self._clusters) + 1
        self._clusters[number] = (strands, count.knot)
        flat = count.knot in FLAT_KNOTS
        for strand in on_board:
            self.work.cluster[strand] = number if flat else 0

    def _knot_size(self, step: PlannedStep, count: Count, *, nested: bool, spiral: bool) -> TieSize:
        """Give a tie's size and spread it over its columns."""
        key = (id(step.source), count.knotters, count.fillers, nested, spiral)
        if key not in self._sizes:
            drawn = self._drawn(step, count, nested=nested, spiral=spiral)
            self._sizes[key] = self._size(count, drawn, drawn.down_mm)
        size = self._sizes[key]
        if not step.new_strands:
            self.work.spread((*count.knotters, *count.fillers), size.across_mm)
        return size

    def _drawn(self, step: PlannedStep, count: Count, *, nested: bool, spiral: bool) -> TieSize:
        """Give the modelled size of a knot that is not in a row."""
        contact, source = self.work.contact_mm, step.source
        knotters, fillers = widths(count.knotters, contact), widths(count.fillers, contact)
        if isinstance(source, model.Gathering):
            return wrap_size(knotters[0], fillers, source.length_mm)
        if isinstance(source, model.AroundKnot):
            return around_size(count.knot, knotters[0], fillers, source.turns)
        if count.knot == CHAIN:
            return chain_size(knotters[0], fillers[0])
        if count.knot in FLAT_KNOTS:
            half = count.knot in (HALF_KNOT, REVERSE_HALF_KNOT)
            pair = (knotters[0], knotters[-1])
            return flat_size(
                count.knot, pair, fillers,
                spiral=spiral and half, nested=nested, bundled=bool(step.new_strands),
            )  # fmt: skip
        squares = source.squares if isinstance(source, model.GroupKnot) else 0
        outer = (knotters[0], *fillers, knotters[-1]) if squares else knotters
        return bundle_size(count.knot, outer, squares)

    def _braid(self, step: PlannedStep, own: Sequence[Count]) -> None:
        """Measure a plait, by its own length or crossing by crossing."""
        work = self.work
        strands = [strand for group in step.groups for strand in group]
        size = geometry.plait([widths(group, work.contact_mm) for group in step.groups])
        source = step.source
        given = source.length_mm if isinstance(source, model.Braid) else None
        run = size.pitch_mm if given is None else given
        base = work.lowest(strands)
        for number, _ in enumerate(own, start=step.first):
            work.start_count(number)
            for strand in strands:
                work.reach(strand, work.place[strand], base)
                work.charge(strand, run * size.strand_use_mm / size.pitch_mm)
            base += work.gain(run)
            for strand in strands:
                work.lower(strand, base)
                work.cluster[strand] = 0
            work.end_count()
        work.spread(strands, size.width_mm)


@lru_cache(maxsize=256)
def _places(order: tuple[int, ...]) -> Mapping[int, int]:
    """Give where each strand of an order stands, from 0 at the left."""
    return {strand: place for place, strand in enumerate(order)}


def _crossed(count: Count, mover: int) -> int:
    """Give the strand that the mover of a row meets in a tie."""
    return count.fillers[0] if count.knotters[0] == mover else count.knotters[0]


def _strands(count: Count) -> frozenset[int]:
    return frozenset((*count.knotters, *count.fillers))
