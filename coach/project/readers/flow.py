"""Readers of steps without a knot: strands come and go, the work turns, lengths are measured."""

from typing import Final, Literal

from coach.project.model import (
    About,
    Add,
    Do,
    EndForEnd,
    Flip,
    LayAside,
    Measure,
    Seam,
    Step,
    TakeUp,
    Trim,
    Wait,
)
from coach.project.readers.common_keys import FOLDED
from coach.project.readers.piece_lists import HUNG_BY, NAMED_STRANDS, PIECES, read_hanging_method
from coach.project.readers.positions import POSITION, POSITIONS
from coach.project.readers.step_kinds import Kind, simple_kind
from coach.yaml_reader.declarations import Instead, may, must
from coach.yaml_reader.mapping_reader import Fields
from coach.yaml_reader.scalars import LENGTH, LINES, TIME, choice

What = Literal["length", "width"]

_AT: Final = must("at", POSITION, "Where the first new strand stands.", "1")
_SAID_OF_ENDS: Final = "What is left of the ends."

ADD: Final = simple_kind(
    "add",
    Add,
    {
        "pieces": must("add", PIECES, "Pieces hung in: [clay]."),
        "at": _AT,
        "onto": may("onto", POSITION, "The strand that they are hung on."),
        "by": may("by", read_hanging_method("laid in"), HUNG_BY),
        "fold": FOLDED,
    },
)
LAY_ASIDE: Final = simple_kind(
    "lay aside",
    LayAside,
    {
        "strands": must("lay aside", POSITIONS, "Strands that are done for now."),
        "leave_mm": may("leave", LENGTH, _SAID_OF_ENDS),
    },
)
TAKE_UP: Final = simple_kind(
    "take up",
    TakeUp,
    {
        "strands": must("take up", NAMED_STRANDS, "Strands that come back: reed.1a."),
        "at": _AT,
    },
)

_FLIP: Final = must(
    "flip", choice(("piece", "end for end")), "piece: turn the work over; end for end: round."
)


def _flip(fields: Fields, about: About) -> Step:
    way = fields.need(_FLIP)
    if fields.found.in_group:
        message = "The whole work cannot be turned over inside ‘each’."
        fields.fail("FLIP", fields.span("flip"), message, "Put ‘flip’ before or after ‘each’.")
    return Flip(about) if way == "piece" else EndForEnd(about)


FLIP: Final = Kind(_flip, {"flip": (_FLIP,)})
SEAM: Final = simple_kind(
    "seam",
    Seam,
    {"at": must("seam", POSITION, "Count round work anew from this strand.")},
)
DO: Final = simple_kind("do", Do, {"text": must("do", LINES, "An instruction without a knot.")})
_WHATS: Final[tuple[What, ...]] = ("length", "width")
MEASURE: Final = simple_kind(
    "measure",
    Measure,
    {
        "what": must("measure", choice(_WHATS), "length or width."),
        "expect_mm": may("expect", LENGTH, "What it should measure."),
    },
)
WAIT: Final = simple_kind("wait", Wait, {"time_s": must("wait", TIME, "A time to wait.")})
TRIM: Final = simple_kind(
    "trim",
    Trim,
    {
        "strands": must("trim", POSITIONS, "Strands whose ends are cut."),
        "leave_mm": must("leave", LENGTH, _SAID_OF_ENDS, "2 cm"),
        "middle_mm": may(
            "middle", LENGTH, "What is left in the middle, cut straight from the sides."
        ),
    },
    instead={
        "strands": Instead(("trim",), ""),
        "length": Instead(("leave",), "Write ‘leave: {}’ instead."),
    },
)
