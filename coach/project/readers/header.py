"""The head of a project file: what it is, for whom, and what it takes."""

from dataclasses import dataclass
from typing import Final

from coach.yaml_reader.diagnostics import Span
from coach.yaml_reader.mapping_reader import Fields
from coach.yaml_reader.scalars import LINES, SHARE, TEXT, TEXTS, TIMES, choice

KINDS: Final = (
    "bracelet", "necklace", "keyring", "belt", "plant hanger", "wall hanging", "mat", "bag",
    "lampshade", "hammock", "toy", "child", "pet", "other",
)  # fmt: skip
SKILLS: Final = ("beginner", "intermediate", "advanced")


@dataclass(frozen=True, slots=True)
class Head:
    """What stands at the top of a project file, under the model's own names."""

    title: str
    about: str
    kind: str
    skill: str
    surface: str
    tools: tuple[str, ...]
    findings: tuple[str, ...]
    takes_s: tuple[float, float] | None
    takes_span: Span
    cautions: tuple[str, ...]
    margin: float | None


def read_head(fields: Fields) -> Head:
    """Read the head from the top keys of a file."""
    return Head(
        title=fields.need("title", TEXT),
        about=fields.get("about", LINES, ""),
        kind=fields.get("kind", choice(KINDS), "other"),
        skill=fields.get("skill", choice(SKILLS), ""),
        surface=fields.get("surface", TEXT, ""),
        tools=fields.get("tools", TEXTS, ()),
        findings=fields.get("findings", TEXTS, ()),
        takes_s=fields.get("takes", TIMES, None),
        takes_span=fields.value_span("takes"),
        cautions=fields.get("cautions", TEXTS, ()),
        margin=fields.get("margin", SHARE, None),
    )
