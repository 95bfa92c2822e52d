"""The plan as a JSON object for other programs; keys are only ever added."""

from collections import Counter
from collections.abc import Mapping
from typing import Any

from coach.plan.cord.cut_list import CordCut
from coach.plan.plan_model import Plan


def tie_counts(plan: Plan) -> dict[str, int]:
    """Return how many of each knot are really tied, by its first name."""
    return dict(Counter(count.knot for count in plan.counts if count.knot))


def plan_json(plan: Plan, cuts: tuple[CordCut, ...], time_s: Mapping[str, int]) -> dict[str, Any]:
    """Return the object that `coach plan --json` prints.

    Args:
        plan: The plan, measured.
        cuts: Its cut list.
        time_s: The low, likely and high time of the whole piece, in seconds, by these names.

    Returns:
        Values that JSON knows; every length in mm, every time in seconds.
    """
    ties = tie_counts(plan)
    return {
        "title": plan.project.title,
        "repeats": dict(plan.repeats),
        "start": [plan.strands[strand].id for strand in plan.start],
        "finish": [plan.strands[strand].id for strand in plan.finish],
        "steps": len(plan.steps),
        "counts": plan.total,
        "ties": ties,
        "tie_total": sum(ties.values()),
        "passes": sum(count.passes for count in plan.counts if count.knot),
        "strands": [_strand(plan, number) for number in range(len(plan.strands))],
        "cords": [_cord(plan, cut) for cut in cuts],
        "length_mm": round(plan.length_mm, 1),
        "width_mm": round(plan.width_mm, 1),
        "time_s": dict(time_s),
    }


def _strand(plan: Plan, number: int) -> dict[str, Any]:
    return {
        "id": plan.strands[number].id,
        "used_mm": round(plan.ledgers[number].total_mm, 1),
        "tail_mm": round(plan.tail_mm[number], 1),
        "knotted": plan.knotted[number],
        "filled": plan.filled[number],
    }


def _cord(plan: Plan, cord: CordCut) -> dict[str, Any]:
    mass_g = plan.project.cords[cord.cord].mass_g(cord.total_mm)
    weighs = {} if mass_g is None else {"total_g": round(mass_g, 1)}
    return {
        "id": cord.cord,
        "pieces": cord.pieces,
        "cut_mm": round(cord.cut_mm, 1),
        "total_mm": round(cord.total_mm, 1),
        **weighs,
        "per_repeat_mm": round(cord.per_repeat_mm, 1),
        **({"new_pieces": len(cord.new), "new_every": cord.new_every} if cord.new else {}),
        "cuts": [
            {
                "for": cut.origin,
                **({"apart": cut.apart} if cut.apart else {}),
                "pieces": cut.pieces,
                "cut_mm": round(cut.cut_mm, 1),
                "labels": [f"{cut.cord}.{number}" for number in cut.numbers],
                "decided_by": plan.strands[cut.longest].id,
                "up_to_count": plan.ledgers[cut.longest].at[-1] + 1
                if plan.ledgers[cut.longest].at
                else 0,
            }
            for cut in cord.cuts
        ],
    }
