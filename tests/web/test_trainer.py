"""The trainer's day: a walk beside the sheet, two trainees side by side, progress, feedback to print."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pypdfium2
import pytest
from playwright.sync_api import Page, expect
from tests.web.test_engineer import until
from tests.web.walks import kept
from tests.web.workbench import Workbench


@pytest.fixture(scope="module")
def trainees(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Workbench]:
    """A learner's walk last week, another learner's, the first one's of today, and an engineer's."""
    root = tmp_path_factory.mktemp("trainees") / "root"
    root.mkdir()
    kept(root)
    kept(root, "a-first", by="A. Learner", day="2025-04-26")
    kept(root, "b-first", by="B. Learner", day="2025-04-27")
    kept(root, "a-second", by="A. Learner")
    workbench = Workbench(root)
    yield workbench
    workbench.stop()
    assert "Traceback" not in workbench.errors()


def clip_plays(page: Page) -> None:
    link = page.locator("a.play:visible").first
    link.click()
    clip = link.get_attribute("href").removeprefix("#")
    until(page, f"document.getElementById('{clip}').currentTime > 0")


def test_a_walk_beside_the_sheet_with_progress(visit, trainees: Workbench):
    page = visit(trainees, "/inspections/a-second/training")
    zones = page.locator("#zones")
    expect(zones).to_contain_text("partly covered")
    expect(zones).to_contain_text("skipped")
    expect(page.locator("svg.lanes")).to_be_visible()
    expect(page.locator(".slopes").first).to_be_visible()
    expect(page.locator("svg.progress")).to_be_visible()
    assert page.locator("#wording tbody tr").count() > 0
    assert page.locator("#unsaid tbody tr").count() > 0


def test_two_trainees_side_by_side(visit, trainees: Workbench):
    page = visit(trainees, "/compare")
    page.get_by_label("Compare A. Learner, R-07").first.check()
    page.get_by_label("Compare B. Learner, R-07").check()
    page.get_by_role("button", name="Compare").click()
    expect(page.locator("h1")).to_have_text("2 walks compared")
    expect(page.locator("#walks")).to_contain_text("B. Learner")
    expect(page.locator("#differing")).to_contain_text("All lines stand the same")
    clip_plays(page)
    page.get_by_role("link", name="Report of walk A").click()
    expect(page.locator(".about")).to_contain_text("Learner")


def test_a_reference_walk_leads(visit, trainees: Workbench):
    page = visit(trainees, "/compare?walk=a-first&reference=r07")
    expect(page.locator("#walks")).to_contain_text("reference")


def test_feedback_is_printed_on_white_paper(visit, trainees: Workbench, tmp_path: Path):
    page = visit(trainees, "/inspections/b-first/feedback", color_scheme="dark")
    expect(page.locator("h1")).to_have_text("B. Learner")
    clip_plays(page)
    page.pdf(path=tmp_path / "feedback.pdf", prefer_css_page_size=True)
    document = pypdfium2.PdfDocument(tmp_path / "feedback.pdf")
    text = " ".join(" ".join(one.get_textpage().get_text_range().split()) for one in document)
    assert "What to say next time" in text and "Trainer's notes" in text
    assert "Inspections" not in text and "Back to the walk" not in text
    assert document[0].render().to_numpy()[0, 0, :3].tolist() == [255, 255, 255]
