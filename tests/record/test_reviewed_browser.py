"""reviewed.html as a person sees it: nothing breaks, axe finds nothing, a line plays its own seconds."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser
from tests.photos.taken import picture
from tests.record.walked import BY, Walked

from spokenfor.models import ClockSource, PhotoClock, RecordingClock
from spokenfor.photos.exif import read_photos
from spokenfor.photos.place import place_photos
from spokenfor.record.derived import write_derived
from spokenfor.record.entries import Action
from spokenfor.record.review import Decision, decide


def page_of(check: Walked, top: Path) -> Path:
    photos = [
        picture(top / "camera/nose.jpg", "2026:05:03 09:00:06"),
        picture(top / "camera/unset.jpg", size=(30, 90)),
    ]
    clocks = [RecordingClock(started="2026-05-03T09:00:00", source=ClockSource.GIVEN)] * 2
    check.result.photo_clock = PhotoClock(recordings=clocks, offset=0, zone="+00:00")
    check.result.photos = place_photos(
        read_photos(photos), check.result.photo_clock, check.result, check.transcript
    )
    check.result.items[0].listen = True
    replace(check, asked=replace(check.asked, photos=photos)).keep(top / "r07")
    for decision in (
        Decision(Action.CHANGE_STATUS, "nose-cone", BY, status="defect", why="crack"),
        Decision(Action.ACCEPT, "tail-skid", BY),
        Decision(Action.REOPEN, "tail-skid", BY, why="another line was meant"),
        Decision(Action.CORRECT_WORDS, "f1", BY, words="a word"),
        Decision(Action.SHIFT_PHOTOS, "photos", BY, seconds=2),
    ):
        decide(top / "r07", decision)
    return write_derived(top / "r07")


def test_the_reviewed_page(check: Walked, tmp_path: Path, browser: Browser) -> None:
    path = page_of(check, tmp_path)
    for width in (1200, 390):
        page = browser.new_page(viewport={"width": width, "height": 900})
        said: list[str] = []
        page.on("console", lambda message, said=said: said.append(message.text))
        page.on("pageerror", lambda error, said=said: said.append(str(error)))
        page.goto(path.as_uri())
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        assert page.locator("#review tbody tr").count() == 5
        assert page.locator("#photos img").evaluate_all(
            "all => all.map(one => one.naturalWidth > 0)"
        ) == [True, True]
        faults = [one["id"] for one in Axe().run(page).response["violations"]]
        assert faults == []
        assert [one for one in said if "Content Security" in one or "Error" in one] == []
        page.close()
