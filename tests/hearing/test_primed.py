"""Primed hearing: told the names that belong there, it raises questions, and never writes a word itself."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from spokenfor.hearing.listen import hear
from spokenfor.hearing.primed import TOLD_TOKENS, PrimedHearing, is_sure
from spokenfor.hearing.primed_questions import PrimedQuestions
from spokenfor.hearing.questions import Questions, Terms
from spokenfor.models import Segment, Word
from spokenfor.packs.load import load_pack

PACK = "helicopter-light-twin"
RATE = 16_000


@pytest.fixture(scope="module")
def terms():
    return Terms(load_pack(PACK))


def _words(text: str, start: float = 0.0, probability: float = 0.5) -> list[Word]:
    return [
        Word(text=word, start=start + at * 0.4, end=start + at * 0.4 + 0.4, probability=probability)
        for at, word in enumerate(text.split())
    ]


def _segment(text: str, start: float = 0.0, doubtful: bool = False) -> Segment:
    words = _words(text, start)
    return Segment(recording=0, start=start, end=words[-1].end, words=words, doubtful=doubtful)


def _raised(terms, segments, told):
    """Of each segment: the words a question is about, what may have been said, and what the primed
    hearing gives it."""
    questions = PrimedQuestions(terms).joined(segments, Questions(terms).of(segments), told)
    return [
        {
            (
                " ".join(word.text for word in segment.words[one.first : one.after]),
                one.label,
            ): one.primed
            for one in ones
        }
        for segment, ones in zip(segments, questions, strict=True)
    ]


def test_a_name_that_sounds_like_nothing_heard_is_asked_about(terms):
    """Nobody would look for an exhaust under "enforced": likeness alone raises no question."""
    heard = [_segment("Enforced is clear.")]
    alone = _raised(terms, heard, None)
    assert ("Enforced", "exhaust") not in alone[0]
    [told] = _raised(terms, heard, _words("Exhaust is clear.", probability=0.8))
    assert told["Enforced", "exhaust"] == pytest.approx(0.8)


def test_what_both_heard_raises_nothing(terms):
    heard = [_segment("The fuel drain is dry.")]
    assert _raised(terms, heard, _words("The fuel drain is dry.")) == _raised(
        terms, heard, heard[0].words
    )
    assert not any(
        "fuel drain" in label for one in _raised(terms, heard, heard[0].words) for _, label in one
    )


def test_a_question_that_likeness_raised_is_told_whether_the_primed_hearing_says_so(terms):
    heard = [_segment("Slosh plate is clean.")]
    for told, primed in (("Swashplate is clean.", 0.5), ("Slosh plate is clean.", 0.0)):
        [found] = _raised(terms, heard, _words(told))
        assert found["Slosh plate", "swashplate"] == pytest.approx(primed)
    [found] = _raised(terms, heard, [])
    assert found["Slosh plate", "swashplate"] == pytest.approx(0.0)
    [found] = _raised(terms, heard, None)
    assert found["Slosh plate", "swashplate"] is None


def test_doubtful_words_are_not_asked_about(terms):
    heard = [_segment("Few tray is dry.", doubtful=True)]
    assert _raised(terms, heard, _words("Fuel drain is dry.")) == [{}]


def test_the_words_of_two_sentences_never_make_one_name(terms):
    heard = [_segment("That is few."), _segment("Tray is dry.", 1.2)]
    for found in _raised(terms, heard, _words("That is fuel drain is dry.")):
        assert all(len(words.split()) <= 1 for words, label in found if label == "fuel drain")


def test_a_name_that_denies_what_was_heard_exactly_is_not_asked_about(terms):
    """What the first pass heard letter for letter as another name stands."""
    heard = [_segment("The swashplate is dry.")]
    assert _raised(terms, heard, _words("The fuel drain is dry.")) == _raised(
        terms, heard, _words("The is dry.")
    )


def test_the_names_of_the_zone_that_was_heard_come_first(terms):
    pack = load_pack(PACK)
    last = pack.sheet[-1]
    own = [pack.components[line.component].prefLabel for line in last.lines]
    zone = next(one for one in pack.zones if one.id == last.zone)
    named, elsewhere = terms.names.of(
        [_words(f"{zone.prefLabel} now."), _words("Nothing of note.")]
    )
    assert set(named[: len(set(own))]) == set(own)
    assert elsewhere == named
    nothing = terms.names.of([_words("Nothing of note.")])[0]
    first = {pack.components[line.component].prefLabel for line in pack.sheet[0].lines}
    assert nothing[0] in first
    assert sorted(nothing) == sorted(named)


@pytest.mark.parametrize("names", [["pitot cover"], ["fuel drain", "nose door latch"] * 60])
def test_as_many_tokens_are_told_whatever_the_names(recogniser, names):
    told = PrimedHearing(recogniser._model)._told(names)
    assert len(told.names) == TOLD_TOKENS
    assert told.decode(told.names).rstrip().endswith(f"{names[0]},")


def test_the_words_first_heard_are_the_same_whether_or_not_names_are_told(tmp_path, speech, save):
    """LibriVox sentences (Debian's pocketsphinx-testdata, public domain)."""
    sound = save(tmp_path / "prose.wav", speech.samples)
    assert hear([sound], pack=load_pack(PACK)).segments == hear([sound]).segments


@dataclass(frozen=True)
class Told:
    """The names of a pack, of which each text is said to have a new one, or none."""

    terms: Terms
    new: bool

    def of(self, windows):
        return self.terms.names.of(windows)

    def new_in(self, told, heard):
        return self.new


def _heard(recogniser, speech, names):
    windows = [[(int(a * RATE), int(b * RATE))] for a, b in speech.spans]
    return list(
        recogniser.hear(speech.samples, windows, 1.0, lambda one: one, lambda done: None, names)
    )


def test_primed_words_lie_where_they_were_said(recogniser, speech, terms):
    both = _heard(recogniser, speech, Told(terms, True))
    assert any(heard.primed for heard in both)
    for heard, (start, end) in zip(both, speech.spans, strict=True):
        assert (heard.primed is None) is is_sure(heard.words)
        if heard.primed is None:
            continue
        assert all(start - 0.1 <= one.start <= one.end <= end + 0.1 for one in heard.primed)
        first = {word.text.lower().strip(".,"): word.start for word in heard.words}
        shared = [one for one in heard.primed if one.text.lower().strip(".,") in first]
        near = [abs(one.start - first[one.text.lower().strip(".,")]) < 0.5 for one in shared]
        assert sum(near) >= 0.7 * len(near)


def test_what_tells_of_no_new_name_is_not_looked_into(recogniser, speech, terms):
    """Somebody was told, which is not the same as nobody (None)."""
    for heard in _heard(recogniser, speech, Told(terms, False)):
        assert heard.primed == (None if is_sure(heard.words) else [])


def test_a_name_is_new_where_it_was_not_heard_as_often(terms):
    heard = _words("The fuel drain is dry.")
    new = terms.names.new_in
    assert not new("The fuel drain is dry.", heard)
    assert not new("The few tray is dry.", heard)
    assert new("The fuel drain is dry. Fuel drain.", heard)
    assert new("The fuel drain and the swashplate.", heard)


@pytest.mark.parametrize(("unsure", "sure"), [(0, True), (1, True), (2, False), (20, False)])
def test_nobody_is_told_where_all_but_a_twentieth_was_heard_surely(unsure, sure):
    words = [
        *_words("word " * unsure, probability=0.5),
        *_words("word " * (20 - unsure), probability=0.9),
    ]
    assert is_sure(words) is sure
    assert not is_sure([])
