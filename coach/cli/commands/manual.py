"""`coach manual PAGE`: the pages that come with the program, as they are written."""

import argparse
from pathlib import Path
from typing import Final

import coach
from coach.text import clean

PAGES: Final = ("writing", "questions", "orders")
FOLDER: Final = Path(coach.__file__).parent / "pages"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with."""
    parser.add_argument("page", nargs="?", default="", choices=("", *PAGES), metavar="PAGE",
                        help=f"{' or '.join(PAGES)}; alone, what there is")  # fmt: skip


def run(options: argparse.Namespace) -> int:
    """Print a page, or what pages there are."""
    if options.page:
        print(clean((FOLDER / f"{options.page}.md").read_text(encoding="utf-8")), end="")
        return 0
    for page in PAGES:
        text = (FOLDER / f"{page}.md").read_text(encoding="utf-8")
        print(f"coach manual {page:12} {text.splitlines()[0].removeprefix('# ')}")
    return 0
