"""The app of the order desk: orders, stock, and the quote of a project, changed by keys."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final

from rich.text import Text
from textual import events
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widgets import Static

from coach.tui.base_app import PaletteApp
from coach.tui.layout.styled_text import Inks
from coach.tui.pages.plan_pages import foot

MOST: Final = 1000
_MANY: Final = 10
_MORE: Final = ("plus", "equals_sign", "kp_plus")
_FEWER: Final = ("minus", "kp_minus")
_KEYS: Final = (
    ("← →", "project"), ("+ -", "copies"), ("c", "colours"), ("↑ ↓", "scroll"), ("q", "leave"),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Chosen:
    """What the desk shows the quote of: a project, how many, and its colourway ("" its own)."""

    project: str
    copies: int = 1
    colourway: str = ""


class DeskApp(PaletteApp):
    """Shows the desk; what stands on it is told by who opens it."""

    def __init__(
        self,
        inks: Inks,
        projects: Sequence[str],
        ways: Callable[[str], Sequence[str]],
        told: Callable[[Chosen], Sequence[str]],
    ) -> None:
        """Take what the desk shows.

        Args:
            inks: What it is written with.
            projects: The projects by their names; the first one is shown first.
            ways: Tells the colourways of a project.
            told: Tells orders, stock and quote in lines.
        """
        super().__init__(inks.palette)
        self._inks = inks
        self._projects = projects
        self._ways = ways
        self._told = told
        self.chosen = Chosen(projects[0])

    def compose(self) -> ComposeResult:
        """Yield the page and the keys below it."""
        with VerticalScroll():
            yield Static(id="page", markup=False)
        yield Static(id="keys", markup=False)

    def on_mount(self) -> None:
        """Write the desk."""
        self._show()

    def on_key(self, event: events.Key) -> None:
        """Change what is quoted; scrolling is the page's own."""
        if event.key in ("q", "escape"):
            self.exit(0)
        elif event.key in ("right", "left"):
            self._turn(1 if event.key == "right" else -1)
        elif event.key in _MORE or event.key in _FEWER:
            self._count(1 if event.key in _MORE else -1)
        elif event.key in ("greater_than_sign", "less_than_sign"):
            self._count(_MANY if event.key == "greater_than_sign" else -_MANY)
        elif event.key == "c":
            ways = ["", *self._ways(self.chosen.project)]
            after = ways[(ways.index(self.chosen.colourway) + 1) % len(ways)]
            self.chosen = replace(self.chosen, colourway=after)
        else:
            return
        event.stop()
        event.prevent_default()
        self._show()

    def _turn(self, steps: int) -> None:
        at = (self._projects.index(self.chosen.project) + steps) % len(self._projects)
        self.chosen = Chosen(self._projects[at], self.chosen.copies)

    def _count(self, more: int) -> None:
        copies = min(MOST, max(1, self.chosen.copies + more))
        self.chosen = replace(self.chosen, copies=copies)

    def _show(self) -> None:
        page = Text("\n").join(
            Text(line, self._inks.style("text")) for line in self._told(self.chosen)
        )
        self.query_one("#page", Static).update(self._inks.shown(page))
        self.query_one("#keys", Static).update(foot(self._inks, *_KEYS))
