"""A key is declared once: what readers ask for, the schema and the manual's tables agree."""

import json
from collections import defaultdict
from collections.abc import Iterable

import pytest
from generated_files import BY_LONGEST, FILE, STEPS

from coach.project import read
from coach.project.readers import cords, size, start
from coach.project.readers.common_keys import ABOUT
from coach.project.readers.step_kinds import Shape, keys_of
from coach.project.readers.work_steps import STEP_KINDS
from coach.project.schema.json_schema import project_schema
from coach.project.schema.manual_tables import STEP_TABLES
from coach.yaml_reader.collector import ReadingProblems
from coach.yaml_reader.declarations import SYNONYMS, OneOf, every_key
from coach.yaml_reader.mapping_reader import Fields

WHOLE = {**FILE, "parts": {"motif": [{"do": "Look."}]}, "work": [*STEPS, *BY_LONGEST]}


def names(*shapes: Shape) -> set[str]:
    return set(keys_of(shapes))


@pytest.fixture(scope="module")
def asked() -> dict[str, set[str]]:
    """Return what is asked for in each kind of mapping and step, while a file with all is read."""
    found: dict[str, set[str]] = defaultdict(set)
    finish = Fields.finish

    def noting(fields: Fields) -> None:
        kind = next((name for name in fields.names if name in STEP_KINDS), "")
        found[kind if fields.what.endswith(" step") else fields.what].update(fields._asked)
        finish(fields)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Fields, "finish", noting)
        reading = read.read_project(json.dumps(WHOLE))
    assert reading.problems == ()
    return found


def test_every_kind_of_step_asks_for_the_keys_that_it_declares(asked: dict[str, set[str]]) -> None:
    for name, kind in STEP_KINDS.items():
        declared = names(*kind.shapes.values(), tuple(ABOUT.values()))
        assert asked[name] == declared, name


@pytest.mark.parametrize(
    ("what", "declared"),
    [
        ("a project file", read.KEYS),
        ("a cord", cords.KEYS),
        ("the start", start.KEYS),
        ("the size", size.SIZE_KEYS),
        ("a measured entry", size.MEASURED_KEYS),
    ],
)
def test_every_other_mapping_asks_for_the_keys_that_it_declares(
    asked: dict[str, set[str]], what: str, declared: Shape
) -> None:
    assert asked[what] == names(declared)


def test_the_schema_has_the_same_keys_for_every_kind_of_step() -> None:
    whole = project_schema()["$defs"]
    for name, kind in STEP_KINDS.items():
        in_schema = {key for shape in kind.shapes for key in whole[shape]["properties"]}
        declared = names(*kind.shapes.values(), tuple(ABOUT.values()))
        assert in_schema - set(SYNONYMS) == declared, name


def test_every_kind_of_step_has_its_place_in_the_manual() -> None:
    assert sorted(kind for kinds in STEP_TABLES for kind in kinds) == sorted(STEP_KINDS)


def shapes() -> Iterable[Shape]:
    yield from (read.KEYS, cords.KEYS, start.KEYS, size.MEASURED_KEYS)
    for kind in STEP_KINDS.values():
        yield from kind.shapes.values()


def test_every_key_that_can_be_missing_says_what_could_be_written() -> None:
    """All but those that tell what kind of step it is, for without them there is none."""
    for shape in shapes():
        for entry in shape:
            for key in every_key((entry,)):
                if (isinstance(entry, OneOf) or key.needed) and key.name not in STEP_KINDS:
                    assert "…" not in key.written(ReadingProblems()), key


def test_every_key_is_told_in_a_sentence() -> None:
    for shape in (*shapes(), size.SIZE_KEYS, tuple(ABOUT.values())):
        for key in every_key(shape):
            assert key.said.endswith("."), key
            assert "|" not in key.said, key
