"""`coach check FILE...`: report the errors in project files, or that they are sound."""

import argparse
import os
import sys

from coach.cli.file_output import refuse_call
from coach.cli.output import print_json
from coach.cli.project_files import checked_file, problem_lines
from coach.cli.project_finder import NoSuchProject, find_project, shipped_projects
from coach.text import one_line
from coach.yaml_reader.render import as_json


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with."""
    parser.add_argument("projects", nargs="+", metavar="FILE")
    parser.add_argument("--json", action="store_true", help="as one JSON object")
    parser.add_argument(
        "--watch", action="store_true", help="tell problems and plan again whenever a file is saved"
    )
    parser.add_argument(
        "--picture", action="store_true", help="with --watch: keep its picture beside the file"
    )
    parser.add_argument("--replace", action="store_true", help="write over a picture that is there")


def run(options: argparse.Namespace) -> int:
    """Check files; 0 if all are sound, 1 if one has errors, 2 if one is not there."""
    if options.watch:
        return _watched(options)
    if options.picture:
        return refuse_call("--picture goes with --watch; ‘coach picture’ writes one picture.")
    checked, missing = [], False
    for name in options.projects:
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
            print("\n".join(problem_lines(one)))
    if missing:
        return 2
    return 0 if all(one.sound for one in checked) else 1


def _watched(options: argparse.Namespace) -> int:
    # An editor checks at every save: what keeps pieces and settings is loaded only for watching.
    from coach.cli.watch import picture_of, watch  # noqa: PLC0415 - see above

    if options.json:
        return refuse_call("--watch prints for people; leave --json out.")
    try:
        for name in options.projects:
            path = picture_of(name)
            if options.picture and find_project(name).path in shipped_projects():
                return refuse_call("A project that comes with the coach has no picture beside it.")
            if options.picture and not options.replace and os.path.lexists(path):
                there = one_line(path.name)
                return refuse_call(f"{there} is there already; --replace writes over it.")
    except NoSuchProject as error:
        return refuse_call(str(error))
    return watch(options.projects, picture=options.picture)
