"""A workbench as its users start it: a process of its own, asked over HTTP."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import httpx
from tests.cli.command import NOWHERE, PIPELINE

PAGE = {"Accept": "text/html"}
CAPTIONS = """WEBVTT

00:00:01.000 --> 00:00:04.000
Starting at the nose. Nose cone is secure.

00:00:05.000 --> 00:00:09.000
Left main gear. Left brake line is leaking.
"""


class Workbench:
    """One served folder; can be killed and started again."""

    def __init__(self, root: Path, *command: str) -> None:
        self.root = root
        self.command = command or ("serve", str(root), "--port", "0")
        self.start()

    def start(self) -> None:
        proxies = dict.fromkeys(("HTTP_PROXY", "HTTPS_PROXY", "http_proxy", "https_proxy"), NOWHERE)
        self.process = subprocess.Popen(
            [sys.executable, "-m", "spokenfor", *self.command],
            env=os.environ
            | proxies
            | {
                "PYTHONPATH": str(PIPELINE),
                "PYTHONUNBUFFERED": "1",
                "XDG_CACHE_HOME": str(self.root.parent / "cache"),
            },
            stdout=subprocess.PIPE,
            stderr=(self.root.parent / "stderr.txt").open("a"),
            text=True,
            start_new_session=True,
        )
        assert self.process.stdout is not None
        said = ""
        while "token=" not in said:
            line = self.process.stdout.readline()
            assert line, f"the server ended: {said}{self.errors()}"
            said += line
        self.entrance = re.search(r"http://\S+", said)[0]  # type: ignore[index]
        self.base, self.token = self.entrance.split("/?token=")
        self.port = self.base.rpartition(":")[2]
        self.client = httpx.Client(base_url=self.base, timeout=30)
        self.until(lambda: self.client.get("/", params={"token": self.token}).status_code == 303)
        self.csrf = self.read_csrf()

    def read_csrf(self) -> str:
        text = self.client.get("/", headers=PAGE, follow_redirects=True).text
        return re.search(r'name="csrf" content="([^"]+)"', text)[1]  # type: ignore[index]

    def kill(self) -> None:
        """As kill -9 and a flat battery do it."""
        self.process.kill()
        self.process.wait()

    def stop(self) -> None:
        self.client.close()
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGTERM)
            try:
                self.process.wait(10)
            except subprocess.TimeoutExpired:
                self.process.kill()
                self.process.wait()

    def errors(self) -> str:
        return (self.root.parent / "stderr.txt").read_text()

    def post(self, path: str, **options: Any) -> httpx.Response:
        headers = {"X-CSRF": self.csrf} | options.pop("headers", {})
        return self.client.post(path, headers=headers, **options)

    def put(self, path: str, content: bytes) -> httpx.Response:
        return self.client.put(path, headers={"X-CSRF": self.csrf}, content=content)

    def new(self, asset: str = "R-07", pack: str = "helicopter-light-twin") -> str:
        """Start an inspection; its id."""
        answer = self.post("/inspections", data={"asset": asset, "pack": pack, "by": "A. Engineer"})
        assert answer.status_code == 303, answer.text
        return answer.headers["location"].split("/")[2]

    def send(self, name: str, file: str, content: bytes) -> httpx.Response:
        return self.post(f"/inspections/{name}/files", params={"name": file}, content=content)

    def check(self, name: str, wait: float = 90) -> dict[str, Any]:
        """Check an inspection; where it stands at the end."""
        assert self.post(f"/inspections/{name}/check").status_code == 303
        return self.wait(name, wait)

    def status(self, name: str) -> dict[str, Any]:
        return self.client.get(f"/inspections/{name}/status").json()

    def wait(self, name: str, wait: float = 90) -> dict[str, Any]:
        self.until(lambda: self.status(name)["state"] not in ("waiting", "working"), wait)
        return self.status(name)

    @staticmethod
    def until(true: Any, wait: float = 20) -> None:
        end = time.monotonic() + wait
        while time.monotonic() < end:
            try:
                if true():
                    return
            except httpx.TransportError:
                pass
            time.sleep(0.1)
        raise AssertionError("it never came true")
