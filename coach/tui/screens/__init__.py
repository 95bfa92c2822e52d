"""The registry of screens, each loaded when it is first asked for by name.

A sitting opens few of them, and some are made of widgets that take as long to load as all that the
bench itself is made of. Everything else is imported at the top of its module.
"""

from types import MappingProxyType
from typing import TYPE_CHECKING, Final

from coach.lazy_names import lazy_names

if TYPE_CHECKING:
    from coach.tui.screens.actions_screen import ActionsScreen
    from coach.tui.screens.before.order_before_screen import OrderBeforeScreen
    from coach.tui.screens.before.preparation_screen import BeforeScreen
    from coach.tui.screens.by_sentence.freehand_screen import FreehandScreen
    from coach.tui.screens.by_sentence.hanging_screen import HangingScreen
    from coach.tui.screens.deviations_screen import (
        choose_screen,
        measure_screen,
        otherwise_screen,
    )
    from coach.tui.screens.fitting_screen import WishScreen
    from coach.tui.screens.form_screen import AskScreen, FormField
    from coach.tui.screens.home_screen import ListScreen
    from coach.tui.screens.listed.list_detail import ListDetail
    from coach.tui.screens.listed.list_pictures import ListPictures
    from coach.tui.screens.look_around_screen import LookScreen
    from coach.tui.screens.notes_screen import NotesScreen
    from coach.tui.screens.piece_screen import PieceScreen
    from coach.tui.screens.question_screen import ChangedScreen, LeavePatternScreen
    from coach.tui.screens.unsaved_screen import TroubleScreen
    from coach.tui.screens.work_pages import (
        HowScreen,
        cords_page,
        hints_page,
        keys_page,
        legend_page,
        measured_page,
        plan_page,
    )

__all__ = [
    "ActionsScreen", "AskScreen", "BeforeScreen", "ChangedScreen", "FormField", "FreehandScreen",
    "HangingScreen", "HowScreen", "LeavePatternScreen", "ListDetail", "ListPictures", "ListScreen",
    "LookScreen", "NotesScreen", "OrderBeforeScreen", "PieceScreen", "TroubleScreen", "WishScreen",
    "choose_screen", "cords_page", "hints_page", "keys_page", "legend_page", "measure_screen",
    "measured_page", "otherwise_screen", "plan_page",
]  # fmt: skip

_MODULES: Final = MappingProxyType(
    {
        "ActionsScreen": "actions_screen",
        "AskScreen": "form_screen",
        "BeforeScreen": "before.preparation_screen",
        "ChangedScreen": "question_screen",
        "FormField": "form_screen",
        "FreehandScreen": "by_sentence.freehand_screen",
        "HangingScreen": "by_sentence.hanging_screen",
        "HowScreen": "work_pages",
        "ListDetail": "listed.list_detail",
        "ListPictures": "listed.list_pictures",
        "ListScreen": "home_screen",
        "LeavePatternScreen": "question_screen",
        "LookScreen": "look_around_screen",
        "NotesScreen": "notes_screen",
        "OrderBeforeScreen": "before.order_before_screen",
        "PieceScreen": "piece_screen",
        "TroubleScreen": "unsaved_screen",
        "WishScreen": "fitting_screen",
        "choose_screen": "deviations_screen",
        "cords_page": "work_pages",
        "hints_page": "work_pages",
        "keys_page": "work_pages",
        "legend_page": "work_pages",
        "measure_screen": "deviations_screen",
        "measured_page": "work_pages",
        "otherwise_screen": "deviations_screen",
        "plan_page": "work_pages",
    }
)


if not TYPE_CHECKING:  # so that a name which is not here is found before it is called
    __getattr__ = lazy_names(__name__, _MODULES)
