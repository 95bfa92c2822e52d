"""The bench as a Textual app, from colours and drawings up to screens.

The functions that open a screen are named here and loaded when they are first used: shells ask
every command for its arguments, and a screen takes longer to load than all the rest.

Widths are in columns and heights in lines of the terminal; a `Glyphs` has the characters it can
show, and an `Inks` the colours to write in.
"""

from types import MappingProxyType
from typing import TYPE_CHECKING, Final

from coach.lazy_names import lazy_names

if TYPE_CHECKING:
    from coach.tui.app import run_bench, run_list
    from coach.tui.desk_app import run_desk
    from coach.tui.freehand_app import run_freehand
    from coach.tui.key_probe import run_keys
    from coach.tui.layout.styled_text import Inks
    from coach.tui.pages.knot_page import printed_how

__all__ = ["Inks", "printed_how", "run_bench", "run_desk", "run_freehand", "run_keys", "run_list"]

_MODULES: Final = MappingProxyType(
    {
        "Inks": "layout.styled_text",
        "printed_how": "pages.knot_page",
        "run_bench": "app",
        "run_desk": "desk_app",
        "run_freehand": "freehand_app",
        "run_keys": "key_probe",
        "run_list": "app",
    }
)


if not TYPE_CHECKING:  # so that a name which is not here is found before it is called
    __getattr__ = lazy_names(__name__, _MODULES)
