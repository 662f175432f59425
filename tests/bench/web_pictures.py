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

from spokenfor.record.entries import Action
from spokenfor.record.review import Decision, decide
from spokenfor.record.seal import Seal, seal
from spokenfor.samples import sample_sounds

IMAGES = Path(__file__).resolve().parents[2] / "docs/images"
WALKS = (
    ("skipped-zone", "R-07", "A. Engineer"),
    ("trainee", "R-07", "B. Learner"),
    ("thorough-walk", "R-07", "R. Teacher"),
)
MICROPHONE = ("--use-fake-ui-for-media-stream", "--use-fake-device-for-media-stream")
SIZES = {"desktop": (1280, 860), "phone": (390, 844)}
LARGEST = 200_000
PICTURES = (
    ("list", "desktop", "light"),
    ("overview", "desktop", "light"),
    ("overview", "desktop", "dark"),
    ("overview", "phone", "light"),
    ("overview", "phone", "dark"),
    ("recording", "phone", "light"),
    ("review", "desktop", "dark"),
    ("review", "phone", "light"),
    ("transcript", "desktop", "light"),
    ("transcript", "phone", "dark"),
    ("walk", "desktop", "light"),
    ("compare", "desktop", "light"),
    ("training", "desktop", "dark"),
    ("feedback", "phone", "light"),
    ("search", "desktop", "dark"),
    ("verify", "desktop", "light"),
    ("log", "phone", "dark"),
    ("checking", "desktop", "light"),  # last: it leaves another inspection
)
OF_A_BAG = {"verify", "log"}


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
            sealed = _sealed(folder, root / walks["A. Engineer"])
            for name, size, scheme in PICTURES:
                of = sealed if name in OF_A_BAG else bench
                _take(browser, of, walks, name, size, scheme)
            browser.close()
            sealed.stop()
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


def _sealed(folder: Path, inspection: Path) -> Workbench:
    """The bag of an inspection in which a person decided, served apart."""
    root = folder / "sealed"
    shutil.rmtree(root, ignore_errors=True)
    one = Path(shutil.copytree(inspection, root / "r07"))
    by = "A. Engineer"
    decide(one, Decision(Action.ACCEPT, "f3", by, "listened: crack, 10 mm"))
    decide(one, Decision(Action.CORRECT_WORDS, "s1", by, words="Nose cone is good, no dents."))
    changed = Decision(
        Action.CHANGE_STATUS, "nose.battery", "B. Inspector", "looked at it", "satisfactory"
    )
    decide(one, changed)
    seal(one, Seal(by, "L-2207", despite="the rest after the night shift"))
    return Workbench(root)


def _to_check(bench: Workbench) -> str:
    """The page of an inspection that is ready to be checked."""
    data = {"asset": "R-07", "pack": "helicopter-light-twin", "by": "C. Engineer"}
    name = bench.post("/inspections", data=data).headers["location"].split("/")[2]
    for path in sample_sounds("skipped-zone"):
        bench.send(name, path.name, path.read_bytes())
    return f"/inspections/{name}/record"


def _take(
    browser: Browser, bench: Workbench, walks: dict[str, str], name: str, size: str, scheme: str
) -> None:
    engineer, learner, teacher = (walks[by] for _, _, by in WALKS)
    address = {
        "list": "/",
        "overview": f"/inspections/{engineer}",
        "feedback": f"/inspections/{learner}/feedback",
        "training": f"/inspections/{learner}/training",
        "verify": "/bags/r07-sealed/verify",
        "log": "/bags/r07-sealed/log",
        "checking": _to_check(bench) if name == "checking" else "",
        "compare": f"/compare?walk={learner}&reference={teacher}",
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
    if name in ("overview", "walk"):
        page.locator("svg.waveform").wait_for(timeout=60_000)
    elif name == "review":
        page.get_by_label("Deciding as").fill("A. Engineer")
        page.keyboard.press("Enter")
    elif name == "transcript":
        page.locator(".w").nth(25).click()
        page.locator(".w.now").wait_for()
        page.wait_for_timeout(1000)
    elif name == "checking":
        page.get_by_role("button", name="Check").click()
        page.locator("#found-so-far li").nth(2).wait_for(timeout=300_000)
    elif name in ("training", "log"):
        page.locator("#zones, #h-log").scroll_into_view_if_needed()
        page.evaluate("document.querySelector('#zones, #h-log').scrollIntoView()")
    elif name == "recording":
        page.get_by_role("button", name="Record", exact=True).click()
        page.wait_for_timeout(5000)
    page.wait_for_timeout(300)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
