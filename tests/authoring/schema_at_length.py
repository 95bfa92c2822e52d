"""The long form of test_schema.py, run by .ci/run and by hand:

`python -m pytest tests/authoring/schema_at_length.py`
"""

import pytest
from test_schema import agreed


@pytest.mark.parametrize("part", range(4))
def test_schema_and_reader_agree_on_a_thousand_generated_files(part: int) -> None:
    taken, refused = agreed(range(250 * part, 250 * (part + 1)))
    assert taken > 75
    assert refused > 75
