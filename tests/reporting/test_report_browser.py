"""report.html in Chromium: plays the words behind a line, fits a phone, prints, stays offline."""

import shutil
from pathlib import Path

import pypdfium2
import pytest
from playwright.sync_api import Browser, Page, expect

from spokenfor import CAUTIONS
from spokenfor.models import Result, Transcript
from spokenfor.reporting.write import write_reports

PLAY = ".line > button.play"


@pytest.fixture
def report(result: Result, transcript: Transcript, sounds: list[Path], tmp_path: Path) -> Path:
    return write_reports(result, transcript, sounds, tmp_path)


def at(page: Page, recording: int) -> float:
    return page.evaluate(f"document.getElementById('sound-{recording}').currentTime")


def until(page: Page, condition: str) -> None:
    # Not wait_for_function: it evaluates text inside the page, which the page's policy forbids.
    for _ in range(200):
        if page.evaluate(condition):
            return
        page.wait_for_timeout(50)
    pytest.fail(f"never came true: {condition}")


@pytest.mark.parametrize("embed", [True, False], ids=["embedded", "linked"])
def test_play_on_a_finding_plays_its_seconds(
    visit, result: Result, transcript: Transcript, sounds: list[Path], tmp_path: Path, embed: bool
):
    page = visit(write_reports(result, transcript, sounds, tmp_path, embed=embed))
    line = page.locator("#findings .line", has_text="Nose tyre")
    line.locator("> button.play").click()
    until(page, "document.getElementById('sound-0').currentTime > 25")
    begun = at(page, 0)
    assert 25.0 <= begun < 28  # said at 25.4 s, with 0.3 s before it
    until(page, f"document.getElementById('sound-0').currentTime > {begun + 0.3}")
    expect(page.locator("#now")).to_have_text("Playing rec 1, 0:25 to 0:30")
    line.locator("> button.play").click()
    until(page, "document.getElementById('sound-0').paused")


def test_play_stops_at_the_end_of_the_words(visit, report: Path):
    page = visit(report)
    page.locator("#not-covered .line", has_text="Left step").locator("> button.play").click()
    until(page, "document.getElementById('sound-0').currentTime > 62")
    until(page, "document.getElementById('sound-0').paused")
    assert 64.2 <= at(page, 0) < 65  # said until 64 s, with 0.3 s after it
    expect(page.locator("#now")).to_have_text("Stopped.")


def test_one_sound_plays_at_a_time(visit, report: Path):
    page = visit(report)
    page.locator(f"#findings {PLAY}").first.click()
    until(page, "!document.getElementById('sound-0').paused")
    page.locator("#findings .line", has_text="Right main tyre").locator("> button.play").click()
    until(page, "document.getElementById('sound-1').currentTime > 0.7")
    assert page.evaluate("document.getElementById('sound-0').paused")
    assert page.locator("#sound-1").is_visible() and not page.locator("#sound-0").is_visible()


def test_sound_that_cannot_be_loaded_is_said_on_the_page(
    visit, result: Result, transcript: Transcript, sounds: list[Path], tmp_path: Path
):
    moved = [Path(shutil.copy(one, tmp_path)) for one in sounds]
    report = write_reports(result, transcript, moved, tmp_path / "out", embed=False)
    for one in moved:
        one.unlink()
    page = visit(report, missing=True)
    for name in ("walk left side.wav", "walk right side.wav"):
        expect(page.get_by_text(f"The sound of {name} cannot be played")).to_be_visible()
    page.get_by_role("button", name="Hide sound").click()
    page.locator(f"#findings {PLAY}").first.click()
    expect(page.get_by_text("The sound of walk left side.wav cannot be played")).to_be_visible()


def test_the_keyboard_reaches_and_opens_a_line(visit, report: Path):
    page = visit(report)
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    focus = "document.activeElement"
    assert page.evaluate(f"{focus}.tagName") == "SUMMARY"
    assert "Right landing light" in page.evaluate(f"{focus}.innerText")
    assert page.evaluate(f"getComputedStyle({focus}).outlineStyle") == "solid"
    page.keyboard.press("Enter")
    expect(
        page.get_by_text("Nothing was heard about it. Its zone was walked here:").first
    ).to_be_visible()
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    until(page, "!document.getElementById('sound-0').paused")


@pytest.mark.parametrize("width", [360, 768, 1280])
def test_nothing_is_wider_than_the_screen(visit, report: Path, width: int):
    page = visit(report, viewport={"width": width, "height": 780})
    page.evaluate("for (const one of document.querySelectorAll('details')) one.open = true")
    page.locator(f"#findings {PLAY}").first.click()
    assert page.evaluate("document.documentElement.scrollWidth") == width
    outside = page.evaluate(
        f"""[...document.querySelectorAll('main *, header *')].filter((one) => {{
          const box = one.getBoundingClientRect();
          return box.width > 1 && box.left >= 0 && box.right > {width} + 1 && !one.closest('svg');
        }}).map((one) => one.outerHTML.slice(0, 80))"""
    )
    assert outside == []


def test_flagged_words_are_filtered_by_reading(visit, report: Path):
    page = visit(report)
    rows = page.locator("#flagged-words tbody tr:visible")
    expect(rows).to_have_count(12)
    page.get_by_label("absent").check()
    expect(rows).to_have_count(2)
    expect(page.locator("#shown")).to_have_text("2 of 12 shown")
    page.get_by_label("all 12").check()
    expect(rows).to_have_count(12)


def test_a_finding_leads_to_its_line_and_opens_it(visit, report: Path):
    page = visit(report)
    page.locator("#findings summary", has_text="Left brake line").click()
    page.locator("#findings a:visible", has_text="Its line of the sheet").click()
    line = page.locator("#sheet .line", has_text="Left brake line")
    expect(line.locator("blockquote")).to_be_visible()


def test_paper_carries_the_cautions_and_all_the_evidence(visit, report: Path, tmp_path: Path):
    page = visit(report, color_scheme="dark")
    page.get_by_label("absent").check()
    page.pdf(path=tmp_path / "paper.pdf", prefer_css_page_size=True)
    document = pypdfium2.PdfDocument(tmp_path / "paper.pdf")
    pages = [" ".join(one.get_textpage().get_text_range().split()) for one in document]
    for caution in CAUTIONS:
        assert caution in pages[0]
    assert all("Releases nothing to service" in one for one in pages)
    paper = " ".join(pages)
    assert "Couldn't get at the left cowling, stand in the way." in paper
    assert "Gearbox mount, if it starts to crack you would see it here" in paper
    assert "Hide sound" not in paper
    # White paper: the corner of the first page, although the screen is dark.
    corner = document[0].render().to_numpy()[0, 0, :3].tolist()
    assert corner == [255, 255, 255]
    assert page.locator("details[open]").count() == 0


HOSTILE = "</script><script>window.broken=1</script><img src=x onerror=window.broken=1>'\"&amp;"


def test_hostile_text_is_shown_and_does_nothing(
    visit, result: Result, transcript: Transcript, sounds: list[Path], tmp_path: Path
):
    result.inspection.asset = HOSTILE
    result.recordings[0].file = transcript.recordings[0].file = HOSTILE
    result.findings[0].evidence.text = HOSTILE
    transcript.segments[0].words[0].text = HOSTILE
    page = visit(write_reports(result, transcript, sounds, tmp_path, embed=True))
    expect(page.locator("h1")).to_have_text(HOSTILE)
    page.locator(f"#findings {PLAY}").first.click()
    expect(page.locator(".sound.on figcaption")).to_have_text(HOSTILE)
    assert page.evaluate("window.broken") is None
    assert page.locator("img").count() == 0


def test_without_scripts_the_lines_and_sounds_are_still_there(browser: Browser, report: Path):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(report.as_uri())
    page.locator("#findings summary").first.click()
    expect(page.locator("#findings .quote").first).to_be_visible()
    expect(page.locator("audio")).to_have_count(2)
    expect(page.locator("audio").first).to_be_visible()
    context.close()
