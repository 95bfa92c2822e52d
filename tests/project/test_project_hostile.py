"""Whatever is written or generated, reading ends soon and with problems, never otherwise."""

import time

import pytest
from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from project_texts import HEAD, START, sound, with_work

from coach.project import model
from coach.project.read import read_project
from coach.yaml_reader.codes import CODES
from coach.yaml_reader.collector import MOST_PROBLEMS
from coach.yaml_reader.render import as_json, as_lines

MIB = 2**20
BEGUN = HEAD + START
PARTED = BEGUN + "work: [do: x]\nparts:\n"
LARGE = {
    "brackets": "[" * MIB,
    "braces": "{" * MIB,
    "dashes": "- " * (MIB // 2),
    "questions": "? " * (MIB // 2),
    "items": "work: [" + "1," * 500_000 + "]",
    "steps": BEGUN + "work:\n" + "- x\n" * 200_000,
    "long line": BEGUN + "work: " + "x" * 10**6,
    "keys": "".join(f"k{n}: 1\n" for n in range(90_000)),
    "same keys": "a: 1\n" * 200_000,
    "escapes": "\x1b\n" * (MIB // 2),
    "one line of escapes": "\x1b" * MIB,
    "hashes": "work: [\n" + "a #b\n," * 20_000 + "]",
    "ranges": BEGUN + "work:\n" + "- trim: 1-5000\n" * 24_000,
    "slips": BEGUN + "work:\n" + "- {row: clov hitch, holder: 0, acros: 9-1}\n" * 7_000,
    "chain": PARTED + "".join(f"  p{n}: [use: p{n + 1}]\n" for n in range(9_000)),
    "loop": PARTED + "".join(f"  p{n}: [use: p{(n + 1) % 900}]\n" for n in range(900)),
    "dense": PARTED + "".join(
        f"  p{n}: [" + ", ".join(f"use: p{m}" for m in range(90)) + "]\n" for n in range(90)
    ),
    "figures": BEGUN + "work:\n - wait: " + "9" * 10**6,
    "strands": BEGUN.replace("4 reed", ", ".join(["5000 clay"] * 5_000)),
    "quote": 'a: "' + "x" * MIB,
    "anchors": "work:\n" + "- &a x\n" * 100_000,
}  # fmt: skip


@pytest.mark.parametrize("name", LARGE)
def test_a_large_hostile_text_is_answered_soon(name: str) -> None:
    """Time and the number of problems stay within bounds, and every problem can be shown."""
    begun = time.process_time()  # of this process alone, whatever else the machine does
    reading = read_project(LARGE[name][:MIB])
    shown = as_lines("x", LARGE[name][:MIB], reading.problems)
    assert time.process_time() - begun < 4
    assert 0 < len(reading.problems) <= MOST_PROBLEMS + 1
    assert max(map(len, shown)) < 400


def test_too_many_problems_are_counted() -> None:
    """The last problem says how many more there are."""
    reading = read_project(with_work(*["wait: 3"] * 300))
    assert len(reading.problems) == MOST_PROBLEMS + 1
    assert (reading.problems[-1].code, reading.problems[-1].severity) == ("MANY", "error")
    assert reading.problems[-1].message.startswith("100 more")


def test_a_repeat_beyond_all_sense_is_read_without_being_made() -> None:
    """Reading builds nothing of it."""
    use = sound(with_work("{use: motif, times: 1000000000}")).work[0]
    assert isinstance(use, model.Use)
    assert use.times == 10**9


WORDS = st.sampled_from(
    ["coach", "title", "cords", "start", "work", "row", "knot", "each", "use", "clove hitch",
     "1-4 by 2", "1-16", "all", "3 cm", "10,5 cm", "#fff", "sienna", "yes", "square knot",
     "strands", "groups", "[", "]", "{", "}", ": ", ", ", "- ", "\n", "\n  ", "\n    ",
     "#", "&a ", "*a", "!x ", '"', "'", "\\e", "|", ">", "\t", "\x1b", "\u202e", "é",
     "---", "1", "0", "reed", "?", "<<", "%", "@"]
)  # fmt: skip


@examples(300)
@given(
    st.lists(WORDS, max_size=40).map("".join)
    | st.text()
    | st.binary().map(lambda b: b.decode("latin-1"))
)
def test_any_text_gives_a_reading(text: str) -> None:
    """No text makes the reader raise; problems have codes of the list and harmless words."""
    for whole in (text, BEGUN + "work:\n  - " + text, BEGUN + text):
        reading = read_project(whole)
        assert all(problem.code in CODES for problem in reading.problems)
        assert list(reading.problems) == sorted(reading.problems, key=lambda p: (p.span, p.code))
        shown = "".join(as_lines("x", whole, reading.problems)) + str(
            as_json("x", reading.problems)
        )
        assert not any(sign in shown for sign in "\x1b\u202e\r\x00")


POSITIONS = st.integers(1, 5000)
RANGES = st.tuples(POSITIONS, st.integers(-40, 40)).map(
    lambda pair: (pair[0], max(1, min(5000, pair[0] + pair[1])))
)


@given(RANGES)
def test_ranges_read_back(ends: tuple[int, int]) -> None:
    """A range is every position from its first to its last, whichever is larger."""
    step = sound(with_work(f"cross: {ends[0]}-{ends[1]}")).work[0]
    assert isinstance(step, model.Cross)
    assert sorted(step.order.items) == list(range(min(ends), max(ends) + 1))
    assert (step.order.items[0], step.order.items[-1]) == ends


@given(st.lists(POSITIONS, min_size=1, max_size=30, unique=True))
def test_lists_read_back(positions: list[int]) -> None:
    """A list of positions keeps its order."""
    step = sound(with_work(f"cross: {positions}")).work[0]
    assert isinstance(step, model.Cross)
    assert list(step.order.items) == positions


@given(st.integers(1, 50), st.integers(1, 20), st.integers(1, 12))
def test_groups_read_back(first: int, count: int, by: int) -> None:
    """Groups by number hold all positions, each once and as many in each."""
    last = first + count * by - 1
    step = sound(with_work(f"{{space: 1 cm, groups: {first}-{last} by {by}}}")).work[0]
    assert isinstance(step, model.Space)
    assert step.groups is not None
    cut = [group.items for group in step.groups.members]
    assert [item for group in cut for item in group] == list(range(first, last + 1))
    assert {len(group) for group in cut} == {by}


@given(st.integers(1, 99_999), st.sampled_from([("mm", 1), ("cm", 10), ("m", 1000)]))
def test_lengths_read_back(number: int, unit: tuple[str, int]) -> None:
    """A length in a file is its number times its unit."""
    step = sound(with_work(f"space: {number / 100:.2f} {unit[0]}")).work[0]
    assert isinstance(step, model.Space)
    assert step.length_mm == pytest.approx(number / 100 * unit[1])


NOTES = st.text(st.characters(exclude_categories=("C", "Z")), min_size=1).filter(str.strip)


@given(NOTES)
def test_quoted_words_read_back(note: str) -> None:
    """Whatever can be seen can be said in quotes."""
    quoted = note.replace("'", "''")
    step = sound(with_work(f"do: '{quoted}'")).work[0]
    assert isinstance(step, model.Do)
    assert step.text == note
