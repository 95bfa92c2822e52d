"""What is said of a cut list wherever it stands: whose the pieces are, and how many reach."""

from typing import Final

from coach.plan.cord.cut_list import SURE, Cut
from coach.plan.cord.outlook import Outlook
from coach.plan.plan_model import Plan
from coach.plan.wording.from_left import spans

_ALL: Final = 0.995


def whose(plan: Plan, cut: Cut) -> str:
    """Name pieces by where their strands hang at the start; those that join later by number."""
    places = [
        place
        for place, strand in enumerate(map(plan.strands.__getitem__, plan.start), start=1)
        if strand.cord == cut.cord and strand.piece in cut.numbers
    ]
    what, numbers = ("strand", places) if places else ("piece", sorted(cut.numbers))
    return f"{what}{'s' if len(numbers) > 1 else ''} {spans(numbers)}"


def promise(plan: Plan, found: Outlook, sure: float = SURE) -> str:
    """Say how many makers have cord enough with these lengths, and what is to spare in them."""
    margin = plan.project.margin
    if margin is None:
        low, high = (round(share * 100) for share in found.extra)
        span = f"{low} to {high} %" if high > low else f"{high} %"
        return f"{sure * 100:.3g} in 100 reach: these lengths include {span} extra."
    many = f"about {found.reach * 100:.0f} in 100" if found.reach < _ALL else "nearly all"
    return f"These lengths include the file's {margin * 100:.3g} % extra: {many} reach."
