"""The text of a new project file: commented, and sound as it stands."""

import json
from collections.abc import Iterable, Iterator
from typing import Final

from coach.project.drafts.answers import Answers, DraftCord
from coach.project.drafts.designs import DESIGNS, MOTIF, Design, motif_of

SCHEMA: Final = "format-1.schema.json"
"""The file beside the project that tells an editor what may stand in it."""


def draft(answers: Answers, amount: int) -> str:
    """Return the text of a project file.

    Args:
        answers: The maker's answers.
        amount: How often the motif is made; for a hanger how long its shoulder is, in mm.
    """
    design = DESIGNS[answers.kind]
    return "\n".join((*_lines(answers, design, amount), ""))


def _lines(answers: Answers, design: Design, amount: int) -> Iterator[str]:
    yield f"# yaml-language-server: $schema={SCHEMA}"
    yield "# The schema stands beside this file; `coach new FILE --schema` puts it there again."
    yield "# `coach check --watch` with this file tells on every save what it thinks."
    yield from ("coach: 1", f"title: {_quoted(answers.title)}")
    yield "about: One line saying what it is and for whom."
    yield f"kind: {design.kind}          # brings the usual cautions for such a thing"
    yield from design.head
    yield from (
        "",
        "# Each cord by a name of your own. A piece is a cut length: folded, two strands.",
    )
    yield from ("cords:", *(_cord(cord, design) for cord in answers.cords))
    yield from ("", _HUNG[design.hung], "start:")
    yield from _indented((f"{design.hung}: [{_pieces(answers, design)}]", f"on: {answers.on}",
                          *design.start))  # fmt: skip
    yield "# margin: 15 %          # added to every cut; left out, 95 in 100 pieces reach"
    yield "\n# The work, step by step. Positions count from 1 at the left, as the strands lie then."
    yield from ("work:", *_steps(design.work(answers, amount)))
    yield from ("", "parts:", f"  {MOTIF}:", *_indented(_steps(motif_of(answers))))
    apart = design.apart(answers)
    if apart:
        yield from ("", "# Made by themselves, and attached by a step of the work.", "apart:")
        yield from _indented(apart)
    yield "\n# The length to be reached, and what changes for it: `coach plan FILE --length 20cm`."
    yield from ("size:", f"  wish: {_quoted(answers.length)}", f"  vary: {design.vary}")


_HUNG: Final = {
    "nest": "# How they hang: laid over each other and folded together, the first outermost.",
    "hang": "# How they hang: each folded and hung by itself, from the left.",
}


def _indented(lines: Iterable[str]) -> Iterator[str]:
    return (f"  {line}" for line in lines)


def _steps(steps: Iterable[str]) -> Iterator[str]:
    return (f"  - {step}" for step in steps)


def _quoted(text: str) -> str:
    """Return text as a double-quoted YAML scalar."""
    return json.dumps(text, ensure_ascii=False)


def _cord(cord: DraftCord, design: Design) -> str:
    look = f"colour: {_quoted(cord.colour)}, fibre: cotton, diameter: {_quoted(cord.diameter)}"
    fold = ", fold: fit" if design.hung == "hang" else ""
    return f"  {cord.name}: {{{look}{fold}, tail: 8 cm}}"


def _pieces(answers: Answers, design: Design) -> str:
    """Return the pieces as they are hung: a stripe of each cord, or alike in every four strands."""
    number = answers.strands // 2
    if design.alike:
        pair = [cord.name for cord in answers.cords[:2]]
        return ", ".join(pair[n % len(pair)] for n in range(number))
    cords = answers.cords[:number]
    each, more = divmod(number, len(cords))
    found = [(cord.name, each + (0 if n else more)) for n, cord in enumerate(cords)]
    return ", ".join(f"{many} {name}" if many > 1 else name for name, many in found)
