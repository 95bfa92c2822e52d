"""What a screen shows of a piece."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from coach.settings.settings import Units

if TYPE_CHECKING:
    from coach.plan.cord.cord_left import StrandLeft

CORDS: Final = 3
"""How many strands a screen has lines for while there is work to do."""

CORDS_OVER: Final = 6
"""And when all is made."""


@dataclass(frozen=True, slots=True)
class View:
    """All that a screen shows of a piece, in plain values; texts are as they came."""

    title: str
    done: int
    total: int
    number: int  # the tie about to be made, within its step, from 1
    of: int
    sentence: str
    where: tuple[str, ...]
    next: str
    notes: tuple[str, ...]
    message: str
    time: tuple[str, ...]
    cords: tuple["StrandLeft", ...]  # those at hand, then the worst of those that hang
    paused: bool
    order: tuple[int, ...] = ()  # the strands from the left
    short: tuple["StrandLeft", ...] = ()  # all that will not reach
    sign: str = ""  # one word where there is nothing to count
    offer: str = ""  # what may be done first
    noted: tuple[str, ...] = ()  # the maker's own notes
    passing: tuple[int, int] = (0, 0)  # the pass that comes next, of how many, where they count
    units: Units = "cm"
    any_key: bool = False
    unspoken: str = ""  # what keeps the coach from speaking, on a line of its own

    @property
    def finished(self) -> bool:
        """Whether all is made."""
        return self.done >= self.total
