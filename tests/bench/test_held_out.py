"""How well does the main job do on narrations that nothing was tuned on?

Three narrations by other hands, spoken and checked here; they are not part of the suite and no setting may be
changed to suit them. Voices are synthetic (hibari, piper), one recording in hangar noise at 10 dB.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from audio_samples.build import speak_script
from tests.samples.scoring import load_key, score

from spokenfor.check import Request, check

SCRIPTS = sorted((Path(__file__).parent / "held_out").glob("*.yaml"))


@pytest.mark.parametrize("script", SCRIPTS, ids=lambda path: path.stem)
def test_held_out(script: Path, tmp_path: Path) -> None:
    sounds = speak_script(script, tmp_path)
    result, _ = check(Request(sounds=sounds, pack="helicopter-light-twin"))
    found = score(result, load_key(script))
    listed = found.flagged_listed / max(1, found.flagged_listed + len(found.flagged_missed))
    print(
        f"\n{script.stem}: lines right {found.item_accuracy:.3f} of {found.total}, "
        f"of those spoken of {found.spoken_accuracy:.3f} of {found.spoken}; "
        f"invented {len(found.invented)}, by reference made plain {len(found.invented_by_reference)}; "
        f"defects found {len(found.defects.found)}, missed {len(found.defects.missed)}, "
        f"false {len(found.defects.false)}; flagged words listed {listed:.2f}, "
        f"misread {len(found.flagged_misread)}"
    )
    for one in found.wrong:
        print(f"  {one.item}: {one.expected.status.value} -> {one.got.status.value}")
    for one in found.invented:
        print(f"  INVENTED {one.item}")
    for finding in found.defects.missed:
        print(f"  MISSED {finding.item} {finding.condition}")
    for false in found.defects.false:
        print(f"  FALSE {false.item} {false.condition}: {false.evidence.heard}")
