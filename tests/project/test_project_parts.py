"""Parts that call each other."""

from project_texts import HEAD, START, problems_of, with_work

from coach.project import model
from coach.project.read import read_project


def test_parts_that_call_themselves_are_cut_open() -> None:
    """Every loop is told at the call that closes it, and the project has none left."""
    parts = "parts:\n  a: [{use: b}]\n  b: [{each: 1-4 by 2, steps: [{use: a}]}]\n  c: [{use: c}]\n"
    reading = read_project(with_work("use: a", rest=parts))
    first = (HEAD + START).count("\n") + 1
    assert [(p.code, p.span.line) for p in reading.problems] == [
        ("PART", first + 2), ("PART", first + 3),
    ]  # fmt: skip
    assert reading.project is not None
    each = reading.project.parts["b"][0]
    assert isinstance(each, model.Each)
    assert isinstance(each.steps[0], model.Unreadable)
    assert isinstance(reading.project.parts["a"][0], model.Use)


def test_long_chains_of_parts_are_refused() -> None:
    """Parts lie within each other to a depth that can be followed."""
    chain = "".join(f"  p{n}: [{{use: p{n + 1}}}]\n" for n in range(40))
    codes = [
        p.code for p in problems_of(with_work("use: p0", rest=f"parts:\n{chain}  p40: [do: x]\n"))
    ]
    assert codes == ["NESTING"] * len(codes)
    assert codes


def test_a_part_that_flips_is_refused_in_a_group() -> None:
    """Also where it flips only by another part."""
    parts = "parts:\n  a: [{use: b}]\n  b: [{flip: piece}]\n"
    text = with_work("use: a", "{each: 1-4 by 2, steps: [{use: a}]}", rest=parts)
    assert [problem.code for problem in problems_of(text)] == ["FLIP"]
