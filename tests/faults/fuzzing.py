"""Throws wrong projects at the reader and the planner, and measures time and memory.

`python tests/faults/fuzzing.py CASES SEED [SECONDS]` runs by hand what the test runs in small.

Needs POSIX: limits of the system.
"""

import random
import resource
import string
import sys
import time
from collections import Counter
from dataclasses import dataclass, field
from math import inf
from pathlib import Path

from coach.plan.from_text import read_plan
from coach.text import unseen
from coach.yaml_reader.render import as_json, as_lines

PROJECTS = sorted((Path(__file__).parents[2] / "projects").glob("*.yaml"))
MOST_S = 2.0
MOST_MB = 300
NUMBERS = [
    "0", "-1", "1", "2", "3", "4", "7", "16", "17", "99", "250", "5000000",
    "1000000000", "99999999999999999999", "1e9", "1_000", "0x10", "10,5", "1/0", "inf",
    "nan", "~", "yes", "'4'", "[4]", "{4: 4}", "1-4", "4-1", "1-9999", "1-16 by 4", "all",
    "1-16 by 0", "16-1 by 4", "[1, 1]", "[[1, 2], [3, 4]]", "9 cm", "9999999 km", "0 mm",
]  # fmt: skip
LARGE = ["1000", "4999", "60000", "100000", "249999"]  # may still be planned, and takes long
RARELY = 0.01
WORDS = [
    "square knot",
    "half knot",
    "clove hitch",
    "reverse clove hitch",
    "lark's head",
    "josephine knot",
    "berry knot",
    "gathering knot",
    "barrel knot",
    "overhand knot",
    "half hitch chain",
    "braid",
    "motif",
    "reed",
    "clay",
    "none",
    "all",
    "every second",
    "level",
    "slant",
    "even",
    "narrow",
    "widen",
    "middle",
    "fit",
    "ring",
    "dowel",
    "pinned",
    "piece",
    "pin",
    "length",
    "width",
]
STEPS = [
    "- {row: clove hitch, holder: 1, across: 2-4, times: 3}",
    "- {weave: 1, across: 2-4, knots: [3 clove hitch]}",
    "- {knot: square knot, groups: 1-4 by 4, times: 300}",
    "- {net: 1-4 by 4, of: square knot, rows: 90}",
    "- {braid: 1-3, crossings: 900}",
    "- {turn: 2, around: 1}",
    "- {cross: [2, 1]}",
    "- {space: 3 cm}",
    "- {picot: 15 mm, strands: 1}",
    "- {bead: 2-3, size: 8 mm}",
    "- {add: [clay], at: 1}",
    "- {lay aside: 1}",
    "- {take up: reed.1a, at: 1}",
    "- {flip: piece}",
    "- {seam: 2}",
    "- {wait: 10 min}",
    "- {trim: all, leave: 1 cm}",
    "- {do: Breathe., takes: 1 min}",
    "- {use: strap, times: 1000000}",
    "- {use: motif, mirror: every second, times: 40}",
    "- {each: 1-4 by 2, steps: [{each: 1-2 by 1, steps: [{turn: 1, around: pin}]}]}",
    "- {knot: gathering knot, wrap: clay, around: all, length: 3 cm}",
    "- {knot: barrel knot, strands: 1, turns: 999999}",
    "- {measure: length, expect: 7 cm}",
]
ODD = [
    "\x1b[31m",
    "\u202e",
    "\x00",
    "\x85",
    "\ufeff",
    "\u2028",
    "[/]",
    "[b]",
    "\U000e0041",
    "é",
    "\t",
]


@dataclass
class Found:
    """What came of the cases: how they ended, the extremes, and what should not have been."""

    cases: int = 0
    ends: Counter[str] = field(default_factory=Counter)
    slowest_s: float = 0.0
    slowest: str = ""
    longest_mm: float = 0.0
    wrong: list[tuple[str, str]] = field(default_factory=list)

    @property
    def memory_mb(self) -> float:
        """The most memory that this process ever had, in MiB."""
        return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def mutated(text: str, rng: random.Random) -> str:
    """Return a project with one to six things in it put wrong."""
    for _ in range(rng.choice([1, 1, 1, 2, 3, 6])):
        text = rng.choice(MUTATIONS)(text, rng)
    return text


def _number(text: str, rng: random.Random) -> str:
    many = rng.random() < RARELY
    return _at_token(text, rng, "0123456789", rng.choice(LARGE if many else NUMBERS))


def _word(text: str, rng: random.Random) -> str:
    return _at_token(text, rng, string.ascii_letters, rng.choice(WORDS))


def _at_token(text: str, rng: random.Random, of: str, instead: str) -> str:
    """Put something in place of a run of these characters."""
    places = [i for i, c in enumerate(text) if c in of and (i == 0 or text[i - 1] not in of)]
    if not places:
        return text
    at = end = rng.choice(places)
    while end < len(text) and text[end] in of:
        end += 1
    return text[:at] + instead + text[end:]


def _characters(text: str, rng: random.Random) -> str:
    at = rng.randrange(len(text) + 1)
    sign = rng.choice([*"[]{}:,-#&*!|>'\"%@`?\n \t", *ODD])
    return text[:at] + sign + text[at + rng.randrange(3) :]


def _line_moved(text: str, rng: random.Random) -> str:
    lines = text.split("\n")
    line = lines.pop(rng.randrange(len(lines))) if len(lines) > 1 else text
    again = [line] * rng.choice([0, 1, 1, 2, 40])
    at = rng.randrange(len(lines) + 1)
    return "\n".join([*lines[:at], *again, *lines[at:]])


def _indented(text: str, rng: random.Random) -> str:
    lines = text.split("\n")
    at = rng.randrange(len(lines))
    lines[at] = rng.choice(["  ", "    ", "", " "]) + lines[at].strip()
    return "\n".join(lines)


def _step_added(text: str, rng: random.Random) -> str:
    lines = text.split("\n")
    places = [i for i, line in enumerate(lines) if line.lstrip().startswith("- ")]
    if not places:
        return text
    at = rng.choice(places)
    indent = " " * (len(lines[at]) - len(lines[at].lstrip()))
    return "\n".join([*lines[:at], indent + rng.choice(STEPS), *lines[at:]])


def _cut(text: str, rng: random.Random) -> str:
    return text[: rng.randrange(len(text) + 1)]


MUTATIONS = [_number, _number, _number, _word, _characters, _line_moved, _indented, _step_added,
             _step_added, _cut]  # fmt: skip


def try_text(text: str, found: Found) -> None:
    """Read and plan one text; whatever it does but answer soon and harmlessly is put down."""
    found.cases += 1
    begun = time.process_time()
    try:
        reading = read_plan(text)
        found.longest_mm = max(found.longest_mm, reading.plan.length_mm if reading.plan else 0.0)
        shown = "\n".join(as_lines("x", text, reading.problems)) + str(
            as_json("x", reading.problems)
        )
    except Exception as error:  # noqa: BLE001 - any at all is what is looked for
        found.wrong.append((f"{type(error).__name__}: {error}", text))
        return
    took_s = time.process_time() - begun
    if took_s > found.slowest_s:
        found.slowest_s, found.slowest = took_s, text
    if took_s > MOST_S:
        found.wrong.append((f"took {took_s:.1f} s", text))
    if unseen(shown):
        found.wrong.append(("shows what acts on a terminal", text))
    if reading.plan is None and not reading.problems:
        found.wrong.append(("neither plan nor problem", text))
    found.ends["planned" if reading.plan else "refused"] += 1


def run(cases: int, seed: int, most_s: float = inf) -> Found:
    """Try so many mutations of the real projects, or as many as fit into a time."""
    rng = random.Random(seed)  # noqa: S311 - no secrets
    texts = [path.read_text(encoding="utf-8") for path in PROJECTS]
    found = Found()
    end_s = time.monotonic() + most_s
    while found.cases < cases and time.monotonic() < end_s:
        try_text(mutated(rng.choice(texts), rng), found)
    return found


def main() -> int:
    found = run(int(sys.argv[1]), int(sys.argv[2]), float([*sys.argv, "inf"][3]))
    ends = ", ".join(f"{number:,} {end}" for end, number in found.ends.items())
    sys.stdout.write(
        f"{found.cases:,} cases: {ends}; slowest {found.slowest_s:.2f} s, "
        f"most memory {found.memory_mb:.0f} MB, wrong: {len(found.wrong)}\n"
    )
    for what, text in found.wrong[:20]:
        sys.stdout.write(f"--- {what}\n{text!r}\n")
    return 1 if found.wrong or found.memory_mb > MOST_MB else 0


if __name__ == "__main__":
    sys.exit(main())
