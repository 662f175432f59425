"""A change of any byte anywhere is caught, and the file or the entry is named."""

from __future__ import annotations

import json
import random
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from tests.record.sealed import as_if_sealed, copy_of, faults_of, flip, seal_signed
from tests.record.walked import BY, walked

from spokenfor.errors import InputError
from spokenfor.record.entries import Action, entry_after, entry_of, line_of
from spokenfor.record.review import Decision, decide
from spokenfor.record.seal import Seal, seal
from spokenfor.record.verify import opened, verify

FLIPS = 200


@pytest.fixture(scope="session")
def sealed(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """A signed bag with six entries in its log, and its key."""
    top = tmp_path_factory.mktemp("sealed")
    walked(top / "phone").keep(top / "r07")
    for name in ("nose-cone", "tail-skid", "brake-line.left"):
        decide(top / "r07", Decision(Action.ACCEPT, name, BY))
    decide(top / "r07", Decision(Action.ADD_NOTE, "inspection", BY, words="rain"))
    return seal_signed(top / "r07", top / "key"), top / "key"


@pytest.fixture
def bag(sealed: tuple[Path, Path], tmp_path: Path) -> Path:
    return copy_of(sealed[0], tmp_path)


def names(bag: Path) -> list[str]:
    return sorted(path.relative_to(bag).as_posix() for path in bag.rglob("*") if path.is_file())


def caught(bag: Path, name: str) -> bool:
    """Whether the file is named by a fault, or by the refusal of a path that the flip made unsafe."""
    try:
        return any(name in fault for fault in faults_of(bag))
    except InputError as error:
        return name in str(error)


def test_a_bag_that_nobody_touched(bag: Path) -> None:
    found = verify(bag)
    assert found.faults == []
    assert [fact.split(":")[0] for fact in found.facts] == [
        f"{len(names(bag)) - 2} files are byte for byte as they were sealed",
        next(one for one in found.facts if one.startswith("signed")).split(":")[0],
        "the log is whole",
        "2 recordings as checked",
        "pack helicopter-light-twin 1.0.0 is the one that was used",
    ]


def test_random_flips_are_all_caught_and_named(bag: Path) -> None:
    chance = random.Random(5)
    files = names(bag)
    missed = []
    for _ in range(FLIPS):
        name = chance.choice(files)
        data = (bag / name).read_bytes()
        offset, bit = chance.randrange(len(data)), chance.randrange(8)
        flip(bag / name, offset, bit)
        if not caught(bag, name):
            missed.append((name, offset, bit))
        (bag / name).write_bytes(data)
    assert missed == []
    assert faults_of(bag) == []


@pytest.mark.parametrize("signed", [True, False])
def test_flips_all_over_the_manifests(signed: bool, bag: Path, folder: Path) -> None:
    """They are read, not only hashed; also where no signature stands behind them."""
    bag = bag if signed else seal(folder, Seal(BY))
    files = [name for name in names(bag) if not name.startswith("data/") and "manifest-" in name]
    for name in files:
        data = (bag / name).read_bytes()
        step = 3 if len(data) < 700 else 23
        for offset in range(0, len(data), step):
            flip(bag / name, offset, (offset // step) % 8)
            assert caught(bag, name), (name, offset)
            (bag / name).write_bytes(data)


def lines_of(bag: Path) -> list[bytes]:
    return (bag / "data/log.jsonl").read_bytes().splitlines()


def remove(lines: list[bytes]) -> None:
    lines.pop(2)


def remove_last(lines: list[bytes]) -> None:
    lines.pop()


def swap(lines: list[bytes]) -> None:
    lines[1], lines[2] = lines[2], lines[1]


def add_last(lines: list[bytes]) -> None:
    last = entry_of(lines[-1])
    more = entry_after(last, at=last.at, by=BY, action=Action.ADD_NOTE, subject="inspection")
    lines.append(line_of(more)[:-1])


def change(lines: list[bytes]) -> None:
    lines[4] = lines[4].replace(b'"rain"', b'"snow"')


def rewrite_all(lines: list[bytes]) -> None:
    """The whole chain made anew over a changed entry: only the seal can tell."""
    last = None
    for at, line in enumerate(lines):
        entry = entry_of(line)
        fields = entry.model_dump(exclude={"number", "previous", "sha256"})
        if at == 4:
            fields["words"] = "snow"
        last = entry_after(last, **fields)
        lines[at] = line_of(last)[:-1]


@pytest.mark.parametrize(
    ("damage", "named"),
    [
        (remove, "log.jsonl, entry 3 is missing"),
        (remove_last, "log.jsonl, entry 6 is missing"),
        (swap, "log.jsonl, entry 2 is out of order, on line 3"),
        (add_last, "log.jsonl, entry 7 was added"),
        (change, "log.jsonl, entry 5 was changed: its SHA-256 is another"),
        (rewrite_all, "log.jsonl, entry 6 is another than the one sealed"),
    ],
)
def test_what_was_done_to_the_log_is_named(
    damage: Callable[[list[bytes]], None], named: str, bag: Path
) -> None:
    lines = lines_of(bag)
    damage(lines)
    (bag / "data/log.jsonl").write_bytes(b"".join(line + b"\n" for line in lines))
    assert named in faults_of(bag)
    as_if_sealed(bag)
    assert named in faults_of(bag), "also where the manifests were made to fit"
    assert any("tagmanifest-sha256.txt.sig is not that of" in one for one in faults_of(bag))


def test_a_line_cut_off_the_sealed_log(bag: Path) -> None:
    path = bag / "data/log.jsonl"
    path.write_bytes(path.read_bytes()[:-30])
    assert "log.jsonl, its last line is cut off" in faults_of(bag)


@pytest.mark.parametrize(
    "name", ["data/report.json", "data/recordings/left side.wav", "bag-info.txt", "public-key.pem"]
)
def test_a_file_taken_away_or_put_in(name: str, bag: Path) -> None:
    (bag / name).rename(bag / "data/other")
    found = faults_of(bag)
    assert any(one.startswith(f"{name} is missing") for one in found)
    assert "data/other was added; manifest-sha256.txt does not list it" in found


@pytest.mark.parametrize("name", ["manifest-sha256.txt", "tagmanifest-sha256.txt", "bagit.txt"])
def test_a_manifest_taken_away(name: str, bag: Path) -> None:
    (bag / name).unlink()
    assert any(one.startswith(f"{name} is missing") for one in faults_of(bag))


def test_lines_of_a_manifest_reordered(bag: Path) -> None:
    path = bag / "tagmanifest-sha256.txt"
    path.write_bytes(b"".join(reversed(path.read_bytes().splitlines(keepends=True))))
    assert "tagmanifest-sha256.txt: its lines were reordered" in faults_of(bag)


def test_an_algorithm_slipped_in(bag: Path) -> None:
    (bag / "manifest-md5.txt").write_text("0" * 32 + "  data/report.json\n")
    (bag / "fetch.txt").write_text("http://localhost/x 1 data/x\n")
    found = faults_of(bag)
    for name in ("manifest-md5.txt", "fetch.txt"):
        assert f"{name} was added; tagmanifest-sha256.txt does not list it" in found


def test_another_declaration_than_ours(bag: Path, sealed: tuple[Path, Path]) -> None:
    path = bag / "bagit.txt"
    path.write_bytes(path.read_bytes().replace(b"1.0", b"0.93"))
    as_if_sealed(bag, sealed[1])
    assert faults_of(bag) == ["bagit.txt was changed"]


def test_a_signature_taken_off(bag: Path) -> None:
    (bag / "tagmanifest-sha256.txt.sig").unlink()
    assert faults_of(bag) == [
        "tagmanifest-sha256.txt.sig is missing; the signature cannot be checked"
    ]


@pytest.mark.parametrize("size", [0, 63, 65, 5000])
def test_a_signature_of_another_length(size: int, bag: Path) -> None:
    (bag / "tagmanifest-sha256.txt.sig").write_bytes(bytes(size))
    assert any("sig is not that of" in one for one in faults_of(bag))


def test_a_recording_exchanged_by_somebody_with_the_key(
    bag: Path, sealed: tuple[Path, Path]
) -> None:
    (bag / "data/recordings/left side.wav").write_bytes(b"another walk")
    as_if_sealed(bag, sealed[1])
    assert faults_of(bag) == ["data/recordings/left side.wav is not the recording that was checked"]


def test_a_report_changed_by_somebody_with_the_key(bag: Path, sealed: tuple[Path, Path]) -> None:
    report = bag / "data/report.json"
    report.write_text(report.read_text().replace('"not_mentioned"', '"satisfactory"', 1))
    as_if_sealed(bag, sealed[1])
    assert faults_of(bag) == ["data/report.json is not the one that the log says was made"]


def test_a_pack_changed_by_somebody_with_the_key(bag: Path, sealed: tuple[Path, Path]) -> None:
    settings = json.loads((bag / "data/settings.json").read_text())
    sheet = bag / "data" / settings["pack_path"] / "sheet.yaml"
    sheet.write_text(sheet.read_text() + "\n# one line less\n")
    as_if_sealed(bag, sealed[1])
    assert faults_of(bag) == [f"data/{settings['pack_path']} is not the pack that was used"]


@pytest.mark.parametrize("path", ["../../secret", "/etc/hostname", "recordings/../../x"])
def test_settings_that_lead_out_of_the_bag(path: str, bag: Path, sealed: tuple[Path, Path]) -> None:
    text = (bag / "data/settings.json").read_text()
    (bag / "data/settings.json").write_text(text.replace("recordings/left side.wav", path))
    as_if_sealed(bag, sealed[1])
    with pytest.raises(InputError, match=r"settings\.json: the path .* is not safe"):
        verify(bag)


def test_what_is_no_bag(tmp_path: Path, folder: Path) -> None:
    (tmp_path / "notes.txt").touch()
    for wrong in (tmp_path / "absent", tmp_path / "notes.txt", folder):
        with (
            pytest.raises(InputError, match=r"There is no|is no bag|is no sealed bag"),
            opened(wrong),
        ):
            pass


@pytest.mark.parametrize("form", ["zip", "tar"])
def test_a_bag_sent_as_an_archive(form: str, bag: Path, tmp_path: Path) -> None:
    archive = Path(shutil.make_archive(str(tmp_path / "sent"), form, bag.parent, bag.name))
    with opened(archive) as inner:
        assert verify(inner).faults == []
    flat = Path(shutil.make_archive(str(tmp_path / "flat"), form, bag))
    with opened(flat) as inner:
        assert verify(inner).faults == []
        (inner / "data/report.json").write_text("")
        assert verify(inner).faults
