"""Reading project files for a command: the plan, and messages about the file."""

import sys
from dataclasses import dataclass

from coach.cli.project_finder import find_project
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan
from coach.plan.wording.advice import with_advice
from coach.text import counted, one_line
from coach.yaml_reader.diagnostics import Problem
from coach.yaml_reader.file_loader import load
from coach.yaml_reader.render import as_lines


@dataclass(frozen=True, slots=True)
class Checked:
    """The result of reading one file."""

    path: str
    text: str
    problems: tuple[Problem, ...]
    plan: Plan | None = None

    @property
    def sound(self) -> bool:
        """Whether it has no errors."""
        return not any(problem.severity == "error" for problem in self.problems)


def checked_file(name: str) -> Checked:
    """Read one file by path or shelf name. Raises NoSuchProject."""
    loaded, shown = load(name), one_line(name)
    if loaded.text is None:  # perhaps the shelf has it, or knows what was meant
        found = find_project(name)
        loaded = load(found.path)
        shown = one_line(name if found.path.name in name else str(found.path))
    if loaded.text is None:
        return Checked(shown, "", loaded.problems)
    reading = with_advice(read_plan(loaded.text))
    return Checked(shown, loaded.text, (*loaded.problems, *reading.problems), reading.plan)


def problem_lines(checked: Checked) -> list[str]:
    """Return all messages about a file, in lines."""
    lines = list(as_lines(checked.path, checked.text, checked.problems))
    if checked.sound:
        warned = len(checked.problems)
        also = f", with {counted(warned, 'warning')}" if warned else ""
        lines.append(f"{checked.path}: sound{also}")
    return lines


def read_file(name: str) -> Plan | None:
    """Return the plan of a project by path or shelf name; problems go to standard error.

    Raises:
        NoSuchProject: There is no such file.
    """
    found = find_project(name)
    loaded = load(found.path)
    reading = read_plan(loaded.text) if loaded.text is not None else None
    problems = (*loaded.problems, *(reading.problems if reading else ()))
    lines = as_lines(one_line(str(found.path)), loaded.text or "", problems)
    if lines:
        sys.stderr.write("\n".join(lines) + "\n")
    return reading.plan if reading else None
