"""The command line: `coach` and its verbs. Each verb is loaded only when it is called."""

import argparse
import sys
from collections.abc import Sequence
from importlib import import_module

from coach import __version__
from coach.verbs.examples import EXAMPLES
from coach.verbs.options import add_plan_options, add_size_options

PAGES = ("writing", "questions")
_DONE, _WRONG_CALL, _STOPPED = 0, 2, 130
_MODULES = {"import": "import_piece"}  # a module cannot be called that


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the coach. Gives 0 when done, 1 when the input has errors, 2 for a wrong call."""
    options = parser().parse_args(arguments)
    name = _MODULES.get(options.verb, options.verb or "bench")
    verb = import_module(f"coach.verbs.{name}")
    try:
        return int(verb.run(options))
    except BrokenPipeError:
        # Whoever read the output has gone; closing it again must not fail either.
        sys.stderr.close()
        return _DONE
    except KeyboardInterrupt:
        return _STOPPED
    except Exception as fault:  # noqa: BLE001 - no traceback ever reaches a maker
        return int(import_module("coach.verbs.fault").tell(fault))


def parser() -> argparse.ArgumentParser:
    """Give the parser of the whole command line."""
    whole = argparse.ArgumentParser(
        prog="coach",
        description="A coach beside the board: what to cut, which strand knots next, and never a "
        "lost count. Alone, it opens the list of pieces and projects.",
    )
    whole.add_argument("--version", action="version", version=f"coach {__version__}")
    verbs = whole.add_subparsers(dest="verb", metavar="VERB")
    check = verbs.add_parser("check", help="say what is wrong in project files")
    check.add_argument("files", nargs="+", metavar="FILE")
    check.add_argument("--json", action="store_true", help="as one JSON object")
    check.add_argument(
        "--watch", action="store_true", help="tell problems and plan again whenever a file is saved"
    )
    plan = verbs.add_parser("plan", help="what to cut, how many knots, how large, how long")
    plan.add_argument("file", metavar="FILE", help="a project file, or a name from the shelf")
    plan.add_argument("--json", action="store_true", help="as one JSON object")
    add_plan_options(plan)
    sizes = verbs.add_parser("sizes", help="printed sizes of wrists and the like, and the ease")
    sizes.add_argument("--units", choices=("cm", "in"), default=None)
    knot = verbs.add_parser("knot", help="start a piece, or go on with the one under way")
    knot.add_argument("file", metavar="FILE", help="a project file, or a name from the shelf")
    knot.add_argument("--name", default="", help="what to call the piece that it starts")
    knot.add_argument("--again", action="store_true", help="start another piece")
    knot.add_argument("--plain", action="store_true", help="as plain lines: enter counts one")
    add_size_options(knot)
    verbs.add_parser("keys", help="say what a pressed key is called and what it does")
    pieces = verbs.add_parser("pieces", help="list the pieces, or tell what one has taken")
    pieces.add_argument("name", nargs="?", default="", metavar="NAME", help="of one piece")
    form = pieces.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="as one JSON list, or object")
    form.add_argument("--csv", action="store_true", help="as rows for your own books")
    how = verbs.add_parser("how", help="how a knot is tied, in words and stages; alone, all knots")
    how.add_argument("knot", nargs="*", metavar="KNOT", help="a knot, by any of its names")
    side = how.add_mutually_exclusive_group()
    side.add_argument(
        "--left", dest="side", action="store_const", const="left", help="begun on the left"
    )
    side.add_argument(
        "--right", dest="side", action="store_const", const="right", help="begun on the right"
    )
    _add_writing(verbs)
    _add_carrying(verbs)
    _explain(verbs)
    return whole


def _explain(verbs: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Let each verb's help say what it is for, with an example."""
    for listed in verbs._choices_actions:  # noqa: SLF001 - argparse keeps a verb's help only there
        verb = verbs.choices[listed.dest]
        verb.description = f"{(listed.help or '').capitalize()}."
        verb.epilog = f"Example: {EXAMPLES.get(listed.dest, 'coach ' + listed.dest)}"


def _add_writing(verbs: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the verbs that help with writing a project down and handing it on."""
    new = verbs.add_parser("new", help="a few questions, and a first project file")
    new.add_argument("file", metavar="FILE", help="where to write it; it must not be there yet")
    words = verbs.add_parser("words", help="the whole piece as numbered written instructions")
    words.add_argument("file", metavar="FILE", help="a project file, or a name from the shelf")
    words.add_argument("--markdown", action="store_true", help="as Markdown, not plain text")
    card = verbs.add_parser("card", help="one page to print: lists, drawings, the finished piece")
    card.add_argument("file", metavar="FILE", help="a project file, or a name from the shelf")
    card.add_argument("-o", "--output", default="-", metavar="PAGE", help="the file to write")
    card.add_argument("--svg", action="store_true", help="the drawing at scale alone")
    card.add_argument("--replace", action="store_true", help="write over a file that is there")
    manual = verbs.add_parser("manual", help="pages to read: writing a project, common questions")
    manual.add_argument("page", nargs="?", default="", choices=("", *PAGES), metavar="PAGE",
                        help=f"{' or '.join(PAGES)}; alone, what there is")  # fmt: skip
    completion = verbs.add_parser("completion", help="what a shell needs to complete the verbs")
    completion.add_argument("shell", choices=("bash", "zsh", "fish"))


def _add_carrying(verbs: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the verbs that carry pieces along and mend what was damaged."""
    export = verbs.add_parser("export", help="write a piece with all that happened to one file")
    export.add_argument("piece", metavar="PIECE", help="its name")
    export.add_argument("file", metavar="FILE", nargs="?", default="", help="where to")
    export.add_argument("--replace", action="store_true", help="write over a file that is there")
    taking = verbs.add_parser("import", help="take in a piece that was exported")
    taking.add_argument("file", metavar="FILE")
    taking.add_argument("--name", default="", help="what to call it here")
    taking.add_argument(
        "--replace", action="store_true", help="in place of one that went another way"
    )
    mend = verbs.add_parser("mend", help="say what can be had back of damaged pieces, and do it")
    mend.add_argument(
        "--take", choices=("recovered", "snapshot", "nothing"), default="", help="without asking"
    )


if __name__ == "__main__":
    sys.exit(main())
