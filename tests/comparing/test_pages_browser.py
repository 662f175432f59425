"""comparison.html and feedback.html in Chromium: clips play, phones and paper hold them, axe finds no fault."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect
from tests.comparing.made_walks import learner, teacher, write_walk

from spokenfor import CAUTIONS
from spokenfor.comparing.comparison import Comparison, compare_walks
from spokenfor.comparing.reading_walks import read_walk
from spokenfor.comparing.write import write_comparison

PAGES = ["comparison", "feedback"]


@pytest.fixture(scope="session")
def written(compared: Comparison, tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("compared")
    write_comparison(compared, out)
    return out


def open_all(page: Page) -> None:
    page.evaluate("for (const one of document.querySelectorAll('details')) one.open = true")


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("name", PAGES)
def test_axe_finds_no_fault(browser: Browser, written: Path, name: str, scheme: str) -> None:
    # Not `visit`: axe is put into the page, which the page's policy would forbid.
    context = browser.new_context(bypass_csp=True, color_scheme=scheme)
    page = context.new_page()
    page.goto((written / f"{name}.html").as_uri())
    open_all(page)
    found = Axe().run(page)
    context.close()
    assert found.violations_count == 0, found.generate_report()


@pytest.mark.parametrize("width", [360, 768, 1280])
@pytest.mark.parametrize("name", PAGES)
def test_nothing_is_wider_than_the_screen(visit, written: Path, name: str, width: int) -> None:
    page = visit(written / f"{name}.html", viewport={"width": width, "height": 780})
    open_all(page)
    assert page.evaluate("document.documentElement.scrollWidth") == width


def test_the_clip_behind_a_remark_plays_and_stops(visit, written: Path) -> None:
    page = visit(written / "feedback.html")
    link = page.get_by_role("button", name="Play").first
    link.focus()
    page.keyboard.press("Enter")
    expect(page.locator("#playing")).to_contain_text("Playing walk B")
    assert (
        page.evaluate("[...document.querySelectorAll('audio')].filter((a) => !a.paused).length")
        == 1
    )
    page.keyboard.press("Space")
    expect(page.locator("#playing")).to_have_text("Stopped.")
    assert page.evaluate("[...document.querySelectorAll('audio')].every((a) => a.paused)")


def test_a_clip_ends_by_itself(visit, written: Path) -> None:
    page = visit(written / "comparison.html")
    page.locator("#findings a.play").first.click()
    expect(page.locator("#playing")).to_contain_text("Playing")
    expect(page.locator("#playing")).to_have_text("Stopped.", timeout=15_000)


def test_without_scripts_the_clips_are_there(browser: Browser, written: Path) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((written / "feedback.html").as_uri())
    link = page.locator("a.play").first
    target = page.locator(link.get_attribute("href"))
    expect(target).to_be_visible()
    context.close()


def test_order_and_progress_are_said_in_words_too(visit, written: Path) -> None:
    page = visit(written / "comparison.html")
    expect(page.locator("#order")).to_contain_text("Left side out of order")
    plot = page.locator("#progress svg.progress")
    expect(plot).to_have_attribute("role", "img")
    words = plot.locator("desc").text_content()
    assert "A. Learner, 3 May 2025, 07:41 UTC:" in words and "reference:" in words
    expect(page.locator("#progress tbody tr")).to_have_count(2)


def test_paper_carries_cautions_and_remarks(visit, written: Path, tmp_path: Path) -> None:
    page = visit(written / "feedback.html", color_scheme="dark")
    page.pdf(path=tmp_path / "paper.pdf", prefer_css_page_size=True)
    document = pypdfium2.PdfDocument(tmp_path / "paper.pdf")
    paper = " ".join(" ".join(one.get_textpage().get_text_range().split()) for one in document)
    for caution in CAUTIONS:
        assert caution in paper
    assert "What to say next time" in paper and "Trainer's notes" in paper
    assert document[0].render().to_numpy()[0, 0, :3].tolist() == [255, 255, 255]


HOSTILE = "</script><script>window.broken=1</script><img src=x onerror=window.broken=1>'\"&amp;"


def test_hostile_text_is_shown_and_does_nothing(visit, tmp_path: Path) -> None:
    mine, theirs = learner(), teacher()
    mine.inspection.by = mine.inspection.asset = mine.zones[0].name = HOSTILE
    mine.items[0].label = mine.findings[0].evidence.text = HOSTILE
    mine.findings[0].condition = theirs.inspection.pack.name = HOSTILE
    paths = [write_walk(tmp_path / "a", mine), write_walk(tmp_path / "b", theirs)]
    compared = compare_walks([read_walk(paths[0])], read_walk(paths[1]))
    for written in write_comparison(compared, tmp_path / "out"):
        page = visit(written)
        expect(page.locator("body")).to_contain_text(HOSTILE)
        assert page.evaluate("window.broken") is None
        assert page.locator("img").count() == 0
