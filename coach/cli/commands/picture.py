"""`coach picture FILE -o piece.svg`: the piece as it looks, at scale, front or back."""

import argparse
import sys
from pathlib import Path

from coach.cli.colourway_writer import write_colourway
from coach.cli.file_output import add_output, refuse_call, write_output
from coach.cli.options.colours_asked import colourway_of
from coach.cli.options.piece_options import RequestedPiece, add_piece_options, read_requested_piece
from coach.cli.output import print_page
from coach.cli.project_finder import NoSuchProject, find_project
from coach.cli.skill_question import skill_set
from coach.picture.compose import scene_of
from coach.picture.render.shades import looks
from coach.picture.render.svg_drawing import render_svg
from coach.picture.render.tube import rolled_up
from coach.piece import PieceError
from coach.plan.plan_model import Plan
from coach.plan.resize.refit import CannotRefit
from coach.project.tried_colours import TriedColours, WrongColour
from coach.text import one_line


class WrongCall(Exception):
    """An option names something that the project does not have, or cannot be read."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with."""
    add_piece_options(parser)
    add_output(parser, "SVG")
    parser.add_argument("--back", action="store_true", help="seen from the back")
    parser.add_argument("--at", metavar="COUNT", help="as it is after this many counts")
    parser.add_argument(
        "--colour", metavar="CORD=COLOUR", action="append", default=[],
        help="a cord in another colour, such as tide=plum",
    )  # fmt: skip
    parser.add_argument(
        "--save", metavar="NAME", default="", help="write these colours into the file by a name"
    )
    parser.add_argument("--tube", action="store_true", help="round work closed, not laid open")
    parser.add_argument("--plain", action="store_true", help="without ruler and paper")


def run(options: argparse.Namespace) -> int:
    """Write the picture; 1 if the file has errors, 2 if the call or the target is wrong."""
    try:
        this = read_requested_piece(options, skill_set, coloured=False)
        if this is None:
            return 1
        text = _drawn(this, options)
    except (NoSuchProject, CannotRefit, PieceError, WrongCall) as error:
        return refuse_call(str(error))
    if options.output == "-":
        print_page(text)
        return 0
    return write_output(Path(options.output), text, over=options.replace)


def _drawn(this: RequestedPiece, options: argparse.Namespace) -> str:
    """Return the picture that the options ask for; of several copies, one. Raises WrongCall."""
    plan = this.plan
    tried = _colours(plan, options)
    if options.save:
        _saved(tried, options)
    colours = tried.colours
    done = _count(options.at, len(plan.counts))
    scene = scene_of(plan, done, back=options.back)
    if options.tube:
        if not scene.closed:
            raise WrongCall("--tube: This project is not worked in the round (round: yes).")
        scene = rolled_up(scene)
    if scene.left_out:
        sys.stderr.write(
            f"coach: Only the first {scene.made} counts are drawn; {scene.left_out} more are too "
            "many for one picture.\n"
        )
    title = one_line(plan.project.title)
    if this.copies > 1:
        title = f"{title}, one of {this.copies:,}"
    if done < len(plan.counts):
        title = f"{title}, after {done} of {len(plan.counts)} counts"
    return (
        render_svg(scene, looks(list(colours), colours), title, plain=options.plain, unit=this.unit)
        + "\n"
    )


def _colours(plan: Plan, options: argparse.Namespace) -> TriedColours:
    """Return the cords' colours: the file's, the colourway's, then those asked for."""
    tried, option = TriedColours(plan.project), "--colourway"
    try:
        if options.colourway:
            tried.take(colourway_of(plan.project, options.colourway))
        option = "--colour"
        for wish in options.colour:
            cord, given, colour = wish.partition("=")
            if not given:
                raise WrongCall("--colour: Write a cord and its colour, such as tide=plum.")
            tried.give(cord.strip(), colour)
    except WrongColour as error:
        raise WrongCall(f"{option}: {error}") from error
    return tried


def _saved(tried: TriedColours, options: argparse.Namespace) -> None:
    """Write the colours into the project's file as a colourway. Raises WrongCall."""
    try:
        key = find_project(options.project).key
        said = write_colourway(key, options.save, tried.changed, over=options.replace)
    except WrongColour as error:
        raise WrongCall(f"--save: {error}") from error
    sys.stderr.write(f"coach: {said}\n")


def _count(text: str | None, most: int) -> int:
    """Read how many counts are made. Raises WrongCall."""
    if text is None:
        return most
    if not text.isdecimal() or len(text) > len(str(most)) or int(text) > most:
        raise WrongCall(f"--at: Write how many counts are made, from 0 to {most}.")
    return int(text)
