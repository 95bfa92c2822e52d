"""Every sentence that the program can say has been read by somebody."""

from difflib import unified_diff

from write_sentences import REVIEWED, sentences


def test_every_sentence_has_been_read() -> None:
    """A sentence that changed is read first, by somebody, and then written down with the rest."""
    before = REVIEWED.read_text(encoding="utf-8").splitlines()
    changed = list(unified_diff(before, sentences(), n=0, lineterm=""))[2:]
    assert not changed, (
        "Read the changed lines below as a maker would hear them (they are what the program says "
        "now), mend what nobody would say, then run tests/sentences/write_sentences.py:\n"
        + "\n".join(line for line in changed if line[:1] in "+-")
    )
