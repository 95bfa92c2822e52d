"""What a strand's range means to the maker, in words."""

from typing import Final

from coach.plan.cord.cord_left import StrandLeft
from coach.quantities import show_length
from coach.settings.settings import Units

_ALL: Final = 99  # in 100: that a strand is out of cord is told otherwise


def outlook_words(left: StrandLeft, units: Units = "cm") -> str:
    """Say what a strand's range means: the tail to leave, and the chance that it falls short."""
    tail = show_length(left.tail_mm, units)
    chance = round(left.falls_short * 100)
    if not chance:
        return f"tail {tail}; under 1 in 100 short"
    return f"tail {tail}; {min(chance, _ALL)} in 100 short"
