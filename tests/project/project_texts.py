"""Texts of project files that the tests of the reader share."""

from coach.project.model import Project, Step
from coach.project.read import read_project
from coach.yaml_reader.diagnostics import Problem

HEAD = """\
coach: 1
title: Tide pull
cords:
  reed: {colour: "#5b7f3a", fibre: cotton, diameter: 2 mm, pieces: 4}
  clay: {colour: sienna, diameter: 2 mm}
  mud: {colour: tan, diameter: 3 mm, fold: none, lead: 12 cm}
"""
START = "start: {hang: [4 reed]}\n"
PARTS = "parts:\n  motif:\n    - {row: clove hitch, holder: 1, across: 2-4}\n"


def with_work(*steps: str, start: str = START, rest: str = PARTS) -> str:
    """Return a project file with these steps, each written between braces."""
    return HEAD + start + rest + "work:\n" + "".join(f"  - {step}\n" for step in steps)


def first_step_at(start: str = START, rest: str = PARTS) -> int:
    """Return the line on which the first step of `with_work` stands."""
    return (HEAD + start + rest + "work:\n").count("\n") + 1


def sound(text: str) -> Project:
    """Return the project of a text that must have no problem."""
    reading = read_project(text)
    assert reading.problems == ()
    assert reading.project is not None
    return reading.project


def step_of(step: str) -> Step:
    """Return one step, read alone and soundly."""
    return sound(with_work(step)).work[0]


def problems_of(text: str) -> list[Problem]:
    """Return the problems of a text."""
    return list(read_project(text).problems)


def told(step: str) -> list[tuple[str, str]]:
    """Return the codes of the problems of one step, each with the text that it points to."""
    text = with_work(step)
    lines = text.split("\n")
    return [
        (
            problem.code,
            lines[problem.span.line - 1][problem.span.column - 1 :][: problem.span.length],
        )
        for problem in problems_of(text)
    ]
