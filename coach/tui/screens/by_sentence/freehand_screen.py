"""Knotting without a pattern: a line to say what was knotted, above it the board as it hangs."""

from collections.abc import Sequence
from functools import partial
from typing import Final

from rich.text import Text
from textual.app import ComposeResult
from textual.widgets import Input

from coach.session import unsaved
from coach.session.by_sentence.freehand import MOST_SAID, Freehand
from coach.session.by_sentence.freehand_questions import Asking, Question, writing
from coach.session.by_sentence.freehand_words import OPENING, forms_as_actions
from coach.session.ports import Files
from coach.tui import screens
from coach.tui.drawing.board_picture import BoardDrawing
from coach.tui.drawing.cells import Glyphs, board_glyphs
from coach.tui.layout.painted_cells import painted
from coach.tui.layout.said_line import SaidLine
from coach.tui.layout.styled_text import Inks, paragraph
from coach.tui.pages.freehand_page import freehand_head, freehand_lines, freehand_said, offered
from coach.tui.pages.plan_pages import foot
from coach.tui.screens.base_screen import LinesScreen, keys_at_foot
from coach.tui.screens.page_screen import PageScreen

_KEYS: Final = (
    ("enter", "say"), ("/", "forms"), ("w", "write"), ("q", "leave"), ("tab", "complete"),
    ("f1", "help"),
)  # fmt: skip
_ASKED: Final = (("enter", "answer"), ("escape", "back to the work"))
_FOLLOW_S: Final = 0.5


class FreehandScreen(LinesScreen[None]):
    """Shows a piece knotted without a pattern; what is said is kept before it is shown."""

    AUTO_FOCUS = "Input"

    def __init__(
        self, freehand: Freehand, inks: Inks, glyphs: Glyphs, *, files: Files | None = None,
        target: str = "", told: str = "",
    ) -> None:  # fmt: skip
        """Take the piece, what it is drawn with, and where its pattern is written."""
        super().__init__(inks.of(freehand.plan))
        self.freehand = freehand
        self._glyphs = glyphs
        self._files = files
        self._target = target
        self._told = told or OPENING
        self._offers: Sequence[str] = ()
        self._at = -1  # of the offers, the one that is marked
        self._refused = ""  # the line that was refused, until it is mended
        self._asking: Asking | None = None
        self._asked: Question | None = None
        self._drawn_plan = freehand.plan
        self._drawing = self._drawing_of()

    def compose(self) -> ComposeResult:
        """Yield the lines, and the one that is written on."""
        yield from super().compose()
        yield SaidLine(MOST_SAID, self.say_all)

    def on_mount(self) -> None:
        """Offer what can be said, and follow what is said in another terminal."""
        self._offer("")
        self.set_interval(_FOLLOW_S, self._follow)

    def on_unmount(self) -> None:
        """End the sitting; what could not be stored is written to the first place that takes it."""
        self.freehand.leave()
        if unsaved.must_ask(self.freehand.sitting):
            unsaved.rescue(self.freehand.sitting)

    def on_input_changed(self, event: Input.Changed) -> None:
        """Offer the sentences that what is written may become."""
        event.stop()
        written = event.input.value  # by now; what is told of may be older
        if self._refused and written != self._refused:
            self._refused = self._told = ""
        self._offer(written)
        self.show()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Say what is written, or answer with it."""
        event.stop()
        if self._asking:
            self._answer(event.value.strip())
        elif 0 <= self._at < len(self._offers):
            self._write(self._offers[self._at])
        else:
            self._write("")
            self._do(event.value.strip())
        self.show()

    def _do(self, said: str) -> None:
        """Carry out what is said: a sentence, or a letter for something else."""
        deed = {"w": self.write, "write": self.write, "q": self.leave, "quit": self.leave,
                "?": self._help, "help": self._help}.get(said.casefold())  # fmt: skip
        if deed:
            deed()
        elif said:
            before = self.freehand.record
            self._told = self.freehand.say(said)
            if self.freehand.record is before:
                self._refused = said
                self._write(said)  # to be mended

    def say_all(self, lines: Sequence[str]) -> None:
        """Say several sentences in turn, up to the first that cannot be."""
        for number, line in enumerate(lines, start=1):
            before = self.freehand.record
            told = self.freehand.say(line)
            self._told = f"{number} of {len(lines)} lines said. {told}"
            if self.freehand.record is before:
                self._told = f"{number - 1} of {len(lines)} lines said; then: {told}"
                self._write(line)
                break
        self.show()

    def pressed(self, key: str) -> bool:
        """Complete the line, open a page or clear the line; all other keys are for the line."""
        line = self.query_one(Input)
        if key == "tab" and self._offers and not self._asking:
            self._write(self._offers[max(0, self._at)])
        elif key in ("down", "up") and self._offers and not self._asking:
            step = 1 if key == "down" else -1
            self._at = max(-1, min(self._at + step, len(self._offers) - 1))
        elif key == "escape":
            self._give_up()
        elif key in ("slash", "ctrl+p") and not line.value and not self._asking:
            self._forms()
        elif key == "f1":
            self._help()
        elif key == "ctrl+s" and not self._asking:
            self.write()
        else:
            return False
        return True

    def _give_up(self) -> None:
        """Leave a question, or clear the line; escape never leaves the piece."""
        if self._asking:
            self._asking.close()
            self._asking = self._asked = None
            self._told = "Nothing is written; the work goes on."
        self._at = -1
        self._write("")

    def _write(self, text: str) -> None:
        line = self.query_one(Input)
        line.value = text
        line.cursor_position = len(text)
        self._at = -1

    def _offer(self, begun: str) -> None:
        self._at = -1
        self._offers = () if self._asking else self.freehand.completions(begun)

    # Writing the pattern

    def write(self) -> None:
        """Ask for names and a file, and write the pattern so far."""
        if self._files is None:
            self._told = "No file can be written from here."
            return
        self._asking = writing(self.freehand, self._files, self._target)
        self._write("")
        self._offers = ()
        self._answer(None)

    def _answer(self, said: str | None) -> None:
        asking = self._asking
        if asking is None:
            return
        try:
            self._asked = next(asking) if said is None else asking.send(said)
            self._told = " ".join(filter(None, (self._asked.trouble, self._asked.asks)))
        except StopIteration as over:
            self._asking = self._asked = None
            self._told = over.value
        self._write("")
        default = self._asked.default if self._asked else ""
        self.query_one(Input).placeholder = default
        self._offer("")

    # Other screens

    def leave(self) -> None:
        """Leave the piece; where something could not be stored, ask first."""
        if unsaved.must_ask(self.freehand.sitting):
            asked = screens.TroubleScreen(self.freehand.sitting, self.inks)
            self.app.push_screen(asked, lambda leaving: self._left() if leaving else None)
        else:
            self._left()

    def _left(self) -> None:
        """Go back to the list, or leave the program where there is none."""
        if len(self.app.screen_stack) > 2:  # noqa: PLR2004 - the app's own, and this one
            self.dismiss(None)
        else:
            self.app.exit(0)

    def _forms(self) -> None:
        def chosen(form: str | None) -> None:
            if form:
                self._write(form) if len(form) > 1 else self._do(form)
            self.show()

        keys = forms_as_actions(self.freehand.completions(""))
        self.app.push_screen(screens.ActionsScreen(self.inks, keys), chosen)

    def _help(self) -> None:
        lines = partial(freehand_lines, self.inks)
        self.app.push_screen(PageScreen(self.inks, lines, foot(self.inks, ("escape", "back"))))

    def _follow(self) -> None:
        if self.freehand.refresh() and self.is_current:
            self._told = "Said in another window."
            self.show()

    # What is seen

    def _drawing_of(self) -> BoardDrawing:
        glyphs = board_glyphs(self._glyphs, shaded=self.inks.shaded)
        return BoardDrawing(self.freehand.plan, glyphs)

    def lines(self, width: int, height: int) -> Sequence[Text]:
        """Return the board as it hangs now, what was said last, and what can be said."""
        plan, inks = self.freehand.plan, self.inks
        if plan is not self._drawn_plan:
            self.inks = inks = inks.of(plan)
            self._drawn_plan, self._drawing = plan, self._drawing_of()
        head = freehand_head(self.freehand, inks, width)
        foot = keys_at_foot(inks, width, 1, _ASKED if self._asking else _KEYS)
        below = [
            *freehand_said(self.freehand.lines(), inks, width, height),
            *paragraph(self._told, width, 3, inks.style("figure", bold=True)),
            *(() if self._asking else offered(self._offers, self._at, inks, width, height)),
        ]
        room = max(0, height - 1 - len(below) - len(foot))
        rows = painted(self._drawing.picture(self.freehand.made, width, room).rows, inks)
        return [head, *rows, *[Text()] * (room - len(rows)), *below, *foot]
