"""pack learn as a person types it: each proposal with its count, nothing without a yes."""

from __future__ import annotations

import wave
from pathlib import Path

import numpy as np
import pytest
from tests.cli.at_terminal import typed
from tests.cli.command import assert_one_line, contents, spokenfor, write_wav
from tests.cli.prepared import PACK

from spokenfor.check import Request, check
from spokenfor.packs.load import load_pack, vocabulary_root
from spokenfor.record.entries import Action
from spokenfor.record.keep import keep
from spokenfor.record.review import Decision, decide

SAID = [
    ("Starting at the nose. Nose gone is secure.", "Starting at the nose. Nose cone is secure."),
    ("The nose gone again, no cracks.", "The nose cone again, no cracks."),
    ("Landing knight is clean.", "Landing light is clean."),
    ("The left windscreen is there.", "The shimmy damper is there."),
    ("The break is dry.", "The battery is dry."),
    ("Cracks, no leaks.", "Tail skid, no leaks."),
    ("Nose cone is good.", "Nose cone is very good."),
    ("The donkey cap is cracked.", None),
    ("Nose cone is dented.", None),
]
# Finding by the second it was heard in, and the line that a person placed it on.
PLACED = {21: "nose.nose-cone", 24: "nose.landing-light"}


@pytest.fixture(scope="module")
def reviewed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An inspection whose words a person corrected."""
    top = tmp_path_factory.mktemp("learn")
    cues = [
        f"00:00:{3 * n:02}.500 --> 00:00:{3 * n + 2:02}.900\n{heard}"
        for n, (heard, _) in enumerate(SAID)
    ]
    (top / "walk.vtt").write_text("\n\n".join(["WEBVTT", *cues]) + "\n", encoding="utf-8")
    sound = write_wav(top / "walk.wav", np.full(16_000 * 3 * len(SAID), 100))
    request = Request([sound], PACK, captions=top / "walk.vtt")
    result, transcript = check(request)
    keep(top / "r07", request, result, transcript)
    for n, (_, said) in enumerate(SAID):
        if said is not None:
            place = f"1@{3 * n + 1.5}"
            decide(top / "r07", Decision(Action.CORRECT_WORDS, place, "A. Engineer", words=said))
    for finding in result.findings:
        item = PLACED.get(int(finding.evidence.start))
        if item is not None:
            decided = Decision(Action.PLACE_FINDING, finding.id, "A. Engineer", item=item)
            decide(top / "r07", decided)
    return top


def test_proposals_with_counts_and_refusals(reviewed: Path) -> None:
    before = contents(reviewed)
    run = spokenfor("pack", "learn", "r07", folder=reviewed)
    assert (run.status, run.stderr) == (0, "")
    assert run.stdout.splitlines() == [
        "nose-cone/nose-gone  'nose gone' for 'nose cone', 2 passages",
        "  to take it: --yes-to nose-cone/nose-gone",
        "battery/break  'break' for 'battery', 1 passage",
        "  not proposed: it is a common word",
        "landing-light/landing-knight  'landing knight' for 'landing light', 1 passage",
        "  to take it: --yes-to landing-light/landing-knight",
        "nose-cone/donkey-cap  'donkey cap' as another name of 'nose cone', 1 passage",
        "  to take it: --yes-to nose-cone/donkey-cap",
        "shimmy-damper/left-windscreen  'left windscreen' for 'shimmy damper', 1 passage",
        "  not proposed: it holds a word that says which one (left)",
        "tail-skid/cracks  'cracks' for 'tail skid', 1 passage",
        "  not proposed: it is a label of the condition crack",
        "Nothing was written",
    ]
    assert contents(reviewed) == before


def test_what_got_a_yes_is_in_the_copy_and_nothing_else(reviewed: Path) -> None:
    shipped = contents(vocabulary_root())
    typed = ("pack", "learn", "r07", "--into", "mine", "--yes-to", "nose-cone/nose-gone")
    run = spokenfor(*typed, folder=reviewed)
    assert (run.status, run.stderr) == (0, "")
    assert run.stdout.splitlines()[-1] == "1 label added to mine"
    mine = load_pack(str(reviewed / "mine"))
    assert mine.components["nose-cone"].hiddenLabel[-1] == "nose gone"
    before = load_pack(PACK).components
    assert {n for n, one in mine.components.items() if one != before[n]} == {"nose-cone"}
    assert contents(vocabulary_root()) == shipped
    again = spokenfor("pack", "learn", "r07", "--pack", "./mine", folder=reviewed)
    assert "nose-gone" not in again.stdout and "landing-knight" in again.stdout


def test_another_name_goes_where_names_stand(reviewed: Path) -> None:
    """A person placed what was found: what it was called is a name (SKOS altLabel), no mis-hearing."""
    typed = ("pack", "learn", "r07", "--into", "named", "--yes-to", "nose-cone/donkey-cap")
    assert spokenfor(*typed, folder=reviewed).status == 0
    mine = load_pack(str(reviewed / "named")).components["nose-cone"]
    before = load_pack(PACK).components["nose-cone"]
    assert mine.altLabel == [*before.altLabel, "donkey cap"]
    assert mine.hiddenLabel == before.hiddenLabel


def test_the_sound_behind_each_proposal(reviewed: Path) -> None:
    run = spokenfor("pack", "learn", "r07", "--clips", "clips", folder=reviewed)
    assert "  listen: clips/nose-cone-nose-gone-2.wav" in run.stdout.splitlines()
    with wave.open(str(reviewed / "clips/nose-cone-donkey-cap-1.wav")) as clip:
        assert clip.getframerate() == 16_000 and clip.getnchannels() == 1
        assert 1.5 < clip.getnframes() / 16_000 < 3.5
    again = spokenfor("pack", "learn", "r07", "--clips", "clips", folder=reviewed)
    assert_one_line(again, "'clips' exists already")


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("nowhere",), "'nowhere' holds no inspection"),
        (("r07", "--yes-to", "nose-cone/nose"), "no proposal 'nose-cone/nose' to say yes to"),
        (("r07", "--yes-to", "battery/break"), "no proposal 'battery/break'"),
        (("r07", "--pack", "keel"), "no pack called 'keel'"),
    ],
)
def test_one_line_for_what_cannot_be_done(arguments, says: str, reviewed: Path) -> None:
    assert_one_line(spokenfor("pack", "learn", *arguments, folder=reviewed), says)


def test_a_pack_that_ships_is_not_changed(reviewed: Path) -> None:
    shipped = contents(vocabulary_root())
    typed = ("pack", "learn", "r07", "--yes-to", "landing-light/landing-knight")
    run = spokenfor(*typed, folder=reviewed)
    assert run.status == 2 and "ships with spokenfor" in run.stderr
    assert contents(vocabulary_root()) == shipped


def test_asked_at_a_terminal_only_a_yes_is_taken(reviewed: Path) -> None:
    """Three proposals are open: no to the first and the third, yes to the second."""
    asked = ["pack", "learn", "r07", "--into", "asked"]
    assert typed(reviewed, asked, ["n", "y", "n"], after="[y/N]: ") == 0
    mine, before = load_pack(str(reviewed / "asked")).components, load_pack(PACK).components
    assert {n for n, one in mine.items() if one != before[n]} == {"landing-light"}
    assert mine["landing-light"].hiddenLabel[-1] == "landing knight"
