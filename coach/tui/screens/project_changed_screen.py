"""The question that is asked when a project's file was edited while its piece is under way."""

from typing import Final, Literal

from rich.text import Text

from coach.piece.changes.project_diff import Change
from coach.plan.wording.step_phrases import where
from coach.tui.layout.styled_text import Inks, paragraph
from coach.tui.screens.base_screen import LinesScreen, keys_at_foot

Answer = Literal["take", "stay", ""]
_MANY: Final = 99


class ChangedScreen(LinesScreen[Answer]):
    """Tells what was edited, and asks which project the piece is to follow.

    Its result is the answer; "" decides later.
    """

    def __init__(self, change: Change, done: int, inks: Inks) -> None:
        super().__init__(inks)
        self._change = change
        self._done = done

    def pressed(self, key: str) -> bool:
        """Take the answer."""
        answers: dict[str, Answer] = {"t": "take", "s": "stay", "escape": ""}
        if key not in answers or (key == "t" and self._change.refused):
            return False
        self.dismiss(answers[key])
        return True

    def lines(self, width: int, height: int) -> list[Text]:
        """Return what changed, what it means for the ties made, and the keys."""
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
        foot = keys_at_foot(inks, width, 3, self._keys())
        room = height - len(head) - len(meaning) - len(foot) - 2
        if len(told) > room > 0:
            told = [*told[: room - 1], Text("· and more", inks.style("quiet"))]
        return [*head, *meaning, Text(), *told[: max(0, room)], Text(), *foot]

    def _meaning(self) -> str:
        change, done = self._change, self._done
        if change.refused:
            return f"The piece cannot continue with it. {change.refused}"
        if change.same:
            return (
                f"All {done} counts made so far are the same in it, so the piece can continue "
                "with it."
            )
        place = ", ".join(where(change.plan, change.place)) if change.plan.total else ""
        at = f"count {change.place} of {change.plan.total} ({place})"
        return (
            f"Some of the {done} counts made would be tied differently. The piece can stay with "
            f"the project it was started with, or be set to the nearest place: {at}."
        )

    def _keys(self) -> list[tuple[str, str]]:
        stay, later = ("s", "stay with the one before"), ("escape", "decide later")
        if self._change.refused:
            return [stay, later]
        if self._change.same:
            return [("t", "go on with the edited file"), stay, later]
        return [stay, ("t", "set it to that place"), later]
