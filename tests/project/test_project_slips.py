"""Slips of writing that YAML only meets further down: told where they are, with what to do."""

import pytest
from project_texts import problems_of

from coach.yaml_reader.diagnostics import Problem, Span

SOUND = """\
coach: 1
title: Reed keyring
about: "A strap, for
  a first evening: flat."
cords:
  reed: {colour: "#5b7f3a", fibre: 'soft cotton', diameter: 2 mm}
  clay:
    colour: sienna
    diameter: 2 mm
start: {nest: [reed, "clay"]}
work:
  - do: Pin the fold; it's "flat".
    note: 'Gently: now.'
  - knot: square knot
    strands: 1-4
parts:
  edge:
    - {row: lark's head, holder: 1, across: "2-4"}
"""


def slip(right: str, wrong: str) -> Problem:
    """Return the one problem of the sound text with one slip in it."""
    assert SOUND.count(right) == 1, right
    (problem,) = problems_of(SOUND.replace(right, wrong))
    return problem


def place(text: str, mark: str) -> tuple[int, int]:
    """Return line and column, from 1, of a mark in a text."""
    before = text[: text.index(mark)]
    return before.count("\n") + 1, len(before) - before.rfind("\n")


def test_the_text_to_make_slips_in_is_sound() -> None:
    assert problems_of(SOUND) == []


@pytest.mark.parametrize("quote", ['"', "'"])
@pytest.mark.parametrize(
    "value",
    [
        "Reed keyring", "sienna", "2 mm}", "square knot", "1-4\n", "Pin the fold", "1, across",
        "A strap", "#5b7f3a", "soft cotton", "clay", "Gently", "2-4",
    ],
)  # fmt: skip
def test_a_quote_left_open_is_told_where_it_opens(value: str, quote: str) -> None:
    """Whatever stands below: text, another quote, a colour in quotes, an apostrophe, the end.

    Where another quote on its line closes it, what follows that one is what is wrong.
    """
    at = SOUND.index(value, SOUND.index('"clay"') if value == "clay" else 0)
    opened = at - 1 if SOUND[at - 1] in "\"'" else at
    rest = SOUND[at:]
    if opened < at:  # it is in quotes already: take the closing one away
        end = SOUND.index(SOUND[opened], at)
        rest, quote = SOUND[at:end] + SOUND[end + 1 :], SOUND[opened]
    text = SOUND[:opened] + quote + rest
    (problem,) = problems_of(text)
    line, column = place(text, quote + rest[:4])
    again = text.split("\n")[line - 1].find(quote, column)
    if again > 0:
        assert (problem.span.line, problem.span.column) == (line, again + 2)
        assert "after the closing quote" in problem.message
        return
    assert (problem.code, problem.span.line, problem.span.column) == ("SYNTAX", line, column)
    assert "never closed" in problem.message
    assert "closing quote" in problem.hint


def test_a_quote_left_open_that_breaks_nothing_is_told_all_the_same() -> None:
    """The next quote closes it, and a # takes the odd one away: YAML finds no fault at all."""
    text = (
        'coach: 1\ntitle: "Reed\ncords:\n  reed: {colour: "#5b7f3a", diameter: 2 mm}\n'
        "start: {nest: [reed]}\nwork: [do: Look.]\n"
    )
    assert [(p.code, (p.span.line, p.span.column)) for p in problems_of(text)] == [
        ("SYNTAX", (2, 8))
    ]


def test_text_in_quotes_may_still_go_over_several_lines() -> None:
    """Also with what looks like a key in it, as long as it stands further in."""
    text = SOUND.replace("a first evening: flat.", "a first evening,\n  kind: flat,\n  - firm.")
    assert problems_of(text) == []


def test_a_text_of_hundreds_of_lines_is_not_taken_for_an_open_quote() -> None:
    assert problems_of(SOUND.replace("a first", "a first\n" + "  and long\n" * 300 + "  and")) == []


@pytest.mark.parametrize("colour", ["#5b7f3a", "#5b3", "#zzz"])
@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        ('{colour: "#5b7f3a", fibre', "{colour: COLOUR, fibre"),
        ('"#5b7f3a", fibre: \'soft cotton\', diameter: 2 mm}',
         "red, diameter: 2 mm, tail: COLOUR}"),
        ('{colour: "#5b7f3a", fibre', "{\n    colour: COLOUR,\n    fibre"),
        ('colour: "#5b7f3a", fibre: \'soft cotton\', diameter: 2 mm}',
         "diameter: 2 mm,\n    colour: COLOUR\n  }"),
        ("colour: sienna", "colour: COLOUR"),
        ('{nest: [reed, "clay"]}', "{nest: [reed, clay], by: COLOUR}"),
    ],
)  # fmt: skip
def test_a_colour_without_quotes_is_told_on_its_own_line(
    right: str, wrong: str, colour: str
) -> None:
    """In braces over one line or several, last or not, and in a block."""
    problem = slip(right, wrong.replace("COLOUR", colour))
    line, column = place(SOUND.replace(right, wrong), "COLOUR")
    assert (problem.code, problem.severity) == ("HASH", "error")
    assert problem.span == Span(line, column, len(colour))
    assert problem.hint == f'Quote it: ‘"{colour}"’.'


@pytest.mark.parametrize("gap", ["\n      ", "\n\n      ", "   \n      "])
def test_a_colour_alone_below_its_key_is_told_there(gap: str) -> None:
    text = SOUND.replace("colour: sienna", f"colour:{gap}#5b7f3a")
    (problem,) = problems_of(text)
    if gap.count("\n") == 1:
        assert (problem.code, problem.span.line) == ("HASH", place(text, "#5b7f3a\n")[0])
    else:
        assert (problem.code, problem.span.line) == ("EMPTY", place(text, "colour:\n")[0])


def test_a_comment_in_braces_is_not_taken_for_a_colour() -> None:
    """What is wrong is the brace, and that is told where it opens."""
    problem = slip('{nest: [reed, "clay"]}', "{nest: [reed, clay], #two\n  on: ring")
    assert problem.code == "SYNTAX"
    assert (problem.span.line, problem.span.column) == place(SOUND, "{nest")


@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        ("  reed: {", "\treed: {"),
        ("  reed: {", "  \treed: {"),
        ("  clay:\n    colour", "  clay:\n\tcolour"),
        ("    diameter: 2 mm\nstart", "\tdiameter: 2 mm\nstart"),
        ("  - do:", "\t- do:"),
        ("- do:", "-\tdo:"),
        ("    strands: 1-4", "\tstrands: 1-4"),
        ("    strands: 1-4", "  \t strands: 1-4"),
        ("    note: ", "\tnote: "),
        ("    - {row", "\t\t- {row"),
        ("- do: Pin", "- note: |\n\tlook\n    do: Pin"),
    ],
)
def test_a_tab_is_told_as_a_tab_in_its_place(right: str, wrong: str) -> None:
    problem = slip(right, wrong)
    line, column = place(SOUND.replace(right, wrong), "\t")
    assert (problem.code, problem.span.line, problem.span.column) == ("SYNTAX", line, column)
    assert problem.message == "Tabs are not allowed here."
    assert "spaces" in problem.hint


@pytest.mark.parametrize("tab", ["\t", "  \t", "\t  ", "\t\t"])
@pytest.mark.parametrize("line", range(len(SOUND.splitlines())))
def test_a_tab_before_any_line_is_told_there_or_does_no_harm(line: int, tab: str) -> None:
    lines = SOUND.split("\n")
    lines[line] = tab + lines[line].lstrip()
    found = problems_of("\n".join(lines))
    assert [(p.message, p.span.line) for p in found] in (
        [], [("Tabs are not allowed here.", line + 1)],
    )  # fmt: skip


def test_a_tab_within_text_is_no_fault() -> None:
    assert problems_of(SOUND.replace("title: Reed", "title:\tReed")) == []


@pytest.mark.parametrize("sign", ["@", "`", "%"])
def test_a_sign_that_no_text_can_begin_with_is_named(sign: str) -> None:
    problem = slip("sienna", f"{sign}sienna")
    assert problem.message == f"A text cannot begin with ‘{sign}’."
    assert "quotes" in problem.hint
