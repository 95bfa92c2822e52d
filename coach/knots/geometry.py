"""The public interface to the formulas for the cord and the room that a knot takes.

Lengths are in mm and diameters are contact diameters, the nominal ones times a compression.
Formulas are of four kinds and say which: geometry, printed, worked out by tightening (knots of
non-overlapping tubes shortened by computer until they stop, without friction), or rough.
"""

from coach.knots.mounts import (
    LOOPED,
    PIN_MM,
    PINNED,
    Mounting,
    PlaitCrossing,
    mount,
    plait_size,
    plait_take_up,
)
from coach.knots.packing import Hull, bundle_hull, flat_hull, turn_mm
from coach.knots.single_knots import (
    barrel,
    berry,
    gathering,
    gathering_turns,
    josephine,
    overhand,
)
from coach.knots.ties import (
    COMPRESSION,
    COMPRESSION_RANGE,
    FILLER_GAIN,
    NotTiedSoError,
    Slant,
    TieSize,
    around_tie,
    chain_tie,
    flat_tie,
    held_mm,
    natural_slope_deg,
    row_tie,
    slanted,
)

__all__ = [
    "COMPRESSION",
    "COMPRESSION_RANGE",
    "FILLER_GAIN",
    "LOOPED",
    "PINNED",
    "PIN_MM",
    "Hull",
    "Mounting",
    "NotTiedSoError",
    "PlaitCrossing",
    "Slant",
    "TieSize",
    "around_tie",
    "barrel",
    "berry",
    "bundle_hull",
    "chain_tie",
    "flat_hull",
    "flat_tie",
    "gathering",
    "gathering_turns",
    "held_mm",
    "josephine",
    "mount",
    "natural_slope_deg",
    "overhand",
    "plait_size",
    "plait_take_up",
    "row_tie",
    "slanted",
    "turn_mm",
]
