"""Steps without a knot: strands come and go, the work is turned, something is measured or cut."""

from typing import Final, Literal

from coach.project.model import (
    About,
    Add,
    Do,
    Flip,
    LayAside,
    Measure,
    Seam,
    Step,
    TakeUp,
    Trim,
    Wait,
)
from coach.project.readers.cords import FOLD
from coach.project.readers.piece_lists import WAYS, pieces, strands, way_of_hanging
from coach.project.readers.positions import POSITION, POSITIONS
from coach.project.readers.references import Known
from coach.yaml_reader.mapping_reader import Fields, Instead
from coach.yaml_reader.scalars import LENGTH, LINES, TIME, choice

What = Literal["length", "width"]

_OF_TRIM: Final = {
    "strands": Instead(("trim",), ""),
    "length": Instead(("leave",), "Write ‘leave: {}’ instead."),
}
WHATS: Final[tuple[What, ...]] = ("length", "width")


def add(fields: Fields, about: About, known: Known) -> Step:
    """Read `add: [clay]`."""
    return Add(
        about,
        fields.need("add", pieces(known)),
        fields.need("at", POSITION),
        fields.get("onto", POSITION, None),
        fields.get("by", way_of_hanging((*WAYS, "laid in")), ""),
        fields.get("fold", FOLD, None),
    )


def lay_aside(fields: Fields, about: About, _: Known) -> Step:
    """Read `lay aside: 33`."""
    gone = fields.need("lay aside", POSITIONS)
    return LayAside(about, gone, fields.get("leave", LENGTH, None))


def take_up(fields: Fields, about: About, known: Known) -> Step:
    """Read `take up: reed.1a`."""
    back = fields.need("take up", strands(known))
    return TakeUp(about, back, fields.need("at", POSITION))


def flip(fields: Fields, about: About, known: Known) -> Step:
    """Read `flip: piece`."""
    fields.need("flip", choice(("piece",)))
    if known.in_each:
        message = "The whole work cannot be turned over inside ‘each’."
        fields.fail("FLIP", fields.span("flip"), message, "Put ‘flip’ before or after ‘each’.")
    return Flip(about)


def seam(fields: Fields, about: About, _: Known) -> Step:
    """Read `seam: 3`."""
    return Seam(about, fields.need("seam", POSITION))


def do(fields: Fields, about: About, _: Known) -> Step:
    """Read `do: Pin the fold to the board.`."""
    return Do(about, fields.need("do", LINES))


def measure(fields: Fields, about: About, _: Known) -> Step:
    """Read `measure: length`."""
    what = fields.need("measure", choice(WHATS))
    return Measure(about, what, fields.get("expect", LENGTH, None))


def wait(fields: Fields, about: About, _: Known) -> Step:
    """Read `wait: 10 min`."""
    return Wait(about, fields.need("wait", TIME))


def trim(fields: Fields, about: About, _: Known) -> Step:
    """Read `trim: all`."""
    fields.instead = _OF_TRIM
    return Trim(
        about,
        fields.need("trim", POSITIONS),
        fields.need("leave", LENGTH),
        fields.get("middle", LENGTH, None),
    )
