"""The catalogue of knots: the roles of the strands, the passes, how each is tied in words.

Words are for a reader who has tied knots before. They take the work as lying before the maker,
the row or the knot begun on the left; in a mirrored repeat left and right change places. How the
knots are tied is common practice, no source; the passes of clove hitch and square knot are those
of T. de Dillmont, *Encyclopedia of Needlework* (c. 1886), ch. Macramé, figs 516 and 519.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from coach.knots import names


@dataclass(frozen=True, slots=True)
class KnotEntry:
    """One knot: who does what, how many turns of the hand, how it is tied.

    `passes` is 0 where it depends on the turns or squares that are asked for. `said_as` is what a
    screen adds to explain the name. `rough`: its cord and room are an estimate of ours that
    neither print nor a tightened knot stands behind yet.
    """

    name: str
    roles: str
    passes: int
    steps: tuple[str, ...]
    caution: str = ""
    said_as: str = ""
    rough: bool = False


_ENTRIES: Final = (
    KnotEntry(
        names.CLOVE,
        "The holder lies across, and each strand it crosses is a knotter that ties onto it.",
        2,
        (
            "Lay the holder over the knotter and keep it taut.",
            "Take the knotter up over the holder, down behind it and out through the loop.",
            "Tighten against the knot before it.",
            "Do it again to the right of the first turn, coming out through the new loop.",
            "Tighten downwards: the two turns lie side by side on the holder.",
        ),
        caution="Pull on the knotter, not on the holder, or the two change roles.",
    ),
    KnotEntry(
        names.REVERSE_CLOVE,
        "One knotter travels across and ties onto each hanging strand, which is the filler.",
        2,
        (
            "Hold the filler straight down and taut.",
            "Pass the knotter under the filler, back over it and out through the loop.",
            "Tighten it up against the row above.",
            "Do the same again below the first turn.",
            "Tighten: the two turns sit one above the other. Go on to the next filler.",
        ),
        caution="One strand ties the whole row, so it gets shorter much faster than the others.",
        said_as="vertical clove hitch",
    ),
    KnotEntry(
        names.HALF_HITCH,
        "One knotter takes a single turn round the filler or the holder.",
        1,
        (
            "Keep the filler taut.",
            "Take the knotter over the filler and back under it.",
            "Bring it out through its own loop and tighten.",
        ),
        caution="A single turn slips: hold it until the next one sits against it.",
    ),
    KnotEntry(
        names.LARKS_HEAD,
        "One knotter makes two turns that face each other round the filler or the holder.",
        2,
        (
            "Keep the filler taut.",
            "Take the knotter over the filler, back under it and out over itself; tighten.",
            "Take it under the filler, back over it and down under itself.",
            "Tighten: a bar lies across both turns.",
        ),
    ),
    KnotEntry(
        names.REVERSE_LARKS_HEAD,
        "Like a lark's head, but the knotter begins under the filler, so the bar shows behind.",
        2,
        (
            "Keep the filler taut.",
            "Take the knotter under the filler, back over it and down under itself; tighten.",
            "Take it over the filler, back under it and out over itself.",
            "Tighten both turns together.",
        ),
        said_as="lark's head begun underneath",
    ),
    KnotEntry(
        names.SQUARE,
        "The two outer strands are knotters; those between them are fillers.",
        2,
        (
            "Take the left knotter over the fillers and under the right knotter.",
            "Take the right knotter under the fillers and up through the loop on the left.",
            "Tighten with the fillers held taut.",
            "Now from the right: over the fillers and under the left knotter.",
            "Take the left knotter under the fillers, up through the loop on the right; tighten.",
        ),
    ),
    KnotEntry(
        names.REVERSE_SQUARE,
        "Like a square knot, but the right knotter goes over the fillers first.",
        2,
        (
            "Take the right knotter over the fillers and under the left knotter.",
            "Take the left knotter under the fillers and up through the loop on the right.",
            "Tighten with the fillers held taut.",
            "Now from the left: over the fillers and under the right knotter.",
            "Take the right knotter under the fillers, up through the loop on the left; tighten.",
        ),
        said_as="square knot begun on the right",
    ),
    KnotEntry(
        names.HALF_KNOT,
        "The two outer strands are knotters and change sides; those between them are fillers.",
        1,
        (
            "Take the left knotter over the fillers and under the right knotter.",
            "Take the right knotter under the fillers and up through the loop on the left.",
            "Tighten with the fillers held taut.",
        ),
        caution="Start each one on the same side and let the work twist.",
    ),
    KnotEntry(
        names.REVERSE_HALF_KNOT,
        "Like a half knot, but the right knotter goes over the fillers; it twists the other way.",
        1,
        (
            "Take the right knotter over the fillers and under the left knotter.",
            "Take the left knotter under the fillers and up through the loop on the right.",
            "Tighten with the fillers held taut.",
        ),
        caution="Start each one on the same side and let the work twist.",
        said_as="half knot begun on the right",
    ),
    KnotEntry(
        names.CHAIN,
        "The two strands take turns as knotter and filler; the left one knots first.",
        1,
        (
            "Hold the right strand taut.",
            "Take the left one over it, back under it, out through the loop; tighten.",
            "Change over: hold the left strand and hitch the right one round it.",
        ),
    ),
    KnotEntry(
        names.JOSEPHINE,
        "The left half and the right half of the strands interlace flat; all are knotters.",
        1,
        (
            "Turn the left half into a loop, its end lying over its own lead.",
            "Lay the right half under that loop from rim to rim.",
            "Take its end over the left end and under the left lead.",
            "Weave it back: over the rim of the loop, under itself, over the far rim.",
            "Draw it up evenly, with the strands of each half flat and side by side.",
        ),
        caution="Lay it out loosely first: a strand that crosses its neighbour shows at once.",
    ),
    KnotEntry(
        names.OVERHAND,
        "The bundle is knotted on itself; all its strands are knotters.",
        1,
        (
            "Bring the end of the bundle round over itself into a loop.",
            "Pass the end under and out through the loop.",
            "Slide the knot to its place and tighten strand by strand.",
        ),
    ),
    KnotEntry(
        names.DOUBLE_OVERHAND,
        "Like an overhand knot, with the end passed twice through the loop.",
        2,
        (
            "Bring the end of the bundle round over itself into a loop.",
            "Pass the end under and out through the loop.",
            "Pass it round and through the same loop once more.",
            "Pull both sides while the turns roll up side by side, then tighten.",
        ),
    ),
    KnotEntry(
        names.BARREL,
        "The knotter winds round the others, or round itself when there are none.",
        0,
        (
            "Lay the knotter down along the bundle and turn it back up at the bottom.",
            "Wind it up round everything, each turn close to the last, as many turns as asked.",
            "Pass the end down under all the turns.",
            "Pull the end, working the slack out turn by turn; tighten.",
        ),
    ),
    KnotEntry(
        names.GATHERING,
        "A separate cord is the knotter and is wrapped round the bundle.",
        1,
        (
            "Lay a loop of the wrap along the bundle, ends up, the loop past the lower edge.",
            "Wind the long end down over loop and bundle, each turn close to the last.",
            "Pass the long end through the loop at the bottom.",
            "Pull the short end at the top until the loop has slid halfway under the turns.",
            "Trim both ends of the wrap flush.",
        ),
        caution="The strands lose their order under the wrap: put them back in order below it.",
    ),
    KnotEntry(
        names.BERRY,
        "The two outer strands are knotters; those between them are fillers, which roll it up.",
        0,
        (
            "Tie the square knots one below the other, leaving a small gap above the first.",
            "Take the fillers up over the front and through that gap to the back.",
            "Pull them down until the sennit has rolled up.",
            "Tie one more square knot close under the roll to lock it.",
        ),
        caution="A blunt needle or a hook saves the fillers when the gap is tight.",
        rough=True,
    ),
)

CATALOGUE: Final[Mapping[str, KnotEntry]] = MappingProxyType(
    {entry.name: entry for entry in _ENTRIES}
)
"""Every knot by its first name, in the order of the list of names."""


def pass_count(knot: str, *, turns: int = 0, squares: int = 0) -> int:
    """Return the passes of one tie, the turns of the hand that it takes; at least 1.

    Args:
        knot: The knot's first name.
        turns: The turns of a barrel knot, a pass each.
        squares: The square knots of a berry knot: two passes each, and two that lock it.

    Raises:
        KeyError: This is not the first name of a knot.
    """
    if knot == names.BARREL:
        return max(1, turns)
    if knot == names.BERRY:
        return 2 * (squares + 1)
    return CATALOGUE[knot].passes
