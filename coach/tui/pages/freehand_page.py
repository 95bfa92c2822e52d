"""The help of knotting without a pattern: its keys, and an example of every sentence."""

from collections.abc import Iterator, Sequence
from typing import Final

from rich.text import Text

from coach.recording.examples import BESIDE, FORMS
from coach.session.by_sentence.freehand_words import KEYS, TOLD
from coach.tui.layout.styled_text import Inks, paragraph

_MOST: Final = 9


def freehand_lines(inks: Inks, width: int) -> list[Text]:
    """Return the keys, and all that can be said."""
    lines = [Text("Knotting without a pattern", inks.style("text", bold=True))]
    for key, told in KEYS:
        lines += [Text(), *paragraph(key, width, 2, inks.style("figure", bold=True))]
        lines += paragraph(told, width, _MOST, inks.style("text"))
    for told in TOLD:
        lines += [Text(), *paragraph(told, width, _MOST, inks.style("quiet"))]
    lines += [*_examples("What you can say of a step", FORMS, inks, width)]
    lines += [*_examples("And beside it", BESIDE, inks, width)]
    return lines


def _examples(heading: str, forms: Sequence[str], inks: Inks, width: int) -> Iterator[Text]:
    yield from (Text(), Text(heading, inks.style("quiet")))
    for form in forms:
        yield from paragraph(form, width, _MOST, inks.style("text"))
