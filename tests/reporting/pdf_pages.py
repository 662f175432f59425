"""What a reader finds in a PDF: pages as text, fonts, metadata. Read with PDFium and by eye for the rest."""

from __future__ import annotations

import re
import zlib
from xml.etree import ElementTree

import pypdfium2

NAMESPACES = {
    "pdfaid": "http://www.aiim.org/pdfa/ns/id/",
    "dc": "http://purl.org/dc/elements/1.1/",
    "rdf": "http://www.w3.org/1999/02/22-rdf-syntax-ns#",
    "xmp": "http://ns.adobe.com/xap/1.0/",
}


def pages(pdf: bytes) -> list[str]:
    """The text of each page, white space as single spaces."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        return [
            " ".join(page.get_textpage().get_text_range().replace("\ufffe", "").split())
            for page in document
        ]
    finally:
        document.close()


def squeezed(text: str) -> str:
    """Text without white space or hyphens: lines break anywhere."""
    return re.sub(r"[\s\u00ad\u2010-]+", "", text)


def xmp(pdf: bytes) -> ElementTree.Element:
    """The XMP packet (ISO 16684-1); PDF/A has it uncompressed."""
    packet = re.search(rb"<\?xpacket begin.*?\?>(.*?)<\?xpacket end", pdf, re.DOTALL)
    assert packet
    return ElementTree.fromstring(packet[1].decode("utf-8"))


def objects(pdf: bytes) -> bytes:
    """All objects as text: those outside streams, and those within object streams (ISO 32000, 7.5.7)."""
    inner = []
    for stream in re.finditer(rb"stream\r?\n(.*?)\r?\nendstream", pdf, re.DOTALL):
        try:
            data = zlib.decompress(stream[1])
        except zlib.error:
            continue
        if b"/Type" in data:
            inner.append(data)
    outside = re.sub(rb"stream\r?\n.*?\r?\nendstream", b"", pdf, flags=re.DOTALL)
    return outside + b"\n".join(inner)
