"""Second hearing: the sound tells the wording that was said from one that was not, and prose stays as it is."""

from __future__ import annotations

import numpy as np
import pytest

from spokenfor.hearing.layout import Layout
from spokenfor.hearing.listen import hear
from spokenfor.hearing.questions import Questions, Terms
from spokenfor.hearing.second_hearing import SecondHearing, as_proofs
from spokenfor.hearing.sound_score import SoundScorer, WindowSound
from spokenfor.models import Segment, Word
from spokenfor.packs.load import load_pack
from spokenfor.packs.turning import TURNING, TurningWords
from spokenfor.packs.wording import words_of
from spokenfor.reading.pipeline import read

PACK = "helicopter-light-twin"
RATE = 16_000


def test_ordinary_prose_is_not_repaired(tmp_path, speech, save):
    """LibriVox sentences (Debian's pocketsphinx-testdata, public domain): no trade word was said."""
    transcript = hear([save(tmp_path / "prose.wav", speech.samples)], pack=load_pack(PACK))
    assert transcript.proofs is not None
    reading = read(transcript, PACK)
    assert reading.repairs == []
    assert reading.statements == []


@pytest.fixture(scope="module")
def heard(speech, recogniser):
    """The windows of the sentences, each with what the encoder made of it."""
    windows = [[(int(a * RATE), int(b * RATE))] for a, b in speech.spans]
    return list(recogniser.hear(speech.samples, windows, 1.0, lambda one: one, lambda done: None))


def test_the_words_said_are_likelier_than_others_of_their_length(heard, recogniser, speech):
    scorer: SoundScorer = recogniser.scorer()
    texts = [sentence.lower().capitalize() + "." for sentence in speech.sentences]
    for at, window in enumerate(heard):
        part = window.sound.part(window.words[0].start, window.words[-1].end)
        scores = [float(one.sum()) for one in scorer.scores(part, texts)]
        assert int(np.argmax(scores)) == at


def test_the_same_question_gets_the_same_answer_in_any_company(heard, recogniser):
    """A wording's score does not depend on what else is asked in the same batch."""
    scorer, window = recogniser.scorer(), heard[0]
    part = window.sound.part(window.words[0].start, window.words[-1].end)
    text = " ".join(word.text for word in window.words)
    alone = float(scorer.scores(part, [text])[0].sum())
    together = float(scorer.scores(part, [text, f"{text} And more.", "No."])[0].sum())
    assert alone == pytest.approx(together, abs=0.05)


def test_times_go_to_the_window_and_back():
    layout = Layout([(16_000, 32_000), (64_000, 80_000)])
    for inside in (0.25, 0.75, 1.25, 1.75):
        start, _ = layout.on_recording(inside, inside + 0.01)
        assert layout.in_window(start) == pytest.approx(inside)
    assert layout.in_window(3.0) == pytest.approx(1.0)
    assert layout.length == 32_000


def _segment(text: str, probability: float = 0.4) -> Segment:
    words = [
        Word(text=word, start=at * 0.3, end=at * 0.3 + 0.3, probability=probability)
        for at, word in enumerate(text.split())
    ]
    return Segment(recording=0, start=0.0, end=words[-1].end, words=words)


class _Scorer:
    """Keeps what it was asked."""

    def __init__(self) -> None:
        self.texts: list[str] = []

    def scores(self, part, texts, before=""):
        self.texts += texts
        return [np.array([-float(at)]) for at, _ in enumerate(texts)]


def test_the_sentence_is_asked_both_ways_and_numbered_by_what_is_kept():
    scorer = _Scorer()
    second = SecondHearing(scorer, Terms(load_pack(PACK)))
    silent = WindowSound(np.zeros((200, 4), np.float32), Layout([(0, 64_000)]))
    dropped, kept = _segment("Slosh plate is clean."), _segment("Lift servo, know leaks.")
    asked = second.ask([dropped, kept], silent)
    assert "Swashplate is clean." in scorer.texts
    assert {"Left servo, know leaks.", "Lift servo, no leaks."} <= set(scorer.texts)
    proofs = as_proofs(asked, [kept])
    assert {one.segment for one in proofs} == {0}
    assert {one.label for one in proofs if one.kind == TURNING} == {"left", "no"}


@pytest.mark.parametrize(("probability", "asked"), [(0.2, True), (0.9, False)])
def test_the_surer_a_word_was_heard_the_more_alike_a_term_must_sound(probability, asked):
    """ "Plate is" is three quarters like "blade tip": worth asking about where it was heard doubtfully."""
    [found] = Questions(Terms(load_pack(PACK))).of([_segment("Slosh plate is clean.", probability)])
    labels = {one.label for one in found}
    assert ("blade tip" in labels) is asked
    assert "swashplate" in labels


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("know leaks", [(0, "no")]),
        ("let's stabiliser", [(0, "left")]),
        ("let's look at the stabiliser", []),
        ("number to engine", [(1, "two")]),
        ("i know the pump", []),
    ],
)
def test_turning_words_are_raised_only_where_they_fit(said, meant):
    found = TurningWords(load_pack(PACK)).find(words_of(said))
    assert [(at, word.word) for at, word in found] == meant
