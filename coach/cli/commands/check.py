"""`coach check FILE...`: all that is wrong in project files, or a line that they are sound."""

import argparse
import sys
from dataclasses import dataclass
from importlib import import_module

from coach.cli.missing import NoSuchProject
from coach.cli.output import print_json
from coach.plan.from_text import read_plan, with_advice
from coach.plan.plan_model import Plan
from coach.text import one_line
from coach.yaml_reader.diagnostics import Problem
from coach.yaml_reader.file_loader import load
from coach.yaml_reader.render import as_json, as_lines


@dataclass(frozen=True, slots=True)
class Checked:
    """What one file turned out to hold."""

    path: str
    text: str
    problems: tuple[Problem, ...]
    plan: Plan | None = None

    @property
    def sound(self) -> bool:
        """Whether nothing in it is an error."""
        return not any(problem.severity == "error" for problem in self.problems)


def run(options: argparse.Namespace) -> int:
    """Check files; 0 if all are sound, 1 if one has errors, 2 if one is not there."""
    if options.watch:
        return _watched(options)
    checked, missing = [], False
    for name in options.files:
        try:
            checked.append(checked_file(name))
        except NoSuchProject as error:
            missing = True
            sys.stderr.write(f"coach: {error}\n")
    if options.json:
        files = [as_json(one.path, one.problems) for one in checked]
        print_json({"files": files})
    else:
        for one in checked:
            print("\n".join(told(one)))
    if missing:
        return 2
    return 0 if all(one.sound for one in checked) else 1


def _watched(options: argparse.Namespace) -> int:
    if options.json:
        sys.stderr.write("coach: --watch prints for people; leave --json out.\n")
        return 2
    watch = import_module("coach.cli.watch")
    find = import_module("coach.cli.shelf").find
    try:
        for name in options.files:
            find(name)
    except NoSuchProject as error:
        sys.stderr.write(f"coach: {error}\n")
        return 2
    return int(watch.watch(options.files))


def checked_file(name: str) -> Checked:
    """Read one file by path or shelf name. Raises NoSuchProject."""
    loaded, shown = load(name), one_line(name)
    if loaded.text is None:  # perhaps the shelf has it, or knows what was meant
        from coach.cli.shelf import find

        found = find(name)
        loaded = load(found.path)
        shown = one_line(name if found.path.name in name else str(found.path))
    if loaded.text is None:
        return Checked(shown, "", loaded.problems)
    reading = with_advice(read_plan(loaded.text))
    return Checked(shown, loaded.text, (*loaded.problems, *reading.problems), reading.plan)


def told(checked: Checked) -> list[str]:
    """Return all that is to be said of a file, in lines."""
    lines = list(as_lines(checked.path, checked.text, checked.problems))
    if checked.sound:
        warned = len(checked.problems)
        also = f", with {warned} warning{'s' * (warned > 1)}" if warned else ""
        lines.append(f"{checked.path}: sound{also}")
    return lines
