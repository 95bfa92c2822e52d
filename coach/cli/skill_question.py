"""The maker's skill, from the settings or asked once at a terminal."""

import os
import sys
from collections.abc import Callable, Mapping
from typing import Final

from coach.cli.bench_setup import settings_of
from coach.settings.overrides import Kept
from coach.settings.settings import SKILLS, Skill
from coach.text import one_line

_ANSWERS: Final[Mapping[str, Skill]] = {name[0]: name for name in SKILLS}
_QUESTION: Final = (
    "How practised are you at knotting? This sets the times.\n"
    "n new to it, p practised, q quick (enter: practised) "
)
_UNANSWERED: Final[Skill] = "practised"


def skill_set() -> str:
    """Return the skill in the settings, "" if it was never asked."""
    return settings_of(os.environ).kept.now.skill


def skill_asked() -> str:
    """Return the skill in the settings; asked for once at a terminal."""
    kept = settings_of(os.environ).kept
    if kept.now.skill or not _is_there():
        return kept.now.skill
    return ask_skill(kept, sys.stdin.readline)


def ask_skill(kept: Kept, answer: Callable[[], str]) -> str:
    """Ask for the skill and store it; an unknown answer means practised."""
    print(_QUESTION, end="", flush=True)
    said = one_line(answer()).strip().casefold()
    skill = _ANSWERS.get(said[:1], _UNANSWERED)
    lasts = kept.change(skill=skill)
    print(f"Times set: {skill}.{'' if lasts else ' It could not be saved for next time.'}\n")
    return skill


def _is_there() -> bool:
    """Return whether standard input and output are terminals."""
    try:
        return os.isatty(sys.stdin.fileno()) and os.isatty(sys.stdout.fileno())
    except (AttributeError, OSError, ValueError):
        return False
