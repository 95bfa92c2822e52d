"""`coach picture FILE -o piece.svg`: the piece as it looks, at scale, front or back."""

import argparse
import sys
from pathlib import Path

from coach.cli.asked.this_piece import add_piece_options, read_this
from coach.cli.output import print_page
from coach.cli.shelf import NoSuchProject
from coach.cli.skill_question import skill_set
from coach.cli.written import add_output, refused, written
from coach.picture.compose import scene_of
from coach.picture.render.shades import looks
from coach.picture.render.svg_drawing import svg
from coach.piece import PieceError
from coach.plan.plan_model import Plan
from coach.plan.resize.refit import CannotRefit
from coach.text import listed, one_line
from coach.yaml_reader.colours import NAMED, hex_colour


class WrongCall(Exception):
    """An option asks for what the project does not have, or cannot be read."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with."""
    add_piece_options(parser)
    add_output(parser, "SVG")
    parser.add_argument("--back", action="store_true", help="seen from the back")
    parser.add_argument("--at", metavar="COUNT", help="as it is after so many counts")
    parser.add_argument(
        "--colour", metavar="CORD=COLOUR", action="append", default=[],
        help="a cord in another colour, such as tide=plum",
    )  # fmt: skip
    parser.add_argument("--plain", action="store_true", help="without ruler and paper")


def run(options: argparse.Namespace) -> int:
    """Write the picture; 1 if the file has errors, 2 if the call or the target is wrong."""
    try:
        this = read_this(options, skill_set)
        if this is None:
            return 1
        text = _drawn(this.plan, options)
    except (NoSuchProject, CannotRefit, PieceError, WrongCall) as error:
        return refused(str(error))
    if options.output == "-":
        print_page(text)
        return 0
    return written(Path(options.output), text, over=options.replace)


def _drawn(plan: Plan, options: argparse.Namespace) -> str:
    """Draw a plan as the options wish. Raises WrongCall."""
    colours = _colours(plan, options)
    done = _count(options.at, len(plan.counts))
    scene = scene_of(plan, done, back=options.back)
    if scene.left_out:
        sys.stderr.write(
            f"coach: Only the first {scene.made} counts are drawn; {scene.left_out} more are too "
            "many for one picture.\n"
        )
    title = one_line(plan.project.title)
    if done < len(plan.counts):
        title = f"{title}, after {done} of {len(plan.counts)} counts"
    return svg(scene, looks(list(colours), colours), title, plain=options.plain) + "\n"


def _colours(plan: Plan, options: argparse.Namespace) -> dict[str, str]:
    """Return the colour of each cord: the plan's, then those asked for."""
    colours = {cord.id: cord.colour for cord in plan.project.cords.values()}
    for wish in options.colour:
        cord, colour = _wish(wish, list(colours))
        colours[cord] = colour
    return colours


def _wish(wish: str, cords: list[str]) -> tuple[str, str]:
    """Read one wish such as tide=plum. Raises WrongCall."""
    name, given, text = wish.partition("=")
    name, colour = name.strip(), hex_colour(text)
    if not given:
        raise WrongCall("--colour: Write a cord and its colour, such as tide=plum.")
    if name not in cords:
        said = f"This project has no cord '{one_line(name)}'. Its cords are {listed(cords)}."
        raise WrongCall(f"--colour: {said}")
    if colour is None:
        raise WrongCall(f"--colour: Unknown colour '{one_line(text)}'. {_near(text)}")
    return name, colour


def _near(text: str) -> str:
    from difflib import get_close_matches  # noqa: PLC0415 - only for a misspelt word

    near = get_close_matches(text.strip().lower(), NAMED, n=1)
    hint = "Write a CSS colour name such as sienna, or '#5b7f3a'."
    return f"Did you mean '{near[0]}'?" if near else hint


def _count(text: str | None, most: int) -> int:
    """Read how many counts are made. Raises WrongCall."""
    if text is None:
        return most
    if not text.isdecimal() or len(text) > len(str(most)) or int(text) > most:
        raise WrongCall(f"--at: Write how many counts are made, from 0 to {most}.")
    return int(text)
