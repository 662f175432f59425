"""report.pdf of text that tries to be more than text, of nothing at all, and of far too much."""

from __future__ import annotations

import time

import pytest
from tests.reporting.pdf_pages import pages, squeezed
from tests.reporting.spoken_walk import count_coverage, make_result

from spokenfor.models import Finding, ItemStatus, Result
from spokenfor.reporting.pdf import report_pdf

HOSTILE = [
    '#panic("run")',
    '#read("/etc/passwd")',
    '#import "@preview/cetz:0.3.0": *',
    "*bold* _slanted_ `raw` $x^2$ = heading <label> @reference \\u{41}",
    '"; #sys.inputs //',
    "]) #set text(fill: white) (",
    "</script><b>& %s {{7*7}} ${x}",
]
MANY = 2000
AT_MOST = 60.0
"""Seconds for 2,000 items and 240 findings, far above the 6 s seen on two cores."""


def everywhere(text: str) -> Result:
    result = make_result()
    result.inspection.asset = result.inspection.by = result.inspection.id = text
    for item in result.items[:3]:
        item.label = item.note = text
    for row in (result.findings, result.flagged_words, result.repairs, result.statements):
        row[0].evidence.text = row[0].evidence.heard = text
    result.repairs[0].why = result.repairs[0].became = text
    result.zones[0].name = result.recordings[0].file = text
    result.cautions.append(text)
    return result


@pytest.mark.parametrize("text", HOSTILE)
def test_text_is_set_and_never_run(text: str) -> None:
    found = squeezed(" ".join(pages(report_pdf(everywhere(text)))))
    assert found.count(squeezed(text)) >= 8
    assert "root:" not in found


@pytest.mark.parametrize(
    ("text", "printed"),
    [
        ("na\u00efve \u0394p \u2265 5 \u041a", "na\u00efve \u0394p \u2265 5 \u041a"),
        ("\u4e2d\u6587 A", "[U+4E2D][U+6587] A"),
        ("left \u202ethgir", "left [U+202E]thgir"),
        ("bell \x07 zero \x00", "bell [U+0007] zero [U+0000]"),
        ("wheel \U0001f6de", "wheel [U+1F6DE]"),
        ("private \ue000 lone \ud800", "private [U+E000] lone [U+D800]"),
        ("two\nlines\u2028three", "two lines three"),
        ("\u0a95 ka", "[U+0A95] ka"),
    ],
)
def test_what_no_font_holds_is_printed_as_its_number(text: str, printed: str) -> None:
    """PDF/A forbids missing glyphs; nothing may vanish (promise 2)."""
    result = make_result()
    result.inspection.asset = text
    first = pages(report_pdf(result))[0]
    assert squeezed(printed) in squeezed(first)


def test_an_empty_report() -> None:
    result = make_result()
    for row in (result.items, result.findings, result.flagged_words, result.statements):
        row.clear()
    for row in (result.zones, result.repairs, result.unheard, result.recordings):
        row.clear()
    result.coverage = count_coverage([])
    sheets = pages(report_pdf(result))
    assert len(sheets) <= 3
    assert "0 of 0" in sheets[0]
    assert "The pack has no items." in " ".join(sheets)


def crowded() -> Result:
    """2,000 items, all groups of the first page full to bursting, long names and long quotes."""
    result = make_result()
    statuses = list(ItemStatus)
    result.items = [
        result.items[number % len(result.items)].model_copy(
            deep=True,
            update={
                "id": f"item-{number}",
                "label": f"Item {number} " + "of some length " * (number % 9),
                "status": statuses[number % len(statuses)],
                "by_reference": number % 13 == 0,
                "listen": number % 7 == 0,
            },
        )
        for number in range(MANY)
    ]
    first: Finding = result.findings[0]
    first.evidence.text = "a very long story " * 40
    result.findings = [
        one.model_copy(deep=True, update={"id": f"f{number}-{one.id}", "item": f"item-{number}"})
        for number in range(40)
        for one in result.findings
    ]
    result.unheard = result.unheard * 50
    result.coverage = count_coverage(result.items)
    return result


def test_two_thousand_items_still_have_one_first_page() -> None:
    result = crowded()
    begin = time.perf_counter()
    pdf = report_pdf(result)
    assert time.perf_counter() - begin < AT_MOST
    sheets = pages(pdf)
    assert len(sheets) < 500
    assert "Speech may be misheard" in sheets[0]
    assert sheets[1].split("UTC", 1)[1].strip().startswith("Findings")
    assert "more: see the sheet" in sheets[0]
    whole = squeezed(" ".join(sheets))
    for item in result.items:
        assert squeezed(f"{item.label}ATA") in whole, item.id


def test_a_quote_longer_than_a_page_goes_on_overleaf() -> None:
    result = make_result()
    words = " ".join(f"word{number}" for number in range(6000))
    for item in result.items:
        for evidence in item.evidence[:1]:
            evidence.text = evidence.heard = words
            break
    for statement in result.statements[:1]:
        statement.evidence.text = statement.evidence.heard = words
    whole = squeezed(" ".join(pages(report_pdf(result))))
    assert "word0word1" in whole and "word5999" in whole
