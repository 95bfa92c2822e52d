"""The part of the board that a drawing of a step shows, and how its places are numbered."""

from dataclasses import dataclass

from coach.plan.plan_model import PlannedStep
from coach.project import model


@dataclass(frozen=True, slots=True)
class PlaceRange:
    """Places `first` to `last`, counted from 0 at the left of the board.

    The instructions call place p by the number `base + p`, in a mirrored repeat `base - p`.
    """

    first: int
    last: int
    base: int
    mirrored: bool

    def has(self, place: int) -> bool:
        """Return whether a place lies inside the frame."""
        return self.first <= place <= self.last

    def count(self, place: int) -> int:
        """Return the number that the instructions give a place."""
        return self.base - place if self.mirrored else self.base + place


def over_seam(step: PlannedStep) -> frozenset[int]:
    """Return the strands that a group of round work takes from beyond the seam."""
    beyond: set[int] = set()
    if step.role in ("knot", "net") and not step.mirrored:
        for group in step.groups:
            places = [step.before.index(strand) for strand in group if strand in step.before]
            falls = [n for n in range(1, len(places)) if places[n] < places[n - 1]]
            if len(falls) == 1 and places[-1] < places[0]:
                beyond.update(group[falls[0] :])
    return frozenset(beyond)


def frame_of(step: PlannedStep, window: int | None) -> PlaceRange:
    """Return the frame of a step: the group of `window` strands it is worked in, or the board."""
    strands = len(step.before)
    base = _base(step)
    if window is None or window >= strands:
        beyond = max((step.before.index(s) + 1 for s in over_seam(step)), default=0)
        return PlaceRange(0, max(strands + beyond, len(step.after)) - 1, base, step.mirrored)
    at_one = base - 1 if step.mirrored else 1 - base
    first = at_one - window + 1 if step.mirrored else at_one
    touched = [step.before.index(s) for group in step.groups for s in group if s in step.before]
    low = min([max(0, first), *touched])
    high = max([min(strands - 1, first + window - 1), *touched])
    return PlaceRange(low, high, base, step.mirrored)


def _base(step: PlannedStep) -> int:
    """Return the difference between a place and the number that the step's writer gave it."""
    known = _known(step)
    if known is None:
        return len(step.before) if step.mirrored else 1
    place, number = known
    return number + place if step.mirrored else number - place


def _known(step: PlannedStep) -> tuple[int, int] | None:
    """Return one place on the board with the number that the writer gave it, or None."""
    positions = _first_positions(step.source)
    if positions is None or not step.groups or not step.groups[0]:
        return None
    places = [step.before.index(s) for s in step.groups[0] if s in step.before]
    if not places:
        return None
    if step.mover is not None and step.mover in step.before:
        place = step.before.index(step.mover)
    else:
        place = max(places) if step.mirrored else min(places)
    return place, 1 if positions.everything else min(positions.items)


def _first_positions(source: model.Step) -> model.Positions | None:
    match source:
        case model.Row(mover=mover):
            return mover
        case model.GroupKnot(groups=groups) | model.Braid(bundles=groups):
            return min(groups.members, key=lambda m: min(m.items, default=1))
        case model.AroundKnot(knotter=knotter):
            return knotter
        case model.Gathering(around=around):
            return around
        case model.Space(groups=groups):
            return groups.members[0] if groups else None
        case model.Picot(strands=strands) | model.Bead(strands=strands):
            return strands
        case model.Turn(holder=holder):
            return holder
        case _:
            return None
