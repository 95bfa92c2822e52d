"""The long form of test_schema.py, run by .ci/run and by hand:

`python -m pytest tests/authoring/schema_at_length.py`
"""

from test_schema import agreed


def test_schema_and_reader_agree_on_a_thousand_generated_files() -> None:
    taken, refused = agreed(range(1_000))
    assert taken > 300
    assert refused > 300
