"""One browser for all tests: Playwright's synchronous driver runs once in a process."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from spokenfor.hearing.weights import MODEL_SET

ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]

# The smaller weights, where a test names none: twice as fast, and what is tested of hearing holds of both.
os.environ.setdefault(MODEL_SET, "tiny.en")

Launch = Callable[..., Browser]


@pytest.fixture(scope="session")
def launch() -> Iterator[Launch]:
    """Starts Chromium with these arguments besides ARGUMENTS; all are closed in the end."""
    chromium = shutil.which("chromium") or shutil.which("google-chrome")
    if chromium is None and not os.environ.get("CI"):
        pytest.skip("no Chromium on this machine")
    with sync_playwright() as playwright:
        opened: list[Browser] = []

        def launch(*arguments: str) -> Browser:
            opened.append(
                playwright.chromium.launch(executable_path=chromium, args=[*ARGUMENTS, *arguments])
            )
            return opened[-1]

        yield launch
        for one in opened:
            one.close()


@pytest.fixture(scope="session")
def browser(launch: Launch) -> Browser:
    """Chromium as it is."""
    return launch()


@pytest.fixture
def visit(browser: Browser) -> Iterator[Callable[..., Page]]:
    """Opens a page; in the end nothing may have come from a network, nor an error been logged (`missing`: but
    that sound was not there)."""
    opened: list[Page] = []
    seen: list[str] = []
    complaints: list[str] = []

    def visit(file: Path, *, missing: bool = False, **options) -> Page:
        page = browser.new_page(**options)
        page.on("request", lambda request: seen.append(request.url))
        page.on("pageerror", lambda error: complaints.append(str(error)))
        if not missing:
            page.on("console", lambda message: complaints.append(message.text))
        opened.append(page)
        page.goto(file.as_uri())
        return page

    yield visit
    for page in opened:
        page.close()
    assert [url for url in seen if not url.startswith(("file:", "data:"))] == []
    assert complaints == []
