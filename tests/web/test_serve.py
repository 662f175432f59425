"""How `spokenfor serve` starts, refuses to start, and stops."""

from __future__ import annotations

import signal
import socket
import stat
from pathlib import Path

from tests.cli.command import as_anybody, assert_one_line, spokenfor
from tests.web.workbench import Workbench


def test_it_stops_on_ctrl_c_without_a_traceback(tmp_path: Path):
    (tmp_path / "root").mkdir()
    bench = Workbench(tmp_path / "root")
    bench.process.send_signal(signal.SIGINT)
    assert bench.process.wait(20) == 130
    assert bench.errors() == "spokenfor: stopped; the recordings are untouched.\n"
    assert bench.base.startswith("http://127.0.0.1:") and len(bench.token) >= 40


def test_two_starts_have_two_tokens(tmp_path: Path):
    (tmp_path / "root").mkdir()
    bench = Workbench(tmp_path / "root")
    first = bench.token
    bench.kill()
    bench.start()
    assert bench.token != first
    assert bench.client.get("/", params={"token": first}).status_code == 403
    bench.stop()


def test_one_inspection_is_no_folder_of_inspections(kept_once: Path, tmp_path: Path):
    run = spokenfor("serve", kept_once, "--port", "0", folder=tmp_path)
    assert_one_line(run, "is one inspection. Review it with spokenfor review, or give")


def test_a_port_in_use_is_said(tmp_path: Path):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = str(taken.getsockname()[1])
        run = spokenfor("serve", tmp_path / "root", "--port", port, folder=tmp_path)
    assert_one_line(run, "cannot be listened on: address already in use")


def test_a_folder_that_cannot_be_written_to_is_said(tmp_path: Path):
    (tmp_path / "root").mkdir()
    (tmp_path / "root").chmod(stat.S_IRUSR | stat.S_IXUSR)
    run = spokenfor("serve", "root", "--port", "0", folder=tmp_path, before=as_anybody())
    (tmp_path / "root").chmod(stat.S_IRWXU)
    assert_one_line(run, "cannot be served: permission denied")


def test_a_file_is_no_folder(tmp_path: Path):
    (tmp_path / "walk.wav").touch()
    run = spokenfor("serve", "walk.wav", "--port", "0", folder=tmp_path)
    assert_one_line(run, "cannot be served: ")
