"""How well the trade's words are heard on the test half: the tables of docs/benchmarks.md.

    python -m tests.bench.hearing.measure CACHE [--half test] [--others]

Speaks and hears each narration in each condition (CACHE keeps sound and transcripts), then prints by condition:
word error, trade terms heard plainly, with repairs from text alone, and with second hearing; repairs right and
wrong; flagged words; statuses; invented coverage; errors that turn a verdict and are not marked; what was
unheard; the reliability diagram. `--others` adds plain faster-whisper with an initial prompt and with hotwords.
"""

from __future__ import annotations

import time
from collections import defaultdict
from dataclasses import dataclass, field
from pathlib import Path
from typing import Annotated, Any

import numpy as np
import typer
from tests.bench.hearing.fit import heard
from tests.bench.hearing.fit_confidence import BINS, Line, calibration_error, lines
from tests.bench.hearing.material import CONDITIONS, Case, Half, cases
from tests.bench.hearing.missing import Missing, missing
from tests.bench.hearing.truth import (
    Beside,
    agreement,
    heard_words,
    labels_of,
    plain_terms,
    said_terms,
    said_words,
    word_error,
)
from tests.samples.answer_key import key_of
from tests.samples.scoring import score

from spokenfor.coverage.assemble import assemble
from spokenfor.models import Transcript
from spokenfor.packs.candidates import Candidates
from spokenfor.packs.load import load_pack
from spokenfor.packs.turning import TURNING
from spokenfor.reading.document import MENTIONS, transcript_doc
from spokenfor.reading.pipeline import build, read

Terms = list[tuple[str, ...]]
NAMED = ("component", "condition", "zone")


@dataclass
class Table:
    """Sums over the narrations of one condition."""

    words: list[float] = field(default_factory=list)
    terms: dict[str, list[tuple[float, float]]] = field(default_factory=lambda: defaultdict(list))
    repairs_right: int = 0
    repairs_wrong: list[str] = field(default_factory=list)
    flagged_said: int = 0
    flagged_listed: int = 0
    right: int = 0
    lines: int = 0
    spoken_right: int = 0
    spoken: int = 0
    invented: list[str] = field(default_factory=list)
    invented_unmarked: list[str] = field(default_factory=list)
    defects: int = 0
    defects_found: int = 0
    false_defects: int = 0
    turned: int = 0
    turned_unmarked: int = 0
    missing: list[Missing] = field(default_factory=list)
    judged: list[Line] = field(default_factory=list)


def heard_terms(transcript: Transcript, pack: str) -> tuple[Terms, Any]:
    """Concepts as read, in order, and the Doc."""
    nlp = build(pack)
    doc = transcript_doc(nlp.vocab, transcript)
    for name, component in nlp.pipeline:
        doc = component(doc)
        if name == "spokenfor_repairs":
            break
    named = [span for span in doc.spans[MENTIONS] if span.label_ in NAMED]
    return [span._.term.concepts for span in named], doc


def judge_repairs(table: Table, case: Case, transcript: Transcript, doc: Any) -> None:
    """Counts the repairs of terms that are right and wrong."""
    beside = Beside.of(case.script, transcript)
    number, place = 0, []
    for token in doc:
        place.append(number)
        number += token.text[0].isalnum() or token.text == "#"
    for span in doc.spans[MENTIONS]:
        repair = span._.repair
        if repair is None or span.label_ == TURNING:
            continue
        where = place[span.start], place[span.end - 1] + 1
        if beside.is_said(*where, labels_of(span._.term, load_pack(case.script.pack))):
            table.repairs_right += 1
        else:
            table.repairs_wrong.append(
                f"{case.id}: {repair.heard} => {repair.became} | {beside.said_there(*where)}"
            )


def measure(table: Table, case: Case, transcript: Transcript, folder: Path) -> None:
    """Adds one narration in one condition."""
    pack = load_pack(case.script.pack)
    candidates = Candidates(pack)
    said = said_terms(case.script, candidates)
    table.words.append(word_error(said_words(case.script), heard_words(transcript.segments)))
    table.terms["plain"].append(agreement(said, plain_terms(transcript.segments, candidates)))
    alone = transcript.model_copy(update={"proofs": None})
    table.terms["text alone"].append(agreement(said, heard_terms(alone, case.script.pack)[0]))
    ours, doc = heard_terms(transcript, case.script.pack)
    table.terms["second hearing"].append(agreement(said, ours))
    judge_repairs(table, case, transcript, doc)
    result = assemble(transcript, read(transcript, case.script.pack), pack)
    found = score(result, key_of(case.script))
    listen = {item.id for item in result.items if item.listen}
    table.flagged_said += found.flagged_listed + len(found.flagged_missed)
    table.flagged_listed += found.flagged_listed
    table.lines += found.total
    table.right += found.total - len(found.wrong)
    table.spoken += found.spoken
    table.spoken_right += found.spoken_right
    for one in (*found.invented, *found.invented_by_reference):
        text = f"{case.id}: {one.item} {one.expected.status.value} -> {one.got.status.value}"
        table.invented.append(text)
        if one.item not in listen:
            table.invented_unmarked.append(text)
    table.defects += len(found.defects.found) + len(found.defects.missed)
    table.defects_found += len(found.defects.found)
    table.false_defects += len(found.defects.false)
    judged = lines(case, transcript)
    table.judged += judged
    table.turned += sum(line.turned for line in judged)
    table.turned_unmarked += sum(line.turned and not line.listen for line in judged)
    table.missing.append(missing(case, transcript, result, folder))


def others(case: Case, folder: Path) -> dict[str, Terms]:
    """Terms heard by faster-whisper as it comes, with the pack's names as prompt, and as hotwords."""
    from faster_whisper import WhisperModel

    from spokenfor.hearing.weights import resolve

    pack = load_pack(case.script.pack)
    candidates = Candidates(pack)
    model = WhisperModel(str(resolve().folder), device="cpu", compute_type="int8", cpu_threads=2)
    names = ", ".join(component.prefLabel for component in list(pack.components.values())[:70])
    ways: dict[str, dict[str, str]] = {
        "faster-whisper": {},
        "with initial_prompt": {"initial_prompt": names},
        "with hotwords": {"hotwords": names},
    }
    found = {}
    for way, how in ways.items():
        words: list[str] = []
        for path in case.sounds(folder):
            segments, _ = model.transcribe(str(path), language="en", beam_size=5, **how)
            words += [segment.text for segment in segments]
        found[way] = [term.concepts for text in words for term in _exact(candidates, text)]
    return found


def _exact(candidates: Candidates, text: str) -> list[Any]:
    from spokenfor.packs.wording import words_of

    seen = candidates.heard_exactly(words_of(text))
    places = sorted(seen)
    return [
        seen[at]
        for number, at in enumerate(places)
        if number == 0 or places[number - 1] != at - 1 or seen[at - 1] is not seen[at]
    ]


def mean(pairs: list[tuple[float, float]], which: int) -> float:
    return sum(pair[which] for pair in pairs) / max(1, len(pairs))


def show(tables: dict[str, Table]) -> None:
    print(
        "\n| condition | word error | "
        + " | ".join(f"{way}: recall / precision" for way in next(iter(tables.values())).terms)
        + " |"
    )
    print("| --- " * (2 + len(next(iter(tables.values())).terms)) + "|")
    for name, one in tables.items():
        ways = [f"{mean(p, 0):.3f} / {mean(p, 1):.3f}" for p in one.terms.values()]
        print(f"| {name} | {sum(one.words) / len(one.words):.3f} | {' | '.join(ways)} |")
    print(
        "\n| condition | repairs right / wrong | flagged listed | lines right | of those spoken | "
        "invented (not marked) | defects found | false | verdict turned (not marked) |"
    )
    print("| --- " * 9 + "|")
    for name, one in tables.items():
        repairs = one.repairs_right + len(one.repairs_wrong)
        print(
            f"| {name} | {one.repairs_right} / {len(one.repairs_wrong)} "
            f"({one.repairs_right / max(1, repairs):.3f}) | "
            f"{one.flagged_listed / max(1, one.flagged_said):.3f} of {one.flagged_said} | "
            f"{one.right / one.lines:.3f} | {one.spoken_right / max(1, one.spoken):.3f} | "
            f"{len(one.invented)} ({len(one.invented_unmarked)}) | "
            f"{one.defects_found} of {one.defects} | {one.false_defects} | "
            f"{one.turned} ({one.turned_unmarked}) |"
        )
    print(
        "\n| condition | seconds of speech | unheard seconds | spoken in an unheard stretch, called "
        "not mentioned |"
    )
    print("| --- " * 4 + "|")
    for name, one in tables.items():
        print(
            f"| {name} | {sum(m.speech for m in one.missing):.0f} | "
            f"{sum(m.unheard for m in one.missing):.0f} | "
            f"{sum(len(m.lost) for m in one.missing)} of {sum(m.drowned for m in one.missing)} |"
        )
    judged = [line for one in tables.values() for line in one.judged]
    for title, some in (
        ("all lines", judged),
        ("lines spoken of", [line for line in judged if line.status.value != "not_mentioned"]),
    ):
        shown = np.array([line.shown for line in some])
        right = np.array([line.right for line in some], float)
        print(f"\nreliability, {title}: calibration error {calibration_error(shown, right):.3f}")
        place = np.minimum((shown * BINS).astype(int), BINS - 1)
        for bin_ in range(BINS):
            if (place == bin_).any():
                inside = place == bin_
                print(
                    f"  {bin_ / BINS:.1f}-{(bin_ + 1) / BINS:.1f}: {inside.sum():5} lines, "
                    f"said {shown[inside].mean():.2f}, right {right[inside].mean():.2f}"
                )
    for name, one in tables.items():
        for text in one.repairs_wrong:
            print(f"WRONG REPAIR {name}: {text}")
        for text in one.invented:
            print(f"INVENTED {name}: {text}")


def main(
    cache: Path,
    half: Annotated[str, typer.Option(help="dev or test")] = "test",
    others_too: Annotated[bool, typer.Option("--others", help="Also plain faster-whisper")] = False,
    only: Annotated[list[str] | None, typer.Option(help="Conditions; all by default")] = None,
) -> None:
    chosen: Half = "dev" if half == "dev" else "test"
    tables: dict[str, Table] = {}
    spent = sound = 0.0
    for case in cases(chosen, tuple(only or CONDITIONS)):
        began = time.perf_counter()
        case.sounds(cache / "sound")
        spoken = time.perf_counter()
        fresh = not (cache / f"{case.id}.json").exists()
        transcript = heard(case, cache)
        if fresh:
            spent += time.perf_counter() - spoken
            sound += sum(one.duration for one in transcript.recordings)
        table = tables.setdefault(case.condition, Table())
        measure(table, case, transcript, cache / "sound")
        if others_too:
            said = said_terms(case.script, Candidates(load_pack(case.script.pack)))
            for way, terms in others(case, cache / "sound").items():
                table.terms[way].append(agreement(said, terms))
        print(
            f"{case.id}: {spoken - began:.0f} s to speak, "
            f"{time.perf_counter() - spoken:.0f} s to hear and read",
            flush=True,
        )
    show(tables)
    if sound:
        print(f"\nheard {sound:.0f} s of sound in {spent:.0f} s: {spent / sound:.3f} of real time")


if __name__ == "__main__":
    typer.run(main)
