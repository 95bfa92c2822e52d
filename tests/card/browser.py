"""A real browser, and checkers of pages, where they are installed."""

import re
import shutil
import tempfile
from importlib.util import find_spec
from pathlib import Path

import html5lib
from processes import run

CHROMIUM = shutil.which("chromium")
FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
    "--hide-scrollbars", "--no-pdf-header-footer",
)  # fmt: skip
DARK = "--blink-settings=preferredColorScheme=0"
# An older HTML Tidy holds the lengths of SVG against HTML's own rule; the other ones hold.
_NO_FAULT = re.compile(r'<svg> attribute "(?:width|height)" has invalid value "[\d.]+mm"$')
_AXE = """<script>%s</script><script>axe.run().then((found) => {
  document.title = found.violations.map((one) => one.id + ": " + one.nodes[0].html).join("\\n") ||
    `${found.passes.length} passed`; });</script></body>"""


def browse(html: Path, *flags: str) -> str:
    """Let the browser open a page, and return what it prints.

    Where none is installed, the page is still read as browsers do; a fault of writing is an error.
    """
    if not CHROMIUM:
        html5lib.HTMLParser(strict=True).parse(html.read_text(encoding="utf-8"))
        return ""
    with tempfile.TemporaryDirectory() as folder:
        command = [CHROMIUM, *FLAGS, f"--user-data-dir={folder}", *flags, html.as_uri()]
        return str(run(command, check=True).stdout)


def printed(pages: list[str], paper: str, folder: Path) -> list[tuple[float, float]]:
    """Return the sheets in points that pages take one after the other, each from a new one on."""
    html, pdf = folder / "printed.html", folder / "printed.pdf"
    head = pages[0].partition("<main>")[0].replace("@page {", f"@page {{ size: {paper};")
    bodies = [page.partition("<main>")[2].partition("</main>")[0] for page in pages]
    html.write_text(f"{head}<main>{''.join(bodies)}</main></body></html>", encoding="utf-8")
    browse(html, f"--print-to-pdf={pdf}")
    text = pdf.read_bytes() if CHROMIUM else b""
    boxes = re.findall(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", text)
    return [(float(wide), float(high)) for wide, high in boxes]


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


def inaccessible(text: str, html: Path, *flags: str) -> str:
    """Return the rules of axe-core that a page breaks, "" where it or the browser is missing.

    It has rules for WCAG 2.0, 2.1 and 2.2, level A and AA, and for good practice.
    """
    axe = find_spec("axe_core_python")
    if not (CHROMIUM and axe and axe.submodule_search_locations):
        return ""
    code = (Path(axe.submodule_search_locations[0]) / "axe.min.js").read_text(encoding="utf-8")
    html.write_text(text.replace("</body>", _AXE % code), encoding="utf-8")
    dom = browse(html, "--virtual-time-budget=60000", "--dump-dom", *flags)
    title = re.search(r"<title>(.*?)</title>", dom, re.DOTALL)
    told = title[1] if title else "it never ended"
    return "" if re.fullmatch(r"\d+ passed", told) else told
