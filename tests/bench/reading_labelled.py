"""How well are spoken sentences read? The tables of docs/benchmarks.md, by keyword spotting, negspacy and ours.

python -m tests.bench.reading_labelled [dev|test]
"""

from __future__ import annotations

import sys
from collections import Counter

import spacy
from negspacy.negation import Negex  # noqa: F401 (importing registers the component)
from tests.reading.labelled_sentences import Labelled, Score, got, labelled
from tests.spoken import PACK

from spokenfor.models import FlaggedReading
from spokenfor.packs.load import load_pack
from spokenfor.reading.pipeline import build

WORST = 10


def plain_readings(entries: list[Labelled]) -> dict[str, tuple[int, int]]:
    """Flagged words that are present or not, told by the word alone and by negspacy: right, of all."""
    labels = {
        label.lower()
        for condition in load_pack(PACK).conditions.values()
        for label in condition.labels
    }
    nlp = spacy.blank("en")
    nlp.add_pipe("sentencizer")
    ruler = nlp.add_pipe("entity_ruler")
    forms = sorted(labels | {f"{label}s" for label in labels})
    ruler.add_patterns([{"label": "CONDITION", "pattern": nlp.make_doc(one).text} for one in forms])
    nlp.add_pipe("negex", config={"ent_types": ["CONDITION"]})
    counts = {"the word alone": [0, 0], "negspacy": [0, 0]}
    for entry in entries:
        doc = nlp(entry.say.lower())
        left = list(doc.ents)
        for expected in entry.flagged:
            for word, reading in expected.items():
                present = reading is FlaggedReading.PRESENT
                found = next(
                    (e for e in left if e.text.rstrip("s") == word.lower().rstrip("s")), None
                )
                if found is not None:
                    left.remove(found)
                for way, says in (
                    ("the word alone", True),
                    ("negspacy", found is None or not found._.negex),
                ):
                    counts[way][0] += says is present
                    counts[way][1] += 1
    return {way: (right, total) for way, (right, total) in counts.items()}


def main(half: str) -> None:
    entries, score = labelled(half), Score()
    built = {name: build(name) for name in sorted({one.pack for one in entries})}
    present = Counter[bool]()
    for entry in entries:
        one = got(entry, built[entry.pack])
        score.add(one)
        left = list(one.flagged)
        for expected in entry.flagged:
            for word, reading in expected.items():
                at = next(
                    (
                        i
                        for i, (w, _) in enumerate(left)
                        if w.rstrip("s") == word.lower().rstrip("s")
                    ),
                    None,
                )
                made = left.pop(at)[1] if at is not None else None
                present[
                    (made is FlaggedReading.PRESENT) is (reading is FlaggedReading.PRESENT)
                ] += 1
    print(f"{len(entries)} sentences, {score.words} words\n")
    print("| measure | value |\n| --- | --- |")
    print(f"| verdict macro-F1 | {score.macro_f1:.3f} |")
    print(f"| flagged words read right | {score.flagged_accuracy:.3f} of {score.flagged} |")
    print(f"| false defects per 1,000 words | {score.false_per_thousand:.2f} |")
    print(f"| missed defects | {len(score.missed_defects)} of {score.defects} |")
    print(f"| invented ticks | {len(score.invented)} |")
    print(f"| quantities exact | {score.quantities_right} of {score.quantities} |")
    print(f"| position | {score.placed_right / max(1, score.placed):.3f} of {score.placed} |")
    print("\n| flagged word present or not, told by | right |\n| --- | --- |")
    for way, (right, total) in plain_readings(entries).items():
        print(f"| {way} | {right / total:.3f} of {total} |")
    print(f"| spokenfor | {present[True] / present.total():.3f} of {present.total()} |")
    print("\n| verdict | F1 | said |\n| --- | --- | --- |")
    for verdict, value in score.f1.items():
        print(f"| {verdict} | {value:.3f} | {score.said[verdict]} |")
    print("\n| said | read as | how often |\n| --- | --- | --- |")
    for (truth, made), count in score.confusion.most_common():
        if truth != made:
            print(f"| {truth} | {made} | {count} |")
    print("\nThe ten worst sentences:\n")
    for faults, say in sorted(score.wrong, key=lambda pair: -pair[0])[:WORST]:
        print(f"- {say} ({faults})")


if __name__ == "__main__":
    main(sys.argv[1] if len(sys.argv) > 1 else "test")
