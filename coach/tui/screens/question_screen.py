"""Questions with one key for each answer: a surprising measurement, an edited project."""

from collections.abc import Sequence
from typing import ClassVar, Final, Literal

from rich.style import Style
from rich.text import Text
from textual import events
from textual.binding import Binding, BindingType

from coach.piece.entering.project_diff import ProjectChange
from coach.plan.wording.place_words import place_in_piece
from coach.session.adjusting.measure_questions import Answer, MeasureQuestion
from coach.tui.layout.styled_text import Inks, paragraph
from coach.tui.messages import LeavesPattern
from coach.tui.screens.base_screen import keyed
from coach.tui.screens.page_screen import TextScreen

_MANY: Final = 99
WhichFile = Literal["take", "stay", ""]
"""Which project a piece follows: the edited one, the one before, or that is decided later."""


class QuestionScreen(TextScreen[str]):
    """Asks about a measurement. Its result is the sentence about it; "" to measure again.

    The question brings its answers and their keys along; each can be tapped.
    """

    OF_A_PLAN = True
    BINDINGS: ClassVar[list[BindingType]] = [
        keyed("escape", "answer('')", "measure again", "Leave this measure out, and measure again.")
    ]

    def __init__(self, asked: MeasureQuestion, inks: Inks) -> None:
        super().__init__(inks)
        self._asked = asked

    def on_key(self, event: events.Key) -> None:
        """Choose the answer of a key."""
        if self._asked.answer(event.key):
            event.stop()
            event.prevent_default()
            self.action_answer(event.key)

    def action_answer(self, key: str) -> None:
        """Carry out an answer; without one, drop the measurement."""
        answer = self._asked.answer(key)
        self.dismiss(answer.take() if answer else "")

    def page(self, width: int) -> Sequence[Text]:
        """Return the question, and the answers with their keys."""
        head = paragraph(self._asked.said, width, _MANY, self.inks.style("warning", bold=True))
        answers = [line for one in self._asked.answers for line in self._lines_of(one, width)]
        return [*head, Text(), *answers]

    def _lines_of(self, answer: Answer, width: int) -> list[Text]:
        """Return an answer after its key, tappable on all of its lines."""
        tapped = Style.from_meta({"@click": f"screen.answer({answer.key!r})"})
        key, text = self.inks.style("figure", bold=True), self.inks.style("text")
        told = paragraph(answer.label, width - 2, 4, text + tapped)
        first = Text(f"{answer.key} ", key + tapped)
        return [(Text("  ") if at else first) + line for at, line in enumerate(told)]


class ChangedScreen(TextScreen[WhichFile]):
    """Shows what was edited, and asks which project the piece is to follow.

    Its result is the answer; "" decides later.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        keyed("s", "answer('stay')", "stay with the one before",
              "The piece keeps the project that it was begun with."),
        keyed("t", "answer('take')", "go on with the edited file",
              "The piece follows the edited file from here on."),
        keyed("escape", "answer('')", "decide later", "Ask again the next time."),
    ]  # fmt: skip

    def __init__(self, change: ProjectChange, done: int, inks: Inks) -> None:
        """Set what was edited.

        Args:
            change: The edited project, and the piece's place in it.
            done: How many counts of the piece are made.
            inks: The styles.
        """
        super().__init__(inks)
        self._change = change
        self._done = done

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Return whether an answer is possible: a refused file cannot be followed."""
        return not (action == "answer" and parameters == ("take",) and self._change.refused)

    def named(self, binding: Binding) -> str:
        """Return the name of an answer: a file with other ties moves the place."""
        moves = binding.key == "t" and not self._change.same
        return "set it to that place" if moves else binding.description

    def action_answer(self, answer: WhichFile) -> None:
        """Close with an answer."""
        self.dismiss(answer)

    def page(self, width: int) -> Sequence[Text]:
        """Return what changed, and what it means for the ties made."""
        inks = self.inks
        head = paragraph(
            "The project's file has been edited.", width, 2, inks.style("text", bold=True)
        )
        meaning = paragraph(self._meaning(), width, _MANY, inks.style("figure"))
        told = [
            line
            for text in self._change.told
            for line in paragraph(f"· {text}", width, 3, inks.style("text"))
        ]
        return [*head, *meaning, Text(), *told]

    def _meaning(self) -> str:
        change, done = self._change, self._done
        if change.refused:
            return f"The piece cannot continue with it. {change.refused}"
        if change.same:
            return (
                f"All {done} counts made so far are the same in it, so the piece can continue "
                "with it."
            )
        place = ", ".join(place_in_piece(change.plan, change.place)) if change.plan.total else ""
        at = f"count {change.place} of {change.plan.total} ({place})"
        return (
            f"Some of the {done} counts made would be tied differently. The piece can stay with "
            f"the project it was started with, or be set to the nearest place: {at}."
        )


_ASKED: Final = "Go on without the pattern from here?"
_TOLD: Final = (
    "The pattern ends with what is made. What you knot from now on you say in short sentences, "
    "and w writes the whole piece out as a pattern of its own. The project’s file stays as it is."
)


class LeavePatternScreen(TextScreen[None]):
    """Asks whether to leave the pattern, and tells the app if so."""

    OF_A_PLAN = True
    BINDINGS: ClassVar[list[BindingType]] = [
        keyed("enter", "go_on", "go on without the pattern", "Say what you knot from here on."),
        keyed("escape", "close", "back", "Stay with the pattern."),
    ]

    def action_go_on(self) -> None:
        """Close, and tell the app."""
        self.dismiss(None)
        self.app.post_message(LeavesPattern())

    def action_close(self) -> None:
        """Close, and keep the pattern."""
        self.dismiss(None)

    def page(self, width: int) -> Sequence[Text]:
        """Return the question."""
        lines = paragraph(_ASKED, width, 2, self.inks.style("text", bold=True))
        return [*lines, Text(), *paragraph(_TOLD, width, _MANY, self.inks.style("text"))]
