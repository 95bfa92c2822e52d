"""Keys that several kinds of step share, and the names that they refer to."""

from dataclasses import replace
from operator import attrgetter
from typing import Final

from coach.project.model import Fold, Mirror
from coach.project.open_figures import open_key
from coach.project.readers.positions import GROUPS, ONE_GROUP, POSITION, POSITIONS
from coach.yaml_reader.declarations import Keys, OneOf, may, must
from coach.yaml_reader.scalars import LINES, TEXT, THICKNESS, TIMES, choice, own_name, whole_number

CORD: Final = own_name(attrgetter("cords"), "CORD", "cord")
PART: Final = own_name(attrgetter("parts"), "PART", "part")
VARIED: Final = own_name(attrgetter("varied"), "PART", "part or step")
APART: Final = own_name(attrgetter("apart"), "APART", "part made apart")


ABOUT: Final[Keys] = {
    "note": may("note", LINES, "Your words, shown with the step."),
    "note_once": may("note once", LINES, "Your words, shown in the first repeat only."),
    "name": may("name", TEXT, "What the step is called; size: vary can name it."),
    "takes_s": may("takes", TIMES, "How long it takes, as in 20-30 min."),
}
"""What every step may say of itself."""

HOLDER: Final = may("holder", POSITION, "Position of the strand that the others tie onto.", "1")
KNOTTER: Final = may("knotter", POSITION, "Position of the strand that ties onto the others.", "1")
ACROSS: Final = must(
    "across", POSITIONS, "The strands crossed, in order: 2-8, or 7-1 to the left.", "2-4"
)
AROUND: Final = must("around", POSITIONS, "What is gone round: positions, or pin.", "2-3")
STRANDS: Final = may("strands", POSITIONS, "The strands, by position: 1-4, [1, 3] or all.", "1-4")
ONE_GROUP_OF: Final = may("strands", ONE_GROUP, STRANDS.said, STRANDS.example)
IN_GROUPS: Final = may("groups", GROUPS, "Groups of strands: 1-16 by 4, or [1-4, 5-8].", "1-8 by 4")
BY_GROUP: Final = OneOf((ONE_GROUP_OF, IN_GROUPS))
TIMES_MADE: Final = may("times", whole_number(), "How often.", "20")
TIMES_TIED: Final = replace(open_key(TIMES_MADE), said="How often: 20, about 30, or 4 or more.")
MADE_OF: Final = "What it is made of: a flat knot for a net, square knots for a berry knot."
LONG: Final = may("length", THICKNESS, "How long.", "3 cm")
LONG_MADE: Final = replace(open_key(LONG), said="How long: 3 cm, about 3 cm, or 3 cm or more.")

_MIRRORS: Final[tuple[Mirror, ...]] = ("none", "all", "every second")
MIRRORED: Final = may("mirror", choice(_MIRRORS), "none, all or every second.")
_FOLDS: Final[tuple[Fold, ...]] = ("middle", "fit", "none")
FOLDED: Final = may(
    "fold",
    choice(_FOLDS),
    "middle (two strands), fit (off the middle, by need) or none (one strand).",
)
