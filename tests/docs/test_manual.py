"""The manual: every page is there, fits its width, and tells all that can be typed."""

import re
import shlex
import shutil

import make_pictures
import pytest
from command_line import coach
from processes import ROOT, run
from test_docs import SHOWN

from coach.cli.arguments import Call, all_calls
from coach.cli.manual.man_page import man_page
from coach.cli.manual.pages import WRITTEN, all_pages, page_named, page_source
from coach.cli.manual.reading import WIDEST, rendered
from coach.cli.manual.step_pictures import snippet_plan, snippets, with_drawings
from coach.cli.registry import COMMANDS, parse_call
from coach.project.readers.work_steps import STEP_KINDS
from coach.session.keymap import ACTIONS
from coach.settings.key_names import key_label

NAMES = (*WRITTEN, *COMMANDS)
CODE = re.compile(r"```.*?```", re.DOTALL)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("columns", [40, 80, 200])
def test_a_page_stays_within_the_terminal(name: str, columns: int) -> None:
    """Lines of code are kept whole; nothing else is wider, nor wider than is read with ease."""
    text = CODE.sub("", page_named(name).text())
    lines = rendered(text, columns, styled=False).splitlines()
    assert max(map(len, lines)) <= min(columns, WIDEST)
    assert "|---|" not in "".join(lines)


@pytest.mark.parametrize("call", all_calls(), ids=lambda call: call.name)
def test_the_page_of_a_command_tells_every_option_and_what_it_is_for(call: Call) -> None:
    text = page_named(call.name).text()
    for option in call.own_options:
        assert f"`{', '.join(option.flags)}" in text
        assert option.help.replace("|", "\\|") in text
        assert option.help, f"{call.name} {option.flags} says nothing of itself"


@pytest.mark.parametrize("name", COMMANDS)
def test_every_call_that_a_commands_page_shows_can_be_made(name: str) -> None:
    shown = SHOWN.findall(page_source(f"commands/{name}"))
    calls = [shlex.split(line.partition(" > ")[0]) for line in shown]
    assert any(call[1:2] == [name] for call in calls)
    for call in calls:
        if len(call) > 1:
            assert parse_call(call[1:])[0].name == call[1]


def test_all_pages_are_listed_with_what_they_are_about() -> None:
    listed = coach("manual", check=True).stdout.splitlines()
    assert [line.split()[2] for line in listed] == list(NAMES)
    assert all(page.about for page in all_pages())


def test_piped_it_is_plain_text_and_as_it_is_written_on_asking() -> None:
    plain = coach("manual", "questions", check=True).stdout
    assert "My strand runs short" in plain
    assert not re.search(r"^#|\*\*|\x1b", plain, re.MULTILINE)
    written = coach("manual", "questions", "--markdown", check=True).stdout
    assert written.startswith("# Questions at the bench\n")


def test_the_man_page_tells_every_command_option_and_exit_status() -> None:
    page = man_page().replace("\\-", "-")
    for call in all_calls():
        assert f".SS coach {call.name}" in page
        for option in call.own_options:
            assert f".B {', '.join(option.flags)}" in page
    assert not [line for line in page.splitlines() if line.startswith("'")]
    if shutil.which("groff"):
        done = run(["groff", "-man", "-Tutf8", "-rLL=200n", "-ww", "-z"], typed=man_page())
        assert (done.returncode, done.stderr) == (0, "")


STEPS = (ROOT / "coach" / "pages" / "steps.md").read_text(encoding="utf-8")


def alike(one: str, other: str) -> bool:
    """Whether two pictures are one but for roundings: Python 3.12 and newer add more exactly."""
    number = re.compile(r"-?\d+(?:\.\d+)?")
    ones, others = (list(map(float, number.findall(text))) for text in (one, other))
    shapes = {number.sub("#", text).strip() for text in (one, other)}
    return len(shapes) == 1 and ones == pytest.approx(others, abs=1.01)


def test_every_kind_of_step_is_shown_with_a_snippet_that_can_be_worked() -> None:
    """By the kinds that the reader of projects knows; each picture is made of its own snippet."""
    headings = re.findall(r"^## (.+)$", STEPS, re.MULTILINE)
    told = {kind for heading in headings for kind in heading.split(", ")}
    assert told == set(STEP_KINDS)
    for section in STEPS.split("\n## ")[1:]:
        kinds, own = section.partition("\n")[0].split(", "), list(snippets(section))
        for kind in kinds:
            assert any(re.search(rf"(^|- ){kind}: ", text, re.MULTILINE) for text, _ in own), kind
    shown = {name: snippet_plan(text) for text, name in snippets(STEPS)}
    assert {name for name in shown if name} == {path.stem for path in make_pictures.STEPS.iterdir()}
    for name, text in make_pictures.steps().items():
        kept = (make_pictures.STEPS / f"{name}.svg").read_text(encoding="utf-8")
        assert alike(kept, text), f"{name}: run tests/docs/make_pictures.py"


def test_every_key_of_the_bench_is_told() -> None:
    text = page_named("keys").text()
    for action in ACTIONS:
        line = next(line for line in text.splitlines() if line.endswith(f"| {action.help} |"))
        assert all(f"`{key_label(key)}`" in line for key in action.keys if key_label(key) != "|")


def test_the_terminal_draws_each_step_in_its_own_characters() -> None:
    solid = re.compile("[\u2500-\u259f]")
    for encoding in ("utf-8", "ascii"):
        page = with_drawings(STEPS, 60, encoding)
        assert "![" not in page
        drawings = re.findall(r"```text\n(.*?)```", page, re.DOTALL)
        assert len(drawings) == sum(bool(name) for _, name in snippets(STEPS))
        for drawing in drawings:
            assert max(map(len, drawing.splitlines())) <= 56
            assert bool(solid.search(drawing)) == (encoding == "utf-8")
    assert "1    2    3" in rendered(STEPS, 60, styled=False)
