"""The build sheet as one HTML file that needs no other: style, type and drawings are inside."""

import base64
import re
from importlib import resources
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup, escape

from hoopwright.sheet.content import HELD_UNITS, Diagram, Document

_TOGETHER = re.compile(rf"(?<=\d) (?=\d+/\d+|%|(?:{HELD_UNITS})\b)")
_FRACTION = re.compile(r"(?<![\d/])\d+/\d+(?![\d/]|\.\d)")
_HEAD = re.compile(r' width="[\d.]+mm" height="[\d.]+mm"')


def to_html(document: Document) -> str:
    """Return the page."""
    with resources.as_file(resources.files("hoopwright.sheet")) as folder:
        page = templates(folder / "templates")
        page.filters["picture"] = picture
        fonts = {
            weight: base64.b64encode(
                (folder / "fonts" / f"FiraSans-{name}.woff2").read_bytes()
            ).decode("ascii")
            for weight, name in ((400, "Regular"), (600, "SemiBold"))
        }
        return page.get_template("sheet.html.jinja").render(document=document, fonts=fonts)


def templates(folder: Path) -> Environment:
    """Return the templates of a folder: what they show is escaped, and nothing may be missing."""
    made = Environment(
        loader=FileSystemLoader(folder),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters["joined"] = joined
    return made


def joined(words: str) -> Markup:
    """Return words with a number kept on one line with its fraction and unit, and the fraction
    marked so that the type sets it as one."""
    kept = _TOGETHER.sub("\N{NO-BREAK SPACE}", words)
    pieces, at = [], 0
    for found in _FRACTION.finditer(kept):
        pieces.append(escape(kept[at : found.start()]))
        pieces.append(Markup('<span class="fraction">{}</span>').format(found.group()))
        at = found.end()
    pieces.append(escape(kept[at:]))
    return Markup("").join(pieces)


def picture(diagram: Diagram) -> Markup:
    """Return a drawing's SVG for the page: as wide as on paper, narrower on a narrow screen."""
    width = f"{1000 * diagram.width:.1f}mm"
    svg = _HEAD.sub(f' style="width:{width}"', diagram.svg, count=1)
    return Markup(svg)
