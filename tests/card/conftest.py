"""One browser for all the tests of a module."""

from collections.abc import Iterator

import pytest
from browser import Browser


@pytest.fixture(scope="module")
def browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Browser]:
    browser = Browser(tmp_path_factory.mktemp("browser"))
    yield browser
    browser.close()
