"""An hour of narration: report.html stays at most 1.5 MB without sound (docs, numbers to hold)."""

import time
import wave
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from spokenfor.models import (
    Evidence,
    FlaggedReading,
    FlaggedWord,
    Item,
    ItemStatus,
    Result,
    Segment,
    Statement,
    Transcript,
    Verdict,
    Word,
)
from spokenfor.reporting.write import write_reports

HOUR = 3600
WORDS, ITEMS, STATEMENTS, FLAGGED = 9000, 150, 400, 300
SENTENCE = (
    "and the number two engine oil cooler hose is secure with no leaks at the lower union "
    "the clamp is tight and I can see no chafing on the adjacent loom either good"
)
SPEECH = SENTENCE.split()


def grow(result: Result, transcript: Transcript) -> None:
    """Stretch the small walk to an hour, in place."""
    recording = result.recordings[0].model_copy(update={"duration": HOUR})
    result.recordings = transcript.recordings = [recording]
    result.findings = [one for one in result.findings if one.evidence.recording == 0] * 4
    result.unheard = [one for one in result.unheard if one.recording == 0] * 10
    result.repairs = [one for one in result.repairs if one.evidence.recording == 0] * 15
    for zone in result.zones:
        zone.visits = [visit for visit in zone.visits if visit.recording == 0]
    step = HOUR / WORDS
    words = [
        Word(text=SPEECH[n % len(SPEECH)], start=n * step, end=(n + 1) * step, probability=0.9)
        for n in range(WORDS)
    ]
    transcript.segments = [
        Segment(recording=0, start=run[0].start, end=run[-1].end, words=run)
        for run in (words[n : n + 10] for n in range(0, WORDS, 10))
    ]
    transcript.ledger = []

    def evidence(n: int) -> Evidence:
        segment = transcript.segments[n % len(transcript.segments)]
        said = segment.text + " " + segment.text
        return Evidence(
            recording=0, start=segment.start, end=segment.end, heard=said, text=said + " all of it"
        )

    result.items = [
        Item.model_validate(
            result.items[n % len(result.items)].model_dump()
            | {
                "id": f"item-{n}",
                "label": f"No. {n} engine oil cooler lower hose union",
                "status": ItemStatus.SATISFACTORY if n % 4 else ItemStatus.NOT_MENTIONED,
                "evidence": [],
                "statements": [f"s{s}" for s in range(STATEMENTS) if s % ITEMS == n and n % 4],
            }
        )
        for n in range(ITEMS)
    ]
    result.statements = [
        Statement(
            id=f"s{n}",
            item=f"item-{n % ITEMS}" if n % ITEMS % 4 else None,
            component="hose",
            position="lower",
            zone="nose",
            verdict=Verdict.SATISFACTORY,
            conditions=["leak", "chafe"],
            aspects=["security", "leaks"],
            evidence=evidence(n),
            confidence=0.8,
        )
        for n in range(STATEMENTS)
    ]
    result.flagged_words = [
        FlaggedWord(
            word="leaks",
            condition="leak",
            reading=FlaggedReading.ABSENT,
            item=f"item-{n % ITEMS}",
            evidence=evidence(n * 2),
        )
        for n in range(FLAGGED)
    ]


@pytest.fixture
def page_of_an_hour(result: Result, transcript: Transcript, tmp_path: Path) -> Path:
    grow(result, transcript)
    sound = tmp_path / "hour.wav"
    with wave.open(str(sound), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(1)
        file.setframerate(4000)
        file.writeframes(bytes([128]) * 4000 * HOUR)
    began = time.perf_counter()
    page = write_reports(result, transcript, [sound], tmp_path / "out")
    # Its share of the three seconds that all stages after the first transcript may take.
    assert time.perf_counter() - began <= 1.5
    return page


def test_an_hour_is_at_most_a_megabyte_and_a_half(page_of_an_hour: Path):
    html = page_of_an_hour.read_text(encoding="utf-8")
    assert html.count("<li") > WORDS / 10 and html.count("<tr") > FLAGGED
    assert 'src="../hour.wav"' in html
    assert len(html.encode()) <= 1_500_000


def test_an_hour_is_usable_at_once(page_of_an_hour: Path, browser: Browser):
    page = browser.new_page()
    began = time.perf_counter()
    page.goto(page_of_an_hour.as_uri(), wait_until="domcontentloaded")
    page.locator("#findings .line > button.play").first.click()
    page.locator("#now", has_text="Playing").wait_for()
    assert time.perf_counter() - began <= 5  # 1.5 s measured on two cores
    page.close()
