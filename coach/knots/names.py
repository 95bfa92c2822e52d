"""The names of knots: first names, and the trade's other names.

All names are the trade's own (common practice, no source).
"""

from difflib import get_close_matches
from typing import Final

from coach.text import normalized_name

CLOVE: Final = "clove hitch"
REVERSE_CLOVE: Final = "reverse clove hitch"
HALF_HITCH: Final = "half hitch"
LARKS_HEAD: Final = "lark's head"
REVERSE_LARKS_HEAD: Final = "reverse lark's head"
SQUARE: Final = "square knot"
REVERSE_SQUARE: Final = "reverse square knot"
HALF_KNOT: Final = "half knot"
REVERSE_HALF_KNOT: Final = "reverse half knot"
CHAIN: Final = "half hitch chain"
JOSEPHINE: Final = "josephine knot"
OVERHAND: Final = "overhand knot"
DOUBLE_OVERHAND: Final = "double overhand knot"
BARREL: Final = "barrel knot"
GATHERING: Final = "gathering knot"
BERRY: Final = "berry knot"

KNOTS: Final = (
    CLOVE, REVERSE_CLOVE, HALF_HITCH, LARKS_HEAD, REVERSE_LARKS_HEAD, SQUARE, REVERSE_SQUARE,
    HALF_KNOT, REVERSE_HALF_KNOT, CHAIN, JOSEPHINE, OVERHAND, DOUBLE_OVERHAND, BARREL,
    GATHERING, BERRY,
)  # fmt: skip

SYNONYMS: Final = {
    "double half hitch": CLOVE,
    "vertical clove hitch": REVERSE_CLOVE,
    "vertical double half hitch": REVERSE_CLOVE,
    "flat knot": SQUARE,
    "half square knot": HALF_KNOT,
    "cow hitch": LARKS_HEAD,
    "wrapping knot": GATHERING,
    "square knot button": BERRY,
    "bobble": BERRY,
    "double coin knot": JOSEPHINE,
}
ROW_SYNONYMS: Final = {"vertical lark's head": REVERSE_LARKS_HEAD}

MIRRORED: Final = {
    SQUARE: REVERSE_SQUARE,
    REVERSE_SQUARE: SQUARE,
    HALF_KNOT: REVERSE_HALF_KNOT,
    REVERSE_HALF_KNOT: HALF_KNOT,
}

HOLDER_ROWS: Final = (CLOVE, HALF_HITCH, LARKS_HEAD)
KNOTTER_ROWS: Final = (REVERSE_CLOVE, REVERSE_LARKS_HEAD, HALF_HITCH)
FLAT_KNOTS: Final = (SQUARE, REVERSE_SQUARE, HALF_KNOT, REVERSE_HALF_KNOT)
AROUND_KNOTS: Final = (LARKS_HEAD, REVERSE_LARKS_HEAD, HALF_HITCH, CLOVE, REVERSE_CLOVE)
BUNDLE_KNOTS: Final = (OVERHAND, DOUBLE_OVERHAND)


def first_name(text: str, *, in_row: bool = False) -> str | None:
    """Return the first name of the knot that `text` names, or None when no knot is so called."""
    name = normalized_name(text)
    if name in KNOTS:
        return name
    if in_row and name in ROW_SYNONYMS:
        return ROW_SYNONYMS[name]
    return SYNONYMS.get(name)


def near_name(text: str) -> str | None:
    """Return the knot's name nearest in spelling to `text`, or None when none is near."""
    known = [*KNOTS, *SYNONYMS, *ROW_SYNONYMS]
    found = get_close_matches(normalized_name(text), known, n=1, cutoff=0.6)
    return found[0] if found else None


def mirror_image(knot: str) -> str:
    """Return the knot that `knot` is in a mirror."""
    return MIRRORED.get(knot, knot)
