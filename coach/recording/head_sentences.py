"""Sentences about the whole piece: a cord, an own knot, a measurement."""

import re
from collections.abc import Callable, Collection
from typing import Final

from coach.recording.record import Recording
from coach.recording.sentence_parser import step_of
from coach.recording.sentence_words import (
    LONG,
    NAME,
    NotUnderstood,
    in_quotes,
    knot_said,
    number_from_words,
)

Head = tuple[str, str]
"""A section of the file, and a line for it."""


def head_of(said: str, record: Recording) -> Head | None:
    """Return the line that a sentence adds to a section of the file, else None."""
    text = said.replace("\N{RIGHT SINGLE QUOTATION MARK}", "'")
    for pattern, make in _HEADS:
        match = re.fullmatch(pattern, text, re.IGNORECASE)
        if match:
            return make(match, own_knots(record))
    return None


def own_knots(record: Recording) -> Collection[str]:
    """Return the names of the maker's own knots that a piece has."""
    plan = record.plan
    return tuple(plan.project.knots) if plan else ()


def _title(match: re.Match[str], own: Collection[str]) -> Head:
    del own
    return "title", in_quotes(match["title"])


def _cord(match: re.Match[str], own: Collection[str]) -> Head:
    del own
    colour = f", colour: {in_quotes(match['colour'])}" if match["colour"] else ""
    fibre = f", fibre: {in_quotes(match['fibre'])}" if match["fibre"] else ""
    return "cords", f"  {match['cord']}: {{diameter: {match['thick']}{colour}{fibre}}}"


def _measured(match: re.Match[str], own: Collection[str]) -> Head:
    """Return the line for what a run of one knot took of a cord."""
    del own
    long = f", length: {match['long']}" if match["long"] else ""
    times = number_from_words(match["times"].casefold())
    if not times:
        raise NotUnderstood(f"‘{match['times']}’ is not a number I know.")
    knot = knot_said(match["knot"].casefold())
    return "measured", (
        f"  - {{knot: {in_quotes(knot)}, cord: {match['cord']}, times: {times}, "
        f"uses: {match['uses']}{long}}}"
    )


def _own_knot(match: re.Match[str], own: Collection[str]) -> Head:
    del own
    uses = match["uses"]
    lengths = [one.strip() for one in uses.split(",")]
    uses = lengths[0] if len(lengths) == 1 else f"[{', '.join(lengths)}]"
    order = "reverses" if match["reverses"] else "keeps"
    return "knots", (
        f"  {in_quotes(match['name'])}: {{strands: {match['strands']}, uses: {uses}, "
        f"size: {match['long']}, order: {order}}}"
    )


def _apart(match: re.Match[str], own: Collection[str]) -> Head:
    """Return the line for a part made apart, with all its work from one sentence."""
    steps = ", ".join(f"{{{step_of(one, own)}}}" for one in match["steps"].split(";"))
    make = number_from_words((match["make"] or "one").casefold()) or 1
    mirror = ", mirror: every second" if match["mirrored"] else ""
    return "apart", (
        f"  {in_quotes(match['name'])}: {{make: {make}, start: {{hang: [{match['pieces']}]}}, "
        f"work: [{steps}]{mirror}}}"
    )


_SWATCH: Final = rf"(?P<times>\w+) (?P<knot>.+?) of (?P<cord>.+?):? (?P<uses>{LONG})"
_CORD: Final = (
    rf"cord (?P<cord>{NAME}),? (?P<thick>{LONG})(?:,? (?P<colour>#?[\w -]+?))?"
    r"(?:,? of (?P<fibre>[\w -]+))?"
)
_OWN: Final = (
    rf"own knot (?P<name>{NAME}): (?P<strands>\d+) strands?,? uses "
    rf"(?P<uses>{LONG}(?:, {LONG})*?),? (?P<long>{LONG}) long(?P<reverses>,? reversing the order)?"
)
_APART: Final = (
    rf"apart (?P<name>{NAME})(?:,? (?P<make>\w+) of them)?(?P<mirrored>,? mirrored)?,? "
    r"from (?P<pieces>[^:]+): (?P<steps>.+)"
)
_HEADS: Final[tuple[tuple[str, Callable[[re.Match[str], Collection[str]], Head]], ...]] = (
    (r"call it (?P<title>.+)", _title),
    (_CORD, _cord),
    (rf"measured:? {_SWATCH}(?:,? (?P<long>{LONG}) long)?", _measured),
    (_OWN, _own_knot),
    (_APART, _apart),
)
