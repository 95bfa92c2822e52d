"""A maker's settings as one frozen value; whatever is not said stays as it is here."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Final, Literal

CountBy = Literal["tie", "pass", "step"]
Units = Literal["cm", "in"]
Theme = Literal["dark", "light"]
Characters = Literal["auto", "all", "ascii"]
Skill = Literal["new to it", "practised", "quick"]

COUNT_BY: Final[tuple[CountBy, ...]] = ("tie", "pass", "step")
UNITS: Final[tuple[Units, ...]] = ("cm", "in")
THEMES: Final[tuple[Theme, ...]] = ("dark", "light")
SKILLS: Final[tuple[Skill, ...]] = ("new to it", "practised", "quick")
CHARACTERS: Final[tuple[Characters, ...]] = ("auto", "all", "ascii")


@dataclass(frozen=True, slots=True)
class Settings:
    """All settings.

    `keys` has the actions whose keys the maker chose, by action id. `speech_every` is after how
    many counts one is spoken, 0 for never; `rest_after_min` after how many minutes of counted
    work a pause is proposed, 0 for never. An empty
    `speech_program` means the first one found, an empty `skill` that nobody was asked.

    After 50 minutes: a pause of 5 to 10 minutes after 50 to 60 minutes of work is better than
    one of 15 to 20 minutes every 2 hours (UK Health and Safety Executive; quoted).
    """

    keys: Mapping[str, tuple[str, ...]] = field(default_factory=lambda: MappingProxyType({}))
    any_key: bool = False
    bounce_ms: int = 150
    count_by: CountBy = "tie"
    count_by_knot: Mapping[str, CountBy] = field(default_factory=lambda: MappingProxyType({}))
    units: Units = "cm"
    theme: Theme = "dark"
    characters: Characters = "auto"
    bell_step: bool = True
    bell_repeat: bool = True
    speech: bool = False
    speech_program: str = ""
    speech_every: int = 10
    keep_awake: bool = True
    rest_after_min: int = 50
    skill: Skill | Literal[""] = ""

    def counted_by(self, knot: str) -> CountBy:
        """Return how a knot is counted: as set for it, or else as set for all."""
        return self.count_by_knot.get(knot, self.count_by)
