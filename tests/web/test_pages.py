"""Every page: no serious fault for axe-core, nothing wider than the screen, light and dark, phone and desktop."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from tests.record.walked import BY, accept_all
from tests.web.walks import kept
from tests.web.workbench import Workbench

from spokenfor.record.seal import Seal, seal

PAGES = {
    "list": "/",
    "new": "/new",
    "search": "/search?q=leak",
    "bags": "/bags",
    "choose": "/compare",
    "compared": "/compare?walk=r07&walk=r08",
    "asset": "/asset?name=R-07",
    "first": "/inspections/r07",
    "review": "/inspections/r07/review",
    "transcript": "/inspections/r07/transcript",
    "walk": "/inspections/r07/walk",
    "log": "/inspections/r07/log",
    "training": "/inspections/r07/training",
    "feedback": "/inspections/r07/feedback",
    "seal": "/inspections/r07/seal",
    "recording": "/inspections/r07/record",
    "bag": "/bags/r09-sealed",
    "verify": "/bags/r09-sealed/verify",
    "nothing": "/inspections/none",
}
LOOKS = [(390, "light"), (1280, "dark")]
# Rules of axe-core that need a person or hold for a whole site; everything else is asked.
SERIOUS = {"serious", "critical"}


@pytest.fixture(scope="module")
def full(kept_once: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Workbench]:
    """Three inspections, one of them sealed."""
    root = tmp_path_factory.mktemp("full") / "root"
    root.mkdir()
    shutil.copytree(kept_once, root / "r07")
    kept(root, "r08", by="B. Learner")
    kept(root, "r09", asset="R-09")
    accept_all(root / "r09")
    seal(root / "r09", Seal(BY, "L-2207"))
    workbench = Workbench(root)
    yield workbench
    workbench.stop()
    assert "Traceback" not in workbench.errors()


@pytest.mark.parametrize("name", PAGES)
def test_pages_are_accessible_and_fit(visit, full: Workbench, name: str):
    page = visit(full, PAGES[name], viewport={"width": LOOKS[0][0], "height": 800})
    for width, scheme in LOOKS:
        page.set_viewport_size({"width": width, "height": 800})
        page.emulate_media(color_scheme=scheme)
        page.wait_for_timeout(150)
        found = Axe().run(page).response["violations"]
        faults = [
            (one["id"], [node["html"][:160] for node in one["nodes"]][:3])
            for one in found
            if one["impact"] in SERIOUS
        ]
        assert faults == []
        assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_the_keyboard_goes_through_a_page_in_order(visit, full: Workbench):
    page = visit(full, "/inspections/r07")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.closest('main') !== null")
    assert page.evaluate("getComputedStyle(document.activeElement).outlineStyle") == "solid"
