"""Names of material: cord on labels, `clay cotton 2 mm`, and findings, `one 8 mm bead`."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final, TypeVar

from coach.project.model import Cord, Project
from coach.quantities import QuantityError, length_mm
from coach.text import normalized_name, one_line
from coach.yaml_reader.colours import NAMED, hex_colour, nearest_colour_name

_THICK: Final = re.compile(r"([0-9]+(?:[./][0-9]+)?\s*(?:mm|cm|in))\b")
_ALIKE_MM: Final = 0.05
FIBRES: Final = (
    "cotton", "linen", "flax", "hemp", "jute", "wool", "silk", "nylon", "polyester",
    "polypropylene", "leather", "sisal", "rayon", "viscose", "bamboo", "acrylic",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class CordName:
    """A label's parts: the colour or name, the fibre, and the thickness if it is stated."""

    colour: str
    fibre: str
    diameter_mm: float | None


@dataclass(frozen=True, slots=True)
class Wanted:
    """Cord that a piece needs: the project's cord in its colour or a colourway's."""

    cord: Cord
    colour: str  # "#rrggbb"
    own: bool = True  # the file's own colour, so that the cord's name says it

    @property
    def key(self) -> tuple[str, str]:
        """The key that tells it from other cords of the same order."""
        return self.cord.id, self.colour


def wanted_in(project: Project, cord: str, colourway: str = "") -> Wanted:
    """Return a cord of a project in the colour of a colourway.

    Args:
        project: The project. One begun in a colourway already has those colours; its list of
            colourways shows that they are not the file's own.
        cord: The cord's name.
        colourway: The colourway's name; "" for the project's current colours.
    """
    one = project.cords[cord]
    colour = project.colourways.get(colourway, {}).get(cord, one.colour)
    others = {way.get(cord) for way in project.colourways.values()}
    return Wanted(one, colour, own=colour == one.colour and colour not in others)


def cord_name(label: str) -> CordName:
    """Return the parts of a label."""
    text = normalized_name(one_line(label))
    thick = _THICK.search(text)
    words = (text[: thick.start()] + text[thick.end() :] if thick else text).split()
    # linen is a colour too: of two such words the last one is the fibre
    fibre = next((word for word in reversed(words) if word in FIBRES), "")
    colour = " ".join(word for word in words if word != fibre)
    return CordName(colour, fibre, _diameter_mm(thick[1]) if thick else None)


def _diameter_mm(text: str) -> float | None:
    try:
        return length_mm(text)
    except QuantityError:
        return None


def likeness(label: str, wanted: Wanted) -> int:
    """Return how surely cord with that label is the cord that is wanted: 2, 1, or 0 if it is not.

    2 if its colour is the one wanted, by the cord's name, by the colour's name in the file, or as
    a colour; 1 if the label only has the nearest plain name. Fibre and thickness must not differ
    where both are known.
    """
    said, cord = cord_name(label), wanted.cord
    fibre = normalized_name(cord.fibre)
    if said.fibre and fibre and said.fibre not in fibre.split():
        return 0
    if said.diameter_mm is not None and abs(said.diameter_mm - cord.diameter_mm) >= _ALIKE_MM:
        return 0
    known = (
        {normalized_name(cord.id), normalized_name(cord.colour_name)} - {""}
        if wanted.own
        else set[str]()
    )
    if said.colour in known or hex_colour(said.colour) == wanted.colour:
        return 2
    return int(said.colour == nearest_colour_name(wanted.colour))


def label_of(wanted: Wanted) -> str:
    """Return the label under which wanted cord is bought: `clay cotton 2 mm`."""
    cord = wanted.cord
    name = cord.id if wanted.own else colour_words(wanted.colour)
    return " ".join(filter(None, (name, cord.fibre, f"{cord.diameter_mm:g} mm")))


def colour_words(colour: str) -> str:
    """Return the name of a colour `#rrggbb`: its CSS name, or else the nearest plain name."""
    return next(
        (name for name, known in NAMED.items() if known == colour), nearest_colour_name(colour)
    )


T = TypeVar("T")

_WORDS: Final = {
    "a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7,
    "eight": 8, "nine": 9, "ten": 10, "eleven": 11, "twelve": 12, "a pair of": 2,
}  # fmt: skip
# A figure counts where no unit follows it: the 25 of a 25 mm ring counts nothing.
_COUNT: Final = re.compile(
    rf"(?:([0-9]{{1,4}})(?:\s*[x×]\s*|\s+(?!(?:mm|cm|m|in|inch)\b))|({'|'.join(_WORDS)})\s+)(.+)",  # noqa: RUF001 - the sign is meant
    re.IGNORECASE,
)


def parse_finding(text: str) -> tuple[int, str]:
    """Return the number and kind in a text: `one 8 mm bead` is 1 of `8 mm bead`."""
    found = _COUNT.fullmatch(text.strip())
    if not found:
        return 1, text.strip()
    return int(found[1]) if found[1] else _WORDS[found[2].lower()], found[3]


def tally(findings: Iterable[str], copies: int) -> dict[str, int]:
    """Return how many of each finding a number of copies needs, in the order of the file."""
    found: dict[str, int] = {}
    for text in findings:
        number, what = parse_finding(text)
        found[what] = found.get(what, 0) + number * copies
    return found


def find_by_name(what: str, known: Mapping[str, T]) -> T | None:
    """Return the entry for a finding by its name, in singular or plural; None for none."""
    by_name = {_bare(name): value for name, value in known.items()}
    return by_name.get(_bare(what))


def _bare(name: str) -> str:
    text = normalized_name(parse_finding(name)[1])
    return text[:-1] if text.endswith("s") and not text.endswith("ss") else text
