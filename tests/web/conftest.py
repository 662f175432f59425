"""A folder served, and a Chromium whose microphone hears a bundled recording."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect
from tests.cli.command import piece
from tests.conftest import Launch
from tests.web.walks import kept
from tests.web.workbench import Workbench

expect.set_options(timeout=30_000)  # other programs may share the machine


@pytest.fixture(scope="session")
def narration(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Twelve seconds at the nose."""
    return piece(tmp_path_factory.mktemp("microphone") / "walk.wav", "two-parts-1", 4.9, 16.9)


@pytest.fixture(scope="session")
def browser(launch: Launch, narration: Path) -> Browser:
    """Chromium whose microphone hears the narration."""
    return launch(
        "--use-fake-ui-for-media-stream",
        "--use-fake-device-for-media-stream",
        f"--use-file-for-fake-audio-capture={narration}",
        "--autoplay-policy=no-user-gesture-required",
    )


@pytest.fixture(scope="session")
def kept_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("kept") / "root"
    root.mkdir()
    return kept(root)


@pytest.fixture
def root(kept_once: Path, tmp_path: Path) -> Path:
    """A folder with one inspection of R-07 in it, for one test."""
    (tmp_path / "root").mkdir()
    shutil.copytree(kept_once, tmp_path / "root" / "r07")
    return tmp_path / "root"


@pytest.fixture
def bench(root: Path) -> Iterator[Workbench]:
    """That folder served."""
    workbench = Workbench(root)
    yield workbench
    workbench.stop()
    assert "Traceback" not in workbench.errors(), workbench.errors()


@pytest.fixture(scope="session")
def shared(kept_once: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Workbench]:
    """A folder served for all tests that change nothing in it."""
    root = tmp_path_factory.mktemp("shared") / "root"
    root.mkdir()
    shutil.copytree(kept_once, root / "r07")
    workbench = Workbench(root)
    yield workbench
    workbench.stop()


@contextmanager
def windows(browser: Browser) -> Iterator[Callable[..., Page]]:
    """Opens a workbench in a browser of its own; in the end nothing may have been asked of another
    address, and no script may have complained."""
    contexts: list[BrowserContext] = []
    complaints: list[str] = []
    seen: list[tuple[str, str]] = []

    def open_page(workbench: Workbench, path: str = "/", **options: object) -> Page:
        context = browser.new_context(**options)  # type: ignore[arg-type]
        contexts.append(context)
        page = context.new_page()
        base = workbench.base
        page.on("request", lambda request: seen.append((base, request.url)))
        page.on("pageerror", lambda error: complaints.append(str(error)))
        page.on(
            "console",
            lambda message: complaints.append(message.text) if message.type == "error" else None,
        )
        page.goto(workbench.entrance)
        if path != "/":
            page.goto(base + path)
        return page

    yield open_page
    for context in contexts:
        context.close()
    assert [url for base, url in seen if not url.startswith((base, "data:", "blob:"))] == []
    refused = ("ERR_CONNECTION", "Failed to load resource")
    assert [one for one in complaints if not any(word in one for word in refused)] == []


@pytest.fixture
def visit(browser: Browser) -> Iterator[Callable[..., Page]]:
    """Windows for one test."""
    with windows(browser) as open_page:
        yield open_page
