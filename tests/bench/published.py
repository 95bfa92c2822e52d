"""Prints the cord and size figures beside what is in print.

Run: python tests/bench/published.py
Sources stand beside each row; where the model and print disagree, both are shown.
"""

import math
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from coach.knots import geometry, names
from coach.plan.cord.cut_list import cut_list
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan

HEAD = "coach: 1\ntitle: Check\nkind: other\nmargin: 0 %\n"


@dataclass(frozen=True)
class Row:
    """One published value: what it is, who prints it, the value, ours."""

    what: str
    source: str
    printed: str
    ours: float
    low: float
    high: float

    @property
    def difference(self) -> str:
        """How far ours is from the printed value, or from the nearer end of its range."""
        nearest = min(max(self.ours, self.low), self.high)
        return "inside" if nearest == self.ours else f"{self.ours / nearest - 1:+.1%}"


def plan_of(text: str) -> Plan:
    """Compile a project that has to be sound."""
    reading = read_plan(HEAD + text)
    assert reading.plan, reading.problems
    return reading.plan


def cords(diameter: str, pieces: int) -> str:
    # The printed net is what soft cotton is calibrated on; the other rows hold for any fibre.
    look = f"colour: green, fibre: cotton, diameter: {diameter}, pieces: {pieces}, tail: 0 cm"
    return f"cords: {{reed: {{{look}}}}}\n"


def net() -> Plan:
    return plan_of(
        cords("3 mm", 36)
        + "start: {hang: [36 reed], on: dowel, by: pinned}\n"
        + "work:\n  - {net: 1-72 by 4, of: square knot, rows: 47}\n"
    )


def sennit(knots: int, diameter: str = "3 mm") -> Plan:
    return plan_of(
        cords(diameter, 2)
        + "start: {nest: [2 reed]}\n"
        + f"work:\n  - {{knot: square knot, strands: 1-4, times: {knots}}}\n"
    )


def take_up(plan: Plan, strand: int) -> float:
    return plan.ledgers[strand].total_mm / plan.length_mm


def belt_piece_m() -> float:
    """Return the piece for a belt of 1.2 m: a knotting strand's cord on both sides of its fold."""
    plan = sennit(200)
    return 2 * take_up(plan, 0) * 1.2


def level_rows() -> Plan:
    """Return 40 level rows over six strands of 1 mm, the same holder going there and back."""
    rows = "".join(
        f"  - {{row: clove hitch, holder: {holder}, across: {across}}}\n"
        for _ in range(20)
        for holder, across in (("1", "2-6"), ("6", "5-1"))
    )
    return plan_of(cords("1 mm", 3) + "start: {nest: [3 reed]}\nwork:\n" + rows)


def lanyard() -> tuple[float, float]:
    """Return take-up of 14 ft middled round 4 ft middled, as cut and per half, with all knotted.

    Half of each: 7 ft ends knot round 2 ft of filler.
    """
    plan = sennit(100)
    knotter, filler = take_up(plan, 0), take_up(plan, 2)
    return 7 / knotter, filler * 7 / knotter


def rows() -> Iterator[Row]:
    hopf = "Cantarella, Kusner, Sullivan, Invent. Math. 150 (2002)"
    one, two = geometry.bundle_hull((1.0,)), geometry.bundle_hull((1.0, 1.0))
    yield Row("loop round one cord, d", hopf, "6.283", geometry.turn_mm(1, one), 6.283, 6.2832)
    yield Row("loop round two cords, d", hopf, "8.283", geometry.turn_mm(1, two), 8.283, 8.2832)
    for number, value in enumerate((0, 2, 3, 4, 5, 4 + math.sqrt(3), 6), start=1):
        ours = geometry.bundle_hull((1.0,) * number).perimeter_mm - math.pi
        yield Row(
            f"hull of {number}, d", "convex geometry", f"{value:.3f}", ours, value, value + 1e-9
        )
    printed = "modern handbook, probably Mullins & Ryan-Raison 2017"
    piece = net()
    end_m = max(ledger.total_mm for ledger in piece.ledgers) / 1000
    yield Row("net of 47 rows, long, mm", printed, "270", piece.length_mm, 270, 270)
    yield Row("net of 72 ends, wide, mm", printed, "245", piece.width_mm, 245, 245)
    yield Row("its longest end, m (1.50 sufficed with a flap)", printed, "<= 1.50", end_m, 0, 1.5)
    yield Row("net, knots", printed, "823", piece.total, 823, 823)
    pawson = "Pawson, Knot Craft, 2nd ed., p. 68"
    flat = take_up(sennit(100), 0)
    yield Row("square sennit, cord per knotting end and length", pawson, "4 to 5", flat, 4, 5)
    yield Row("the same, doubled piece", pawson, "about 9", 2 * flat, 8.1, 9.9)
    yield Row("belt of 1.2 m, piece, m", pawson, "10 to 12", belt_piece_m(), 10, 12)
    length_ft, filler_ft = lanyard()
    knots = "Knots You Need to Know, p. 131"
    yield Row("lanyard, as cut: 14 ft for 4 ft (3.5)", knots, "3.5", 14 / (2 * 2), 3.5, 3.5)
    yield Row("lanyard, 7 ft ends all knotted, ft long", knots, "under 2", length_ft, 0, 2)
    yield Row("lanyard, filler a side for that, ft of 2", knots, "under 2", filler_ft, 0, 2)
    steep = geometry.plait_take_up(1.105)
    yield Row("plait at 45 degrees", "geometry, 1/cos", "1.414", steep, math.sqrt(2), math.sqrt(2))
    plait = geometry.plait_take_up()
    yield Row("flat plait", "common practice, no source", "about 1.5", plait, 1.425, 1.575)
    common = "common practice, no source"
    dense = level_rows()
    mean = sum(ledger.total_mm for ledger in dense.ledgers) / 6 / dense.length_mm
    yield Row("dense clove rows, mean of all strands", common, "6 and more", mean, 6, 9)
    yield Row("square knots, per end", common, "3.5 to 4", flat, 3.5, 4)
    filler = take_up(sennit(100), 2)
    yield Row("fillers", common, "1.1 to 1.2", filler, 1.1, 1.2)
    cut = cut_list(sennit(100))[0]
    half = geometry.flat_tie(names.SQUARE, (1, 1), (1, 1)).knotter_use_mm[0]
    assert cut.cut_mm > 0
    yield Row("square knot round two, d", "worked out by tightening", "17.0", half, 16.6, 17.2)


def table(found: Callable[[], Iterator[Row]] = rows) -> list[str]:
    """Return the table as Markdown."""
    lines = ["| what | source | printed | ours | difference |", "|---|---|---|---|---|"]
    lines += [
        f"| {row.what} | {row.source} | {row.printed} | {row.ours:.4g} | {row.difference} |"
        for row in found()
    ]
    return lines


if __name__ == "__main__":
    print("\n".join(table()))
