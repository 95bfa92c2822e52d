"""The horizontal positions of the strands: a slot for each, about the middle of the work."""

from collections.abc import Sequence
from statistics import median

from coach.picture.layout.hanging_arms import arms_of
from coach.plan.measure.places import Places
from coach.plan.plan_model import Plan


class Grid:
    """The slots of the strands on the board, in mm from the middle, as the maker sees them.

    Slots divide the finished width by the strands' diameters. Where strands come or go, those that
    stay keep their places as well as they can; in the round only the numbering moves. Arms of round
    work hang apart, which makes it `spread_mm` wider.
    """

    def __init__(self, plan: Plan, places: Places) -> None:
        contact = places.contact_mm
        orders = {id(step.before): step.before for step in plan.steps if not step.unfolded}
        widest = max(sum(contact[s] for s in order) for order in (plan.start, *orders.values()))
        self.room_mm = [round(width * places.width_mm / widest, 6) for width in contact]
        self._arms = arms_of(plan, places)
        self.spread_mm = self._arms.spread_mm
        self.half_mm = (places.width_mm + self.spread_mm) / 2
        self.closed = plan.project.start.closed
        self.x_mm: dict[int, float] = {}
        self._order: Sequence[int] = ()
        self._aside_mm = 0.0
        self._first = 0  # the slot of position 1 in the round

    def stand(self, order: Sequence[int]) -> None:
        """Set the order of the strands."""
        if order is self._order:
            return
        spots = self._spots(order)
        if len(order) != len(self._order) and self.x_mm:
            moves = [spots[s] - x for s, x in self.x_mm.items() if s in spots]
            away = median(moves) if moves else 0.0
            self._aside_mm -= away
            spots = {strand: x - away for strand, x in spots.items()}
        self.x_mm, self._order = spots, order

    def _spots(self, order: Sequence[int]) -> dict[int, float]:
        slots = order if not self._first else _rotated(order, -self._first)
        arms = self._arms
        at = self._aside_mm - sum(map(self.room_mm.__getitem__, order)) / 2
        at -= (arms.spread_mm - arms.gap_mm) / 2
        spots = {}
        for place, strand in enumerate(slots):
            room = self.room_mm[strand]
            spots[strand] = at + room / 2
            at += room + arms.gap_mm * (place in arms.after)
        return spots

    def flip(self, order: Sequence[int]) -> None:
        """Turn over to the work's other side."""
        self._aside_mm = -self._aside_mm
        self._order, self.x_mm = order, self._spots(order)

    def count_from(self, order: Sequence[int]) -> None:
        """Move the seam of round work, without moving a strand."""
        before = tuple(self._order)
        self._first = (self._first + before.index(order[0])) % len(order) if order else 0
        self._order = order

    def side_by_side(self, strands: Sequence[int]) -> list[float]:
        """Return where strands that belong together hang, the seam opened to the right."""
        xs = [self.x_mm[strand] for strand in strands]
        if not self.closed:
            return xs
        whole, found = 2 * self.half_mm, xs[:1]
        for x in xs[1:]:
            found.append(x + whole if x < found[-1] and len(xs) < len(self.x_mm) else x)
        return found


def _rotated(order: Sequence[int], by: int) -> Sequence[int]:
    by %= len(order)
    return (*order[by:], *order[:by])
