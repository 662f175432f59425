"""What was truly said, laid beside what was heard: words, trade terms, and whether a repair is right."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from audio_samples.script import Script
from rapidfuzz.distance import LCSseq, Levenshtein
from spacy.tokens import Doc

from spokenfor.models import Segment, Transcript
from spokenfor.packs.candidates import Candidates
from spokenfor.packs.load import Pack
from spokenfor.packs.terms import Term, compile_terms
from spokenfor.packs.wording import singular, words_of
from spokenfor.reading.document import table_of


def said_sentences(script: Script) -> list[list[str]]:
    """Normal words of each sentence of a script."""
    return [words_of(part) for one in script.utterances for part in one.sentences]


def said_words(script: Script) -> list[str]:
    """Normal words of a whole script."""
    return [word for sentence in said_sentences(script) for word in sentence]


def heard_words(segments: Sequence[Segment]) -> list[str]:
    """Normal words of a transcript as first heard."""
    return [word for segment in segments for one in segment.words for word in words_of(one.text)]


def word_error(said: Sequence[str], heard: Sequence[str]) -> float:
    """Word error rate: substitutions, deletions and insertions over the words said (jiwer's definition)."""
    return Levenshtein.distance(list(said), list(heard)) / max(1, len(said))


def said_terms(script: Script, candidates: Candidates) -> list[tuple[str, ...]]:
    """Concepts named in a script, in order."""
    return [
        term.concepts
        for sentence in said_sentences(script)
        for term in _terms(candidates, sentence)
    ]


def plain_terms(segments: Sequence[Segment], candidates: Candidates) -> list[tuple[str, ...]]:
    """Concepts that stand in a transcript letter for letter."""
    return [
        term.concepts for segment in segments for term in _terms(candidates, heard_words([segment]))
    ]


def _terms(candidates: Candidates, words: Sequence[str]) -> list[Term]:
    return [term for term, _, _ in candidates.terms_in(words) if not term.hidden]


def agreement(
    said: Sequence[tuple[str, ...]], heard: Sequence[tuple[str, ...]]
) -> tuple[float, float]:
    """Recall and precision (0..1) of terms heard, in order: longest common subsequence."""
    number: dict[tuple[str, ...], int] = {}
    coded = [[number.setdefault(one, len(number)) for one in side] for side in (said, heard)]
    shared = LCSseq.similarity(*coded)
    return shared / max(1, len(said)), shared / max(1, len(heard))


def places_heard(doc: Doc) -> list[int]:
    """Which of the words heard (normal words, in order) each token of a Doc is, or is the next after; words that
    reading passes over count."""
    before = [0]
    for word in doc._.heard:
        before.append(before[-1] + len(words_of(word.text)))
    table, found, inside = table_of(doc), list[int](), 0
    for at, word in enumerate(table.word):
        inside = inside if at and table.word[at - 1] == word else 0
        found.append(before[word] + inside)
        inside += table.is_word[at]
    return found


SLACK = 2

Times = Sequence[Sequence[tuple[float, float]]]


@dataclass(frozen=True)
class Beside:
    """The words said, laid beside those heard by least edits; `missed` are those said and not heard."""

    said: list[str]
    heard: list[str]
    first_of: list[int]
    after_of: list[int]
    missed: list[bool]

    @classmethod
    def of(cls, script: Script, transcript: Transcript, times: Times) -> Beside:
        """Each utterance is aligned by itself with the words heard while it was spoken."""
        spoken = [
            [word for part in one.sentences for word in words_of(part)] for one in script.utterances
        ]
        spans = [(r, *span) for r, one in enumerate(times) for span in one]
        heard: list[list[str]] = [[] for _ in spoken]
        for segment in transcript.segments:
            for word in segment.words:
                middle = (word.start + word.end) / 2
                nearest = min(
                    range(len(spans)),
                    key=lambda at: (
                        spans[at][0] != segment.recording,
                        max(spans[at][1] - middle, middle - spans[at][2], 0.0),
                    ),
                )
                heard[nearest] += words_of(word.text)
        said_all, heard_all, first, after = [], [], [], []
        missed: list[bool] = []
        for said, found in zip(spoken, heard, strict=True):
            begin = len(said_all)
            missed += [True] * len(said)
            for tag, i1, i2, j1, j2 in Levenshtein.opcodes(found, said):
                if tag == "equal":
                    missed[begin + j1 : begin + j2] = [False] * (j2 - j1)
                for at in range(i1, i2):
                    whole = tag == "equal" or i2 - i1 == j2 - j1
                    first.append(begin + (j1 + at - i1 if whole else j1))
                    after.append(begin + (j1 + at - i1 + 1 if whole else j2))
            said_all += said
            heard_all += found
        return cls(said_all, heard_all, first, after, missed)

    def said_there(self, first: int, after: int) -> str:
        """The words said where words `first` to `after` were heard, and one more at either end."""
        start, end = self._core(first, after)
        return " ".join(self.said[max(0, start - 1) : end + 1])

    def is_said(self, first: int, after: int, labels: Sequence[str]) -> bool:
        """Whether one of these labels was said, number and case apart, and some word of it just where
        words `first` to `after` were heard, or as near as SLACK words that nobody heard: which of several
        words in a row stood for which, least edits cannot tell."""
        start, end = self._core(first, after)
        if start == end:
            start, end = start - 1, end + 1
        for _ in range(SLACK):
            start -= start > 0 and self.missed[start - 1]
            end += end < len(self.said) and self.missed[end]
        wanted = {"".join(singular(word) for word in words_of(label)) for label in labels}
        longest = max((len(words_of(label)) for label in labels), default=0) + 1
        low = max(0, start - longest)
        stems = [singular(word) for word in self.said[low : end + longest]]
        return any(
            "".join(stems[at:to]) in wanted
            for at in range(len(stems))
            for to in range(at + 1, min(at + longest, len(stems)) + 1)
            if low + at < end and low + to > start
        )

    def _core(self, first: int, after: int) -> tuple[int, int]:
        if after <= first:
            return 0, 0
        return self.first_of[first], self.after_of[after - 1]


def labels_of(term: Term, pack: Pack) -> list[str]:
    """Every name of what a term means, other spellings and same words included ("stabilizer")."""
    return [
        one.label
        for terms in compile_terms(pack).values()
        for one in terms.values()
        if not one.hidden and not set(one.concepts).isdisjoint(term.concepts)
    ]
