"""Thirty hostile requests and more: each is refused, and nothing is written."""

from __future__ import annotations

import http.client
import io
import shutil
import zipfile
from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest
from tests.cli.command import contents
from tests.web.workbench import CAPTIONS, PAGE, Workbench

REFUSED = range(400, 500)
FORM = {"asset": "R-66", "pack": "helicopter-light-twin", "by": "A. Engineer"}
DECISION = {"action": "accept", "subject": "f1", "by": "A. Engineer"}


@pytest.fixture(scope="module")
def target(kept_once: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Workbench]:
    root = tmp_path_factory.mktemp("target") / "root"
    root.mkdir()
    shutil.copytree(kept_once, root / "r07")
    (root.parent / "secret.txt").write_text("not yours")
    with zipfile.ZipFile(root / "evil.zip", "w") as archive:
        archive.writestr("../escaped.txt", "out")
    bomb = io.BytesIO()
    with zipfile.ZipFile(bomb, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("bag/bagit.txt", bytes(64 << 20))
    (root / "bomb.zip").write_bytes(bomb.getvalue())
    (root / "link").symlink_to(root.parent)
    workbench = Workbench(root)
    workbench.draft = workbench.new()  # type: ignore[attr-defined]
    workbench.until(lambda: (root / ".workbench/list.json").exists())
    yield workbench
    workbench.stop()
    assert "Traceback" not in workbench.errors()


def bare(bench: Workbench, **options) -> httpx.Client:
    """A client that was not let in."""
    return httpx.Client(base_url=bench.base, timeout=30, **options)


def raw(bench: Workbench, request: bytes) -> int:
    """Send bytes as they are; the status of the answer, 400 where the connection was closed."""
    import socket

    host, port = bench.base.removeprefix("http://").split(":")
    with socket.create_connection((host, int(port)), timeout=20) as line:
        line.sendall(request)
        line.settimeout(20)
        answer = line.recv(65536)
    return int(answer.split()[1]) if answer else 400


def cookie(bench: Workbench) -> str:
    return "; ".join(f"{one.name}={one.value}" for one in bench.client.cookies.jar)


def foreign(bench: Workbench, path: str, **headers: str) -> int:
    return bench.post(path, data=FORM | DECISION, headers=headers).status_code


def file_to(bench: Workbench, name: str, content: bytes) -> int:
    return bench.send(bench.draft, name, content).status_code  # type: ignore[attr-defined]


def huge_promise(bench: Workbench) -> int:
    """Two gigabytes promised; not one byte of them is taken."""
    host, port = bench.base.removeprefix("http://").split(":")
    line = http.client.HTTPConnection(host, int(port), timeout=20)
    line.putrequest("POST", f"/inspections/{bench.draft}/files?name=walk.wav")  # type: ignore[attr-defined]
    for name, value in (
        ("Content-Length", str(2 << 30)),
        ("Cookie", cookie(bench)),
        ("X-CSRF", bench.csrf),
    ):
        line.putheader(name, value)
    line.endheaders()
    status = line.getresponse().status
    line.close()
    return status


def unpromised_form(bench: Workbench) -> int:
    """A form without a length that does not end."""
    parts = (b"asset=" + b"x" * 65536 for _ in range(64))
    headers = {"Content-Type": "application/x-www-form-urlencoded", "X-CSRF": bench.csrf}
    return bench.client.post("/inspections", content=parts, headers=headers).status_code


HOSTILE = {
    "no token": lambda b: bare(b).get("/").status_code,
    "wrong token": lambda b: bare(b).get("/?token=guess").status_code,
    "token twice": lambda b: bare(b).get("/?token=&token=x").status_code,
    "wrong cookie": lambda b: bare(b, cookies={b.client.cookies.jar._cookies and f"spokenfor-{b.base.split(':')[-1]}": "x"}).get("/").status_code,
    "token instead of cookie": lambda b: bare(b, cookies={f"spokenfor-{b.base.split(':')[-1]}": b.token}).get("/").status_code,
    "another host": lambda b: b.client.get("/", headers={"Host": "workbench.example"}).status_code,
    "another port in Host": lambda b: b.client.get("/", headers={"Host": "127.0.0.1:1"}).status_code,
    "no Host": lambda b: raw(b, f"GET / HTTP/1.1\r\nCookie: {cookie(b)}\r\n\r\n".encode()),
    "two Hosts": lambda b: raw(b, f"GET / HTTP/1.1\r\nHost: evil.example\r\nHost: {b.base[7:]}\r\nCookie: {cookie(b)}\r\n\r\n".encode()),
    "foreign origin": lambda b: foreign(b, "/inspections", Origin="http://evil.example"),
    "origin null": lambda b: foreign(b, "/inspections", Origin="null"),
    "origin of another port": lambda b: foreign(b, "/inspections", Origin="http://127.0.0.1:1"),
    "from another site": lambda b: foreign(b, "/inspections", **{"Sec-Fetch-Site": "cross-site"}),
    "from a page of the same machine": lambda b: foreign(b, "/inspections", **{"Sec-Fetch-Site": "same-site"}),
    "no CSRF token": lambda b: b.client.post("/inspections", data=FORM).status_code,
    "wrong CSRF token": lambda b: b.client.post("/inspections", data=FORM | {"csrf": "guess"}).status_code,
    "CSRF token in the address": lambda b: b.client.post(f"/inspections?csrf={b.csrf}", data=FORM).status_code,
    "decision without CSRF": lambda b: b.client.post("/inspections/r07/decisions", data=DECISION).status_code,
    "upload without CSRF": lambda b: b.client.post(f"/inspections/{b.draft}/files?name=a.wav", content=b"RIFF").status_code,
    "upwards": lambda b: raw(b, f"GET /inspections/../../secret.txt HTTP/1.1\r\nHost: {b.base[7:]}\r\nCookie: {cookie(b)}\r\n\r\n".encode()),
    "upwards, encoded": lambda b: b.client.get("/inspections/%2e%2e%2f%2e%2e/files/report.json").status_code,
    "upwards, encoded twice": lambda b: b.client.get("/inspections/%252e%252e/sound/0").status_code,
    "hidden folder": lambda b: b.client.get("/inspections/.workbench").status_code,
    "a link out of the folder": lambda b: b.client.get("/inspections/link").status_code,
    "a file not on the list": lambda b: b.client.get("/inspections/r07/files/settings.json").status_code,
    "a script not on the list": lambda b: b.client.get("/static/..%2f..%2fapp.py").status_code,
    "zero byte in an id": lambda b: b.client.get("/inspections/r07%00/sheet").status_code,
    "recording that is not there": lambda b: b.client.get("/inspections/r07/sound/99").status_code,
    "recording before the first": lambda b: b.client.get("/inspections/r07/sound/-1").status_code,
    "zip that leads upwards": lambda b: b.client.get("/bags/evil.zip").status_code,
    "zip bomb": lambda b: b.client.get("/bags/bomb.zip/verify").status_code,
    "2 GB promised": huge_promise,
    "form that does not end": unpromised_form,
    "form of a megabyte": lambda b: b.post("/inspections", data=FORM | {"asset": "x" * 1_000_000}).status_code,
    "length that is no number": lambda b: raw(b, f"POST /inspections HTTP/1.1\r\nHost: {b.base[7:]}\r\nCookie: {cookie(b)}\r\nContent-Length: ten\r\n\r\n".encode()),
    "negative length": lambda b: raw(b, f"POST /inspections HTTP/1.1\r\nHost: {b.base[7:]}\r\nCookie: {cookie(b)}\r\nContent-Length: -1\r\n\r\n".encode()),
    "program as sound": lambda b: file_to(b, "walk.exe", b"MZ" + bytes(99)),
    "page called sound": lambda b: file_to(b, "walk.wav", b"<script>alert(1)</script>" + bytes(64)),
    "page called photo": lambda b: file_to(b, "photo.jpg", b"<svg onload=alert(1)>" + bytes(64)),
    "photo that is not there": lambda b: b.client.get("/inspections/r07/photos/0").status_code,
    "empty file": lambda b: file_to(b, "walk.wav", b""),
    "no name": lambda b: file_to(b, "", b"RIFF"),
    "name that leads upwards": lambda b: file_to(b, "../../walk", CAPTIONS.encode()),
    "piece of no recording": lambda b: b.put(f"/inspections/{b.draft}/recordings/7/pieces/1", b"x").status_code,
    "piece number 0": lambda b: b.put(f"/inspections/{b.draft}/recordings/1/pieces/0", b"x").status_code,
    "recording of another kind": lambda b: b.post(f"/inspections/{b.draft}/recordings", data={"kind": "text/html"}).status_code,
    "unknown pack": lambda b: b.post("/inspections", data=FORM | {"pack": "../common"}).status_code,
    "pack as path": lambda b: b.post("/inspections", data=FORM | {"pack": "/etc"}).status_code,
    "empty name": lambda b: b.post("/inspections", data=FORM | {"by": " "}).status_code,
    "name with a control character": lambda b: b.post("/inspections", data=FORM | {"asset": "R\x1b[2J"}).status_code,
    "decision of a check": lambda b: b.post("/inspections/r07/decisions", data=DECISION | {"action": "check"}).status_code,
    "decision of a seal": lambda b: b.post("/inspections/r07/decisions", data=DECISION | {"action": "seal"}).status_code,
    "decision on nothing": lambda b: b.post("/inspections/r07/decisions", data=DECISION | {"subject": "../x"}).status_code,
    "times that are none": lambda b: b.post("/inspections/r07/decisions", data=DECISION | {"action": "correct_time", "start": "nan", "end": "inf"}).status_code,
    "decision in a bag": lambda b: b.post("/bags/r07/decisions", data=DECISION).status_code,
    "delete": lambda b: b.client.delete("/inspections/r07", headers={"X-CSRF": b.csrf}).status_code,
    "check of nothing": lambda b: b.post(f"/inspections/{b.draft}/check").status_code,
}  # fmt: skip


def outside_lock(root: Path) -> dict[str, tuple[str, int]]:
    return {
        name: kept
        for name, kept in contents(root.parent).items()
        if not name.startswith(("stderr", "cache")) and not name.endswith(".lock")
    }


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_requests_are_refused_and_write_nothing(target: Workbench, name: str):
    before = outside_lock(target.root)
    status = HOSTILE[name](target)
    assert status in REFUSED, (name, status)
    assert outside_lock(target.root) == before


def test_the_cookie_is_for_this_site_and_not_for_scripts(target: Workbench):
    answer = bare(target).get("/", params={"token": target.token})
    said = answer.headers["set-cookie"].lower()
    assert "httponly" in said and "samesite=strict" in said
    assert answer.status_code == 303 and answer.headers["location"] == "/"


@pytest.mark.parametrize(
    "path", ["/", "/inspections/r07", "/inspections/r07/sound/0", "/static/review.js", "/nothing"]
)
def test_every_answer_carries_the_policy(target: Workbench, path: str):
    headers = target.client.get(path, headers=PAGE).headers
    assert "script-src 'self'" in headers["content-security-policy"]
    assert "unsafe" not in headers["content-security-policy"]
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["x-frame-options"] == "DENY"


def test_script_in_names_is_shown_and_does_nothing(visit, bench: Workbench):
    evil = "<script>window.broken=1</script><img src=x onerror=window.broken=1>"
    name = bench.new(evil)
    assert (
        bench.send(name, "'\"><img src=x onerror=alert(1)>.vtt", CAPTIONS.encode()).status_code
        == 200
    )
    page = visit(bench)
    assert page.get_by_text(evil).count() == 1
    page.goto(f"{bench.base}/inspections/{name}/record")
    assert page.locator("h1").text_content() == evil
    assert page.locator("img").count() == 0 and page.evaluate("window.broken") is None


def test_it_listens_on_this_machine_alone(target: Workbench):
    import socket

    port = int(target.base.rsplit(":", 1)[1])
    addresses = {
        one[4][0] for one in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET)
    }
    for address in addresses - {"127.0.0.1"} - {one for one in addresses if one.startswith("127.")}:
        with pytest.raises(OSError), socket.create_connection((address, port), timeout=2):
            pass
    with pytest.raises(OSError), socket.create_connection(("::1", port), timeout=2):
        pass
