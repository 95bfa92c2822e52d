"""The cord that a piece took, and its cost."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from coach.orders.prices import Prices
from coach.piece.events import Joined, Measured
from coach.piece.learning.estimates import Known
from coach.piece.state import State
from coach.plan.cord.cord_left import shares_mm
from coach.plan.cord.cut_list import cut_list
from coach.plan.plan_model import Plan
from coach.plan.wording.strand_names import not_in_name


@dataclass(frozen=True, slots=True)
class CordAccount:
    """One cord in mm: cut in all, joined in later, used by now, and left over with all tails.

    `measured` says that every strand's rest was measured at the end.
    """

    cord: str
    cut_mm: float
    joined_mm: float
    left_mm: float
    measured: bool

    @property
    def used_mm(self) -> float:
        """The cord in the work, including the way round what it hangs on."""
        return self.cut_mm + self.joined_mm - self.left_mm


@dataclass(frozen=True, slots=True)
class MeasureTold:
    """One measurement: its count, its strand ("" the work), expected and measured value."""

    at_done: int
    strand: str
    told_mm: float
    measured_mm: float


@dataclass(frozen=True, slots=True)
class PieceCost:
    """The cost of a piece; a part is None where a price for it is missing, named in `missing`.

    `unweighed` are cords priced by weight whose fineness the project does not state.
    """

    currency: str
    cord: float | None
    hours: float | None
    findings: float | None
    missing: tuple[str, ...]
    unweighed: tuple[str, ...] = ()

    @property
    def total(self) -> float:
        """The sum of all known parts."""
        return sum(part for part in (self.cord, self.hours, self.findings) if part is not None)


def cords(base: Plan, known: Known, state: State) -> tuple[CordAccount, ...]:
    """Return the account of each cord, as cut for the plan that the piece began with.

    Args:
        base: The plan that the piece began with, for which cord was cut.
        known: The current plan, in the hands found.
        state: The piece, with its counts and joins.
    """
    left = {one.strand: one for one in known.cord_left().at(state.done)}
    found = []
    for cord in cut_list(base):
        strands = [s for s in left if known.plan.strands[s].cord == cord.cord]
        joined = sum(
            h.length_mm for h in state.happenings
            if isinstance(h, Joined) and _cord_of(known.plan, h.strand) == cord.cord
        )  # fmt: skip
        over = sum(max(0.0, left[s].now_mm) for s in strands)
        told = all(known.rests[s].done >= state.done > 0 for s in strands)
        found.append(CordAccount(cord.cord, cord.total_mm, joined, over, told))
    return tuple(found)


def measures(base: Plan, state: State) -> tuple[MeasureTold, ...]:
    """Return every measurement with the expected value from before anything was measured."""
    from_start = {strand.id: number for number, strand in enumerate(base.strands)}
    shares = _hung(base)
    found = []
    for seen in state.happenings:
        if not isinstance(seen, Measured) or seen.at_done > base.total:
            continue
        if not seen.strand:
            told = base.height_mm[seen.at_done]
        elif seen.strand in from_start:
            strand = from_start[seen.strand]
            told = max(0.0, shares[strand] - base.used_mm(strand, seen.at_done))
        else:
            continue
        found.append(MeasureTold(seen.at_done, seen.strand, told, seen.length_mm))
    return tuple(found)


def cost(
    base: Plan, accounts: tuple[CordAccount, ...], worked_s: float, prices: Prices
) -> PieceCost:
    """Return the cost of a piece: all cord cut, waste included, the hours, the findings.

    Args:
        base: The plan that the piece began with.
        accounts: The account of each cord.
        worked_s: The time worked, in seconds.
        prices: The price of an hour, of cord by length or weight, and of findings.
    """
    project, missing, unweighed = base.project, list[str](), list[str]()
    paid = list[Decimal]()
    for account in accounts:
        cord = project.cords[account.cord]
        price = prices.of_cord(cord.id, cord.fibre, cord.diameter_mm)
        per_mm = price.per_mm(cord.fineness_tex) if price else None
        if price is None:
            kind = f"{not_in_name(cord.id, cord.fibre)} {cord.diameter_mm:g} mm".strip()
            missing.append(f"{cord.id} ({kind})")
        elif per_mm is None:
            unweighed.append(cord.id)
        else:
            paid.append(per_mm * Decimal(repr(account.cut_mm + account.joined_mm)))
    cord_price = float(sum(paid)) if paid else None
    hours = None if prices.hour is None else float(prices.hour) * worked_s / 3600
    if hours is None:
        missing.append("an hour")
    found = _findings(project.findings, prices.findings)
    missing += [name for name in project.findings if name.casefold() not in prices.findings]
    return PieceCost(prices.currency, cord_price, hours, found, tuple(missing), tuple(unweighed))


def _findings(names: tuple[str, ...], prices: Mapping[str, Decimal]) -> float | None:
    known = [prices[name.casefold()] for name in names if name.casefold() in prices]
    return float(sum(known)) if known or not names else None


def _hung(base: Plan) -> Mapping[int, float]:
    return shares_mm(base, cut_list(base))


def _cord_of(plan: Plan, name: str) -> str:
    return next((strand.cord for strand in plan.strands if strand.id == name), "")
