"""A first project file from a few answers: commented, and sound as it stands."""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from textwrap import dedent
from typing import Final

_SQUARE: Final = 4


@dataclass(frozen=True, slots=True)
class DraftCord:
    """One cord as it was answered: `colour` and `diameter` as they are to be written."""

    name: str
    colour: str
    diameter: str
    pieces: int


@dataclass(frozen=True, slots=True)
class Answers:
    """What a maker said of the piece; `on` is what it hangs on."""

    title: str
    kind: str
    on: str
    cords: Sequence[DraftCord]

    @property
    def strands(self) -> int:
        """How many strands hang: every piece is folded in the middle."""
        return 2 * sum(cord.pieces for cord in self.cords)


def draft(answers: Answers, schema: str) -> str:
    """Return the text of a project file; `schema` is where editors find what may stand in it."""
    pieces = ", ".join(
        f"{cord.pieces} {cord.name}" if cord.pieces > 1 else cord.name for cord in answers.cords
    )
    return "".join(
        (
            f"# yaml-language-server: $schema={schema}\n",
            "# `coach check --watch` with this file tells on every save what it thinks.\n",
            "coach: 1\n",
            f"title: {_quoted(answers.title)}\n",
            "about: One line saying what it is and for whom.\n",
            f"kind: {answers.kind}          # brings the usual cautions for such a thing\n",
            "tools: [scissors, tape measure, board, pins]\n",
            "\n# Each cord by a name of your own. A piece is a cut length: folded, two strands.\n",
            "cords:\n",
            *(_cord(cord) for cord in answers.cords),
            "\n# How they hang: laid over each other and folded together, the first outermost.\n",
            f"start:\n  nest: [{pieces}]\n  on: {answers.on}\n",
            "# margin: 15 %          # added to every cut; left out, 95 in 100 pieces reach\n",
            _work(answers.strands),
        )
    )


def _quoted(text: str) -> str:
    """Return text in double quotes, which no sign in it can end."""
    return json.dumps(text, ensure_ascii=False)


def _cord(cord: DraftCord) -> str:
    look = f"colour: {_quoted(cord.colour)}, fibre: cotton, diameter: {_quoted(cord.diameter)}"
    return f"  {cord.name}: {{{look}, pieces: {cord.pieces}, tail: 8 cm}}\n"


def _work(strands: int) -> str:
    body = dedent(
        f"""
        # The work, step by step. Positions count from 1 at the left, as the strands lie then.
        work:
          - do: Pin the fold to the board so that the strands hang towards you.
          - use: motif
            times: 6
            mirror: every second  # every second one with left and right exchanged
          - measure: length
          - knot: overhand knot
            strands: all
          - trim: all
            leave: 3 cm

        parts:
          motif:
            - row: clove hitch    # the holder lies across; those it crosses tie onto it
              holder: 1
              across: {f"2-{strands}" if strands > 2 else "2"}
        """  # noqa: PLR2004 - a row over one strand has no range
    )
    groups = strands // _SQUARE * _SQUARE
    if groups:
        body += f"    - knot: square knot\n      groups: 1-{groups} by 4\n      times: 2\n"
    return body + dedent(
        """
        # What changes when somebody wants it longer: `coach plan FILE --length 20cm`.
        size:
          vary: motif
          least: 2
          step: 2
        """
    )
