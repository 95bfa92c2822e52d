"""The bench for knotting without a pattern: an input line below the board."""

from collections.abc import Iterable, Sequence
from typing import ClassVar, Final

from rich.text import Text
from textual import events
from textual.binding import Binding, BindingType
from textual.widget import Widget
from textual.widgets import Input

from coach.session import unsaved_counts
from coach.session.by_sentence.freehand import MOST_SAID, OPENING, Freehand, forms_as_actions
from coach.session.by_sentence.freehand_questions import Asking, FreehandQuestion, ask_file
from coach.session.ports import Aids
from coach.tui import screens
from coach.tui.drawing.cells import Glyphs
from coach.tui.layout.styled_text import Inks, paragraph
from coach.tui.pages.freehand_page import (
    GrowingBoard,
    freehand_head,
    freehand_lines,
    freehand_said,
)
from coach.tui.screens.base_screen import keyed
from coach.tui.screens.by_sentence.offering_screen import OfferingScreen
from coach.tui.screens.page_screen import PageScreen
from coach.tui.widgets.text_line import SaidLine

_FOLLOW_S: Final = 0.5


class FreehandScreen(OfferingScreen):
    """Shows a piece knotted without a pattern; sentences are stored before they show."""

    AUTO_FOCUS = "Input"
    OF_A_PLAN = False
    MOST_KEYS = 1
    BINDINGS: ClassVar[list[BindingType]] = [
        keyed("enter", "say_it", "say", "Say what is written; it is kept before it is shown."),
        keyed("slash,ctrl+p", "forms", "forms", "Find any form by a word of it."),
        keyed("ctrl+s", "write", "write", "Write the project file so far.", sign="w"),
        keyed("ctrl+q", "leave", "leave", "Leave. Everything is saved.", sign="q"),
        keyed("escape", "give_up", "back to the work", "Leave the question."),
        keyed("f1", "help", "help", "See all that can be said."),
    ]

    def __init__(
        self, freehand: Freehand, inks: Inks, glyphs: Glyphs, *, aids: Aids | None = None,
        target: str = "", told: str = "",
    ) -> None:  # fmt: skip
        """Set the piece, its styles and helpers, and the file of its pattern."""
        aids = aids or Aids()
        super().__init__(inks.of(freehand.plan), aids)
        self.freehand = freehand
        self._files = aids.files
        self._target = target
        self._told = told or OPENING
        self._refused = ""  # the line that was refused, until it is mended
        self._asking: Asking | None = None
        self._asked: FreehandQuestion | None = None
        self._deeds = {("w", "write"): self.action_write, ("q", "quit"): self.action_leave,
                       ("?", "help"): self.action_help, ("theme",): self.action_theme,
                       ("mouse",): self.action_mouse, ("voice",): self.action_voice,
                       ("say",): self.action_hear}  # fmt: skip
        self._board = GrowingBoard(glyphs)

    def below(self) -> Iterable[Widget]:
        """Return the input line."""
        return (SaidLine(MOST_SAID, self.say_all),)

    def on_mount(self) -> None:
        """Offer sentences, and follow what is said in another terminal."""
        self._offer("")
        self.set_interval(_FOLLOW_S, self._follow)

    def on_unmount(self) -> None:
        """End the sitting; what is not stored goes to the first place that works."""
        self.freehand.leave()
        if unsaved_counts.must_ask_before_leaving(self.freehand.sitting):
            unsaved_counts.rescue(self.freehand.sitting)

    def on_input_changed(self, event: Input.Changed) -> None:
        """Offer completions of what is typed."""
        event.stop()
        written = event.input.value  # by now; what is told of may be older
        if self._refused and written != self._refused:
            self._refused = self._told = ""
        self._offer(written)
        self.show()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Say what is typed, or answer with it."""
        event.stop()
        if self._asking:
            self._answer(event.value.strip())
        elif self._offers.marked:
            self._write(self._offers.marked)
        else:
            self._write("")
            self._do(event.value.strip())
        self.show()

    def _do(self, said: str) -> None:
        """Carry out what is typed: a sentence, or a letter for another action."""
        word = said.casefold()
        deed = next((deed for words, deed in self._deeds.items() if word in words), None)
        if deed:
            deed()
        elif said:
            before = self.freehand.record
            self._tell(self.freehand.say(said))
            if self.freehand.record is before:
                self._refused = said
                self._write(said)  # to be mended

    def say_all(self, lines: Sequence[str]) -> None:
        """Say several sentences in turn, up to the first that fails."""
        for number, line in enumerate(lines, start=1):
            before = self.freehand.record
            told = self.freehand.say(line)
            self._told = f"{number} of {len(lines)} lines said. {told}"
            if self.freehand.record is before:
                self._told = f"{number - 1} of {len(lines)} lines said; then: {told}"
                self._write(line)
                break
        self._speech.say(self._told)
        self.show()

    def on_key(self, event: events.Key) -> None:
        """Search the forms on a slash, which an empty line leaves to the screen."""
        if event.key == "slash" and not self.query_one(Input).value and not self._asking:
            event.stop()
            self.action_forms()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Return whether an action does something: not during a question."""
        del parameters
        return not self._asking or action not in ("complete", "mark", "forms", "write", "leave")

    def named(self, binding: Binding) -> str:
        """Return the current name of a key; escape is named where it leaves a question."""
        asked = {"say_it": "answer"} if self._asking else {"give_up": ""}
        return asked.get(binding.action, binding.description)

    async def action_say_it(self) -> None:
        """Say what is typed, or answer with it."""
        await self.query_one(Input).action_submit()

    def say_again(self) -> str:
        """Return the result of the last sentence, and the progress of the work."""
        return f"{self._told} {self.freehand.so_far()}"

    def action_give_up(self) -> None:
        """Leave a question, or clear the line; escape never leaves the piece."""
        if self._asking:
            self._asking.close()
            self._asking = self._asked = None
            self._told = "Nothing is written; the work goes on."
        self._write("")
        self.show()

    def _offer(self, begun: str) -> None:
        self._offers.fill(() if self._asking else self.freehand.completions(begun))

    def action_write(self) -> None:
        """Ask for names and a file, and write the pattern so far."""
        if self._files is None:
            self._told = "No file can be written from here."
        else:
            self._asking = ask_file(self.freehand, self._files, self._target)
            self._write("")
            self._offers.fill(())
            self._answer(None)
        self.show()

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

    def action_leave(self) -> None:
        """Leave the piece; if something could not be stored, ask first."""
        if unsaved_counts.must_ask_before_leaving(self.freehand.sitting):
            asked = screens.TroubleScreen(self.freehand.sitting, self.inks)
            self.app.push_screen(asked, lambda leaving: self.left() if leaving else None)
        else:
            self.left()

    def action_forms(self) -> None:
        """Let the maker search the forms."""

        def chosen(form: str | None) -> None:
            if form:
                done = any(form in words for words in self._deeds)
                self._do(form) if done else self._write(form)
            self.show()

        keys = forms_as_actions(self.freehand.completions(""))
        self.app.push_screen(screens.ActionsScreen(self.inks, keys), chosen)

    def action_help(self) -> None:
        """Open the help page with all forms of sentences."""
        self.app.push_screen(PageScreen(self.inks, freehand_lines))

    def _follow(self) -> None:
        if self.freehand.refresh() and self.is_current:
            self._told = "Said in another window."
            self.show()

    def lines(self, width: int, height: int) -> Sequence[Text]:
        """Return the board, the last sentences, and what can be said."""
        self.inks = inks = self.inks.of(self.freehand.plan)
        head = freehand_head(self.freehand, inks, width)
        below = [
            *freehand_said(self.freehand.lines(), inks, width, height),
            *paragraph(self._told, width, 3, inks.style("figure", bold=True)),
            *(() if self._asking else self._offers.lines(inks, width, height)),
        ]
        room = max(0, height - 1 - len(below))
        rows = self._board.rows(self.freehand, inks, width, room)
        return [head, *rows, *[Text()] * (room - len(rows)), *below]
