"""`coach knot FILE --plain`: the bench as plain lines, for screen readers and simple terminals."""

import sys
from collections.abc import Iterable
from dataclasses import replace
from shutil import get_terminal_size
from textwrap import wrap
from typing import Final

from coach.piece import Clock, Sitting
from coach.plain_ui.walk import PlainWalk
from coach.plan.plan_model import Plan
from coach.plan.wording.strand_names import cord_look
from coach.report.plan_report import report_of
from coach.report.report_phrases import cut_words, promise, size_line
from coach.session import unsaved_counts
from coach.session.announcer import Spoken
from coach.session.controller import BenchController
from coach.session.keymap import Keys
from coach.session.ports import Aids, OnBench
from coach.settings.overrides import Kept
from coach.text import one_line

_LEAST_COLUMNS: Final = 20  # of a terminal that says less, nothing is known


def walk(on_bench: OnBench, clock: Clock, keys: Keys, aids: Aids) -> int:
    """Work a piece by lines from the input until it ends or the maker leaves.

    Lines from a pipe are no bouncing keys, so there is no bounce time then.

    Args:
        on_bench: The piece.
        clock: Tells the time.
        keys: The keys as they are set.
        aids: Settings, speech and the like.

    Returns:
        The exit status, 0.
    """
    if not sys.stdin.isatty():
        aids.kept.now = replace(aids.kept.now, bounce_ms=0)
    hand = _InHand(clock, keys, aids)
    plain = PlainWalk(
        hand.take_up(on_bench), lambda: cut_lines(hand.at.plan, aids.kept),
        lambda: looks_lines(plain.work.plan, aids.kept),
        ending=lambda: hand.at.ending, take_up=hand.take_up,
    )  # fmt: skip
    _write(plain.begin())
    try:
        _answer(plain, hand)
    finally:
        if not plain.left:
            plain.work.leave()
        _keep_rest(hand.at.sitting)
        if aids.voice:
            aids.voice.close()
    return 0


class _InHand:
    """The current piece, once one is opened; another one can follow it."""

    at: OnBench
    watch: unsaved_counts.Watch
    spoken: Spoken

    def __init__(self, clock: Clock, keys: Keys, aids: Aids) -> None:
        self._clock, self._keys, self.aids = clock, keys, aids

    def take_up(self, opened: OnBench) -> BenchController:
        """Make an opened piece the current one, and return its controller."""
        work = BenchController.on(opened, self._clock, self._keys, self.aids)
        self.at, self.watch = opened, unsaved_counts.Watch(opened.sitting)
        self.spoken = Spoken(work.plan, work.settings.speech_every)
        return work


def _answer(plain: PlainWalk, hand: _InHand) -> None:
    """Answer each line typed until the maker leaves."""
    voice = hand.aids.voice
    for typed in _typed():
        _write(plain.answer(typed))
        _write(filter(None, [hand.watch.line()]))
        if plain.left:
            break
        hand.at.sitting.settle()  # hands are knotting now, so nobody waits for the disk
        if voice and plain.work.settings.speech:
            voice.say(hand.spoken.words(plain.work.view()))
            _write(filter(None, [voice.trouble()]))


def _keep_rest(sitting: Sitting) -> None:
    """Write counts that could not be stored to another place, and tell of it."""
    if unsaved_counts.must_ask_before_leaving(sitting):
        path = unsaved_counts.rescue(sitting)
        _write([unsaved_counts.leave_question(sitting)])
        _write([unsaved_counts.written_message(path)] if path else [])


def cut_lines(plan: Plan, kept: Kept) -> list[str]:
    """Return the cut list in plain lines."""
    units = kept.now.units
    report = report_of(plan, unit=units)
    lines = [cut_words(pieces, units) for cord in report.cords for pieces in cord.pieces]
    return [*lines, promise(report)]


def looks_lines(plan: Plan, kept: Kept) -> list[str]:
    """Return a description of the finished piece: kind, size, cords."""
    report = report_of(plan, unit=kept.now.units)
    cords = (f"{one.cord.id}, {cord_look(one.cord)}" for one in report.cords)
    told = [report.title, report.about, size_line(report.size, report.unit), *cords]
    return [*filter(None, told)]


def _typed() -> Iterable[str]:
    """Yield the lines typed."""
    while line := sys.stdin.readline():
        yield line


def wrap_words(line: str, columns: int) -> list[str]:
    """Return a line wrapped between words to a number of columns; 0 wraps nothing."""
    whole = one_line(line)
    if columns < _LEAST_COLUMNS:
        return [whole]
    return wrap(whole, columns, break_long_words=False, break_on_hyphens=False) or [""]


def _write(lines: Iterable[str]) -> None:
    """Print lines, wrapped for a terminal and whole for a pipe."""
    columns = get_terminal_size().columns if sys.stdout.isatty() else 0
    for line in lines:
        print("\n".join(wrap_words(line, columns)))
    sys.stdout.flush()
