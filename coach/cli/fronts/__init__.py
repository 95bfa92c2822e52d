"""Rarely needed actions of commands, each loaded when it is first used.

A piece is mostly opened as it was left. Plain lines, a first piece without a pattern, a new order
and a damaged store take longer to load than the code that decides on them.
"""

from importlib import import_module
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from coach.cli.options.freehand_command import run_knot_first
    from coach.cli.plain_lines import walk
    from coach.cli.recovery_dialog import offer_recovery
    from coach.cli.workshop.begin_order import begin_or_open

__all__ = ["begin_or_open", "offer_recovery", "run_knot_first", "walk"]

_MODULES: Final = MappingProxyType(
    {
        "begin_or_open": "coach.cli.workshop.begin_order",
        "offer_recovery": "coach.cli.recovery_dialog",
        "run_knot_first": "coach.cli.options.freehand_command",
        "walk": "coach.cli.plain_lines",
    }
)


if not TYPE_CHECKING:  # so that a name which is not here is found before it is called

    def __getattr__(name: str) -> Any:
        if name not in _MODULES:
            raise AttributeError(f"no command comes to {name}")
        return getattr(import_module(_MODULES[name]), name)
