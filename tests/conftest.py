"""One browser for all tests: Playwright's synchronous driver runs once in a process."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import Browser, sync_playwright

ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]

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
