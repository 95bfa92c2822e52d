"""Adding one more sentence to a record, checked by compiling the result."""

import re
from collections.abc import Callable
from dataclasses import replace
from typing import Final

from coach.project import model
from coach.recording.head_sentences import head_of, own_knots
from coach.recording.record import Recording, check_recording, with_note
from coach.recording.repeat_folding import Block
from coach.recording.sentence_parser import step_of
from coach.recording.sentence_words import NUMBER, NotUnderstood, number_from_words
from coach.text import counted

_LONGEST: Final = re.compile(r"knotter: longest, strands: (?:\[[^]]*\]|[\w-]+)")
MOST_AT_ONCE: Final = 500
"""Steps that one sentence may say."""


def after_sentence(record: Recording, said: str) -> Recording:
    """Return the record after one more sentence. Raises NotUnderstood."""
    text = " ".join(said.strip().rstrip(".").split())
    for pattern, act in _ACTS:
        match = re.fullmatch(pattern, text, re.IGNORECASE)
        if match:
            return check_recording(act(record, match))
    head = None if re.search(r"[{}\[\]]", text) else head_of(text, record)
    if head:
        return check_recording(replace(record, heads=(*record.heads, head)))
    block = Block((step_of(said, own_knots(record)),), said=text)
    return _settled(check_recording(_with(record, block)))


def _settled(record: Recording) -> Recording:
    """Return a record whose last step names the strand that tied it, where the longest did.

    Which one is the longest depends on all that comes later; what is made stays as it was made.
    """
    last, plan = record.blocks[-1], record.plan
    step = last.steps[0]
    if plan is None or not step.startswith("knot:") or _LONGEST.search(step) is None:
        return record
    found = plan.steps[-2 if not record.over else -1].source
    if not isinstance(found, model.AroundKnot) or found.around is None:
        return record
    around = ", ".join(map(str, found.around.items))
    tied = f"knotter: {found.knotter.items[0]}, around: [{around}]"
    block = replace(last, steps=(_LONGEST.sub(tied, step),))
    return check_recording(replace(record, blocks=(*record.blocks[:-1], block)))


def _with(record: Recording, *blocks: Block) -> Recording:
    if len(blocks) > MOST_AT_ONCE:
        raise NotUnderstood(f"That is {len(blocks)} steps; say at most {MOST_AT_ONCE} at once.")
    return replace(record, blocks=(*record.blocks, *blocks), over=False)


def _again(record: Recording, match: re.Match[str]) -> Recording:
    """Repeat the last thing, mirrored if asked for."""
    if not record.blocks:
        raise NotUnderstood("Nothing is knotted yet that could be done again.")
    last = record.blocks[-1]
    block = replace(last, mirrored=not last.mirrored) if match["mirrored"] else last
    return _with(record, *[_by(block, match[0])] * _times(match))


def _last(record: Recording, match: re.Match[str]) -> Recording:
    """Repeat the last few things, in their order."""
    many, times = _number(match["many"] or "1"), _times(match)
    if many > len(record.blocks):
        raise NotUnderstood(_fewer(record))
    last = record.blocks[-many:]
    if match["mirrored"]:
        if any(block.mirrored for block in last):
            raise NotUnderstood("Some of these are mirrored already; say them one by one.")
        steps = tuple(step for block in last for step in block.steps)
        return _with(record, *[Block(steps, mirrored=True, said=match[0])] * times)
    if many * times > MOST_AT_ONCE:
        raise NotUnderstood(f"That is {many * times} steps; say at most {MOST_AT_ONCE} at once.")
    return _with(record, *[_by(block, match[0]) for block in last * times])


def _by(block: Block, said: str) -> Block:
    return replace(block, said=said)


def _times(match: re.Match[str]) -> int:
    times = _number(match["times"] or "1")
    if times > MOST_AT_ONCE:
        raise NotUnderstood(f"That is {times} times; say at most {MOST_AT_ONCE} at once.")
    return times


def _fewer(record: Recording) -> str:
    if not record.blocks:
        return "Nothing is knotted yet."
    return f"So far you have said {counted(len(record.blocks), 'step')}; name no more than that."


def _unpick(record: Recording, match: re.Match[str]) -> Recording:
    many = _number(match["many"] or "1")
    if many > len(record.blocks):
        raise NotUnderstood(_fewer(record))
    return replace(record, blocks=record.blocks[: len(record.blocks) - many], over=False)


def _note(record: Recording, match: re.Match[str]) -> Recording:
    """Add a note to the last step."""
    if not record.blocks:
        raise NotUnderstood("Nothing is knotted yet to write a note on.")
    *before, last = record.blocks
    return replace(record, blocks=(*before, with_note(last, match["words"])))


def _finished(record: Recording, match: re.Match[str]) -> Recording:
    del match
    if not record.blocks:
        raise NotUnderstood("Nothing is knotted yet.")
    return replace(record, over=True)


def _number(text: str) -> int:
    found = number_from_words(text.casefold())
    if not found:
        raise NotUnderstood(f"‘{text}’ is not a number I know. Say, for example, ‘three’.")
    return found


_MORE: Final = r"(?:,?\s*(?P<times>\w+)(?:\s+times)?)?"
_THINGS: Final = r"(?:rows?|steps?|things?|lines?|knots?)"
_LAST: Final = rf"(?:the )?last (?:(?P<many>\w+) )?{_THINGS}(?: again)?"
_ACTS: Final[tuple[tuple[str, Callable[[Recording, re.Match[str]], Recording]], ...]] = (
    (rf"again(?P<mirrored>,? mirrored)?{_MORE}", _again),
    (rf"{_LAST}(?P<mirrored>,? mirrored)?{_MORE}", _last),
    (rf"(?:unpick|undo)(?: the)?(?: last)?(?: (?P<many>{NUMBER}))?(?: {_THINGS})?", _unpick),
    (r"note:? (?P<words>.+)", _note),
    (r"(?:finished|the end|that is all)", _finished),
)
