"""From the text of a project file to its plan, with all problems collected."""

from dataclasses import dataclass

from coach.plan.compile.compiler import compile_project
from coach.plan.plan_model import Plan
from coach.project.read import read_project
from coach.yaml_reader.diagnostics import Problem, Problems


@dataclass(frozen=True, slots=True)
class PlanReading:
    """The plan, None if there are errors, and all problems in the order of the file."""

    plan: Plan | None
    problems: tuple[Problem, ...]


def read_plan(text: str) -> PlanReading:
    """Read a project's text and compile it to a plan.

    Steps that could not be read are left out of the simulation, so that one run finds all problems.
    """
    reading = read_project(text)
    problems = Problems(reading.problems)
    if reading.project is None:
        return PlanReading(None, problems.sorted())
    compiled = compile_project(reading.project)
    for problem in compiled.problems:
        if problem.severity == "error" or not problems.errors:
            problems.put(problem)
    return PlanReading(None if problems.errors else compiled.plan, problems.sorted())
