"""`coach manual PAGE`: the pages that come with the program, as they are written."""

import argparse
from pathlib import Path
from typing import Final

import coach
from coach.cli.calls import PAGES
from coach.text import clean

FOLDER: Final = Path(coach.__file__).parent / "pages"


def run(options: argparse.Namespace) -> int:
    """Print a page, or what pages there are."""
    if options.page:
        print(clean((FOLDER / f"{options.page}.md").read_text(encoding="utf-8")), end="")
        return 0
    for page in PAGES:
        text = (FOLDER / f"{page}.md").read_text(encoding="utf-8")
        print(f"coach manual {page:12} {text.splitlines()[0].removeprefix('# ')}")
    return 0
