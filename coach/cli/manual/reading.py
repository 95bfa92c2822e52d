"""Showing a page on the terminal, in a pager where it is long."""

import io
import os
import shutil
import sys
from typing import Final

from rich.console import Console
from rich.markdown import Markdown
from rich.theme import Theme

from coach.cli.output import encoding_printed

WIDEST: Final = 100
"""Columns: longer lines are harder to read."""

# Bold and underlined alone, so that it reads in every terminal's own colours.
_THEME: Final = Theme(
    {
        "markdown.h1": "bold", "markdown.h2": "bold underline", "markdown.code": "bold",
        "markdown.code_block": "none", "markdown.table.header": "bold",
        "markdown.table.border": "dim", "markdown.item.bullet": "bold",
        "markdown.item.number": "bold", "markdown.link": "underline",
        "markdown.link_url": "underline",
    }
)  # fmt: skip


def rendered(markdown: str, columns: int, *, styled: bool, encoding: str | None = "utf-8") -> str:
    """Return a page as lines.

    Args:
        markdown: The page.
        columns: The most characters of a line.
        styled: Whether to use bold and the like.
        encoding: Pictures are drawn in characters that it has.
    """
    if "![" in markdown:
        from coach.cli.manual.step_pictures import with_drawings  # noqa: PLC0415 - plans and draws

        markdown = with_drawings(markdown, min(columns, WIDEST), encoding)
    out = io.StringIO()
    console = Console(
        file=out, width=min(columns, WIDEST), theme=_THEME, highlight=False,
        force_terminal=styled, color_system="standard" if styled else None, legacy_windows=False,
    )  # fmt: skip
    console.print(Markdown(markdown, code_theme="bw", hyperlinks=False))
    return "\n".join(line.rstrip() for line in out.getvalue().splitlines()) + "\n"


def show_page(markdown: str) -> None:
    """Show a page: in a pager if it is longer than the terminal's screen, else as plain lines."""
    encoding = encoding_printed()
    columns, rows = shutil.get_terminal_size()
    if not sys.stdout.isatty():
        sys.stdout.write(rendered(markdown, columns, styled=False, encoding=encoding))
        return
    plain = bool(os.environ.get("NO_COLOR")) or os.environ.get("TERM") == "dumb"
    text = rendered(markdown, columns, styled=not plain, encoding=encoding)
    if text.count("\n") < rows:
        sys.stdout.write(text)
        return
    from pydoc import pager  # noqa: PLC0415 - loads much, and only long pages need it

    os.environ.setdefault("LESS", "-FRX")  # shows bold instead of the codes for it
    pager(text)
