"""What is undecided is not sealed without a reason; what is sealed any standard tool can check."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import bagit
import pytest
from tests.record.sealed import faults_of, seal_signed
from tests.record.walked import BY, Walked, accept_all, contents, write_sound

from spokenfor.errors import InputError
from spokenfor.record.bag import BAG_INFO, read_info
from spokenfor.record.entries import Action
from spokenfor.record.folder import open_inspection
from spokenfor.record.keys import fingerprint, new_key, public_key_file
from spokenfor.record.review import Decision, decide
from spokenfor.record.seal import Seal, seal
from spokenfor.record.sign_off import RECORD_ONLY
from spokenfor.record.verify import verify

REASON = "aircraft leaves in ten minutes, the second voice could not be asked"


@pytest.fixture
def doubtful(check: Walked, tmp_path: Path) -> Path:
    check.result.items[0].listen = True
    check.result.findings[0].item = None
    check.keep(tmp_path / "r07")
    return tmp_path / "r07"


def info(bag: Path) -> dict[str, str]:
    return read_info((bag / BAG_INFO).read_bytes())


def test_undecided_points_are_not_sealed(doubtful: Path) -> None:
    before = contents(doubtful.parent)
    with pytest.raises(InputError, match="2 points undecided: nose-cone") as error:
        seal(doubtful, Seal(BY))
    assert "--despite" in error.value.mend
    assert contents(doubtful.parent) == before


def test_the_reason_for_sealing_all_the_same_is_kept_and_shown(doubtful: Path) -> None:
    bag = seal(doubtful, Seal(BY, despite=REASON))
    entry = open_inspection(doubtful).log.entries[-1]
    assert (entry.action, entry.why) == (Action.SEAL, REASON)
    assert entry.left_open == ["nose-cone", "f1"]
    assert info(bag)["Sealed-Despite"] == REASON
    assert info(bag)["Left-Undecided"] == "nose-cone, f1"
    text = (bag / "data/sign-off.txt").read_text()
    assert f"LEFT UNDECIDED: 2. Sealed all the same, for this reason: {REASON}" in text
    assert "nose-cone (Nose cone): listen" in text
    assert faults_of(bag) == []


def test_a_reason_that_was_not_needed_is_not_kept(folder: Path) -> None:
    bag = seal(folder, Seal(BY, despite=REASON))
    assert REASON not in (bag / "data/sign-off.txt").read_text()
    assert open_inspection(folder).log.entries[-1].why is None


def test_the_bag_says_that_it_is_a_record_and_no_release(folder: Path) -> None:
    bag = seal(folder, Seal(BY))
    assert info(bag)["External-Description"] == RECORD_ONLY
    assert "not a release to service" in (bag / "data/sign-off.txt").read_text()


def test_the_sheet_names_what_matters_first(folder: Path, tmp_path: Path) -> None:
    result = open_inspection(folder).result
    accept = result.findings[0].id
    decide(folder, Decision(Action.CHANGE_STATUS, "tail-skid", BY, why="seen", status="defect"))
    decide(folder, Decision(Action.CHANGE_STATUS, accept, BY, why="other", status="satisfactory"))
    decide(folder, Decision(Action.ADD_NOTE, "inspection", BY, words="rain on the deck"))
    decide(folder, Decision(Action.CORRECT_WORDS, "nose-cone", BY, words="Nose cone, fine."))
    text = (seal_signed(folder, tmp_path / "key") / "data/sign-off.txt").read_text()
    for line in (
        "Sealed by   A. Engineer, licence L-2207",
        "Left undecided: nothing",
        "Tail skid: not_mentioned became defect (A. Engineer: seen)",
        "inspection: rain on the deck (A. Engineer)",
        "became 'Nose cone, fine.' (A. Engineer)",
        result.recordings[0].sha256,
        result.inspection.pack.sha256,
    ):
        assert line in text
    assert text.index("Covered:") < text.index("Found:") < text.index("Changed by a person:")


def test_the_library_of_congress_validates_the_bag(folder: Path, tmp_path: Path) -> None:
    """By their command, as an archive would run it; and it does not validate one that was damaged."""
    bag = seal_signed(folder, tmp_path / "key")
    command = [sys.executable, "-m", "bagit", "--validate", str(bag)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert "is valid" in done.stderr
    (bag / "data/report.html").write_text("another")
    assert subprocess.run(command, capture_output=True, check=False).returncode != 0


def test_the_bag_is_version_1_0_with_counts_that_hold(folder: Path) -> None:
    bag = bagit.Bag(str(seal(folder, Seal(BY))))
    assert bag.version_info == (1, 0)
    assert bag.algorithms == ["sha256"]
    assert bag.info["Payload-Oxum"].split(".")[1] == str(len(bag.payload_entries()))


def test_tools_of_every_system_check_it(folder: Path, tmp_path: Path) -> None:
    """sha256sum on both manifests, openssl on the signature: nothing of ours is needed."""
    bag = seal_signed(folder, tmp_path / "key")
    for manifest in ("manifest-sha256.txt", "tagmanifest-sha256.txt"):
        subprocess.run(["sha256sum", "--strict", "--quiet", "-c", manifest], cwd=bag, check=True)
    verify_signature = ["openssl", "pkeyutl", "-verify", "-rawin", "-pubin"]
    files = ["-inkey", "public-key.pem", "-in", "tagmanifest-sha256.txt"]
    signature = ["-sigfile", "tagmanifest-sha256.txt.sig"]
    subprocess.run(
        [*verify_signature, *files, *signature], cwd=bag, check=True, capture_output=True
    )


def test_a_sealed_inspection_takes_no_decision_until_it_is_reopened(folder: Path) -> None:
    first = seal(folder, Seal(BY))
    for decision in (
        Decision(Action.ACCEPT, "nose-cone", "B. Engineer"),
        Decision(Action.ADD_NOTE, "inspection", "B. Engineer", words="x"),
        Decision(Action.REOPEN, "nose-cone", "B. Engineer", why="x"),
    ):
        with pytest.raises(InputError, match=r"was sealed by A\. Engineer on 20\d\d-"):
            decide(folder, decision)
    decide(folder, Decision(Action.REOPEN, "inspection", "B. Engineer", why="found a second file"))
    decide(folder, Decision(Action.ACCEPT, "nose-cone", "B. Engineer"))
    second = seal(folder, Seal("B. Engineer"))
    assert (first.name, second.name) == ("r07-sealed", "r07-sealed-2")
    assert faults_of(first) == faults_of(second) == []
    actions = [one.action.value for one in open_inspection(folder).log.entries]
    assert actions == ["check", "seal", "reopen", "accept", "seal"]


def test_a_sealed_inspection_is_not_checked_anew(folder: Path, check: Walked) -> None:
    seal(folder, Seal(BY))
    before = contents(folder)
    with pytest.raises(InputError, match="was sealed by"):
        check.keep(folder)
    assert contents(folder) == before


def test_sealing_once_more_makes_the_same_bag(folder: Path, tmp_path: Path) -> None:
    """As after a crash between the entry in the log and the finished bag."""
    first = seal_signed(folder, tmp_path / "key")
    second = seal_signed(folder, tmp_path / "key")
    assert contents(first) == contents(second)
    with pytest.raises(InputError, match="was sealed by"):
        seal(folder, Seal("B. Engineer"))


def test_a_bag_is_never_overwritten_nor_put_into_the_inspection(folder: Path) -> None:
    with pytest.raises(InputError, match="exists already"):
        seal(folder, Seal(BY), folder.parent)
    with pytest.raises(InputError, match="is inside the inspection"):
        seal(folder, Seal(BY), folder / "bag")


def test_photographs_and_other_files_of_the_folder_are_sealed_too(folder: Path) -> None:
    write_sound(folder / "photos/left gear.jpg")
    bag = seal(folder, Seal(BY))
    assert (bag / "data/photos/left gear.jpg").is_file()
    assert not (bag / "data/.lock").exists()


@pytest.mark.parametrize("kind", ["link", "pipe", "percent", "control", "space"])
def test_what_no_bag_can_hold_is_named(kind: str, folder: Path) -> None:
    name = {"percent": "50%.txt", "control": "a\nb.txt", "space": "notes "}.get(kind, "extra")
    if kind == "link":
        (folder / name).symlink_to("/etc/hostname")
    elif kind == "pipe":
        os.mkfifo(folder / name)
    else:
        (folder / name).touch()
    log = (folder / "log.jsonl").read_bytes()
    says = r"is a link|no plain file|has a %|is not safe|did not come out valid"
    with pytest.raises(InputError, match=says):
        seal(folder, Seal(BY))
    assert (folder / "log.jsonl").read_bytes() == log
    assert [path.name for path in folder.parent.iterdir() if "sealed" in path.name] == []


def test_the_signature_is_that_of_the_key_given(folder: Path, tmp_path: Path) -> None:
    bag = seal_signed(folder, tmp_path / "key")
    known = public_key_file(tmp_path / "key.pub")
    other = public_key_file(new_key(tmp_path / "other"))
    assert verify(bag, known).faults == []
    assert verify(bag, known).doubts == []
    assert any(fingerprint(known) in one for one in verify(bag).facts)
    assert "compare its digits" in verify(bag).doubts[0]
    assert verify(bag, other).faults == [
        "tagmanifest-sha256.txt.sig is not that of the key given over tagmanifest-sha256.txt"
    ]


def test_an_unsigned_bag_says_what_it_cannot_show(folder: Path, tmp_path: Path) -> None:
    bag = seal(folder, Seal(BY))
    found = verify(bag)
    assert found.faults == []
    assert "a forgery would not" in found.doubts[0]
    known = public_key_file(new_key(tmp_path / "key"))
    assert "is not signed with the key given" in verify(bag, known).faults[0]


def test_the_reviewed_result_is_in_the_bag(folder: Path) -> None:
    accept_all(folder)
    decide(folder, Decision(Action.CHANGE_STATUS, "tail-skid", BY, why="seen", status="defect"))
    tree = json.loads((seal(folder, Seal(BY)) / "data/reviewed.json").read_text())
    assert tree["schema"] == "spokenfor/reviewed/1"
    statuses = {one["id"]: one["status"] for one in tree["result"]["items"]}
    assert statuses["tail-skid"] == "defect"
    assert tree["sealed"]["by"] == BY
    assert tree["changes"][0]["proposed"] == "not_mentioned"
