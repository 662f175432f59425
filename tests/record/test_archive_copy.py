"""spokenfor pdf: the archive copy of an inspection folder, and of a sealed one."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest
from tests.cli.command import as_anybody, assert_one_line, spokenfor
from tests.record.sealed import faults_of, seal_signed
from tests.record.walked import BY, contents
from tests.reporting.pdf_pages import pages, squeezed

from spokenfor.errors import InputError
from spokenfor.record.archive_copy import write_archive_copy
from spokenfor.record.entries import Action
from spokenfor.record.review import Decision, decide


def text(pdf: Path) -> str:
    return squeezed(" ".join(pages(pdf.read_bytes())))


def test_the_command_writes_report_pdf(folder: Path, tmp_path: Path) -> None:
    run = spokenfor("pdf", folder, folder=tmp_path)
    assert (run.status, run.stderr) == (0, "")
    assert run.stdout == f"Archive copy: {folder / 'report.pdf'}\n"
    first = (folder / "report.pdf").read_bytes()
    assert pages(first)[0].startswith("Spoken inspection report R-07")
    again = spokenfor("pdf", folder, "--out", tmp_path / "copy.PDF", folder=tmp_path)
    assert again.status == 0
    assert (tmp_path / "copy.PDF").read_bytes() == first


def test_nothing_but_the_pdf_is_written(folder: Path) -> None:
    before = contents(folder)
    write_archive_copy(folder)
    after = contents(folder)
    del after["report.pdf"]
    assert after == before


def test_every_decision_stands_in_it(folder: Path) -> None:
    other = "B. Second"
    decide(folder, Decision(Action.ACCEPT, "f3", BY))
    why = "old cut, blended"
    decide(folder, Decision(Action.CHANGE_STATUS, "f2", other, why=why, status="satisfactory"))
    decide(folder, Decision(Action.CHANGE_STATUS, "f4", other, why="reset", status="satisfactory"))
    decide(folder, Decision(Action.REOPEN, "f4", BY, why="wrong line"))
    decide(folder, Decision(Action.CORRECT_WORDS, "s1", BY, words="Begin at the radome."))
    decide(folder, Decision(Action.CORRECT_TIME, "s2", BY, start=5.5, end=9.25))
    decide(folder, Decision(Action.ADD_NOTE, "inspection", BY, words="Second torch wanted."))
    found = text(write_archive_copy(folder))
    for words in (
        "Accepted left brake-line leak as defect",
        "Changed nose-tyre cut from defect to satisfactory",
        "why: old cut, blended",
        "Found by the machine, dismissed by a person",
        "to “Begin at the radome.”",
        "to 5.5 to 9.25 s",
        "Noted on the inspection: Second torch wanted.",
        "(no longer stands)",
        "why: wrong line",
        "accepted by A. Engineer, entry 2",
        "Reviewed by A. Engineer, B. Second; nothing undecided; not sealed.",
        "8 entries, the last is",
    ):
        assert squeezed(words) in found, words


def test_the_bag_holds_one_that_shows_the_seal(folder: Path, tmp_path: Path) -> None:
    write_archive_copy(folder)
    bag = seal_signed(folder, tmp_path / "key")
    sealed = bag / "data" / "report.pdf"
    assert "Reviewedandsealedby" + squeezed(f"{BY}, licence L-2207") in text(sealed)
    assert squeezed("Reviewed and sealed by") not in text(folder / "report.pdf")
    assert faults_of(bag) == []
    digest = hashlib.sha256(sealed.read_bytes()).hexdigest()
    assert f"{digest}  data/report.pdf" in (bag / "manifest-sha256.txt").read_text()
    sealed.write_bytes(sealed.read_bytes() + b"\n")
    assert any("data/report.pdf" in fault for fault in faults_of(bag))


def test_a_folder_without_one_is_sealed_without(folder: Path, tmp_path: Path) -> None:
    bag = seal_signed(folder, tmp_path / "key")
    assert not (bag / "data" / "report.pdf").exists()


def test_what_cannot_be_written(folder: Path, tmp_path: Path) -> None:
    (tmp_path / "a.pdf").mkdir()
    for out, says in (
        (tmp_path / "a.pdf", "is a folder"),
        (folder / "report.json", "no name for a PDF"),
        (tmp_path / "nowhere" / "a.pdf", "cannot be written"),
    ):
        with pytest.raises(InputError, match=says):
            write_archive_copy(folder, out)
    with pytest.raises(InputError, match="holds no inspection"):
        write_archive_copy(tmp_path)


def test_a_folder_that_may_only_be_read(folder: Path, tmp_path: Path) -> None:
    before = contents(folder)
    folder.chmod(0o555)
    try:
        run = spokenfor("pdf", folder, folder=tmp_path, before=as_anybody())
        assert_one_line(run, "cannot be written to")
        elsewhere = spokenfor(
            "pdf", folder, "--out", tmp_path / "r07.pdf", folder=tmp_path, before=as_anybody()
        )
        assert elsewhere.status == 0
    finally:
        folder.chmod(0o755)
    assert contents(folder) == before
