"""Small pieces of written instructions: how many, of what, on which strands."""

from collections.abc import Sequence
from typing import Final

from coach.knots.catalogue import CATALOGUE
from coach.plan.wording.strand_names import span_words
from coach.project.model import Groups, Positions
from coach.text import counted, listed

_MOST_GROUPS: Final = 4
_FIGURES: Final = (
    "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
    "twelve",
)  # fmt: skip


def spoken(knot: str, number: int = 1) -> str:
    """Return a knot as it is said, with the word that explains it; one has its article."""
    said = CATALOGUE[knot].said_as if knot in CATALOGUE else ""
    aside = f" ({said})" if said else ""
    if number == 1:
        return f"{'an' if knot[0] in 'aeiou' else 'a'} {knot}{aside}"
    return f"{counted(number, knot)}{aside}"


def figure(number: int) -> str:
    """Return a small number in letters, a larger one in figures."""
    return _FIGURES[number] if number < len(_FIGURES) else str(number)


def times_over(number: int) -> str:
    """Return how often something is done: `once`, `twice`, `five times`."""
    return {1: "once", 2: "twice"}.get(number, f"{figure(number)} times")


def places(positions: Positions, everything: str = "all") -> str:
    """Return positions in words, `4 to 6`, `all` where all strands are meant."""
    return everything if positions.everything else span_words(positions.items)


def group_list(groups: Groups) -> str:
    """Return groups in words: `1 to 4 and 5 to 8`; many alike ones as `1 to 40 in fours`."""
    members = groups.members
    if len(members) <= _MOST_GROUPS or not _even(members):
        return listed([places(member) for member in members])
    first, last = members[0].items[0], members[-1].items[-1]
    return f"{first} to {last} in groups of {len(members[0].items)}"


def _even(members: Sequence[Positions]) -> bool:
    """Whether groups of one size stand side by side, in order from the left."""
    items = [item for member in members for item in member.items]
    sizes = {len(member.items) for member in members}
    return len(sizes) == 1 and items == list(range(items[0], items[0] + len(items)))
