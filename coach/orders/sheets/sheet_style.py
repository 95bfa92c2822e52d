"""The style of the desk's printed pages, A4 or Letter."""

from typing import Final

# A4 is 210 by 297 mm, Letter 215.9 by 279.4 mm (ISO 216; ANSI/ASME Y14.1; both from memory): what
# is 180 mm wide and 249 mm high goes on either with a margin of 15 mm.
WIDE_MM: Final = 180
HIGH_MM: Final = 249

STYLE: Final = """
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { margin: 0 auto; width: 180mm; max-width: 100%; padding: 4mm 0; background: #ffffff;
  color: #1b1b1b; font: 11pt/1.45 Georgia, "DejaVu Serif", serif; }
h1 { font-size: 22pt; line-height: 1.15; margin: 0 0 3mm; }
h2 { font-size: 12pt; margin: 1mm 0; }
.pictures { display: flex; gap: 4mm; justify-content: center; margin-bottom: 4mm; }
figure { margin: 0; text-align: center; break-inside: avoid; }
figure img { max-width: 100%; max-height: 125mm; }
.of1 img { max-width: 150mm; } .of2 figure { width: 86mm; } .of3 figure { width: 56mm; }
.of4 figure { width: 42mm; }
figcaption { font-size: 9.5pt; color: #4a4a4a; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: start; padding: 1mm 3mm 1mm 0; border-bottom: .3mm solid #767676; }
tr, .care { break-inside: avoid; }
td.figure { white-space: nowrap; }
.patch { display: inline-block; width: 3.4mm; height: 3.4mm; border: .2mm solid #1b1b1b;
  margin: 0 1.2mm 0 0; vertical-align: -.5mm; print-color-adjust: exact; }
.total { font-size: 14pt; font-weight: bold; margin: 4mm 0 1mm; }
p { margin: 1mm 0; }
.care { border: .5mm solid #1b1b1b; padding: 1mm 4mm; margin-top: 4mm; }
.care ul { margin: 1mm 0; padding-left: 5mm; }
@page { margin: 15mm; }
@media print { body { padding: 0; } }
"""


def whole_page(title: str, style: str, body: str) -> str:
    """Return an HTML page that needs no other files.

    Args:
        title: Its title, escaped already.
        style: Its style sheet.
        body: Its content, as HTML.
    """
    return (
        f'<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{title}</title>\n<style>{style}</style>\n</head>\n<body>\n<main>\n"
        f"{body}\n</main>\n</body>\n</html>\n"
    )
