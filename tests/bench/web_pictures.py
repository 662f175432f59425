"""Makes the pictures of the workbench in docs/images from the bundled recordings. Run by hand:

python -m tests.bench.web_pictures FOLDER     (FOLDER: new, or that of a run before)
"""

from __future__ import annotations

import json
import shutil
import sys
from pathlib import Path

from PIL import Image
from playwright.sync_api import Browser, Page, sync_playwright
from tests.cli.command import piece
from tests.conftest import ARGUMENTS
from tests.web.workbench import Workbench

from spokenfor.samples import sample_sounds

IMAGES = Path(__file__).resolve().parents[2] / "docs/images"
WALKS = (("skipped-zone", "R-07", "A. Engineer"), ("trainee", "R-07", "B. Learner"))
MICROPHONE = ("--use-fake-ui-for-media-stream", "--use-fake-device-for-media-stream")
SIZES = {"desktop": (1280, 860), "phone": (390, 844)}
LARGEST = 200_000
PICTURES = (
    ("first", "desktop", "light"),
    ("first", "desktop", "dark"),
    ("first", "phone", "light"),
    ("first", "phone", "dark"),
    ("recording", "phone", "light"),
    ("review", "desktop", "dark"),
    ("review", "phone", "light"),
    ("transcript", "desktop", "light"),
    ("transcript", "phone", "dark"),
    ("walk", "desktop", "light"),
    ("compare", "desktop", "light"),
    ("search", "desktop", "dark"),
)


def main(folder: Path) -> None:
    """Check the walks where they are not there yet, then take every picture."""
    root = folder / "root"
    root.mkdir(parents=True, exist_ok=True)
    bench = Workbench(root)
    try:
        walks = _walks(bench) or _check(bench)
        voice = piece(folder / "voice.wav", "two-parts-1", 4.9, 16.9)
        heard = f"--use-file-for-fake-audio-capture={voice}"
        with sync_playwright() as playwright:
            browser = playwright.chromium.launch(
                executable_path=shutil.which("chromium"), args=[*ARGUMENTS, *MICROPHONE, heard]
            )
            for name, size, scheme in PICTURES:
                _take(browser, bench, walks, name, size, scheme)
            browser.close()
    finally:
        bench.stop()


def _walks(bench: Workbench) -> dict[str, str]:
    """Ids of the inspections that are there, by the name of the person."""
    found = {}
    for report in bench.root.glob("*/report.json"):
        found[json.loads(report.read_text())["inspection"]["by"]] = report.parent.name
    return found


def _check(bench: Workbench) -> dict[str, str]:
    for sample, asset, by in WALKS:
        data = {"asset": asset, "pack": "helicopter-light-twin", "by": by}
        name = bench.post("/inspections", data=data).headers["location"].split("/")[2]
        for path in sample_sounds(sample):
            bench.send(name, path.name, path.read_bytes())
        bench.check(name, 600)
    return _walks(bench)


def _take(
    browser: Browser, bench: Workbench, walks: dict[str, str], name: str, size: str, scheme: str
) -> None:
    engineer, learner = walks["A. Engineer"], walks["B. Learner"]
    address = {
        "first": f"/inspections/{engineer}",
        "compare": f"/compare?walk={engineer}&walk={learner}",
        "search": "/search?q=leak*",
        "recording": f"/inspections/{learner}/record",
    }.get(name, f"/inspections/{engineer}/{name}")
    width, height = SIZES[size]
    context = browser.new_context(
        viewport={"width": width, "height": height},
        color_scheme=scheme,  # type: ignore[arg-type]
    )
    page = context.new_page()
    page.goto(bench.entrance)
    page.goto(bench.base + address)
    _prepare(page, name)
    path = IMAGES / f"workbench-{name}-{size}-{scheme}.png"
    page.screenshot(path=path)
    context.close()
    picture = Image.open(path).convert("RGB").quantize(200, dither=Image.Dither.NONE)
    picture.save(path, optimize=True)
    assert path.stat().st_size < LARGEST, path


def _prepare(page: Page, name: str) -> None:
    if name in ("first", "walk"):
        page.locator("svg.waveform").wait_for(timeout=60_000)
    elif name == "review":
        page.get_by_label("Deciding as").fill("A. Engineer")
        page.keyboard.press("Enter")
    elif name == "transcript":
        page.locator(".w").nth(25).click()
        page.locator(".w.now").wait_for()
        page.wait_for_timeout(1000)
    elif name == "recording":
        page.get_by_role("button", name="Record", exact=True).click()
        page.wait_for_timeout(5000)
    page.wait_for_timeout(300)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
