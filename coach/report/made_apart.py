"""What is made apart: how often, and how large each piece of it gets."""

from dataclasses import dataclass

from coach.plan.plan_model import Plan


@dataclass(frozen=True, slots=True)
class MadeApart:
    """A part made by itself: how many are made, and how large one gets, in mm."""

    name: str
    pieces: int
    length_mm: float
    width_mm: float
    strands: int


def made_apart(plan: Plan) -> tuple[MadeApart, ...]:
    """Return what is made apart, in the order in which it is made."""
    first = [own for own in plan.by_section if own.section.name and own.section.turn == 1]
    return tuple(
        MadeApart(
            own.section.name,
            own.section.turns,
            own.plan.length_mm,
            own.plan.width_mm,
            len(own.plan.start),
        )
        for own in first
        if not own.section.end
    )
