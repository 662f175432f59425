"""report.pdf: an archive copy that says what report.html says, by the rules of PDF/A-2b."""

from __future__ import annotations

import re

import pytest
from tests.reporting.pdf_pages import NAMESPACES, objects, pages, squeezed, xmp
from tests.reporting.spoken_walk import make_result

from spokenfor.models import ItemStatus, Result
from spokenfor.reporting.gaps import not_covered
from spokenfor.reporting.labels import Labels
from spokenfor.reporting.pdf import report_pdf
from spokenfor.reporting.pdf_data import NOT_REVIEWED, Decision, ReviewWords
from spokenfor.reporting.wording import quantity_words, status_words

REVIEW = ReviewWords(
    state="Reviewed by B. Second; 1 point undecided; not sealed.",
    entries=3,
    head="5e" * 32,
    decisions=[
        Decision(2, "2025-05-03T09:00:00Z", "B. Second", "Accepted Nose tyre as defect"),
        Decision(3, "2025-05-03T09:01:00Z", "B. Second", "Reopened Nose tyre", "Heard it again"),
    ],
    open=[("Nose tyre", "listen")],
    marks={"f2": "accepted by B. Second, entry 2"},
)


@pytest.fixture(scope="module")
def pdf() -> bytes:
    return report_pdf(make_result())


@pytest.fixture(scope="module")
def text(pdf: bytes) -> str:
    return squeezed(" ".join(pages(pdf)))


def test_says_that_it_is_pdf_a_2b(pdf: bytes) -> None:
    """ISO 19005-2, 6.6.4: the version and conformance identification in the XMP packet."""
    packet = xmp(pdf)
    told = {
        name: packet.findtext(f".//pdfaid:{name}", None, NAMESPACES)
        or packet.find(".//rdf:Description", NAMESPACES).get(f"{{{NAMESPACES['pdfaid']}}}{name}")
        for name in ("part", "conformance")
    }
    assert told == {"part": "2", "conformance": "B"}
    assert re.match(rb"%PDF-1\.[4-7]\n", pdf)
    assert b"/GTS_PDFA1" in objects(pdf)
    for forbidden in (b"/Encrypt", b"/JavaScript", b"/JS", b"/Launch", b"/EmbeddedFile"):
        assert forbidden not in objects(pdf)


def test_fonts_are_embedded(pdf: bytes) -> None:
    """Every font descriptor carries its font program (ISO 19005-2, 6.2.11.4)."""
    whole = objects(pdf)
    descriptors = re.findall(rb"/Type\s*/FontDescriptor.*?>>", whole, re.DOTALL)
    assert len(descriptors) >= 4
    assert all(re.search(rb"/FontFile[23]?\s", one) for one in descriptors)
    names = set(re.findall(rb"/FontName\s*/(\S+)", whole))
    assert all(re.match(rb"[A-Z]{6}\+(LibertinusSerif|DejaVuSansMono)", one) for one in names)


def test_bears_the_date_of_the_inspection(pdf: bytes) -> None:
    packet = xmp(pdf)
    dates = {one.text for one in packet.iter() if one.tag.endswith(("CreateDate", "ModifyDate"))}
    assert dates and all(one and one.startswith("2025-05-03T07:41:00") for one in dates)
    assert packet.findtext(".//dc:title//rdf:li", None, NAMESPACES).startswith(
        "Inspection of DEMO-1"
    )


def test_same_in_same_out(pdf: bytes) -> None:
    assert report_pdf(make_result()) == pdf
    assert report_pdf(make_result(), REVIEW) == report_pdf(make_result(), REVIEW) != pdf


def test_every_item_stands_with_its_status_and_words(text: str) -> None:
    result = make_result()
    for item in result.items:
        assert squeezed(item.label) in text
        assert squeezed(status_words(item)) in text
        for evidence in item.evidence:
            assert squeezed(evidence.text) in text
            assert squeezed(evidence.heard) in text


def test_every_skipped_item_is_on_the_first_page(pdf: bytes) -> None:
    first = squeezed(pages(pdf)[0])
    result = make_result()
    skipped = [one for one in not_covered(result) if one.status is not ItemStatus.NOT_MENTIONED]
    missing = [one for one in not_covered(result) if one.status is ItemStatus.NOT_MENTIONED]
    tail = [one for one in missing if one.zone == "tail-boom"]
    assert skipped and tail
    for item in [*skipped, *(one for one in missing if one not in tail)]:
        assert squeezed(item.label) in first, item.label
    assert f"all{len(tail)}requireditems" in first


def test_every_finding_stands_with_quote_time_and_numbers(text: str) -> None:
    result = make_result()
    labels = Labels(result)
    for finding in result.findings:
        assert squeezed(labels.thing(finding)) in text
        assert squeezed(finding.evidence.text) in text
        for quantity in finding.quantities:
            assert squeezed(quantity_words(quantity)) in text
    assert "Unplaced:nosinglelineofthesheetfits" in text
    assert "rec1,0:47to0:53" in text
    assert "foundandputright" in text


def test_flagged_words_repairs_and_unheard_stand(text: str) -> None:
    result = make_result()
    for flagged in result.flagged_words:
        assert squeezed(flagged.evidence.text) in text
    for repair in result.repairs:
        assert squeezed(repair.heard) in text and squeezed(repair.became) in text
    for words in ("toonoisy", "clipped", "speechthatdidnotbecomewords"):
        assert words in text


def test_hashes_versions_and_cautions_stand_in_full(text: str) -> None:
    result = make_result()
    inspection = result.inspection
    shown = [one.sha256 for one in result.recordings]
    shown += [inspection.pack.sha256, inspection.model.sha256, inspection.pack.version]
    for one in [*shown, inspection.software, *result.cautions, NOT_REVIEWED]:
        assert squeezed(one) in text
    for caution in result.cautions:
        assert text.count(squeezed(caution)) == 2


def test_review_stands_with_what_was_taken_back() -> None:
    sheets = pages(report_pdf(make_result(), REVIEW, {"spacy": "3.8.18"}))
    first, whole = squeezed(sheets[0]), squeezed(" ".join(sheets))
    assert squeezed(REVIEW.state) in first
    assert "Nosetyre(listen)" in first
    for words in (
        "Accepted Nose tyre as defect",
        "why: Heard it again",
        "3 May 2025, 09:01 UTC",
        "accepted by B. Second, entry 2",
        "3 entries, the last is" + REVIEW.head,
        "spacy 3.8.18",
    ):
        assert squeezed(words) in whole
    assert squeezed(NOT_REVIEWED) not in whole


def test_every_page_is_numbered_and_says_that_it_is_no_release(pdf: bytes) -> None:
    sheets = pages(pdf)
    assert 3 <= len(sheets) <= 8
    for number, sheet in enumerate(sheets, start=1):
        assert f"page {number} of {len(sheets)}" in sheet
        assert "A record, not a release to service." in sheet


def test_prints_in_grey(pdf: bytes) -> None:
    import pypdfium2

    document = pypdfium2.PdfDocument(pdf)
    for page in document:
        picture = page.render(scale=0.7).to_pil().convert("RGB")
        assert all(red == green == blue for _, (red, green, blue) in picture.getcolors(1 << 20))
    document.close()


def test_where_a_time_is_no_time() -> None:
    result: Result = make_result()
    result.inspection.started = "one morning in May"
    assert "one morning in May" in pages(report_pdf(result))[0]
