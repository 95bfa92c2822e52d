"""A maker's settings as one value, with their defaults."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Final, Literal

CountBy = Literal["tie", "pass", "step"]
Units = Literal["cm", "in"]
Theme = Literal["dark", "light", "own"]
Characters = Literal["auto", "all", "ascii"]
Picture = Literal["cells", "pixels", "auto"]
Skill = Literal["new to it", "practised", "quick"]

COUNT_BY: Final[tuple[CountBy, ...]] = ("tie", "pass", "step")
UNITS: Final[tuple[Units, ...]] = ("cm", "in")
THEMES: Final[tuple[Theme, ...]] = ("dark", "light", "own")
SKILLS: Final[tuple[Skill, ...]] = ("new to it", "practised", "quick")
CHARACTERS: Final[tuple[Characters, ...]] = ("auto", "all", "ascii")
PICTURES: Final[tuple[Picture, ...]] = ("cells", "pixels", "auto")


@dataclass(frozen=True, slots=True)
class Settings:
    """All settings.

    Attributes:
        keys: The maker's own keys, by the ids of actions.
        any_key: Whether any key counts.
        bounce_ms: The time within which a repeated key is the same press.
        count_by: What a press counts.
        count_by_knot: What it counts for single knots, by their names.
        units: The units of lengths.
        theme: The palette: ours on a dark or a light ground, or the terminal's own colours.
        characters: Whether only ASCII is shown; `auto` asks the terminal.
        picture: Whether the board is an image where the terminal shows images, with the extra
            `pixels`: never, wherever the terminal says so, or only where nothing is in doubt.
        bell_step: Whether the bell rings at the end of a step.
        bell_repeat: Whether it rings at the end of a repeat.
        speech: Whether steps are spoken.
        speech_program: The program that speaks; "" for the first one found.
        speech_every: After how many counts of a step one is spoken; 0 for never.
        keep_awake: Whether the display is kept on.
        rest_after_min: After how many minutes of counted work a rest is proposed; 0 for never.
        skill: How used the maker is to knotting; "" if she was never asked.

    The rest after 50 minutes: a pause of 5 to 10 minutes after 50 to 60 minutes of work is better
    than one of 15 to 20 minutes every 2 hours (UK Health and Safety Executive; quoted).
    """

    keys: Mapping[str, tuple[str, ...]] = field(default_factory=lambda: MappingProxyType({}))
    any_key: bool = False
    bounce_ms: int = 150
    count_by: CountBy = "tie"
    count_by_knot: Mapping[str, CountBy] = field(default_factory=lambda: MappingProxyType({}))
    units: Units = "cm"
    theme: Theme = "dark"
    characters: Characters = "auto"
    picture: Picture = "auto"
    bell_step: bool = True
    bell_repeat: bool = True
    speech: bool = False
    speech_program: str = ""
    speech_every: int = 10
    keep_awake: bool = True
    rest_after_min: int = 50
    skill: Skill | Literal[""] = ""

    def counted_by(self, knot: str) -> CountBy:
        """Return what a press counts for a knot: its own setting, or the general one."""
        return self.count_by_knot.get(knot, self.count_by)
