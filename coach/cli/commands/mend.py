"""`coach mend`: recover damaged pieces; the damaged file is put aside and kept."""

import argparse
import os

from coach.cli.file_output import refuse_call
from coach.cli.recovery_dialog import database_problem, offer_recovery, recover_by, recovery_options
from coach.piece import PieceError, folders
from coach.text import one_line


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with."""
    parser.add_argument(
        "--take", choices=("recovered", "snapshot", "nothing"), default="", help="without asking"
    )


def run(options: argparse.Namespace) -> int:
    """Check the pieces; 0 if they are sound or were mended, 1 if they stay damaged."""
    database = folders(os.environ).database
    try:
        trouble = database_problem(database)
        if trouble is None:
            print("The pieces are sound; there is nothing to mend.")
            return 0
        print(one_line(str(trouble)))
        if options.take:
            print(recover_by(recovery_options(database), options.take))
            return 0
        return 0 if offer_recovery(database) else 1
    except PieceError as error:
        return refuse_call(str(error))
