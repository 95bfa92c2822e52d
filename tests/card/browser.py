"""A real browser, and checkers of pages, where they are installed.

Needs POSIX: a shell.
"""

import json
import re
import select
import shutil
from base64 import b64decode
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from importlib.util import find_spec
from itertools import count
from pathlib import Path
from typing import Any, TypeAlias

import html5lib
from processes import PATIENCE_S, Started, run

Asking: TypeAlias = Callable[..., dict[str, Any]]

CHROMIUM = shutil.which("chromium")
FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
    "--hide-scrollbars", "--remote-debugging-pipe",
)  # fmt: skip
# It is told what to do on its third input, and answers on the output after that.
_TOLD = 'exec "$0" "$@" 3<&0 4>&1 </dev/null >/dev/null 2>&1'
_LOADED = """new Promise((done) => {
  if (document.readyState === "complete") done(); else addEventListener("load", () => done()); })"""
_AXE = """axe.run().then((found) => [found.passes.length,
  found.violations.map((one) => one.id + ": " + one.nodes[0].html).join("\\n")])"""
# An older HTML Tidy holds the lengths of SVG against HTML's own rule; the other ones hold.
_NO_FAULT = re.compile(r'<svg> attribute "(?:width|height)" has invalid value "[\d.]+mm"$')


class Browser:
    """A browser that opens pages one after another, told so by the protocol that it has for it.

    Where none is installed, the page is still read as browsers do; a fault of writing is an error.
    """

    def __init__(self, folder: Path) -> None:
        self._numbers = count(1)
        self._came = b""
        command = ["sh", "-c", _TOLD, str(CHROMIUM), *FLAGS, f"--user-data-dir={folder}"]
        self._process = Started(command, text=False, lasting=True) if CHROMIUM else None

    def close(self) -> None:
        """End it."""
        if self._process:
            self._process.end()

    def printed(self, html: Path) -> bytes:
        """Return a page as PDF, on the paper that it asks for; b"" without a browser."""
        with self._page(html) as page:
            given = {"preferCSSPageSize": True}
            return b64decode(page("Page.printToPDF", **given)["data"]) if page else b""

    def seen(self, html: Path, scheme: str) -> bytes:
        """Return what is seen of a page in a scheme of colours as PNG; b"" without a browser."""
        with self._page(html, scheme) as page:
            return b64decode(page("Page.captureScreenshot")["data"]) if page else b""

    def inaccessible(self, html: Path, scheme: str = "light") -> str:
        """Return the rules of axe-core that a page breaks, "" without it or a browser.

        It has rules for WCAG 2.0, 2.1 and 2.2, level A and AA, and for good practice.
        """
        axe = find_spec("axe_core_python")
        with self._page(html, scheme) as page:
            if not (page and axe and axe.submodule_search_locations):
                return ""
            code = Path(axe.submodule_search_locations[0]) / "axe.min.js"
            page("Runtime.evaluate", expression=code.read_text(encoding="utf-8"))
            passes, broken = _value(page, _AXE)
            return str(broken) if passes else "nothing was looked at"

    @contextmanager
    def _page(self, html: Path, scheme: str = "light") -> Iterator[Asking | None]:
        """Open a page, and yield what asks the browser something of it."""
        if not self._process:
            html5lib.HTMLParser(strict=True).parse(html.read_text(encoding="utf-8"))
            yield None
            return
        target = {"targetId": self._ask("Target.createTarget", url="about:blank")["targetId"]}
        session = self._ask("Target.attachToTarget", **target, flatten=True)["sessionId"]
        page = partial(self._ask, session=session)
        coloured = {"name": "prefers-color-scheme", "value": scheme}
        page("Emulation.setEmulatedMedia", features=[coloured])
        page("Page.navigate", url=html.as_uri())
        _value(page, _LOADED)
        yield page
        self._ask("Target.closeTarget", **target)

    def _ask(self, method: str, session: str = "", **given: Any) -> dict[str, Any]:
        """Ask something, and return the answer; what comes beside is dropped."""
        assert self._process
        number = next(self._numbers)
        asked = {"id": number, "method": method, "params": given}
        asked |= {"sessionId": session} if session else {}
        self._process.stdin.write(json.dumps(asked).encode() + b"\0")
        self._process.stdin.flush()
        while (answer := self._message()).get("id") != number:
            continue
        assert "error" not in answer, answer
        result: dict[str, Any] = answer["result"]
        return result

    def _message(self) -> dict[str, Any]:
        """Return the next thing that the browser says."""
        assert self._process
        while b"\0" not in self._came:
            assert select.select([self._process.stdout], [], [], PATIENCE_S)[0], "no answer"
            piece = self._process.stdout.read1()
            assert piece, "it has ended"
            self._came += piece
        message, _, self._came = self._came.partition(b"\0")
        told: dict[str, Any] = json.loads(message)
        return told


def _value(page: Asking, expression: str) -> Any:
    """Return what a script on a page comes to."""
    given = {"expression": expression, "awaitPromise": True, "returnByValue": True}
    return page("Runtime.evaluate", **given)["result"].get("value")


def sheets_of(pdf: bytes) -> list[tuple[float, float]]:
    """Return the size in points of each sheet of a PDF."""
    boxes = re.findall(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", pdf)
    return [(float(wide), float(high)) for wide, high in boxes]


def one_after_another(pages: list[str], paper: str, html: Path) -> Path:
    """Write a page that holds several, each from a new sheet of paper on; return where it is."""
    head = pages[0].partition("<main>")[0].replace("@page {", f"@page {{ size: {paper};")
    bodies = [page.partition("<main>")[2].partition("</main>")[0] for page in pages]
    html.write_text(f"{head}<main>{''.join(bodies)}</main></body></html>", encoding="utf-8")
    return html


def tidied(text: str, folder: Path) -> list[str]:
    """Return the faults that HTML Tidy finds in a page, none where it is not installed."""
    tidy, html = shutil.which("tidy"), folder / "page.html"
    if not tidy:
        return []
    html.write_text(text, encoding="utf-8")
    found = run([tidy, "-quiet", "-errors", "--drop-empty-elements", "no", html]).stderr
    return [line for line in found.splitlines() if not _NO_FAULT.search(line)]


def validated(pages: list[Path]) -> str:
    """Return the faults that the Nu checker of the W3C finds, "" where it is not installed."""
    checker = shutil.which("vnu")
    return str(run([checker, "--also-check-svg", *pages]).stderr) if checker else ""
