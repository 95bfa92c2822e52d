"""Numbers as they are read aloud, and whole instructions without a figure."""

import re

import pytest

from coach.cli.project_finder import shipped_projects
from coach.plan.from_text import read_plan
from coach.report.plan_report import report_of
from coach.words.sheet import spoken_words
from coach.words.spoken_text import aloud, read_aloud
from coach.yaml_reader.file_loader import load


@pytest.mark.parametrize(
    ("printed", "said"),
    [
        ("Leave a 3 cm gap at 30°.", "Leave a three centimetre gap at thirty degrees."),
        (
            "Two 2.4 m lengths of tide (blue)",
            "Two lengths of tide, two point four metres each (blue)",
        ),
        ("One 1/2 in length of tide (blue)", "One length of tide, half an inch (blue)"),
        ("Trim all ends to 13/16 in.", "Trim all ends to thirteen sixteenths of an inch."),
        ("Leave a 1/8 in gap", "Leave an eighth inch gap"),
        ("Leave a 1 1/2 in gap", "Leave a one and a half inch gap"),
        ("on strands 7-9 in turn", "On strands seven to nine in turn"),
        ("strands 1 to 24 in groups of four", "Strands one to twenty-four in groups of four"),
        ("enough 95 times in 100", "Enough ninety-five times in a hundred"),
        ("Trim all ends to 1 3/16 in.", "Trim all ends to one and three sixteenths inches."),
        ("1,204 clove hitches", "One thousand two hundred and four clove hitches"),
        ("strands 1-4 and 11 down to 9", "Strands one to four and eleven down to nine"),
        ("13 to 17 % extra", "Thirteen to seventeen per cent extra"),
        ("reed.1a", "Reed.1a"),
        ("pieces 3-4 tide", "Pieces three and four tide"),
        (
            "Plait strands 1, 2 and 3-4 for",
            "Plait strand one, strand two and strands three and four together for",
        ),
        ("Plait strands 1, 2 and 3 for", "Plait strands one, two and three for"),
    ],
)
def test_numbers_and_units_are_said_in_words(printed: str, said: str) -> None:
    assert aloud(printed) == said


def test_a_step_is_called_by_its_number() -> None:
    assert read_aloud(["    - **4.** Tie a \\*knot\\*."]) == ["Step four: Tie a *knot*."]


def test_no_figure_is_left_in_what_is_read_aloud() -> None:
    for path in shipped_projects():
        plan = read_plan(load(path).text or "").plan
        assert plan
        told = "\n".join(spoken_words(plan, report_of(plan)))
        assert not re.search(r"\d", re.sub(r"[A-Z]+ [\d-]+|\(C?I?.*?\)", "", told)), path.stem
        assert "inch" not in told, path.stem
