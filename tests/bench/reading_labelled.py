"""How well are spoken sentences read? The tables of docs/benchmarks.md, beside keyword spotting, negspacy and
medspaCy's ConText on the same sentences.

python -m tests.bench.reading_labelled [dev|test|FILE] [--context-python PATH]

FILE is one file of tests/reading/labelled ("dev-7"). ConText is run by another interpreter (see
context_elsewhere.py for what it needs); without one, its row says why it is missing.
"""

from __future__ import annotations

import argparse
from pathlib import Path

from tests.bench.plain_readers import Presence, by_context, by_negspacy, word_alone
from tests.reading.labelled_sentences import Score, got, labelled

from spokenfor.models import FlaggedReading
from spokenfor.reading.pipeline import build

WORST = 10


def main(half: str, context_python: Path | None) -> None:
    entries, score, ours = labelled(half), Score(), Presence()
    built = {name: build(name) for name in sorted({one.pack for one in entries})}
    for entry in entries:
        one = got(entry, built[entry.pack])
        score.add(one)
        found = [(word, reading is FlaggedReading.PRESENT) for word, reading in one.flagged]
        ours.add(entry, found, silent=True)
    print(f"{len(entries)} sentences, {score.words} words\n")
    print("| measure | value |\n| --- | --- |")
    print(f"| verdict macro-F1 | {score.macro_f1:.3f} |")
    print(f"| flagged words read right | {score.flagged_accuracy:.3f} of {score.flagged} |")
    print(f"| false defects per 1,000 words | {score.false_per_thousand:.2f} |")
    print(f"| missed defects | {len(score.missed_defects)} of {score.defects} |")
    print(f"| invented ticks | {len(score.invented)} |")
    print(f"| quantities exact | {score.quantities_right} of {score.quantities} |")
    print(f"| position | {score.placed_right / max(1, score.placed):.3f} of {score.placed} |")
    print("\n| flagged word present or not, told by | right | falsely present | missed |")
    print("| --- | --- | --- | --- |")
    ways = {"the word alone": word_alone(entries), "negspacy": by_negspacy(entries)}
    if context_python is not None:
        ways["medspaCy ConText"] = by_context(entries, context_python)
    ways["spokenfor"] = ours
    for way, told in ways.items():
        print(f"| {way} | {told.right:.3f} of {told.words} | {told.false} | {told.missed} |")
    if context_python is None:
        print(
            "\nmedspaCy ConText skipped: no interpreter that has it was given (--context-python)."
        )
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
    asked = argparse.ArgumentParser()
    asked.add_argument("half", nargs="?", default="test")
    asked.add_argument("--context-python", type=Path)
    given = asked.parse_args()
    main(given.half, given.context_python)
