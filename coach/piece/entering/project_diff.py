"""The difference an edited project file makes to a piece under way."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from difflib import SequenceMatcher
from typing import Final
from zlib import crc32

from coach.piece.changes.effective_plan import (
    AT_THE_BENCH,
    in_force,
    is_same_so_far,
    plan_after,
    plan_at_start,
)
from coach.piece.changes.repeats import CannotFollow, unmet
from coach.piece.clock import Clock
from coach.piece.event_bounds import checked_event
from coach.piece.events import Happening, KeptProject, TookProject
from coach.piece.folding import fold
from coach.piece.open_piece import OpenPiece
from coach.piece.storage.read_piece import read_state, the_piece
from coach.piece.storage.store import Store
from coach.plan.plan_model import Plan
from coach.plan.wording.place_words import step_line
from coach.text import join_words

MOST_LINES: Final = 12
_MOST_COMPARED: Final = 1500  # steps that differ; comparing takes the square of them


@dataclass(frozen=True, slots=True)
class ProjectChange:
    """What an edited project means for a piece.

    `text` and `plan` are the edited project, `told` what changed in words. `same` says that all
    that is tied is tied alike in both. `place` is the count in the new plan that the piece would
    be set to. `refused` says why the piece cannot take it over, if it cannot. With `choices` 1, the
    choices made at the bench hold in it too.
    """

    text: str
    plan: Plan
    told: tuple[str, ...]
    same: bool
    place: int
    refused: str = ""
    choices: int = 0


def change_for(piece: OpenPiece, new: Plan, text: str) -> ProjectChange:
    """Compare an edited project with a piece's own, both fitted as the piece was.

    Args:
        piece: The piece, with the plan that it began with and the one that it follows.
        new: The plan of the edited project, not fitted yet.
        text: That project's text.
    """
    state = piece.state
    try:
        new = plan_at_start(new, state.happenings)
    except CannotFollow as error:
        why = f"It would have to be fitted as this piece was. {error}"
        return ProjectChange(text, new, (), same=False, place=0, refused=why)
    chosen = _as_chosen(new, state.happenings)
    change = compare(piece.base, new, text, state.done, piece.plan)
    if chosen is not None and is_same_so_far(piece.plan, chosen, state.done):
        told = change.told
        change = replace(compare(piece.base, chosen, text, state.done, piece.plan), told=told)
        change = replace(change, choices=1)
    missing = [
        f"{name}: not in it any more, so the piece is not fitted there as it was"
        for name in unmet(new.project, state.happenings)
    ]
    return replace(change, told=(*missing, *change.told))


def _as_chosen(new: Plan, happenings: Sequence[Happening]) -> Plan | None:
    """Return a plan with the choices made at the bench, None without any that fit it."""
    chosen = [one for one in in_force(happenings) if isinstance(one, AT_THE_BENCH)]
    try:
        return plan_after(new, chosen) if chosen else None
    except CannotFollow:
        return None


def compare(old: Plan, new: Plan, text: str, done: int, tied: Plan | None = None) -> ProjectChange:
    """Compare an edited project with the one that a piece was begun with.

    Args:
        old: The plan of the project before.
        new: The plan of the edited one.
        text: Its text.
        done: How many counts are made.
        tied: The plan that they were made by, where that is not `old`.
    """
    tied = tied or old
    same = is_same_so_far(tied, new, done) and _hung(old) == _hung(new)
    told = [*_cords(old, new), *_hanging(old, new), *_repeats(old, new), *_steps(old, new)]
    if not told:
        told = ["Only words, measures or times were edited; every tie is as before."]
    if len(told) > MOST_LINES:
        told[MOST_LINES - 1 :] = [f"and {len(told) - MOST_LINES + 1} more places"]
    return ProjectChange(text, new, tuple(told), same, done if same else _nearest(tied, new, done))


def text_sum(text: str) -> int:
    """Return the checksum by which a project's text is recognized once it was declined."""
    return crc32(text.encode("utf-8", "surrogatepass"))


def adopt_project(store: Store, clock: Clock, piece_id: int, change: ProjectChange) -> None:
    """Set a piece to the edited project, at its place there.

    Args:
        store: The store of pieces.
        clock: Tells the time of the event.
        piece_id: The piece's number in the database.
        change: The edited project, and the place in it.

    Raises:
        PieceError: It cannot be stored.
    """
    _record(store, piece_id, TookProject(
        at_ms=clock.now_ms(), tick_ms=clock.tick_ms(), sitting=0, project_text=change.text,
        total=change.plan.total, done=change.place, choices=change.choices,
    ))  # fmt: skip


def keep_own_project(store: Store, clock: Clock, piece_id: int, change: ProjectChange) -> None:
    """Keep a piece's own project; this edit is not asked about again.

    Args:
        store: The store of pieces.
        clock: Tells the time of the event.
        piece_id: The piece's number in the database.
        change: The edited project.

    Raises:
        PieceError: It cannot be stored.
    """
    _record(store, piece_id, KeptProject(
        at_ms=clock.now_ms(), tick_ms=clock.tick_ms(), sitting=0, declined=text_sum(change.text),
    ))  # fmt: skip


def _record(store: Store, piece_id: int, event: TookProject | KeptProject) -> None:
    with store.atomic():
        state = read_state(store, the_piece(store, piece_id))
        store.append(piece_id, fold(state, checked_event(event, state)), event)


def _hung(plan: Plan) -> list[str]:
    return [plan.strands[strand].id for strand in plan.start]


def _cords(old: Plan, new: Plan) -> Iterator[str]:
    before, now = old.project.cords, new.project.cords
    for name in (*before, *(name for name in now if name not in before)):
        if name not in now:
            yield f"cord {name}: left out"
        elif name not in before:
            yield f"cord {name}: new"
        else:
            was, new_one = before[name], now[name]
            pairs = (
                ("mm thick", was.diameter_mm, new_one.diameter_mm),
                ("", was.colour_name, new_one.colour_name),
                ("", was.fibre, new_one.fibre),
            )
            changed = [_changed(f"{b} {unit}".strip(), str(a)) for unit, a, b in pairs if a != b]
            if changed:
                yield f"cord {name}: {join_words(changed)}"


def _changed(now: str, was: str) -> str:
    """Return how a value changed in words; colour and fibre may be missing on either side."""
    if not now:
        return f"{was} no longer given"
    return f"{now}, was {was}" if was else f"{now}, not given before"


def _hanging(old: Plan, new: Plan) -> Iterator[str]:
    if _hung(old) != _hung(new):
        strands = [new.strands[strand].cord for strand in new.start]
        yield f"at the start {len(strands)} strands hang: {join_words(_runs(strands))}"


def _runs(cords: Sequence[str]) -> list[str]:
    """Return cords from the left, with neighbours of one kind merged."""
    runs: list[list[str]] = []
    for cord in cords:
        if runs and runs[-1][0] == cord:
            runs[-1].append(cord)
        else:
            runs.append([cord])
    return [f"{len(run)} {run[0]}" for run in runs]


def _repeats(old: Plan, new: Plan) -> Iterator[str]:
    for part, times in new.repeats.items():
        was = old.repeats.get(part)
        if was is not None and was != times:
            yield f"{part}: made {times} times, was {was}"


def _steps(old: Plan, new: Plan) -> Iterator[str]:
    """Yield the steps that differ, each change once with its number of times."""
    before, now = _keys(old), _keys(new)
    changes: Counter[str] = Counter()
    for kind, i, j, k, m in _opcodes(before, now):
        if kind == "replace" and j - i == m - k:
            for one, other in zip(range(i, j), range(k, m), strict=True):
                line = f"{_place(new, other)}: {_line(new, other)}, was {_line(old, one)}"
                changes[line] += 1
        elif kind != "equal":
            changes.update(f"left out: {_line(old, one)}" for one in range(i, j))
            changes.update(f"new: {_line(new, one)}" for one in range(k, m))
    for line, times in changes.items():
        yield f"{line} ({times} times)" if times > 1 else line


def _keys(plan: Plan) -> list[tuple[object, ...]]:
    """Return for each step what identifies it: its ties, by the strands' own names."""
    ids = [strand.id for strand in plan.strands]
    return [
        (
            step_line(plan, step.index), step.counts,
            tuple(ids[strand] for group in step.groups for strand in group),
        )
        for step in plan.steps
    ]  # fmt: skip


def _opcodes(
    before: Sequence[object], now: Sequence[object]
) -> list[tuple[str, int, int, int, int]]:
    """Return the edits from one list of steps to another; very long changes are merged into one."""
    first = 0
    most = min(len(before), len(now))
    while first < most and before[first] == now[first]:
        first += 1
    last = 0
    while last < most - first and before[-1 - last] == now[-1 - last]:
        last += 1
    inside, other = before[first : len(before) - last], now[first : len(now) - last]
    head = [("equal", 0, first, 0, first)]
    tail = [("equal", len(before) - last, len(before), len(now) - last, len(now))]
    if max(len(inside), len(other)) > _MOST_COMPARED:
        middle = [("replace", first, len(before) - last, first, len(now) - last)]
    else:
        middle = [
            (kind, i + first, j + first, k + first, m + first)
            for kind, i, j, k, m in SequenceMatcher(
                None, inside, other, autojunk=False
            ).get_opcodes()
        ]
    return [*head, *middle, *tail]


def _nearest(old: Plan, new: Plan, done: int) -> int:
    """Return the count in the new plan after the work most like what was made last."""
    same = {}
    for kind, i, j, k, _ in _opcodes(_keys(old), _keys(new)):
        if kind == "equal":
            same.update({i + n: k + n for n in range(j - i)})
    at_hand = old.step_at(done)
    if at_hand and at_hand.index in same:
        return new.steps[same[at_hand.index]].first + done - at_hand.first
    last = at_hand.index - 1 if at_hand else len(old.steps) - 1
    for index in range(last, -1, -1):
        if index in same:
            return new.steps[same[index]].end
    return 0


def _place(plan: Plan, index: int) -> str:
    """Return the part and the step within it, without the number of its repeat."""
    visit = plan.steps[index].trail[-1]
    return f"{visit.name or 'work'}, step {visit.step}"


def _line(plan: Plan, index: int) -> str:
    step, line = plan.steps[index], step_line(plan, index)
    several = step.counts > 1 and plan.counts[step.first].knot
    told = line.endswith((" times", " twice"))
    return f"{line} ({step.counts} ties)" if several and not told else line
