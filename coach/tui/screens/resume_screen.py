"""The first screen on coming back: where the piece was left, to be held against the work."""

from typing import Final

from rich.text import Text
from textual.timer import Timer

from coach.plan.wording.step_phrases import where
from coach.session.controller import Work
from coach.session.resume_summary import at_hand, made_last
from coach.session.time_format import local, when, when_short
from coach.tui import screens
from coach.tui.drawing.board_picture import BoardDrawing
from coach.tui.drawing.cells import Glyphs, board_glyphs
from coach.tui.layout.painted_cells import painted
from coach.tui.layout.progress_bar import bar
from coach.tui.layout.styled_text import Inks, fitted, paragraph
from coach.tui.screens.base_screen import LinesScreen, at_both_ends, keys_at_foot

_LABEL: Final = 8
_ROOMY: Final = 20  # rows from which on there is room for three steps
_LOW: Final = 10  # rows below which there is no room for a picture
_LOOKED_AT_S: Final = 0.1
_QUESTION: Final = "Does the work hang like this?"


class ResumeScreen(LinesScreen[bool]):
    """Asks whether the work hangs as shown. Its result is False if the maker leaves instead."""

    def __init__(self, work: Work, inks: Inks, glyphs: Glyphs, left_ms: int) -> None:
        super().__init__(inks)
        self._work = work
        self._glyphs = glyphs
        self._drawing = BoardDrawing(work.plan, board_glyphs(glyphs, shaded=inks.shaded))
        self._left = f"Last worked on {when(local(left_ms))}"
        self._left_short = f"last {when_short(local(left_ms))}"
        self._looked_at: Timer | None = None

    def pressed(self, key: str) -> bool:
        """Take the answer: that it hangs so, or what is to be put right."""
        action = self._work.keys.action(key)
        if key in ("plus", "equals_sign"):
            self._work.go_to(self._work.done + 1)
        elif action in ("take_back", "rest", "restart"):
            self._work.act(action)
        elif action == "goto":
            self.app.push_screen(screens.LookScreen(self._work, self.inks, self._glyphs))
        elif action == "count" or key == "escape":
            self._work.message = ""  # the key that says so is no count
            self.dismiss(result=True)
        elif action == "leave":
            self.dismiss(result=False)
        else:
            return False
        return True

    def lines(self, width: int, height: int) -> list[Text]:
        """Return the state of the piece in words, the question, the picture and the keys."""
        work, inks = self._work, self.inks
        if not self._looked_at:  # what the bench is to show takes long to find out: do it meanwhile
            self._looked_at = self.set_timer(_LOOKED_AT_S, work.view)
        if height < _LOW:
            return self._short(width, height)
        head = self._head(width, roomy=height >= _ROOMY)
        told = [Text(fitted(work.message, width), inks.style("figure"))] if work.message else []
        foot = keys_at_foot(inks, width, 2, self._keys())
        question = Text(fitted(_QUESTION, width), inks.style("figure", bold=True))
        top = [*head, *(told or [question])]
        drawn = self._drawing.picture(work.done, width, height - len(top) - len(foot))
        return [*top, *painted(drawn.rows, inks), *foot]

    def _head(self, width: int, *, roomy: bool) -> list[Text]:
        work, inks = self._work, self.inks
        title = Text(work.sitting.name, inks.style("text", bold=True))
        roomy_head = title.cell_len + len(self._left) + 2 <= width
        left = Text(self._left if roomy_head else self._left_short, inks.style("quiet"))
        lines = [at_both_ends(title, left, width)]
        if roomy:
            lines += [bar(inks, self._glyphs, work.done, work.plan.total, width), Text()]
            lines.append(
                Text(fitted(" · ".join(where(work.plan, work.done)), width), inks.style("quiet"))
            )
        made = made_last(work.plan, work.done, 3 if roomy else 1)
        lines += [self._labelled("made" if not i else "before", m, width)
                  for i, m in enumerate(made)]  # fmt: skip
        hands = " · ".join(f"{part} {who}" for part, who in at_hand(work.plan, work.done))
        if roomy:
            return [*lines, *([self._labelled("now", hands, width)] if hands else []), Text()]
        return [*lines, Text(fitted(hands, width), inks.style("text"))] if hands else lines

    def _labelled(self, label: str, text: str, width: int) -> Text:
        first = Text(f"{label:<{_LABEL}}", self.inks.style("quiet"))
        return first + Text(fitted(text, width - _LABEL), self.inks.style("text"))

    def _short(self, width: int, height: int) -> list[Text]:
        """Say in a few lines where the piece stands."""
        work = self._work
        last = next(iter(made_last(work.plan, work.done, 1)), "")
        said = f"{work.message or self._left}. {work.done} of {work.plan.total} made: {last}."
        text = paragraph(said, width, max(1, height - 1), self.inks.style("text", bold=True))
        foot = keys_at_foot(self.inks, width, 1, [(self._work.keys.shown("count"), "that's right")])
        return [*text, *[Text()] * (height - 1 - len(text)), *foot]

    def _keys(self) -> list[tuple[str, str]]:
        keys = self._work.keys
        return [
            (keys.shown("count"), "yes"), (keys.shown("take_back"), "one fewer"),
            ("+", "one more"), (keys.shown("goto"), "go to"), (keys.shown("leave"), "leave"),
            (keys.shown("rest"), "rest of step made"), (keys.shown("restart"), "step not started"),
        ]  # fmt: skip
