"""`python -m coach` is `coach`."""

import sys

from coach.cli.main import main

sys.exit(main())
