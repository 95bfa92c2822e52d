"""`coach check FILE...`: all that is wrong in project files, or a line that they are sound."""

import argparse
import sys

from coach.cli.output import print_json
from coach.cli.project_files import checked_file, told
from coach.cli.shelf import NoSuchProject, find
from coach.cli.written import refused
from coach.yaml_reader.render import as_json


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with."""
    parser.add_argument("projects", nargs="+", metavar="FILE")
    parser.add_argument("--json", action="store_true", help="as one JSON object")
    parser.add_argument(
        "--watch", action="store_true", help="tell problems and plan again whenever a file is saved"
    )


def run(options: argparse.Namespace) -> int:
    """Check files; 0 if all are sound, 1 if one has errors, 2 if one is not there."""
    if options.watch:
        return _watched(options)
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
            print("\n".join(told(one)))
    if missing:
        return 2
    return 0 if all(one.sound for one in checked) else 1


def _watched(options: argparse.Namespace) -> int:
    # An editor checks at every save: what keeps pieces and settings is loaded only for watching.
    from coach.cli.watch import watch  # noqa: PLC0415 - see above

    if options.json:
        return refused("--watch prints for people; leave --json out.")
    try:
        for name in options.projects:
            find(name)
    except NoSuchProject as error:
        return refused(str(error))
    return watch(options.projects)
