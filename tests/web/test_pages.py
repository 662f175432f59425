"""Every page: nothing more than minor for axe-core, nothing wider than the screen; each width, light and dark."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page
from tests.record.walked import BY, accept_all
from tests.web.conftest import windows
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
COLOURS = {"runOnly": {"type": "rule", "values": ["color-contrast", "link-in-text-block"]}}
# Light or dark changes colours alone, the width what stands where: each width is asked everything once.
LOOKS = [(390, "light", {}), (390, "dark", COLOURS), (1280, "light", COLOURS), (1280, "dark", {})]
# Rules of axe-core that need a person or hold for a whole site; everything else is asked.
FAULTS = {"moderate", "serious", "critical"}


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


@pytest.fixture(scope="module")
def window(browser: Browser, full: Workbench) -> Iterator[Page]:
    """One window for all pages."""
    with windows(browser) as open_page:
        yield open_page(full)


@pytest.mark.parametrize("name", PAGES)
def test_pages_are_accessible_and_fit(window: Page, full: Workbench, name: str):
    window.goto(full.base + PAGES[name])
    window.wait_for_timeout(150)  # what scripts add
    for width, scheme, rules in LOOKS:
        window.set_viewport_size({"width": width, "height": 800})
        window.emulate_media(color_scheme=scheme)
        found = Axe().run(window, options=rules).response["violations"]
        faults = [
            (one["id"], [node["html"][:160] for node in one["nodes"]][:3])
            for one in found
            if one["impact"] in FAULTS
        ]
        assert faults == [], (width, scheme)
        assert window.evaluate("document.documentElement.scrollWidth") <= width


def test_the_keyboard_goes_through_a_page_in_order(visit, full: Workbench):
    page = visit(full, "/inspections/r07")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.closest('main') !== null")
    assert page.evaluate("getComputedStyle(document.activeElement).outlineStyle") == "solid"
