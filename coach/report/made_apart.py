"""Parts made apart: how often each is made and how large it gets."""

from dataclasses import dataclass

from coach.plan.plan_model import Plan


@dataclass(frozen=True, slots=True)
class MadeApart:
    """A part made apart: how many are made, and the size of one in mm."""

    name: str
    pieces: int
    length_mm: float
    width_mm: float
    strands: int


def made_apart(plan: Plan) -> tuple[MadeApart, ...]:
    """Return the parts made apart, in the order in which they are made."""
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
