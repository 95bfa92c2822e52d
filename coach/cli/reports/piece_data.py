"""All that a piece took, gathered once, and as JSON and CSV."""

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from typing import Any, Final

from coach.cli.output import csv_table
from coach.orders.prices import Prices
from coach.piece.events import Event
from coach.piece.folding import fold
from coach.piece.learning.estimates import Known, estimates_of
from coach.piece.open_piece import begun_plan, followed_plan
from coach.piece.reports.cord_and_cost import (
    CordAccount,
    MeasureTold,
    PieceCost,
    cords,
    cost,
    measures,
)
from coach.piece.reports.time_spent import TimeRecord, record
from coach.piece.state import State
from coach.piece.storage.summary import Summary
from coach.plan.plan_model import Plan

COLUMNS: Final = ("what", "name", "ties", "seconds", "length_mm", "money", "currency")


@dataclass(frozen=True, slots=True)
class PieceTold:
    """A piece with its times; what needs its plan is None where that cannot be read."""

    summary: Summary
    record: TimeRecord
    base: Plan | None = None
    known: Known | None = None
    cords: tuple[CordAccount, ...] = ()
    measures: tuple[MeasureTold, ...] = ()
    cost: PieceCost | None = None
    teaches: bool = True


def gather_piece(summary: Summary, events: Sequence[Event], prices: Prices | None) -> PieceTold:
    """Gather all that a piece took.

    Args:
        summary: Its summary.
        events: All its events, in order.
        prices: The price of an hour and of cords; None leaves its cost out.

    Raises:
        Damaged: The events cannot have happened to one piece.
    """
    state = State()
    for event in events:
        state = fold(state, event)
    base = begun_plan(state)
    plan = followed_plan(base, state)
    found = estimates_of(base, state.happenings, state.beliefs, plan) if base and plan else None
    knots = [count.knot for count in found.plan.counts] if found else []
    times = record(events, knots)
    if base is None or found is None or found.plan.total != state.total:
        return PieceTold(summary, times, teaches=state.teaches)
    accounts = cords(base, found, state)
    paid = cost(base, accounts, state.worked_s, prices) if prices else None
    told = measures(base, state)
    return PieceTold(summary, times, base, found, accounts, told, paid, state.teaches)


def piece_json(told: PieceTold) -> dict[str, Any]:
    """Return the object that `coach pieces NAME --json` prints; keys are added, never renamed."""
    return {
        **told.summary.to_data(),
        "knots": [
            {"knot": k, "ties": t.ties, "worked_s": round(t.worked_s, 1),
             "pace_s": round(t.pace_s, 2)} for k, t in told.record.knots.items()
        ],
        "sittings": [
            {"began": iso_seconds(s.began_ms), "worked_s": round(s.worked_s, 1), "counts": s.counts}
            for s in told.record.sittings
        ],
        "cords": [
            {"id": c.cord, "cut_mm": round(c.cut_mm, 1), "joined_mm": round(c.joined_mm, 1),
             "used_mm": round(c.used_mm, 1), "left_mm": round(c.left_mm, 1),
             "measured": c.measured} for c in told.cords
        ],
        "measures": [
            {"tie": m.at_done, "strand": m.strand, "told_mm": round(m.told_mm, 1),
             "measured_mm": round(m.measured_mm, 1)} for m in told.measures
        ],
        "figures": _figures(told),
        "teaches": told.teaches,
        "cost": _cost(told.cost),
    }  # fmt: skip


def _figures(told: PieceTold) -> list[dict[str, Any]]:
    """Return what measures have shown of cords and knots."""
    if told.known is None:
        return []
    return [
        {"cord": cord, "knot": knot, "value": round(belief.mean, 4), "sd": round(belief.sd, 4)}
        for (cord, knot), belief in told.known.learnt.beliefs.items()
        if told.known.is_told((cord, knot))
    ]


def _cost(paid: PieceCost | None) -> dict[str, Any] | None:
    if paid is None:
        return None
    named = {"missing": list(paid.missing), "unweighed": list(paid.unweighed)}
    whole = {**asdict(paid), **named, "total": paid.total}
    return {k: round(v, 2) if isinstance(v, float) else v for k, v in whole.items()}


def iso_seconds(at_ms: int) -> str:
    """Return a moment in UTC in ISO 8601, to the second."""
    return f"{datetime.fromtimestamp(at_ms / 1000, UTC):%Y-%m-%dT%H:%M:%SZ}"


def as_csv(told: PieceTold) -> str:
    """Return a row for each knot, sitting, cord and part of the cost, under `COLUMNS`."""
    rows: list[Sequence[object]] = [
        *(("knot", k, t.ties, round(t.worked_s, 1)) for k, t in told.record.knots.items()),
        *(("sitting", iso_seconds(s.began_ms), s.counts, round(s.worked_s, 1))
          for s in told.record.sittings),
    ]  # fmt: skip
    for cord in told.cords:
        for what, length in (("cut", cord.cut_mm), ("joined", cord.joined_mm),
                             ("left over", cord.left_mm)):  # fmt: skip
            rows.append((what, cord.cord, "", "", round(length, 1)))
    paid = told.cost
    if paid:
        parts = (("cord", paid.cord), ("hours", paid.hours), ("findings", paid.findings),
                 ("together", paid.total))  # fmt: skip
        rows += [
            ("cost", name, "", "", "", round(part, 2), paid.currency)
            for name, part in parts if part is not None
        ]  # fmt: skip
    return csv_table(COLUMNS, rows)


def list_csv(pieces: Sequence[Summary]) -> str:
    """Return a row for each piece."""
    rows = [list(piece.to_data().values()) for piece in pieces]
    return csv_table(("name", "title", "done", "total", "worked_s", "touched"), rows)
