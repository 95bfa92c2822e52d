"""`coach manual PAGE`: the pages that come with the program, and the man page."""

import argparse
import sys

from coach.cli.manual.pages import WRITTEN, all_pages, page_named
from coach.cli.registry import COMMANDS


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with."""
    parser.add_argument("page", nargs="?", default="", choices=("", *WRITTEN, *COMMANDS),
                        metavar="PAGE", help=f"{', '.join(WRITTEN)}, or a command; alone, lists "
                        "the pages")  # fmt: skip
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--markdown", action="store_true", help="as it is written, in Markdown")
    form.add_argument("--man", action="store_true", help="the man page of all, to keep as coach.1")


def run(options: argparse.Namespace) -> int:
    """Show a page, or say what pages there are."""
    if options.man:
        from coach.cli.manual.man_page import man_page  # noqa: PLC0415 - loads every command

        sys.stdout.write(man_page())
    elif not options.page:
        for page in all_pages():
            print(f"coach manual {page.name:<12} {page.about}")
    elif options.markdown:
        sys.stdout.write(page_named(options.page).text())
    else:
        from coach.cli.manual.reading import show_page  # noqa: PLC0415 - loads a library for Markdown

        show_page(page_named(options.page).text())
    return 0
