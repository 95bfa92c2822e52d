"""What each verb can be called with; it loads nothing else, so that a call is read at once."""

import argparse
from collections.abc import Callable

from coach import __version__
from coach.cli.options import add_plan_options, add_size_options

PAGES = ("writing", "questions")
_PROJECT = "a project file, or a name from the shelf"


def _check(check: argparse.ArgumentParser) -> None:
    check.add_argument("files", nargs="+", metavar="FILE")
    check.add_argument("--json", action="store_true", help="as one JSON object")
    check.add_argument(
        "--watch", action="store_true", help="tell problems and plan again whenever a file is saved"
    )


def _plan(plan: argparse.ArgumentParser) -> None:
    plan.add_argument("file", metavar="FILE", help=_PROJECT)
    plan.add_argument("--json", action="store_true", help="as one JSON object")
    add_plan_options(plan)


def _swatch(swatch: argparse.ArgumentParser) -> None:
    swatch.add_argument("file", metavar="FILE", help=_PROJECT)
    measures = swatch.add_argument_group("what was measured; asked for if left out")
    measures.add_argument("--run", metavar="LENGTH", default="", help="how long the knots came out")
    measures.add_argument("--took", metavar="LENGTH", default="", help="what the ends took")
    add_plan_options(swatch)


def _sizes(sizes: argparse.ArgumentParser) -> None:
    sizes.add_argument("--units", choices=("cm", "in"), default=None)


def _knot(knot: argparse.ArgumentParser) -> None:
    knot.add_argument("file", metavar="FILE", help=_PROJECT)
    knot.add_argument("--name", default="", help="what to call the piece that it starts")
    knot.add_argument("--again", action="store_true", help="start another piece")
    knot.add_argument("--plain", action="store_true", help="as plain lines: enter counts one")
    add_size_options(knot)


def _keys(keys: argparse.ArgumentParser) -> None:
    del keys  # it is called with nothing


def _pieces(pieces: argparse.ArgumentParser) -> None:
    pieces.add_argument("name", nargs="?", default="", metavar="NAME", help="of one piece")
    form = pieces.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="as one JSON list, or object")
    form.add_argument("--csv", action="store_true", help="as rows for your own books")
    form.add_argument("--names", action="store_true", help="their names alone, one a line")


def _how(how: argparse.ArgumentParser) -> None:
    how.add_argument("knot", nargs="*", metavar="KNOT", help="a knot, by any of its names")
    side = how.add_mutually_exclusive_group()
    side.add_argument(
        "--left", dest="side", action="store_const", const="left", help="begun on the left"
    )
    side.add_argument(
        "--right", dest="side", action="store_const", const="right", help="begun on the right"
    )


def _new(new: argparse.ArgumentParser) -> None:
    new.add_argument("file", metavar="FILE", help="where to write it; it must not be there yet")


def _words(words: argparse.ArgumentParser) -> None:
    words.add_argument("file", metavar="FILE", help=_PROJECT)
    words.add_argument("--markdown", action="store_true", help="as Markdown, not plain text")


def _card(card: argparse.ArgumentParser) -> None:
    card.add_argument("file", metavar="FILE", help=_PROJECT)
    card.add_argument("-o", "--output", default="-", metavar="PAGE", help="the file to write")
    card.add_argument("--svg", action="store_true", help="the drawing at scale alone")
    card.add_argument("--replace", action="store_true", help="write over a file that is there")


def _picture(picture: argparse.ArgumentParser) -> None:
    picture.add_argument("file", metavar="FILE", help=_PROJECT)
    picture.add_argument("-o", "--output", default="-", metavar="SVG", help="the file to write")
    picture.add_argument("--back", action="store_true", help="seen from the back")
    picture.add_argument("--at", metavar="COUNT", help="as it is after so many counts")
    picture.add_argument(
        "--colour", metavar="CORD=COLOUR", action="append", default=[],
        help="a cord in another colour, such as tide=plum",
    )  # fmt: skip
    picture.add_argument("--colourway", metavar="NAME", default="", help="one of the file's own")
    picture.add_argument("--plain", action="store_true", help="without ruler and paper")
    picture.add_argument("--replace", action="store_true", help="write over a file that is there")


def _manual(manual: argparse.ArgumentParser) -> None:
    manual.add_argument("page", nargs="?", default="", choices=("", *PAGES), metavar="PAGE",
                        help=f"{' or '.join(PAGES)}; alone, what there is")  # fmt: skip


def _completion(completion: argparse.ArgumentParser) -> None:
    completion.add_argument("shell", choices=("bash", "zsh", "fish"))


def _export(export: argparse.ArgumentParser) -> None:
    export.add_argument("piece", metavar="PIECE", help="its name")
    export.add_argument("file", metavar="FILE", nargs="?", default="", help="where to")
    export.add_argument("--replace", action="store_true", help="write over a file that is there")


def _import(taking: argparse.ArgumentParser) -> None:
    taking.add_argument("file", metavar="FILE")
    taking.add_argument("--name", default="", help="what to call it here")
    taking.add_argument(
        "--replace", action="store_true", help="in place of one that went another way"
    )


def _mend(mend: argparse.ArgumentParser) -> None:
    mend.add_argument(
        "--take", choices=("recovered", "snapshot", "nothing"), default="", help="without asking"
    )


CALLS: dict[str, tuple[str, str, Callable[[argparse.ArgumentParser], None]]] = {
    "check": ("say what is wrong in project files", "coach check my-belt.yaml --watch", _check),
    "plan": (
        "what to cut, how many knots, how large, how long",
        "coach plan tide-band --length '20 cm'",
        _plan,
    ),
    "swatch": (
        "tie ten knots, measure them, and cut with less to spare",
        "coach swatch tide-band",
        _swatch,
    ),
    "sizes": (
        "printed sizes of wrists and the like, and the ease", "coach sizes --units in", _sizes,
    ),
    "knot": (
        "start a piece, or go on with the one under way",
        "coach knot reed-keyring --name 'for the shop'",
        _knot,
    ),
    "keys": ("say what a pressed key is called and what it does", "coach keys", _keys),
    "pieces": ("list the pieces, or tell what one has taken", "coach pieces --json", _pieces),
    "how": (
        "how a knot is tied, in words and stages; alone, all knots", "coach how square knot", _how,
    ),
    "new": ("a few questions, and a first project file", "coach new my-belt.yaml", _new),
    "words": (
        "the whole piece as numbered written instructions",
        "coach words tide-band --markdown",
        _words,
    ),
    "card": (
        "one page to print: lists, drawings, the finished piece",
        "coach card tide-band -o card.html",
        _card,
    ),
    "picture": (
        "the piece as it looks, at scale, front or back",
        "coach picture tide-band -o tide-band.svg --colour tide=plum",
        _picture,
    ),
    "manual": (
        "pages to read: writing a project, common questions", "coach manual writing", _manual,
    ),
    "completion": (
        "what a shell needs to complete the verbs", "coach completion bash", _completion,
    ),
    "export": (
        "write a piece with all that happened to one file",
        "coach export 'Tide band' band.coach",
        _export,
    ),
    "import": ("take in a piece that was exported", "coach import band.coach", _import),
    "mend": ("say what can be had back of damaged pieces, and do it", "coach mend", _mend),
}  # fmt: skip
"""Each verb: what it does, an example that its help shows, and what adds its arguments."""


def parser(first: str = "") -> argparse.ArgumentParser:
    """Return the parser of the whole command line, or of no more than a call that begins so."""
    whole = argparse.ArgumentParser(
        prog="coach",
        description="A coach beside the board: what to cut, which strand knots next, and never a "
        "lost count. Alone, it opens the list of pieces and projects.",
    )
    whole.add_argument("--version", action="version", version=f"coach {__version__}")
    verbs = whole.add_subparsers(dest="verb", metavar="VERB")
    for name in [first] if first in CALLS else CALLS:
        what, example, add_arguments = CALLS[name]
        verb = verbs.add_parser(
            name, help=what, description=f"{what.capitalize()}.", epilog=f"Example: {example}"
        )
        add_arguments(verb)
    return whole
