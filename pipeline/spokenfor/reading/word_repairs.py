"""Words that turn a meaning round and were misheard ("know leaks", "lift servo is dry").

They are put right before anything is matched, each with a Repair that says that it turns a meaning; what rests
on one is always marked to be listened to.
"""

from __future__ import annotations

from collections.abc import Iterator

from spacy.language import Language
from spacy.tokens import Doc

from spokenfor.models import Repair
from spokenfor.packs.candidates import as_heard
from spokenfor.packs.load import Pack, load_pack
from spokenfor.packs.turning import TURNING, TurningWords
from spokenfor.packs.wording import normal, singular
from spokenfor.reading.acceptance import turning_taken
from spokenfor.reading.document import evidence, table_of


@Language.factory("spokenfor_word_repairs", default_config={"pack": ""})
def create_word_repairs(nlp: Language, name: str, pack: str) -> WordRepairs:
    return WordRepairs(load_pack(pack))


class WordRepairs:
    """Changes the keys of such words in `table_of(doc)` and keeps the repairs in `doc._.word_repairs`."""

    def __init__(self, pack: Pack) -> None:
        self.turning = TurningWords(pack)

    def __call__(self, doc: Doc) -> Doc:
        table = table_of(doc)
        possible = self._from_text(doc) if doc._.proofs is None else self._from_sound(doc)
        best: dict[int, tuple[float, str, float | None]] = {}
        for at, label, score in possible:
            sounds, _ = as_heard(table.key[at], label)
            if turning_taken(sounds, score) and (at not in best or (score or 0) > best[at][0]):
                best[at] = (score or 0.0, label, score)
        doc._.word_repairs = {}
        for at, (_, label, score) in sorted(best.items()):
            proof = evidence(doc, at, at + 1)
            sounds, spelling = as_heard(table.key[at], label)
            doc._.word_repairs[at] = Repair(
                heard=doc[at].text,
                became=label,
                evidence=proof.model_copy(update={"text": label}),
                phonetic_score=sounds,
                spelling_score=spelling,
                sound_score=score,
                why="the sound bears it out"
                if score is not None
                else "a mis-hearing that is listed",
                turns=True,
            )
        for at, repair in doc._.word_repairs.items():
            table.key[at] = normal(repair.became)
            table.stem[at] = singular(table.key[at])
        return doc

    def _from_sound(self, doc: Doc) -> Iterator[tuple[int, str, float | None]]:
        """Places, words that may have been meant there, and what the sound says of them."""
        tokens = {word: at for at, word in reversed(list(enumerate(table_of(doc).word)))}
        for proof in doc._.proofs:
            if proof.kind == TURNING:
                # A word that is passed over ("right, so", "to to the left") turns nothing round.
                at = tokens.get(doc._.first_words[proof.segment] + proof.first)
                if at is not None:
                    yield at, proof.label, proof.sound_score

    def _from_text(self, doc: Doc) -> Iterator[tuple[int, str, float | None]]:
        """The same where there is no sound to ask: what the vocabulary lists."""
        keys = table_of(doc).key
        for sentence in doc.sents:
            run: list[int] = []
            for at in range(sentence.start, sentence.end + 1):
                if at < sentence.end and keys[at][0].isalnum():
                    run.append(at)
                    continue
                for place, meant in self.turning.find([keys[one] for one in run]):
                    yield run[place], meant.word, None
                run = []
