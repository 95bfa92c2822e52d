"""Which strands the pieces of a cut list become, in words."""

from coach.plan.cord.cut_list import Cut
from coach.plan.plan_model import Plan
from coach.plan.wording.from_left import spans
from coach.text import plural


def whose(plan: Plan, cut: Cut) -> str:
    """Return which strands pieces become at the start; those that join later by number."""
    places = [
        place
        for place, strand in enumerate(map(plan.strands.__getitem__, plan.start), start=1)
        if strand.cord == cut.cord and strand.piece in cut.numbers
    ]
    what, numbers = ("strand", places) if places else ("piece", sorted(cut.numbers))
    return f"{plural(what, len(numbers))} {spans(numbers)}"
