"""argparse's error messages in a maker's words.

argparse's own wording also differs between versions of Python.
"""

import re
from typing import Final

from coach.text import capital, join_words, one_line

_SAID: Final = (
    (r"the following arguments are required: (.+)", r"Missing: \1."),
    (r"argument (\S+): expected one argument", r"\1 needs a value."),
    (r"argument (\S+): expected at least one argument", r"\1 needs at least one value."),
    (r"argument (\S+): ignored explicit argument '(.*)'", r"\1 takes no value."),
    (r"argument (\S+): not allowed with argument (\S+)", r"\1 and \2 do not go together."),
)
_CHOICE: Final = r"argument (\S+): invalid choice: '(.*)' \(choose from (.+)\)"
_AMBIGUOUS: Final = r"ambiguous option: (\S+) could match (.+)"
_OTHER: Final = r"argument (\S+): (.+)"


def error_in_words(message: str) -> str:
    """Return a message of argparse in a maker's words, on one line."""
    message = one_line(message)
    for pattern, said in _SAID:
        if match := re.fullmatch(pattern, message):
            return match.expand(said)
    if match := re.fullmatch(_CHOICE, message):
        return f"{match[1]}: ‘{match[2]}’ is not {_one_of(match[3])}."
    if match := re.fullmatch(_AMBIGUOUS, message):
        return f"{match[1]} could mean {_one_of(match[2])}. Write all of it."
    if match := re.fullmatch(_OTHER, message):
        return f"{match[1]}: {capital(match[2])}"
    return message


def _one_of(names: str) -> str:
    bare = (name.strip().strip("'") for name in names.split(","))
    return join_words([name for name in bare if name], "or")
