"""How well the trade's words are heard on the test half: the tables of docs/benchmarks.md.

    python -m tests.bench.hearing.measure CACHE [--half test] [--others] [--model tiny.en]

Speaks and hears each narration in each condition (CACHE keeps sound and transcripts), then prints by condition:
word error, trade terms heard plainly, with repairs from text alone, and with second hearing; repairs right and
wrong; flagged words; statuses; invented coverage; errors that turn a verdict and are not marked; what was
unheard; the reliability diagram. `--others` adds plain faster-whisper with an initial prompt and with hotwords.
"""

from __future__ import annotations

import json
import time
from pathlib import Path
from typing import Annotated, Any

import typer
from tests.bench.hearing.fit import heard, kept_transcript
from tests.bench.hearing.fit_confidence import lines
from tests.bench.hearing.material import CONDITIONS, Case, Half, cases
from tests.bench.hearing.missing import missing
from tests.bench.hearing.tables import Table, show, show_voices
from tests.bench.hearing.truth import (
    Beside,
    agreement,
    heard_words,
    labels_of,
    places_heard,
    plain_terms,
    said_terms,
    said_words,
    word_error,
)
from tests.samples.answer_key import key_of
from tests.samples.scoring import score

from spokenfor.coverage.assemble import assemble
from spokenfor.hearing.weights import DEFAULT_MODEL
from spokenfor.models import Transcript
from spokenfor.packs.candidates import Candidates
from spokenfor.packs.load import Pack, load_pack
from spokenfor.packs.turning import TURNING
from spokenfor.packs.wording import words_of
from spokenfor.reading.document import MENTIONS, table_of
from spokenfor.reading.heard_doc import transcript_doc
from spokenfor.reading.pipeline import build, read

Terms = list[tuple[str, ...]]
NAMED = ("component", "condition", "zone")


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


def repaired_terms(doc: Any, candidates: Candidates) -> Terms:
    """Concepts that stand letter for letter in a transcript with its repairs made, segment by segment, as
    `plain_terms` counts them in what was heard and `said_terms` in what was said."""
    table, repaired = table_of(doc), {span.start: span for span in doc.spans[MENTIONS]}
    begins = list(doc._.first_words)
    segments: list[list[str]] = [[]]
    at = 0
    while at < len(doc):
        # The first word of a segment may be one that reading passes over ("um", "okay").
        while begins and table.word[at] >= begins[0]:
            del begins[0]
            segments.append([])
        span, word = repaired.get(at), doc._.word_repairs.get(at)
        if span is not None and span._.repair is not None:
            segments[-1] += words_of(span._.repair.became)
            at = span.end
            continue
        segments[-1] += words_of(word.became if word is not None else doc[at].text)
        at += 1
    return [
        term.concepts
        for words in segments
        for term, _, _ in candidates.terms_in(words)
        if not term.hidden
    ]


def judge_repairs(table: Table, case: Case, transcript: Transcript, doc: Any, folder: Path) -> None:
    """Counts the repairs of terms that are right and wrong."""
    beside = Beside.of(case.script, transcript, case.times(folder))
    place = places_heard(doc)
    for span in doc.spans[MENTIONS]:
        repair = span._.repair
        if repair is None or span.label_ == TURNING:
            continue
        where = place[span.start], place[span.end - 1] + 1
        labels = [*labels_of(span._.term, load_pack(case.script.pack)), repair.became]
        if beside.is_said(*where, labels):
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
    by_text = repaired_terms(heard_terms(alone, case.script.pack)[1], candidates)
    table.terms["text alone"].append(agreement(said, by_text))
    ours, doc = heard_terms(transcript, case.script.pack)
    table.terms["second hearing"].append(agreement(said, repaired_terms(doc, candidates)))
    # A term that a longer phrase takes in ("plenty of tread") is no mention, and not counted here.
    table.terms["as read"].append(agreement(said, ours))
    judge_repairs(table, case, transcript, doc, folder)
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
    table.false_unmarked += sum(not one.listen for one in found.defects.false)
    judged = lines(case, transcript)
    table.judged += judged
    table.missing.append(missing(case, transcript, result, folder))


def others(case: Case, cache: Path, name: str) -> dict[str, Terms]:
    """Terms heard by faster-whisper as it comes, with the pack's names as prompt, and as hotwords; what it
    wrote is kept in the cache."""
    pack = load_pack(case.script.pack)
    candidates = Candidates(pack)
    kept = cache / f"others-{name}" / f"{case.id}.json"
    if not kept.exists():
        kept.parent.mkdir(parents=True, exist_ok=True)
        kept.write_text(json.dumps(_written_by_others(case.sounds(cache / "sound"), pack, name)))
    return {
        way: [term.concepts for text in texts for term, _, _ in candidates.terms_in(words_of(text))]
        for way, texts in json.loads(kept.read_text()).items()
    }


def _written_by_others(sounds: list[Path], pack: Pack, name: str) -> dict[str, list[str]]:
    from faster_whisper import WhisperModel

    from spokenfor.hearing.weights import resolve

    model = WhisperModel(
        str(resolve(name).folder), device="cpu", compute_type="int8", cpu_threads=2
    )
    names = ", ".join(component.prefLabel for component in list(pack.components.values())[:40])
    ways: dict[str, dict[str, str]] = {
        "faster-whisper": {},
        "with initial_prompt": {"initial_prompt": names},
        "with hotwords": {"hotwords": names},
    }
    return {
        way: [
            segment.text
            for path in sounds
            for segment in model.transcribe(str(path), language="en", beam_size=5, **how)[0]
        ]
        for way, how in ways.items()
    }


def main(
    cache: Path,
    half: Annotated[str, typer.Option(help="dev or test")] = "test",
    others_too: Annotated[bool, typer.Option("--others", help="Also plain faster-whisper")] = False,
    model: Annotated[str, typer.Option(help="Weights that hear")] = DEFAULT_MODEL,
    only: Annotated[list[str] | None, typer.Option(help="Conditions; all by default")] = None,
) -> None:
    chosen: Half = "dev" if half == "dev" else "test"
    tables: dict[str, Table] = {}
    voices: dict[tuple[str, str], Table] = {}
    spent = sound = 0.0
    for case in cases(chosen, tuple(only or CONDITIONS)):
        began = time.perf_counter()
        case.sounds(cache / "sound")
        spoken = time.perf_counter()
        fresh = not kept_transcript(case, cache, model).exists()
        transcript = heard(case, cache, model)
        if fresh:
            spent += time.perf_counter() - spoken
            sound += sum(one.duration for one in transcript.recordings)
        table = tables.setdefault(case.condition, Table())
        measure(table, case, transcript, cache / "sound")
        speaker = f"{case.script.voice.engine} {case.script.voice.name}"
        by_voice = voices.setdefault((speaker, case.condition), Table())
        by_voice.words.append(table.words[-1])
        for way, shares in table.terms.items():
            by_voice.terms[way].append(shares[-1])
        if others_too:
            said = said_terms(case.script, Candidates(load_pack(case.script.pack)))
            for way, terms in others(case, cache, model).items():
                table.terms[way].append(agreement(said, terms))
        print(
            f"{case.id}: {spoken - began:.0f} s to speak, "
            f"{time.perf_counter() - spoken:.0f} s to hear and read",
            flush=True,
        )
    show(tables)
    show_voices(voices)
    if sound:
        print(f"\nheard {sound:.0f} s of sound in {spent:.0f} s: {spent / sound:.3f} of real time")


if __name__ == "__main__":
    typer.run(main)
