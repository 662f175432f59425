"""The answer keys agree with the sheet, with the words of their scripts, and with the sound."""

from __future__ import annotations

import json
import re
from pathlib import Path

import av
import pytest
from audio_samples.reports import REPORTS, SAMPLES
from audio_samples.script import FOLDER, Said, Script, Stay, load_script, script_paths
from tests.samples.answer_key import AnswerKey, KeyItem, load_key, standing

from spokenfor.models import ItemStatus
from spokenfor.packs.load import Pack, load_pack, pack_names

MEGABYTE = 1_000_000
SCRIPTS = {path.stem: load_script(path) for path in script_paths()}
RECORDINGS = [
    pytest.param(file, stays, id=file)
    for script in SCRIPTS.values()
    for file, stays in script.recordings.items()
]
every_script = pytest.mark.parametrize("script", SCRIPTS.values(), ids=SCRIPTS)
every_recording = pytest.mark.parametrize(("file", "stays"), RECORDINGS)


def key_of(name: str) -> AnswerKey:
    return load_key(FOLDER / "scripts" / f"{name}.yaml")


def flagged_labels_in(text: str, pack: Pack) -> list[str]:
    """Labels of conditions in `text`, longest first at each place, alone or in the plural."""
    labels = [
        label
        for condition in pack.conditions.values()
        for label in [condition.prefLabel, *condition.altLabel]
    ]
    longest_first = "|".join(map(re.escape, sorted(labels, key=len, reverse=True)))
    return re.findall(rf"\b(?:{longest_first})(?:s|es)?\b", text.lower())


def status_counts(key: AnswerKey) -> dict[ItemStatus, int]:
    statuses = [item.status for item in key.items.values()]
    return {status: statuses.count(status) for status in ItemStatus}


def test_there_are_at_least_four_samples_with_different_voices() -> None:
    voices = {(one.voice.engine, one.voice.name, one.voice.pitch) for one in SCRIPTS.values()}
    assert len(SCRIPTS) >= 4
    assert len(voices) == len(SCRIPTS)


@every_script
def test_every_item_is_on_the_sheet_and_spoken_of_in_its_own_zone(script: Script) -> None:
    items = {item.id: item.zone for item in load_pack(script.pack).items}
    for stay in script.walk:
        for utterance in stay.says:
            zones = {item: items.get(item) for item in utterance.items}
            assert zones == dict.fromkeys(utterance.items, stay.zone), utterance.say


@every_script
def test_every_condition_of_a_finding_is_in_the_pack(script: Script) -> None:
    conditions = load_pack(script.pack).conditions
    used = {name for one in script.utterances for name in one.findings.values() if name}
    assert used <= set(conditions)


@every_script
def test_the_flagged_words_of_the_key_are_those_of_the_words_said(script: Script) -> None:
    pack = load_pack(script.pack)
    for utterance in script.utterances:
        said = flagged_labels_in(utterance.say, pack)
        listed = [word for word, _ in utterance.flagged_words]
        assert sorted(said) == sorted([*listed, *utterance.not_flagged]), utterance.say
        assert [word for word in said if word not in utterance.not_flagged] == listed, utterance.say


@every_script
def test_a_defect_is_never_said_with_every_flagged_word_absent(script: Script) -> None:
    for utterance in script.utterances:
        readings = {reading for _, reading in utterance.flagged_words}
        for item, condition in utterance.findings.items():
            if condition and utterance.items[item] == "defect":
                assert "present" in readings, utterance.say


@pytest.mark.parametrize(
    ("name", "status", "least"),
    [
        ("thorough-walk", ItemStatus.SATISFACTORY, 120),
        ("thorough-walk", ItemStatus.DEFECT, 4),
        ("thorough-walk", ItemStatus.NOT_MENTIONED, 1),
        ("skipped-zone", ItemStatus.DEFECT, 2),
        ("skipped-zone", ItemStatus.NOT_INSPECTED, 1),
        ("skipped-zone", ItemStatus.NOT_FITTED, 1),
        ("trainee", ItemStatus.NAMED, 30),
        ("hangar-noise", ItemStatus.DEFECT, 3),
    ],
)
def test_each_sample_holds_what_it_is_for(name: str, status: ItemStatus, least: int) -> None:
    assert status_counts(key_of(name))[status] >= least


def test_the_trainee_names_more_than_is_stated() -> None:
    counts = status_counts(key_of("trainee"))
    assert counts[ItemStatus.NAMED] > 3 * counts[ItemStatus.SATISFACTORY]


def test_one_sample_leaves_out_a_whole_zone() -> None:
    items = key_of("skipped-zone").items
    head = [item.status for name, item in items.items() if name.startswith("rotor-head.")]
    assert len(head) > 10
    assert set(head) == {ItemStatus.NOT_MENTIONED}


def test_the_thorough_walk_has_one_found_and_put_right() -> None:
    key = key_of("thorough-walk")
    catch = "number-one-engine.cowling-catch.number-one"
    assert key.items[catch] == KeyItem(ItemStatus.SATISFACTORY, note="found and put right")
    assert [one.item for one in key.findings if one.note == "found and put right"] == [catch]


def test_the_second_recording_inspects_later_what_the_first_could_not() -> None:
    level = key_of("two-parts").items["number-one-engine.engine-oil-level.number-one"]
    assert level == KeyItem(ItemStatus.SATISFACTORY, note="inspected later")


@pytest.mark.parametrize(
    ("sayings", "expected"),
    [
        (["named", "looked_for"], KeyItem(ItemStatus.NAMED)),
        (["looked_for", "satisfactory"], KeyItem(ItemStatus.SATISFACTORY)),
        (["remark", "satisfactory"], KeyItem(ItemStatus.REMARK)),
        (["not_fitted", "remark"], KeyItem(ItemStatus.NOT_FITTED)),
        (["not_inspected", "not_fitted"], KeyItem(ItemStatus.NOT_INSPECTED)),
        (["defect", "satisfactory", "not_inspected"], KeyItem(ItemStatus.DEFECT)),
        (["by_reference"], KeyItem(ItemStatus.SATISFACTORY, by_reference=True)),
        (["named", "by_reference"], KeyItem(ItemStatus.SATISFACTORY, by_reference=True)),
        (["by_reference", "satisfactory"], KeyItem(ItemStatus.SATISFACTORY)),
        (["defect", "put_right"], KeyItem(ItemStatus.SATISFACTORY, note="found and put right")),
        (
            ["defect", "put_right", "defect"],
            KeyItem(ItemStatus.DEFECT, note="found and put right"),
        ),
        (
            ["not_inspected", "inspected_later"],
            KeyItem(ItemStatus.SATISFACTORY, note="inspected later"),
        ),
    ],
)
def test_the_worst_since_the_last_clearing_stands(sayings: list[Said], expected: KeyItem) -> None:
    assert standing(sayings) == expected


@every_recording
def test_each_recording_is_there_and_as_long_as_its_words_take(
    file: str, stays: list[Stay]
) -> None:
    words = sum(len(utterance.say.split()) for stay in stays for utterance in stay.says)
    with av.open(str(FOLDER / file)) as sound:
        assert sound.duration is not None
        seconds = sound.duration / 1_000_000
    # 100 to 190 words a minute, pauses included: an unhurried narration (common practice).
    assert 100 < 60 * words / seconds < 190


def test_no_sound_is_left_over_and_all_of_it_is_small() -> None:
    sizes = {path.name: path.stat().st_size for path in Path(FOLDER).glob("*.opus")}
    assert set(sizes) == {file for one in SCRIPTS.values() for file in one.recordings}
    assert max(sizes.values()) < 3 * MEGABYTE
    assert sum(sizes.values()) < 8 * MEGABYTE


@pytest.mark.parametrize("name", SAMPLES)
def test_a_report_of_each_pack_lies_beside_the_samples(name: str) -> None:
    report = json.loads((REPORTS / f"{name}.json").read_text())
    assert report["inspection"]["pack"]["name"] == SCRIPTS[name].pack
    assert [item["id"] for item in report["items"]] == [
        item.id for item in load_pack(SCRIPTS[name].pack).items
    ]
    page = (REPORTS / f"{name}.html").read_text()
    assert all(f'src="../{file}"' in page for file in SCRIPTS[name].recordings)


def test_every_pack_has_a_sample_with_a_report() -> None:
    assert {SCRIPTS[name].pack for name in SAMPLES} == set(pack_names())
