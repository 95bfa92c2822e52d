"""The screen of the order desk: a quote changed by keys, the orders, the stock."""

from collections.abc import Callable
from dataclasses import replace
from typing import ClassVar, Final

from rich.text import Text
from textual.binding import Binding, BindingType

from coach.piece import PieceError
from coach.session.ports import CannotOpen
from coach.session.view_model import DeskPage, OrderDesk, QuoteSelection
from coach.tui import screens
from coach.tui.layout.styled_text import Inks, ellipsized, exact_width, paragraph
from coach.tui.order_desk.desk_lines import section, wrapped_lines
from coach.tui.screens.base_screen import LinesScreen, at_both_ends, keyed

MOST: Final = 1000
_MANY: Final = 10
_PAGES: Final = ("quote", "orders", "stock")
_BESIDE: Final = 110  # columns from which orders and stock stand beside the quote
_ROOMY: Final = 20  # rows from which there are blank lines
_LOW: Final = 5  # rows below which nothing is said
_GAP: Final = 3


class DeskScreen(LinesScreen[None]):
    """Shows the desk; arrows, signs and letters change what is quoted."""

    OF_A_PLAN = False
    BINDINGS: ClassVar[list[BindingType]] = [
        keyed("right", "project(1)", "project", "Quote the next project.", sign="← →"),
        keyed("left", "project(-1)"),
        keyed("plus,equals_sign,kp_plus", "copies(1)", "copies",
              "Quote one more; > and < ten more or fewer.", sign="+ -"),
        keyed("minus,kp_minus", "copies(-1)"),
        keyed("greater_than_sign", f"copies({_MANY})"),
        keyed("less_than_sign", f"copies(-{_MANY})"),
        keyed("c", "colourway", "colourway", "Go to the next colourway, whose copies then change."),
        keyed("tab", "page(1)", "page", "Show quote, orders or stock."),
        keyed("shift+tab", "page(-1)"),
        keyed("b", "begin", "begin", "Begin an order of what is quoted."),
        keyed("down", "scroll(1)", "scroll", "See what is further down.", sign="↑ ↓"),
        keyed("up", "scroll(-1)"),
        keyed("pagedown", "scroll(1, True)"),
        keyed("pageup", "scroll(-1, True)"),
        keyed("q,escape", "leave", "leave", "Close the desk."),
    ]  # fmt: skip

    def __init__(self, inks: Inks, desk: OrderDesk, project: str = "") -> None:
        """Set the styles, the desk, and the project that it quotes first, if any."""
        super().__init__(inks)
        self._desk = desk
        self._projects = list(desk.projects())
        if project and project not in self._projects:
            self._projects.insert(0, project)
        self.chosen = QuoteSelection(project or self._projects[0])
        self._page_at = self._top = 0
        self._told: DeskPage | None = None
        self._said = ""

    def on_screen_resume(self) -> None:
        """Show the current state."""
        self._told = None
        super().on_screen_resume()

    def named(self, binding: Binding) -> str:
        """Return the name of a key; if all pages are visible, none changes the page."""
        wide = self.size.width >= _BESIDE
        return "" if wide and binding.action == "page(1)" else binding.description

    def action_leave(self) -> None:
        """Close the desk."""
        self.dismiss(None)

    def action_project(self, step: int) -> None:
        """Quote the next or the previous project."""
        self._changed(lambda: self._turn(step))

    def action_copies(self, more: int) -> None:
        """Quote more copies of the current colourway, or fewer."""
        self._changed(lambda: self._count(more))

    def action_colourway(self) -> None:
        """Go to the next colourway."""
        self._changed(self._next_colourway)

    def action_page(self, step: int) -> None:
        """Show another page."""
        self._page_at, self._top = (self._page_at + step) % len(_PAGES), 0
        self._changed(lambda: None)

    def action_scroll(self, rows: int, pages: bool = False) -> None:
        """Scroll what is longer than the screen."""
        step = rows * max(1, self.size.height // 2) if pages else rows
        self._top = max(0, self._top + step)
        self._changed(lambda: None)

    def action_begin(self) -> None:
        """Ask for the name of an order, and begin it."""
        self._said = ""
        self._ask_begin()

    def _changed(self, deed: Callable[[], None]) -> None:
        """Run a change and clear the message before it."""
        self._said = ""
        deed()
        self.show()

    def _turn(self, steps: int) -> None:
        """Quote another project, as many copies as of the last one."""
        at = (self._projects.index(self.chosen.project) + steps) % len(self._projects)
        self._choose(QuoteSelection(self._projects[at], (sum(self.chosen.copies),)))

    def _count(self, more: int) -> None:
        """Quote more or fewer copies in the current colourway; at least one in all."""
        copies, at = list(self.chosen.copies), self.chosen.at
        copies += [0] * (at + 1 - len(copies))
        others = sum(copies) - copies[at]
        copies[at] = min(MOST - others, max(0 if others else 1, copies[at] + more))
        self._choose(replace(self.chosen, copies=tuple(copies)))

    def _next_colourway(self) -> None:
        """Go to the next colourway, whose copies the signs then change."""
        try:
            names = self._desk.ways(self.chosen.project)
        except (CannotOpen, PieceError) as error:
            self._said = str(error)
            return
        if not names:
            self._said = "This project has no colourways."
        self.chosen = replace(self.chosen, at=(self.chosen.at + 1) % (len(names) + 1))

    def _choose(self, chosen: QuoteSelection) -> None:
        self.chosen, self._told, self._top = chosen, None, 0

    def _ask_begin(self) -> None:
        """Ask for the name of an order, and begin it."""

        def begin(name: str) -> str:
            try:
                return self._desk.begin(self.chosen, name)
            except (CannotOpen, PieceError) as error:
                return f"Nothing is changed: {error}"

        def told(said: str | None) -> None:
            self._said, self._told = said or "", None
            self.show()

        title = f"Begin an order: {self._mix()}"
        choices = [screens.FormField("call it", "a name, such as: stall", begin)]
        self.app.push_screen(screens.AskScreen(self.inks, title, choices), told)

    def _names(self) -> list[str]:
        try:
            return ["own colours", *self._desk.ways(self.chosen.project)]
        except (CannotOpen, PieceError):
            return ["own colours"]

    def _mix(self) -> str:
        """Return how many copies of which colourway are quoted: `4 dusk, 8 foam`."""
        named = zip(self.chosen.copies, self._names(), strict=False)
        return ", ".join(f"{number} {name}" for number, name in named if number)

    def lines(self, width: int, height: int) -> list[Text]:
        """Return the desk laid out for a size."""
        told = self._page()
        roomy = height >= _ROOMY
        said = Text(ellipsized(self._said, width), self.inks.style("warning", bold=True))
        foot = [said] if self._said and height >= _LOW else []
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
        """Return the copies of each colourway, the current one marked."""
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
        return Text().join(
            self._tab(name, here=at == self._page_at) for at, name in enumerate(_PAGES)
        )

    def _tab(self, name: str, *, here: bool) -> Text:
        ink = self.inks.style("text" if here else "quiet", bold=here)
        return Text(f"[{name}]" if here else f" {name} ", ink)

    def _body(self, told: DeskPage, width: int, most: int) -> list[Text]:
        if width < _BESIDE:
            pages = (told.quote, told.orders or _NO_ORDERS, told.stock or _NO_STOCK)
            return self._in_view(wrapped_lines(self.inks, pages[self._page_at], width), most)
        half = (width - _GAP) // 2
        left = wrapped_lines(self.inks, told.quote, half)
        right = [
            *section(self.inks, "Orders", told.orders or _NO_ORDERS, half), Text(),
            *section(self.inks, "In stock", told.stock or _NO_STOCK, half),
        ]  # fmt: skip
        rows = max(len(left), len(right))
        left, right = ([*one, *[Text()] * (rows - len(one))] for one in (left, right))
        both = [exact_width(a, half + _GAP) + b for a, b in zip(left, right, strict=True)]
        return self._in_view(both, most)

    def _in_view(self, lines: list[Text], most: int) -> list[Text]:
        """Return the visible lines; the last one says that there are more."""
        self._top = min(self._top, max(0, len(lines) - most))
        shown = lines[self._top : self._top + most]
        below = len(lines) - self._top - len(shown)
        if below and len(shown) > 1:
            shown[-1] = Text(f"… {below + 1} more lines", self.inks.style("quiet"))
        return shown


_NO_ORDERS: Final = ("No orders yet.",)
_NO_STOCK: Final = ("Nothing is in stock yet; `coach stock add` adds.",)
