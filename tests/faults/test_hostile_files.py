"""Files from strangers: fuzzed projects in small, bombs, and the bytes that a terminal receives.

Needs POSIX: pseudo-terminals.
"""

import json
import re
import time
from pathlib import Path

import fuzzing
import pytest
from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from real_terminal import RealTerminal

from coach.piece import Store, SystemClock, start_piece
from coach.plan.from_text import read_plan

PROJECTS = Path(__file__).parents[2] / "projects"
RING = (PROJECTS / "reed-keyring.yaml").read_text()
# What a terminal would act on: a title, colours, a cursor, a link, a report, C1, and what turns
# the direction of text round; and the markup of screens.
EVIL = (
    "[bold red]b[/]\x1b]0;taken over\x07\x1b[31;5;77mred\x1b[999;999H\x1b]8;;http://tide\x1b\\link\x1b[6n"
    "\x9b31m\u202eback\u2066\u200f"
)
ACTING = ("\x1b]0;", "\x1b[31;5;77m", "\x1b[999", "\x1b]8", "\x1b[6n", "\u202e", "\u2066", "\u200f")
C1 = re.compile("[\x80-\x9f]")


def harmless(written: str) -> None:
    """Hold all that a terminal received against what may not be in it."""
    for sign in ACTING:
        assert sign not in written, f"{sign!r} reached the terminal"
    assert not C1.search(written)


def walk(terminal: RealTerminal, *led_to: tuple[str, str]) -> None:
    """Press keys one by one, each once what the one before leads to is shown."""
    for key, shown in led_to:
        terminal.press(key)
        terminal.until(shown)
    terminal.rest()


def test_mutations_of_the_projects_are_answered_soon_and_harmlessly() -> None:
    """A few hundred by a fixed seed; 100,000 by hand, see DEVELOPERS.md."""
    found = fuzzing.run(250, 1)
    assert found.wrong == []
    assert found.cases == sum(found.ends.values()) == 250
    assert min(found.ends.values()) > 20, "both plans and refusals come up"


LINES = st.sampled_from([*fuzzing.STEPS, *RING.split("\n")])


@examples(60)
@given(
    st.lists(LINES | st.text(max_size=12) | st.sampled_from(fuzzing.ODD), max_size=30),
    st.integers(0, len(RING)),
)
def test_made_up_text_is_answered_soon_and_harmlessly(lines: list[str], at: int) -> None:
    found = fuzzing.Found()
    for text in ("\n".join(lines), RING[:at] + "\n" + "\n".join(lines), RING + "\n".join(lines)):
        fuzzing.try_text(text, found)
    assert found.wrong == []


def with_work(work: str, parts: str = "") -> str:
    head = RING[: RING.index("work:")]
    part = "  a:\n    - {knot: square knot, strands: 1-4, times: 5}\n"
    return f"{head}work:\n{work}\nparts:\n{part}{parts}"


FIVES = "".join(
    f"  p{n}: [" + ", ".join([f"use: p{n + 1}"] * 5) + "]\n" for n in range(12)
) + "  p12: [use: a]\n"  # fmt: skip


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (with_work("- {use: a, times: 1000000000}"), r"5,000,000,000 counts; at most 250,000"),
        (
            with_work("- {knot: square knot, strands: 1-4, times: 5000000}"),
            r"5,000,000 counts; at most 250,000",
        ),
        (with_work("- use: p0", FIVES), r"1,220,703,125 counts; at most 250,000"),
        (
            with_work("- {use: c, times: 240000}", "  c: [{flip: piece}]\n"),
            r"240,000 steps; at most 200,000",
        ),
        (with_work("- use: b", "  b: [use: c]\n  c: [use: b]\n"), r"use each other in a loop"),
        (
            with_work(
                "- {each: 1-4 by 1, steps: [{each: 1-1 by 1, steps: [{knot: half hitch, "
                "knotter: 1, around: 1, times: 999999}]}]}"
            ),
            r"999,996|3,999,996|at most|itself|around",
        ),
    ],
    ids=[
        "times",
        "one knot",
        "parts of parts",
        "steps",
        "a part that calls itself",
        "each in each",
    ],
)
def test_an_expansion_bomb_is_refused_with_its_number_and_the_limit(text: str, said: str) -> None:
    begun = time.process_time()
    reading = read_plan(text)
    assert time.process_time() - begun < 1
    assert reading.plan is None
    assert re.search(said, " ".join(p.message + p.hint for p in reading.problems))


@pytest.fixture
def evil_home(tmp_path: Path) -> Path:
    """A home in which a piece, its project and its names are as evil as a database can hold."""
    home = tmp_path / "home"
    with Store(home / "data" / "coach.db") as store:
        for n in range(2):
            plan = read_plan(RING).plan
            assert plan is not None
            start_piece(
                store, SystemClock(), title=f"Ebb {n}", project_text=RING, source="x",
                total=plan.total,
            )  # fmt: skip
            store._db.execute(
                "UPDATE piece SET name = ?, title = ?, source = ? WHERE id = ?",
                (f"{EVIL}{n}", EVIL, EVIL, n + 1),
            )
            store._db.execute(
                "UPDATE piece SET sum = checksum(id, name, title, source, begun_ms, touched_ms,"
                " done, total, worked_ms, events, uid)"
            )
    return home


def test_nothing_of_a_hostile_name_reaches_the_terminal(evil_home: Path) -> None:
    """The list, the bench and the page of keys, with everything named to do harm."""
    evil = {"USER": EVIL, "EDITOR": EVIL, "COLORTERM": EVIL}
    with RealTerminal(home=str(evil_home), environment=evil) as terminal:
        terminal.until("On the bench")
        walk(
            terminal,
            ("\r", "0 of 27"), (" ", "1 of 27"),
            ("c", "Cord left on every"), ("\x1b", "space made"),
            ("l", "have ready"), ("\x1b", "space made"),
            ("?", "Count one as made"), ("\x1b", "space made"),
        )  # fmt: skip
        assert "[bold red]" in terminal.written, "markup is shown as it is written"
        harmless(terminal.written)


def test_nothing_of_a_hostile_file_reaches_the_terminal(tmp_path: Path) -> None:
    """Its name, title, words and notes: some are refused by the reader, and told harmlessly."""
    quoted = json.dumps(EVIL)
    folder = tmp_path / "evil"
    folder.mkdir()
    marked = RING.replace("title: Reed keyring", 'title: "[bold red]Reed[/] [@click=app.bell]x"')
    marked = marked.replace(
        "note: Comb the ends out", 'note: "[blink]Comb[/] the ends out'
    ).replace("for a tassel.", 'for a tassel."')
    texts = {
        f"{EVIL.replace('/', '')}.yaml": RING,
        "title.yaml": RING.replace("title: Reed keyring", f"title: {quoted}"),
        "note.yaml": RING.replace("note: Comb", f"note: {quoted} # "),
        "word.yaml": RING.replace("knot: square knot", f"knot: {quoted}"),
        "key.yaml": RING + f"{quoted}: 1\n",
        "raw.yaml": RING.replace("Pin the ring", f"Pin {EVIL} the ring"),
        "markup.yaml": marked,
    }
    for name, text in texts.items():
        path = folder / name
        path.write_text(text, encoding="utf-8")
        with RealTerminal("check", str(path), home=str(tmp_path / "h")) as terminal:
            terminal.end()
            harmless(terminal.written)
            assert "Traceback" not in terminal.written
    for name in (f"{EVIL.replace('/', '')}.yaml", "markup.yaml"):
        home = tmp_path / f"home of {list(texts).index(name)}"
        with RealTerminal("knot", str(folder / name), home=str(home)) as terminal:
            terminal.until("0 of 27")
            walk(terminal, (" ", "1 of 27"), ("l", "have ready"))
            harmless(terminal.written)


def test_nothing_of_the_environment_reaches_the_terminal(tmp_path: Path) -> None:
    """The folder that pieces are kept in is named to do harm, and cannot be written."""
    (tmp_path / "file").write_text("in the way")
    place = f"{tmp_path}/file/{EVIL.replace('/', '')}"
    for arguments in (("pieces",), ("knot", "reed-keyring"), ("export", EVIL), ("import", EVIL)):
        with RealTerminal(*arguments, home=place, settings="") as terminal:
            terminal.end()
            harmless(terminal.written)
    settings_file = tmp_path / "h" / "settings" / "settings.yaml"
    settings_file.parent.mkdir(parents=True)
    settings_file.write_text(f"{json.dumps(EVIL)}: 1\nkeys: {{count: [{json.dumps(EVIL)}]}}\n")
    with RealTerminal("knot", "reed-keyring", home=str(tmp_path / "h")) as terminal:
        terminal.until("0 of 27")
        terminal.rest()
        harmless(terminal.written)
