"""The screen of the order desk: a quote changed by keys, the orders, what is in stock."""

from collections.abc import Sequence
from dataclasses import replace
from textwrap import wrap
from typing import Final

from rich.text import Text

from coach.piece import PieceError
from coach.session.ports import CannotOpen
from coach.session.view_model import Chosen, DeskPage, OrderDesk
from coach.tui import screens
from coach.tui.layout.styled_text import Inks, fitted, paragraph, sized
from coach.tui.screens.base_screen import LinesScreen, at_both_ends, keys_at_foot

MOST: Final = 1000
_MANY: Final = 10
_MORE: Final = ("plus", "equals_sign", "kp_plus")
_FEWER: Final = ("minus", "kp_minus")
_MANY_MORE: Final = ("greater_than_sign",)
_MANY_FEWER: Final = ("less_than_sign",)
_PAGES: Final = ("quote", "orders", "stock")
_BESIDE: Final = 110  # columns from which orders and stock stand beside the quote
_ROOMY: Final = 20  # rows from which there are blank lines
_LOW: Final = 5  # rows below which no keys are told
_TALL: Final = 12  # rows from which there may be two lines of keys
_GAP: Final = 3


class DeskScreen(LinesScreen[None]):
    """Shows the desk; arrows, signs and letters change what is quoted."""

    def __init__(self, inks: Inks, desk: OrderDesk, project: str = "") -> None:
        """Take what is written with, the desk, and the project that it quotes first, if any."""
        super().__init__(inks)
        self._desk = desk
        self._projects = list(desk.projects())
        if project and project not in self._projects:
            self._projects.insert(0, project)
        self.chosen = Chosen(project or self._projects[0])
        self._page_at = self._top = 0
        self._told: DeskPage | None = None
        self._said = ""

    def on_screen_resume(self) -> None:
        """Show what is there now."""
        self._told = None
        super().on_screen_resume()

    def pressed(self, key: str) -> bool:
        """Change what is quoted or shown, begin an order, or leave."""
        self._said = ""
        if key in ("q", "escape"):
            self.dismiss(None)
        elif key in ("right", "left"):
            self._turn(1 if key == "right" else -1)
        elif key in (*_MORE, *_FEWER):
            self._count(1 if key in _MORE else -1)
        elif key in (*_MANY_MORE, *_MANY_FEWER):
            self._count(_MANY if key in _MANY_MORE else -_MANY)
        elif key == "c":
            self._next_colourway()
        elif key in ("tab", "shift+tab"):
            steps = 1 if key == "tab" else -1
            self._page_at, self._top = (self._page_at + steps) % len(_PAGES), 0
        elif key in ("up", "down", "pageup", "pagedown"):
            rows = 1 if key in ("up", "down") else max(1, self.size.height // 2)
            self._top = max(0, self._top + (rows if "down" in key else -rows))
        elif key == "b":
            self._ask_begin()
        else:
            return False
        return True

    def _turn(self, steps: int) -> None:
        """Quote another project, as many of it as were quoted of the last one."""
        at = (self._projects.index(self.chosen.project) + steps) % len(self._projects)
        self._choose(Chosen(self._projects[at], (sum(self.chosen.copies),)))

    def _count(self, more: int) -> None:
        """Quote more or fewer copies in the colourway at hand; one at least in all."""
        copies, at = list(self.chosen.copies), self.chosen.at
        copies += [0] * (at + 1 - len(copies))
        others = sum(copies) - copies[at]
        copies[at] = min(MOST - others, max(0 if others else 1, copies[at] + more))
        self._choose(replace(self.chosen, copies=tuple(copies)))

    def _next_colourway(self) -> None:
        """Go to the next colourway, whose copies the signs change then."""
        try:
            names = self._desk.ways(self.chosen.project)
        except (CannotOpen, PieceError) as error:
            self._said = str(error)
            return
        if not names:
            self._said = "This project has no colourways."
        self.chosen = replace(self.chosen, at=(self.chosen.at + 1) % (len(names) + 1))

    def _choose(self, chosen: Chosen) -> None:
        self.chosen, self._told, self._top = chosen, None, 0

    def _ask_begin(self) -> None:
        """Ask what the order is called, and begin it."""

        def begin(name: str) -> str:
            try:
                return self._desk.begin(self.chosen, name)
            except (CannotOpen, PieceError) as error:
                return f"Nothing is changed: {error}"

        def told(said: str | None) -> None:
            self._said, self._told = said or "", None
            self.show()

        title = f"Begin an order: {self._mix()}"
        choices = [screens.Choice("call it", "a name, such as: stall", begin)]
        self.app.push_screen(screens.AskScreen(self.inks, title, choices), told)

    def _names(self) -> list[str]:
        try:
            return ["own colours", *self._desk.ways(self.chosen.project)]
        except (CannotOpen, PieceError):
            return ["own colours"]

    def _mix(self) -> str:
        """Say how many of what are quoted: `4 dusk, 8 foam`."""
        named = zip(self.chosen.copies, self._names(), strict=False)
        return ", ".join(f"{number} {name}" for number, name in named if number)

    def lines(self, width: int, height: int) -> list[Text]:
        """Return the desk for so many columns and rows."""
        told = self._page()
        roomy = height >= _ROOMY
        foot = self._foot(width, 2 if height >= _TALL else 1) if height >= _LOW else []
        head = self._head(told, width, roomy=roomy)[: max(0, height - len(foot) - 1)]
        most = max(1, height - len(head) - len(foot))
        body = self._body(told, width, most)
        return [*head, *body, *[Text()] * (most - len(body)), *foot]

    def _page(self) -> DeskPage:
        if self._told is None:
            try:
                self._told = self._desk.page(self.chosen)
            except (CannotOpen, PieceError) as error:
                self._told = DeskPage(self.chosen.project, quote=(str(error),))
        return self._told

    def _head(self, told: DeskPage, width: int, *, roomy: bool) -> list[Text]:
        """Return the project, how many of each colourway, and the quote in short."""
        inks = self.inks
        where = Text("Order desk", inks.style("quiet"))
        title = at_both_ends(Text(told.title, inks.style("text", bold=True)), where, width)
        short = paragraph("; ".join(told.short), width, 2, inks.style("figure", bold=True))
        blank = [Text()] if roomy else []
        tabs = [] if width >= _BESIDE else [self._tabs()]
        return [title, *self._colourways(width), *short, *blank, *tabs]

    def _colourways(self, width: int) -> list[Text]:
        """Return the copies of each colourway, the one at hand marked; on one line if need be."""
        parts = []
        for at, name in enumerate(self._names()):
            number = self.chosen.copies[at] if at < len(self.chosen.copies) else 0
            here = at == self.chosen.at
            ink = self.inks.style("text" if here or number else "quiet", bold=here)
            parts.append(Text(f"[{number} {name}]" if here else f" {number} {name} ", ink))
        rows = [Text()]
        for part in parts:
            if rows[-1].cell_len and rows[-1].cell_len + part.cell_len > width:
                rows.append(Text())
            rows[-1] += part
        at_hand = next(i for i, row in enumerate(rows) if "[" in row.plain)
        return rows if len(rows) <= 2 else [rows[at_hand]]  # noqa: PLR2004 - the rest is below

    def _tabs(self) -> Text:
        line = Text()
        for at, name in enumerate(_PAGES):
            here = at == self._page_at
            ink = self.inks.style("text" if here else "quiet", bold=here)
            line += Text(f"[{name}]" if here else f" {name} ", ink)
        return line

    def _body(self, told: DeskPage, width: int, most: int) -> list[Text]:
        if width < _BESIDE:
            pages = (told.quote, told.orders or _NO_ORDERS, told.stock or _NO_STOCK)
            return self._in_view(self._written(pages[self._page_at], width), most)
        half = (width - _GAP) // 2
        left = self._written(told.quote, half)
        right = [
            *self._section("Orders", told.orders or _NO_ORDERS, half), Text(),
            *self._section("In stock", told.stock or _NO_STOCK, half),
        ]  # fmt: skip
        rows = max(len(left), len(right))
        left, right = ([*one, *[Text()] * (rows - len(one))] for one in (left, right))
        both = [sized(a, half + _GAP) + b for a, b in zip(left, right, strict=True)]
        return self._in_view(both, most)

    def _section(self, heading: str, told: Sequence[str], width: int) -> list[Text]:
        return [Text(heading, self.inks.style("quiet")), *self._written(told, width)]

    def _written(self, told: Sequence[str], width: int) -> list[Text]:
        """Return lines as they go on the width; what is folded is set in."""
        ink = self.inks.style("text")
        found = []
        for line in told:
            inset = " " * (len(line) - len(line.lstrip()))
            folded = wrap(line.strip(), width, initial_indent=inset, subsequent_indent=f"{inset}  ")
            found += [Text(part, ink) for part in folded or [""]]
        return found

    def _in_view(self, lines: list[Text], most: int) -> list[Text]:
        """Return the lines from the one that was scrolled to; the last one tells of more."""
        self._top = min(self._top, max(0, len(lines) - most))
        shown = lines[self._top : self._top + most]
        below = len(lines) - self._top - len(shown)
        if below and len(shown) > 1:
            shown[-1] = Text(f"… {below + 1} more lines", self.inks.style("quiet"))
        return shown

    def _foot(self, width: int, most: int) -> list[Text]:
        if self._said:
            return [Text(fitted(self._said, width), self.inks.style("warning", bold=True))]
        pages = [] if width >= _BESIDE else [("tab", "page")]
        keys = [
            ("← →", "project"), ("+ -", "copies"), ("c", "colourway"), *pages,
            ("b", "begin"), ("↑ ↓", "scroll"), ("q", "leave"),
        ]  # fmt: skip
        return keys_at_foot(self.inks, width, most, keys)


_NO_ORDERS: Final = ("No orders yet.",)
_NO_STOCK: Final = ("Nothing is in stock yet; `coach stock add` adds.",)
