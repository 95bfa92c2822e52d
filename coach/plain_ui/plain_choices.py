"""The plain word for choices that a step leaves to the maker."""

from coach.piece.changes.chosen_figures import EXAMPLES
from coach.session.choosing import NOTHING_OPEN, Choosing
from coach.text import one_line


def chosen(choosing: Choosing, rest: str) -> str:
    """Return the result of `choose`, or, with nothing after it, what can be chosen."""
    if not rest:
        options = [f"{option.word}: {option.label}." for option in choosing.options()]
        return " ".join(options) or NOTHING_OPEN
    what, _, figure = rest.lower().partition(" ")
    if what in EXAMPLES:
        return choosing.choose(what, figure.strip())
    if what == "group":
        return choosing.pick(figure.strip())
    return f"Nothing here is called ‘{one_line(what)}’. ‘choose’ alone lists what is left to you."
