"""How other ways tell whether a flagged word is present: the word alone, negspacy, medspaCy's ConText."""

from __future__ import annotations

import json
import subprocess
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

import spacy
from negspacy.negation import Negex  # noqa: F401 (importing registers the component)
from spacy.language import Language
from tests.reading.labelled_sentences import Labelled

from spokenfor.models import FlaggedReading
from spokenfor.packs.load import load_pack

# A word found in a sentence, and whether it is called present.
Found = tuple[str, bool]


@dataclass
class Presence:
    """Flagged words told right and wrong: `false` were called present and are not, `missed` the other way."""

    words: int = 0
    false: int = 0
    missed: int = 0

    @property
    def right(self) -> float:
        return 1 - (self.false + self.missed) / max(1, self.words)

    def add(self, entry: Labelled, found: Iterable[Found], *, silent: bool) -> None:
        """Counts the labelled words of an entry; a word that was not found counts as present where the way
        is not `silent` about what it does not know."""
        left = list(found)
        for expected in entry.flagged:
            for word, reading in expected.items():
                at = next((i for i, (w, _) in enumerate(left) if _same(w, word)), None)
                present = left.pop(at)[1] if at is not None else not silent
                meant = reading is FlaggedReading.PRESENT
                self.words += 1
                self.false += present and not meant
                self.missed += meant and not present


def forms(packs: set[str]) -> list[str]:
    """Every label of a flagged word in these packs, singular and plural, in lower case."""
    labels = {
        label.lower()
        for pack in packs
        for condition in load_pack(pack).conditions.values()
        for label in condition.labels
    }
    return sorted(labels | {f"{label}s" for label in labels})


def word_alone(entries: list[Labelled]) -> Presence:
    """Every flagged word is present."""
    counts = Presence()
    for entry in entries:
        counts.add(entry, [], silent=False)
    return counts


def by_negspacy(entries: list[Labelled]) -> Presence:
    """negspacy (NegEx) with its own phrases for clinical and everyday English."""
    nlp = _with_words(forms({entry.pack for entry in entries}))
    nlp.add_pipe("negex", config={"ent_types": ["CONDITION"]})
    counts = Presence()
    for entry in entries:
        doc = nlp(entry.say.lower())
        counts.add(entry, [(word.text, not word._.negex) for word in doc.ents], silent=False)
    return counts


def by_context(entries: list[Labelled], python: Path) -> Presence:
    """medspaCy's ConText, run by the interpreter `python` that has it (see context_elsewhere)."""
    labels = forms({entry.pack for entry in entries})
    counts = Presence()
    told = ask_context(labels, [entry.say for entry in entries], python)
    for entry, found in zip(entries, told, strict=True):
        counts.add(entry, found, silent=False)
    return counts


def ask_context(labels: list[str], sentences: list[str], python: Path) -> list[list[Found]]:
    """The flagged words that ConText found in each sentence. Raises CalledProcessError where `python` has no
    medspaCy."""
    done = subprocess.run(
        [str(python), str(Path(__file__).with_name("context_elsewhere.py"))],
        input=json.dumps({"forms": labels, "sentences": sentences}),
        capture_output=True,
        text=True,
        check=True,
    )
    return [[(word, present) for word, present in found] for found in json.loads(done.stdout)]


def _with_words(labels: list[str]) -> Language:
    nlp = spacy.blank("en")
    nlp.add_pipe("sentencizer")
    ruler = nlp.add_pipe("entity_ruler")
    ruler.add_patterns(
        [{"label": "CONDITION", "pattern": nlp.make_doc(one).text} for one in labels]
    )
    return nlp


def _same(found: str, word: str) -> bool:
    return found.lower().rstrip("s") == word.lower().rstrip("s")
