"""Every sentence that the program can say has been read by somebody."""

import re
from difflib import unified_diff
from functools import cache

import pytest
from write_sentences import REVIEWED, sentences


@cache
def said_once() -> tuple[str, ...]:
    """Return all sentences, found only once."""
    return tuple(sentences())


def test_every_sentence_has_been_read() -> None:
    """A sentence that changed is read first, by somebody, and then written down with the rest."""
    before = REVIEWED.read_text(encoding="utf-8").splitlines()
    changed = list(unified_diff(before, said_once(), n=0, lineterm=""))[2:]
    assert not changed, (
        "Read the changed lines below as a maker would hear them (they are what the program says "
        "now), mend what nobody would say, then run tests/sentences/write_sentences.py:\n"
        + "\n".join(line for line in changed if line[:1] in "+-")
    )


@pytest.mark.parametrize(
    "phrase",
    [
        "aslant", "so often", "is no knot", " meant?", "stands still", "is kept already",
        "to wrap with", "lying level", "'s head each on", "to stand at", "to stand from",
        "goes into the middle", "unknotted on", "Sort the strands", "first over,", "which gives",
        "as thick as its name", "the model's", "more takes", "in 100 reach", "Wish for one",
        "is no JSON", "\N{LEFT DOUBLE QUOTATION MARK}", "‘coach ", "!",
    ],
)  # fmt: skip
def test_what_no_maker_would_say_does_not_come_back(phrase: str) -> None:
    assert phrase not in "\n".join(said_once())


def test_words_of_the_file_stand_in_the_same_quotes_everywhere() -> None:
    """Straight quotes are for what a shell reads: calls stand in backticks, words in ‘ ’."""
    words = [re.sub("`[^`]*`", "", line) for line in said_once()]
    assert [line for line in words if re.search(r"(?<!\w)'\{[\w ]+\}'", line)] == []
