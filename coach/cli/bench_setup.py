"""The bench's set-up from settings and terminal: keys, looks, helpers."""

import argparse
import os
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from coach.audio.keep_awake import Awake
from coach.audio.speech import Voice, find_program
from coach.cli.colourway_writer import write_colourway
from coach.cli.workshop.freehand_files import FILES
from coach.piece import folders
from coach.session.count_mode import PassStore
from coach.session.keymap import ACTIONS, Keys, rebound
from coach.session.ports import Aids
from coach.session.quick_settings import Colourways
from coach.settings.overrides import Kept
from coach.settings.read_settings import LoadedSettings, load_settings
from coach.settings.settings import Characters, Units
from coach.tui.drawing.cells import ASCII, UNICODE, Glyphs, glyphs_for
from coach.tui.theme.colour_depth import depth_of
from coach.tui.theme.palette import Palette, palette_for

_COERCED: Final = ("C.UTF-8", "C.utf8")  # what Python itself puts in the place of C
_POSIX: Final = ("", "C", "POSIX")


@dataclass(frozen=True, slots=True)
class Setup:
    """The keys, looks and helpers of a bench."""

    keys: Keys
    palette: Palette
    glyphs: Glyphs
    aids: Aids


def settings_of(environment: Mapping[str, str]) -> LoadedSettings:
    """Return the maker's settings with the report on their file."""
    actions = {action.id: action.keys for action in ACTIONS}
    return load_settings(folders(environment).settings, actions)


def add_units(parser: argparse._ActionsContainer) -> None:
    """Add the option for another unit of length."""
    parser.add_argument(
        "--units", choices=("cm", "in"), default=None,
        help="centimetres or inches; remembered for next time",
    )  # fmt: skip


def chosen_units(asked: Units | None) -> Units:
    """Return the unit asked for, which is remembered as on the bench, or the one set."""
    loaded = _told_settings(os.environ)
    if asked is not None and asked != loaded.kept.now.units:
        loaded.kept.change(units=asked)
    return loaded.kept.now.units


def set_up(environment: Mapping[str, str]) -> Setup:
    """Return the set-up; errors in the settings go to standard error and to the bench."""
    loaded = _told_settings(environment)
    kept = loaded.kept
    now = kept.now
    return Setup(
        keys=rebound(now.keys),
        palette=palette_for(now.theme, depth_of(environment)),
        glyphs=_glyphs(now.characters, environment),
        aids=Aids(
            save_colours=write_colourway,
            files=FILES,
            kept=kept,
            passes=PassStore(folders(environment).data),
            colourways=Colourways(folders(environment).data),
            voice=_voice(kept),
            awake=Awake() if now.keep_awake else None,
            told=_told(loaded),
        ),
    )


def _told_settings(environment: Mapping[str, str]) -> LoadedSettings:
    """Return the maker's settings; errors in them go to standard error."""
    loaded = settings_of(environment)
    if loaded.report:
        sys.stderr.write("\n".join(loaded.report) + "\n")
    return loaded


def _voice(kept: Kept) -> Voice:
    return Voice(find_program(kept.now.speech_program))


def _told(loaded: LoadedSettings) -> str:
    """Return a line that says that the settings have an error, and where the first is."""
    if not loaded.report:
        return ""
    places = sum(not line.startswith("  ") for line in loaded.report)
    more = f" and {places - 1} more" if places > 1 else ""
    return f"{loaded.report[0]}{more}. What was there before stays; `coach keys` tells all."


def _glyphs(characters: Characters, environment: Mapping[str, str]) -> Glyphs:
    if characters == "auto":
        return glyphs_for(_encoding(environment))
    return UNICODE if characters == "all" else ASCII


def _encoding(environment: Mapping[str, str]) -> str | None:
    """Return the encoding of the terminal: that of standard error, but ASCII in a plain C locale.

    Python runs in UTF-8 there, which says nothing about the terminal.
    """
    encoding = getattr(sys.__stderr__, "encoding", None)
    if os.name == "nt":
        return encoding
    names = [environment.get(name, "") for name in ("LC_ALL", "LC_CTYPE", "LANG")]
    coerced = not names[0] and names[1] in _COERCED and names[2] in _POSIX
    locale = "" if coerced else next(filter(None, names), "")
    charset = locale.partition(".")[2].partition("@")[0]
    return "ascii" if locale in _POSIX else charset or encoding
