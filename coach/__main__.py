"""The entry point of `python -m coach`, which is the command `coach`."""

import sys

from coach.cli.main import main

sys.exit(main())
