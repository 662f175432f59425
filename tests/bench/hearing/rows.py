"""Every repair that may be made in a narration, with whether the term was truly said there."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from audio_samples.script import Script
from spacy.tokens import Doc
from tests.bench.hearing.truth import Beside, Times, labels_of, places_heard

from spokenfor.models import Transcript
from spokenfor.packs.load import load_pack
from spokenfor.reading.acceptance import Possible, Surroundings
from spokenfor.reading.heard_doc import transcript_doc
from spokenfor.reading.pipeline import build
from spokenfor.reading.repairs import Repairs


@dataclass(frozen=True)
class Row:
    """A possible repair and the truth: `right` where a name of what it means was said there."""

    case: str
    possible: Possible
    around: Surroundings
    heard: str
    said: str
    right: bool


@lru_cache(maxsize=4)
def _pipeline(pack: str) -> tuple[list[object], Repairs]:
    before, repairs = [], None
    for name, component in build(pack).pipeline:
        if name == "spokenfor_repairs":
            repairs = component
            break
        before.append(component)
    assert isinstance(repairs, Repairs)
    return before, repairs


def rows(case: str, script: Script, transcript: Transcript, times: Times) -> list[Row]:
    """The rows of one narration."""
    before, repairs = _pipeline(script.pack)
    doc: Doc = transcript_doc(build(script.pack).vocab, transcript)
    for component in before:
        doc = component(doc)  # type: ignore[operator]
    beside = Beside.of(script, transcript, times)
    pack = load_pack(script.pack)
    place = places_heard(doc)
    found = []
    for one, around in repairs.possible(doc):
        first, after = place[one.tokens[0]], place[one.tokens[1] - 1] + 1
        found.append(
            Row(
                case=case,
                possible=one,
                around=around,
                heard=" ".join(beside.heard[first:after]),
                said=beside.said_there(first, after),
                right=beside.is_said(first, after, labels_of(one.term, pack)),
            )
        )
    return found
