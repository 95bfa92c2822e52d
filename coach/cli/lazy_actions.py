"""Rarely needed actions of commands, each loaded when it is first used.

A piece is mostly opened as it was left. Plain lines, a first piece without a pattern, a new order
and a damaged store take longer to load than the code that decides on them.
"""

from types import MappingProxyType
from typing import TYPE_CHECKING, Final

from coach.lazy_names import lazy_names

if TYPE_CHECKING:
    from coach.cli.options.freehand_command import run_knot_first
    from coach.cli.plain_lines import walk
    from coach.cli.recovery_dialog import offer_recovery
    from coach.cli.workshop.begin_order import begin_or_open

__all__ = ["begin_or_open", "offer_recovery", "run_knot_first", "walk"]

_MODULES: Final = MappingProxyType(
    {
        "begin_or_open": "workshop.begin_order",
        "offer_recovery": "recovery_dialog",
        "run_knot_first": "options.freehand_command",
        "walk": "plain_lines",
    }
)


if not TYPE_CHECKING:  # so that a name which is not here is found before it is called
    __getattr__ = lazy_names("coach.cli", _MODULES)
