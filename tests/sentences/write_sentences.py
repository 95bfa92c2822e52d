"""Write every sentence that the program can say into one file, to be read from top to bottom.

Run it from the top of the checkout, with the checkout on PYTHONPATH, after reading what changed:

    python tests/sentences/write_sentences.py

Sentences about steps are those of all built-in projects, on the bench, in short lines and in print,
in centimetres and inches; of many that differ in numbers and cords only, the first stands for all.
The others are the texts of the code, with what is filled in as `{name}`, in the order of the code.
"""

import ast
import re
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Final

from coach.cli.project_finder import shipped_projects
from coach.plain_ui.plain_commands import help_lines
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan
from coach.plan.wording.cord_order_words import from_left
from coach.plan.wording.place_words import place_in_piece, step_line
from coach.plan.wording.sentences import step_sentence
from coach.quantities.formatting import in_units
from coach.report.plan_report import report_of
from coach.session.keymap import ACTIONS
from coach.words.hanging import hanging_instructions
from coach.words.instructions import instructions
from coach.words.sheet import as_words
from coach.yaml_reader.file_loader import load

HOME: Final = Path(__file__).parents[2]
REVIEWED: Final = Path(__file__).with_name("reviewed.txt")
_WORDLESS: Final = re.compile(r"[\W\d_]*")
_NO_TEXT: Final = re.compile(
    r"^[A-Z_ ,]+$|^[<#(/&.]|--?\w+;|^\w+(?:[./]\w+)+$|\| None|^\w+\[|=[0-9a-f]{6}|@page"
    r"|\b(?:SELECT|CREATE|INSERT|DELETE|ALTER|DROP|REPLACE|PRAGMA|WHERE|ORDER BY|SET) [\w({*]"
)
_KINDS: Final = """
row: clove hitch, holder: 1, across: 2-6, lie: slant
row: clove hitch, holder: 1, across: all, times: 2, lie: level
row: clove hitch, holder: 3, across: 2
row: reverse clove hitch, knotter: 6, across: 5-1, first: over
row: clove hitch, holder: dowel, across: 1-4
weave: 1, across: 2-4, knots: [1 clove hitch, 2 reverse clove hitch]
knot: square knot, groups: 1-6 by 3, times: 2
knot: half knot, strands: 1-3, times: 2
knot: square knot, strands: all, with: clay, times: 2
knot: half hitch chain, strands: 1-2, times: 6
knot: josephine knot, strands: 1-4, size: 3 cm
knot: berry knot, strands: 1-4, of: 3
knot: overhand knot, strands: all
knot: overhand knot, strands: 1
knot: gathering knot, wrap: clay, around: all, length: 6 mm
knot: lark's head, knotter: 1, around: 2-3, times: 6
knot: barrel knot, knotter: 1, around: 2, turns: 4
knot: barrel knot, strands: 1, turns: 4
net: 1-6 by 2, of: square knot, rows: 3, gap: 2 cm
net: 1-6 by 2, of: square knot, rows: 2, sides: narrow
braid: [1-2, 3, 4], crossings: 7
braid: 1-3, length: 12 cm
turn: 2, around: 1
turn: 2, around: pin
cross: [2, 3, 1]
cross: [1, 2]
space: 3 cm, groups: 1-6 by 3
picot: 15 mm, strands: 1-2
bead: 1, size: 8 mm
add: [2 clay], at: 1, onto: 1
add: [clay], at: 2
add: [clay], at: 2, onto: 1, by: looped through
lay aside: 1-2
flip: piece
measure: length, expect: 7 cm
wait: 10 min
trim: 1-3, leave: 1 cm
trim: all, leave: 2 cm, middle: 4 cm
each: 1-6 by 3, mirror: every second, steps: [{space: 1 cm}]
"""
_HEAD: Final = (
    "coach: 1\ntitle: Tide\ncords: {reed: {diameter: 2 mm}, clay: {diameter: 2 mm}}\n"
    "start: {nest: [reed, clay, reed]}\n"
)


def sentences() -> list[str]:
    """Return all lines of the file: headings, and the sentences under them."""
    found: list[str] = []
    plans = [plan for path in shipped_projects() if (plan := read_plan(load(path).text or "").plan)]
    kinds, keys = [*_of_each_kind()], [f"{a.short}: {a.help}" for a in ACTIONS]
    for title, told in (
        ("Each kind of step, on the bench", _at_bench(kinds)),
        ("Each kind of step, in print", (i.text for plan in kinds for i in instructions(plan))),
        ("What each key does", iter(keys)),
        ("Plain words", iter(help_lines())),
        ("On the bench, in centimetres", _at_bench(plans)),
        ("On the bench, in inches, where lengths are said", _in_inches(plans)),
        ("A step in one line, and its place", _in_lines(plans)),
        ("In print", _in_print(plans)),
    ):
        found += [f"# {title}", "", *_without_likes(told, _cords(plans)), ""]
    for folder, texts in _in_code().items():
        found += [f"# {folder}", "", *texts, ""]
    return found


def _of_each_kind() -> Iterator[Plan]:
    """Yield a plan for each kind of step, and one in which it is mirrored."""
    for step in _KINDS.strip().splitlines():
        for mirror in ("none", "all"):
            work = f"parts: {{shore: [{{{step}}}]}}\nwork: [{{use: shore, mirror: {mirror}}}]\n"
            reading = read_plan(_HEAD + work)
            assert reading.plan, (step, [problem.message for problem in reading.problems])
            yield reading.plan


def _cords(plans: list[Plan]) -> re.Pattern[str]:
    names = {cord for plan in plans for cord in plan.project.cords}
    return re.compile(rf"\b(?:{'|'.join(sorted(names))})\b")


def _without_likes(texts: Iterator[str], cords: re.Pattern[str]) -> list[str]:
    """Return one of the texts that differ only in their numbers and cords, in order."""
    kept: dict[str, str] = {}
    for text in sorted(set(texts)):
        kept.setdefault(cords.sub("@", re.sub(r"\d+", "#", text)), text)
    return sorted(kept.values())


def _at_bench(plans: list[Plan]) -> Iterator[str]:
    for plan in plans:
        for done in range(plan.total + 1):
            yield step_sentence(plan, done)


def _in_inches(plans: list[Plan]) -> Iterator[str]:
    return (told for text in set(_at_bench(plans)) if (told := in_units(text, "in")) != text)


def _in_lines(plans: list[Plan]) -> Iterator[str]:
    for plan in plans:
        for step in plan.steps:
            yield step_line(plan, step.index)
            yield " > ".join(place_in_piece(plan, step.first))


def _in_print(plans: list[Plan]) -> Iterator[str]:
    for plan in plans:
        yield from (line.text for line in instructions(plan))
        yield from (note for line in instructions(plan) for note in line.notes)
        yield from (hanging_instructions(plan), from_left(plan))
        yield from (
            line
            for line in as_words(plan, report_of(plan), marked=True)
            if re.match(r"- [^*]", line)
        )


def _in_code() -> dict[str, list[str]]:
    """Return the texts of each folder of the code that a person can read."""
    found: dict[str, dict[str, None]] = {}
    for path in sorted((HOME / "coach").rglob("*.py")):
        folder = path.parent.relative_to(HOME).as_posix()
        texts = found.setdefault(folder, {})
        for text in _texts(ast.parse(path.read_text(encoding="utf-8"))):
            texts.setdefault(text)
    return {folder: sorted(texts) for folder, texts in found.items() if texts}


def _texts(tree: ast.Module) -> Iterator[str]:
    """Yield the string literals of a module that are words for a person, docstrings left out."""
    said: set[int] = set()
    nodes = [*ast.walk(tree)]
    for node in nodes:
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            said.add(id(node.value))
        for pattern in _patterns(node):
            said |= {id(inner) for inner in ast.walk(pattern)}
        if isinstance(node, ast.JoinedStr):
            said |= {id(part) for part in node.values}
    for node in nodes:
        if id(node) in said:
            continue
        if isinstance(node, ast.JoinedStr):
            text = "".join(map(_part, node.values))
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            text = node.value
        else:
            continue
        text = " ".join(text.split())
        bare = re.sub(r"\{[^{}]*\}", "", text)
        if " " in bare.strip() and not _WORDLESS.fullmatch(bare) and not _NO_TEXT.search(text):
            yield text


def _patterns(node: ast.AST) -> Sequence[ast.expr]:
    """Return the patterns in a call of `re`, which nobody reads."""
    if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute)):
        return ()
    of = node.func.value
    return node.args[:1] if isinstance(of, ast.Name) and of.id == "re" else ()


def _part(node: ast.expr) -> str:
    """Return a part of an f-string as it is read: its text, or the name of what is filled in."""
    if isinstance(node, ast.Constant):
        return str(node.value)
    assert isinstance(node, ast.FormattedValue)
    return f"{{{' '.join(re.findall(r'[a-z_]{3,}', ast.unparse(node.value))[-2:])}}}"


if __name__ == "__main__":
    REVIEWED.write_text("\n".join((*sentences(), "")), encoding="utf-8")
