"""`python -m coach` is `coach`."""

import sys

from coach.cli import main

sys.exit(main())
