"""How does report.pdf come about: an archive copy (PDF/A-2b, ISO 19005-2) by typst, the same every time?

The template is fixed and the data reach it as a JSON file in memory: no text of a report is ever run. Only the
fonts that typst carries are used, all embedded; nothing is read from the disk or a network.
"""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from functools import cache
from importlib.resources import files
from typing import Any

from spokenfor.models import Result
from spokenfor.reporting.pdf_data import ReviewWords, pdf_data
from spokenfor.reporting.wording import moment_of

PDF_FILE = "report.pdf"
STANDARD = "a-2b"
_TEMPLATE = ("report.typ", "shapes.typ", "parts.typ")
_NO_GLYPH = "could not be displayed"
_LAST_WITH_GLYPHS = 0x2E80
"""From here on (CJK, Hangul, emoji...) the embedded fonts hold next to nothing (seen with typst 0.15)."""
_HIDDEN = {"Cc", "Cf", "Cs", "Co", "Cn"}
"""Unicode categories that leave no mark on paper, or turn the text around them."""
_PROBE = """#set text(font: json("data.json").fonts)
#let one = json("data.json").text
#one #strong(one) #emph(one)"""
FONTS = ("Libertinus Serif", "New Computer Modern", "New Computer Modern Math", "DejaVu Sans Mono")


def report_pdf(
    result: Result,
    review: ReviewWords | None = None,
    versions: Mapping[str, str] | None = None,
) -> bytes:
    """The archive copy of a report. Same in, same out: it bears the date of the inspection, not of the run.

    `result` is the reviewed one where there is a `review`. A character that no embedded font holds, or that
    leaves no mark on paper, is printed as its number, "[U+4E2D]": PDF/A forbids missing glyphs (ISO 19005-2,
    6.2.11.8, from memory).
    """
    import typst

    moment = _moment(result.inspection.started)
    stamp = int(moment.timestamp())
    data = pdf_data(result, review, versions)
    data |= {
        "fonts": FONTS,
        "date": [moment.year, moment.month, moment.day, moment.hour, moment.minute, moment.second],
    }
    try:
        return _compile(_template(), _each_text(data, _without_hidden), stamp)
    except typst.TypstError as error:
        if _NO_GLYPH not in str(error):
            raise
    try:
        return _compile(_template(), _each_text(data, _without_missing), stamp)
    except typst.TypstError as error:
        if _NO_GLYPH not in str(error):
            raise
    # A character that can be set alone but not beside its neighbours.
    return _compile(_template(), _each_text(data, _only_ascii), stamp)


def _compile(template: Mapping[str, bytes], data: Any, stamp: int) -> bytes:
    import typst

    text = json.dumps(data, ensure_ascii=True, sort_keys=True).encode("ascii")
    # typst takes files in memory by name; its type stub does not know of that yet (0.15).
    made = typst.compile(  # type: ignore[call-overload]
        {**template, "data.json": text},
        format="pdf",
        pdf_standards=STANDARD,
        ignore_system_fonts=True,
        timestamp=stamp,
    )
    assert isinstance(made, bytes)
    return made


@cache
def _template() -> Mapping[str, bytes]:
    """The files of the template by name; the first is the one that typst starts with."""
    folder = files("spokenfor.reporting").joinpath("pdf_template")
    read = {name: folder.joinpath(name).read_bytes() for name in _TEMPLATE}
    return {"main.typ": read.pop(_TEMPLATE[0]), **read}


def _moment(started: str) -> datetime:
    """The time of the inspection in UTC; 1 January 1970 where the text is no time."""
    return (moment_of(started) or datetime.fromtimestamp(0, UTC)).replace(microsecond=0)


def _each_text(tree: Any, change: Callable[[str], str]) -> Any:
    if isinstance(tree, str):
        return change(tree)
    if isinstance(tree, dict):
        return {key: _each_text(value, change) for key, value in tree.items()}
    if isinstance(tree, list | tuple):
        return [_each_text(value, change) for value in tree]
    return tree


def _without_hidden(text: str) -> str:
    if text.isascii() and text.isprintable():
        return text
    spaced = re.sub(r"[\t\n\r\x0b\x0c\x85\u2028\u2029]+", " ", text)
    return _numbered(spaced, lambda one: unicodedata.category(one) not in _HIDDEN)


def _without_missing(text: str) -> str:
    return _numbered(_without_hidden(text), _has_glyph)


def _only_ascii(text: str) -> str:
    return _numbered(_without_hidden(text), str.isascii)


def _numbered(text: str, keep: Callable[[str], bool]) -> str:
    return "".join(one if keep(one) else f"[U+{ord(one):04X}]" for one in text)


@cache
def _has_glyph(one: str) -> bool:
    """Whether the embedded fonts can print a character, upright, bold and slanted: asked of typst itself."""
    import typst

    if one.isascii():
        return True
    if ord(one) >= _LAST_WITH_GLYPHS and one != "\ufffd":
        return False
    try:
        _compile({"main.typ": _PROBE.encode()}, {"fonts": FONTS, "text": one}, 0)
    except typst.TypstError:
        return False
    return True
