"""The controller of a piece knotted without a pattern: sentences in, project file out."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import reduce
from itertools import starmap
from typing import Final

from coach.pace.work_amount import WorkAmount, ties
from coach.piece import PieceError, Sitting
from coach.piece.events import Said
from coach.piece.open_piece import record_of
from coach.plan.board_at_count import order_at
from coach.plan.plan_model import Plan
from coach.quantities import show_length
from coach.recording.examples import completions
from coach.recording.mirrors import with_mirrors
from coach.recording.project_text import entries_of
from coach.recording.record import TITLE, Recording, change_between
from coach.recording.repeat_folding import Repeat
from coach.recording.sentence_check import after_sentence
from coach.recording.sentence_words import NotUnderstood
from coach.session.keymap import Action, Keys
from coach.session.ports import OnBench
from coach.session.time_format import local_time, moment_words
from coach.text import capital, counted, join_words, one_line

LOOKED_BACK: Final = 120
"""Steps that are looked through for repeats while the maker works; all of them when writing."""
MOST_SAID: Final = 240


@dataclass(frozen=True, slots=True)
class SentenceLine:
    """One sentence, and how many steps it made."""

    said: str
    steps: int = 1


class Freehand:
    """Controls one piece: checks and stores sentences, and reports their effect."""

    def __init__(self, opened: OnBench) -> None:
        """Set up for a piece that goes on by sentences. Raises Damaged."""
        self.sitting: Sitting = opened.sitting
        self.record: Recording = record_of(self.sitting.state)
        self._seq = self.sitting.state.seq

    @property
    def plan(self) -> Plan:
        """The plan so far; unless the piece is over, its last count is the one to come."""
        plan = self.record.plan
        assert plan is not None  # noqa: S101 - nothing is kept that cannot be worked
        return plan

    @property
    def name(self) -> str:
        """The name of the piece: as said last, or else as stored."""
        said = any(section == TITLE for section, _ in self.record.heads)
        return self.plan.project.title if said else self.sitting.name

    @property
    def made(self) -> int:
        """How many counts are made."""
        return self.record.made

    def lines(self) -> Sequence[SentenceLine]:
        """Return the sentences that hold, from the first one."""
        found: list[SentenceLine] = []
        for before, block in zip((None, *self.record.blocks), self.record.blocks, strict=False):
            if before is not None and before.said == block.said and _one_sentence(block.said):
                found[-1] = SentenceLine(block.said, found[-1].steps + 1)
            else:
                found.append(SentenceLine(block.said))
        return found

    def say(self, said: str) -> str:
        """Store one more sentence and return its effect in words.

        If it is impossible, nothing is stored and the answer says why.
        """
        said = one_line(said)
        if len(said) > MOST_SAID:
            return f"That is {len(said)} letters; say it in at most {MOST_SAID}."
        self.refresh()
        before = self.record
        try:
            after = after_sentence(before, said)
        except NotUnderstood as error:
            return str(error)
        told = self._keep(before, after, said)
        return told or self._told(before, after)

    def _keep(self, before: Recording, after: Recording, said: str) -> str:
        """Store what a sentence changed; return why that failed, or ""."""
        plan, first = after.plan, min(before.made, after.made)
        assert plan is not None  # noqa: S101 - it is checked
        knots = Counter(count.knot for count in plan.counts[first : after.made])
        work = reduce(WorkAmount.and_also, starmap(ties, knots.items()), WorkAmount())
        change = change_between(before, after, said)
        try:
            self.sitting.say(said, change.to_data(), after.made, plan.total, work)
        except PieceError as error:
            return f"Not kept: {error}"
        kept = self.sitting.state.last
        if not (isinstance(kept, Said) and kept.said == said and kept.done == after.made):
            self._seq, self.record = self.sitting.state.seq, record_of(self.sitting.state)
            return "Something was said in another window meanwhile. Look, and say it again."
        self.record, self._seq = after, self.sitting.state.seq
        return f"Kept in memory only: {self.sitting.trouble}" if self.sitting.trouble else ""

    def refresh(self) -> bool:
        """Read what another terminal has said; return whether there was anything."""
        try:
            self.sitting.refresh()
        except PieceError:
            return False
        if self.sitting.state.seq == self._seq:
            return False
        self._seq, self.record = self.sitting.state.seq, record_of(self.sitting.state)
        return True

    def leave(self) -> None:
        """End the sitting; everything is stored already."""
        self.sitting.leave()

    def so_far(self) -> str:
        """Return how much is made, and its length."""
        plan = self.plan
        ties = sum(bool(count.knot) for count in plan.counts)
        if not self.record.blocks:
            return "Nothing knotted yet."
        long = f", about {show_length(plan.length_mm)} long" if plan.length_mm else ""
        over = " Finished." if self.record.over else ""
        return f"{counted(len(self.record.blocks), 'step')}, {counted(ties, 'tie')}{long}.{over}"

    def order(self) -> tuple[int, ...]:
        """Return the strands as they hang now, from the left."""
        return order_at(self.plan, self.made)

    def completions(self, begun: str) -> tuple[str, ...]:
        """Return the completions of what is typed, in the names of this piece."""
        return completions(begun, self._names())

    def _names(self) -> dict[str, str]:
        """Return the piece's own names for those in the examples."""
        project = self.plan.project
        cords = list(project.cords)
        names = {"reed": cords[0], "clay": cords[-1]} if cords else {}
        aside = [one.id for one in self.plan.strands if one.cord in cords[-1:]]
        names |= {"clay.1a": aside[0]} if aside else {}
        return names | ({"handle": next(iter(project.apart))} if project.apart else {})

    def _told(self, before: Recording, after: Recording) -> str:
        """Return the effect of a sentence on the work, in words."""
        if len(after.heads) > len(before.heads):
            return "Noted in the pattern."
        if after.over and not before.over:
            return f"Finished: {self.so_far().removesuffix(' Finished.')}"
        if len(after.blocks) < len(before.blocks):
            fewer = len(before.blocks) - len(after.blocks)
            ties = before.made - after.made
            return f"Unpicked {counted(fewer, 'step')}, {counted(ties, 'count')}."
        made = _knots(self.plan, before.made, after.made)
        return " ".join(filter(None, (capital(made), self.repeat())))

    def repeat(self) -> str:
        """Return which steps repeat at the end of the work, or ""."""
        blocks = self.record.blocks[-LOOKED_BACK:]
        seen = with_mirrors(blocks, self.plan, beyond=not self.record.over)
        entries = entries_of(seen, fold=True)
        last = entries[-1] if entries else ""
        if not isinstance(last, Repeat) or last.times == 1:
            return ""
        steps = "The last step" if len(last.part) == 1 else f"The last {len(last.part)} steps"
        mirrored = ", mirrored every second time" if last.alternates else ""
        return f"{steps} {last.times} times over{mirrored}: a repeat."


def _one_sentence(said: str) -> bool:
    """Return whether a sentence may mean several steps."""
    first = said.casefold().split(maxsplit=1)
    return bool(first) and (first[0] in ("the", "last") or ("," in said and first[0] == "again"))


def _knots(plan: Plan, first: int, end: int) -> str:
    """Return how many of each knot some counts are: `5 clove hitches, 2 square knots.`."""
    knots = Counter(count.knot for count in plan.counts[first:end] if count.knot)
    if not knots:
        return "Done."
    return f"{join_words([counted(many, knot) for knot, many in knots.items()])}."


OPENING: Final = "Say what you knotted, as in ‘row 1 to 6’. Everything is saved as you say it."

KEYS: Final = (
    ("enter", "Say what is written on the line. It is kept before the board shows it."),
    ("tab", "Complete the line with the first sentence offered, or the one that is marked."),
    ("down, up", "Mark one of the sentences offered; enter puts it on the line."),
    ("/", "On an empty line: find any form by a word of it."),
    ("w, then enter, or ctrl+s", "Write the project file so far: it names parts, and asks where."),
    ("escape", "Clear the line, or leave a question. It never leaves the piece."),
    ("ctrl+l", "Change the colours: dark, light, or the terminal's own."),
    ("ctrl+y", "Hear once more what came of the last sentence; ‘voice’ speaks after each."),
    ("a tap", "On a sentence offered: put it on the line. ‘mouse’ gives the mouse back."),
    ("f1", "This help."),
    ("q, then enter, or ctrl+q", "Leave. Everything is saved."),
)
"""The keys of the screen, and what each does."""

TOLD: Final = (
    "Positions count from 1 at the left, as the work hangs when you say it.",
    "‘again’, ‘again mirrored’ and ‘the last 2 steps, three times’ repeat what you said.",
    "Repeats and mirrored repeats are found in any case, and become parts when you write the file.",
    "‘unpick’ takes the last step back, ‘unpick 3 steps’ the last three.",
    "Several lines pasted at once are said in turn, up to the first that is not clear.",
)
_DEEDS: Final = (
    Action("w", "write", (), "write", "Write the project file so far."),
    Action("theme", "set", (), "theme", "Change the colours: dark, light, or the terminal's own."),
    Action("voice", "set", (), "voice", "Speak what comes of each sentence, or be silent."),
    Action("say", "look", (), "say again", "Hear once more what came of the last sentence."),
    Action("mouse", "set", (), "mouse", "Give the mouse back to the terminal for copying."),
    Action("q", "end", (), "leave", "Leave. Everything is saved."),
)


def return_message(left_ms: int | None, freehand: Freehand) -> str:
    """Return the message on opening a piece: when it was left, and its progress."""
    if left_ms is None or not freehand.record.blocks:
        return ""
    return f"Last worked on {moment_words(local_time(left_ms))}. {freehand.so_far()}"


def forms_as_actions(forms: Sequence[str]) -> Keys:
    """Return the forms of sentences and the other actions, searchable by word."""
    return Keys((*_DEEDS, *(Action(form, "write", (), form, "") for form in forms)))
