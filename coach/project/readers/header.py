"""The reader of a project's head: title, kind, skill, time and materials."""

from typing import Final

from coach.yaml_reader.declarations import Keys, may, must
from coach.yaml_reader.scalars import LINES, SHARE, TEXT, TEXTS, TIMES, choice

KINDS: Final = (
    "bracelet", "necklace", "keyring", "belt", "plant hanger", "wall hanging", "mat", "bag",
    "lampshade", "hammock", "toy", "child", "pet", "other",
)  # fmt: skip
_SKILLS: Final = ("beginner", "intermediate", "advanced")

HEAD: Final[Keys] = {
    "title": must("title", TEXT, "What the piece is called.", "My first strap"),
    "about": may("about", LINES, "One line saying what it is and for whom."),
    "kind": may("kind", choice(KINDS), "What sort of thing it is; brings the standing cautions."),
    "skill": may("skill", choice(_SKILLS), "For whom it is."),
    "surface": may("surface", TEXT, "What it is worked on."),
    "tools": may("tools", TEXTS, "What to have at hand."),
    "findings": may("findings", TEXTS, "Anything bought that is not cord."),
    "takes_s": may("takes", TIMES, "How long it takes, as in 20-30 min."),
    "cautions": may("cautions", TEXTS, "What the maker should mind."),
}
MARGIN: Final = may(
    "margin", SHARE, "Added to every cut; left out, the lengths are enough 95 times in 100."
)
