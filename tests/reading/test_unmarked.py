"""A narration whose full stops nobody set is read nearly as one with its marks, in the same time for each word; and
nothing is added to what was heard."""

from __future__ import annotations

from functools import cache

import pytest
from audio_samples.script import Script, load_script, script_paths
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.bench.sentence_ends.fit import unmarked
from tests.reading.test_structure import HELICOPTER, LORRY, pipeline
from tests.retold import WAYS, read_as, written
from tests.samples.scoring import SampleScore
from tests.spoken import spoken

from spokenfor.models import Transcript, Verdict
from spokenfor.packs.load import load_pack
from spokenfor.reading.document import table_of
from spokenfor.reading.heard_doc import transcript_doc
from spokenfor.reading.pipeline import read
from spokenfor.reading.sentence_ends import Pieces, begins_told, weights
from spokenfor.reading.unmarked import Unmarked, UnmarkedSettings

SCRIPTS = {path.stem: load_script(path) for path in script_paths()}
LONGEST = UnmarkedSettings().longest


@cache
def scored(name: str, way: str) -> SampleScore:
    return read_as(SCRIPTS[name], way, pipeline(SCRIPTS[name].pack))


def sentences(transcript: Transcript, pack: str) -> list[str]:
    nlp = pipeline(pack)
    doc = transcript_doc(nlp.vocab, transcript)
    for name, component in nlp.pipeline:
        doc = component(doc)
        if name == "spokenfor_sentences":
            break
    return [sentence.text for sentence in doc.sents]


@pytest.mark.parametrize("way", WAYS[1:])
def test_bundled_narrations_without_marks_are_read_nearly_as_with_them(way: str) -> None:
    # Before sentence ends were told, 15 of 100 such lines were right and two defects in three were lost.
    marked = [scored(name, WAYS[0]) for name in SCRIPTS]
    bare = [scored(name, way) for name in SCRIPTS]
    right = sum(one.spoken_right for one in bare)
    assert right >= 0.95 * sum(one.spoken_right for one in marked)
    assert [one.defects.missed for one in bare] == [one.defects.missed for one in marked]
    assert sum(len(one.invented) for one in bare) <= 1


def test_a_caption_file_without_marks_keeps_each_fault_by_its_line() -> None:
    said = (
        "okay so nearside front wheel nuts are all tight tyre's got plenty of tread no cuts then the brake hose "
        "there's a leak at the union leaf spring's fine no cracks mudguard's secure now the offside front wheel "
        "nuts tight tyre is good brake hose is dry leaf spring's good mudguard's cracked across the top bolt"
    )
    reading = read(spoken(said), LORRY, pipeline(LORRY))
    faults = {one.item for one in reading.statements if one.verdict is Verdict.DEFECT}
    good = {one.item for one in reading.statements if one.verdict is Verdict.SATISFACTORY}
    assert {"left-steer-axle.brake-hose.left", "right-steer-axle.mudguard.right"} <= faults
    assert "left-steer-axle.wheel-nut.left" in good and len(faults) == 2


def test_nothing_is_added_to_what_was_heard() -> None:
    script: Script = SCRIPTS["thorough-walk"]
    transcript = written(script, WAYS[2])
    words = {word.text for segment in transcript.segments for word in segment.words}
    reading = read(transcript, script.pack, pipeline(script.pack))
    quoted = [one.evidence for one in (*reading.statements, *reading.flagged_words)]
    assert len(quoted) > 100
    assert all(word in words for one in quoted for word in one.text.split())
    assert all(one.text == one.heard for one in quoted)


@pytest.mark.parametrize("name", list(SCRIPTS))
def test_what_has_its_marks_is_left_as_it_is(name: str) -> None:
    script = SCRIPTS[name]
    stage = Unmarked(load_pack(script.pack), 1.5, UnmarkedSettings())
    doc = transcript_doc(pipeline(script.pack).vocab, written(script, WAYS[0]))
    before = list(table_of(doc).key)
    assert stage(doc) is doc
    assert table_of(doc).key == before


def test_only_the_recording_without_marks_is_touched() -> None:
    marked = written(SCRIPTS["preflight"], WAYS[0])
    bare = written(SCRIPTS["preflight"], WAYS[2])
    second = [one.model_copy(update={"recording": 1}) for one in bare.segments]
    both = marked.model_copy(
        update={
            "segments": [*marked.segments, *second],
            "recordings": [*marked.recordings, *bare.recordings],
        }
    )
    stage = Unmarked(load_pack(HELICOPTER), 1.5, UnmarkedSettings())
    doc = stage(transcript_doc(pipeline(HELICOPTER).vocab, both))
    added = [table_of(doc).recording[at] for at, one in enumerate(table_of(doc).added) if one]
    assert added and set(added) == {1}


@settings(deadline=None, max_examples=25)
@given(
    st.lists(
        st.sampled_from("left good a um tyre no leaks the oil is fine".split()),
        min_size=120,
        max_size=400,
    )
)
def test_no_sentence_is_longer_than_may_be(words: list[str]) -> None:
    # Whatever is said: reading takes longer than linear in the length of a sentence.
    found = sentences(spoken(" ".join(words)), HELICOPTER)
    assert max(len(one.split()) for one in found) <= LONGEST


def test_pauses_tell_where_the_words_leave_it_open() -> None:
    words = (
        "the left tyre and the wheel and the brake line and the oleo and the leg and the door all of it "
        * 6
    )
    steady, paused = spoken(words, 0.05), spoken(words.replace("all of it ", "all of it\n"), 0.9)
    ends = [one.rstrip(".").endswith("all of it") for one in sentences(paused, HELICOPTER)]
    assert sum(ends) >= 6 > sum(one.endswith("it.") for one in sentences(steady, HELICOPTER)[:1])


def test_ends_are_told_where_sentences_of_others_end() -> None:
    # Bundled narrations, none of them among the sentences that the weights were fitted on.
    right = told = true = 0
    for script in SCRIPTS.values():
        words, begins = unmarked([one.say for one in script.utterances])
        pieces = Pieces(load_pack(script.pack)).of(words)
        ends = {pieces[at].start for at in begins_told(pieces, weights())}
        starts = {one.start for one in pieces[1:]} & begins
        right, told, true = right + len(ends & starts), told + len(ends), true + len(starts)
    assert right / true >= 0.8
    assert right / told >= 0.5
