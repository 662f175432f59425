"""How well a result agrees with the answer key of a sample."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar

from tests.samples.answer_key import AnswerKey, KeyFinding, KeyFlagged, KeyItem, load_key

from spokenfor.models import (
    Finding,
    FlaggedReading,
    FlaggedWord,
    Item,
    ItemStatus,
    Result,
    Verdict,
)

__all__ = ["FindingScore", "SampleScore", "WrongItem", "load_key", "score"]

NO_RESULT_SAID = {
    ItemStatus.NOT_MENTIONED,
    ItemStatus.NAMED,
    ItemStatus.LOOKED_FOR,
    ItemStatus.NOT_INSPECTED,
}
COUNTS_AS_COVERED = {ItemStatus.SATISFACTORY, ItemStatus.REMARK, ItemStatus.NOT_FITTED}
Left = TypeVar("Left")
Right = TypeVar("Right")


@dataclass(frozen=True)
class WrongItem:
    """A line of the sheet that the result puts elsewhere than the key."""

    item: str
    expected: KeyItem
    got: KeyItem


@dataclass(frozen=True)
class FindingScore:
    """Findings of one verdict. `unplaced` were found but on no line of the sheet (and are in `found`);
    `wrong_condition` were found under another condition (and are in `found`); `false` are in no key."""

    found: list[KeyFinding]
    unplaced: list[KeyFinding]
    wrong_condition: list[KeyFinding]
    missed: list[KeyFinding]
    false: list[Finding]


@dataclass(frozen=True)
class SampleScore:
    """Agreement of a result with its key.

    `spoken` counts the lines that the key says were spoken about. `invented` are lines of which no
    result was said but which got a plain tick (satisfactory, remark or not fitted), or by-reference
    ticks that lost their mark; `invented_by_reference` the same with a by-reference tick. A line
    that is unheard is wrong but not invented. Shares are 0..1.
    """

    name: str
    total: int
    spoken: int
    spoken_right: int
    wrong: list[WrongItem]
    wrong_notes: list[WrongItem]
    invented: list[WrongItem]
    invented_by_reference: list[WrongItem]
    defects: FindingScore
    remarks: FindingScore
    flagged_listed: int
    flagged_missed: list[KeyFlagged]
    flagged_extra: list[FlaggedWord]
    flagged_misread: list[tuple[KeyFlagged, FlaggedReading]]

    @property
    def item_accuracy(self) -> float:
        """Share of all lines of the sheet whose status is right."""
        return 1 - len(self.wrong) / self.total

    @property
    def spoken_accuracy(self) -> float:
        """Share of the lines spoken about whose status is right."""
        return self.spoken_right / self.spoken

    @property
    def reading_accuracy(self) -> float:
        """Share of the listed flagged words that were read as meant."""
        return 1 - len(self.flagged_misread) / self.flagged_listed if self.flagged_listed else 1.0


def score(result: Result, key: AnswerKey) -> SampleScore:
    """How well `result` agrees with `key`. Raises KeyError where a line of the key is missing."""
    got = {item.id: _as_key(item) for item in result.items}
    pairs = [WrongItem(item, expected, got[item]) for item, expected in key.items.items()]
    wrong = [pair for pair in pairs if not _same_status(pair)]
    spoken = [pair for pair in pairs if pair.expected.status is not ItemStatus.NOT_MENTIONED]
    reported = sorted(
        result.flagged_words, key=lambda flag: (flag.evidence.recording, flag.evidence.start)
    )
    matched = _align(key.flagged, reported, _flag_likeness)
    pairs_read = [(key.flagged[left], reported[right].reading) for left, right in matched]
    listed = {left for left, _ in matched}
    explained = {right for _, right in matched}
    return SampleScore(
        name=key.name,
        total=len(pairs),
        spoken=len(spoken),
        spoken_right=sum(_same_status(pair) for pair in spoken),
        wrong=wrong,
        wrong_notes=[pair for pair in pairs if pair.expected.note != pair.got.note],
        invented=[pair for pair in wrong if _invented(pair) and not pair.got.by_reference],
        invented_by_reference=[pair for pair in wrong if _invented(pair) and pair.got.by_reference],
        defects=_score_findings(Verdict.DEFECT, key, result),
        remarks=_score_findings(Verdict.REMARK, key, result),
        flagged_listed=len(matched),
        flagged_missed=[flag for at, flag in enumerate(key.flagged) if at not in listed],
        flagged_extra=[flag for at, flag in enumerate(reported) if at not in explained],
        flagged_misread=[(flag, read) for flag, read in pairs_read if flag.reading != read],
    )


def _as_key(item: Item) -> KeyItem:
    return KeyItem(item.status, item.by_reference, item.note)


def _same_status(pair: WrongItem) -> bool:
    return (pair.expected.status, pair.expected.by_reference) == (
        pair.got.status,
        pair.got.by_reference,
    )


def _invented(pair: WrongItem) -> bool:
    lost_its_mark = pair.expected.by_reference and not pair.got.by_reference
    nothing_said = pair.expected.status in NO_RESULT_SAID or lost_its_mark
    return nothing_said and pair.got.status in COUNTS_AS_COVERED


def _score_findings(verdict: Verdict, key: AnswerKey, result: Result) -> FindingScore:
    expected = [finding for finding in key.findings if finding.verdict is verdict]
    reported = [finding for finding in result.findings if finding.verdict is verdict]
    scored = FindingScore(found=[], unplaced=[], wrong_condition=[], missed=[], false=[])
    explained: set[str] = set()
    for truth in expected:
        placed = [one for one in reported if one.item == truth.item]
        loose = [
            one
            for one in reported
            if one.item is None
            and one.condition == truth.condition
            and one.component in (None, truth.component)
        ]
        explained.update(one.id for one in placed or loose[:1])
        (scored.found if placed or loose else scored.missed).append(truth)
        if loose and not placed:
            scored.unplaced.append(truth)
        if placed and truth.condition not in {one.condition for one in placed}:
            scored.wrong_condition.append(truth)
    scored.false.extend(one for one in reported if one.id not in explained)
    return scored


def _flag_likeness(truth: KeyFlagged, reported: FlaggedWord) -> float:
    """0 for another condition; a little more where it was also read as meant."""
    if truth.condition != reported.condition:
        return 0.0
    return 1.01 if truth.reading == reported.reading else 1.0


def _align(
    left: list[Left], right: list[Right], likeness: Callable[[Left, Right], float]
) -> list[tuple[int, int]]:
    """Places of pairs, in the order of both lists, whose summed likeness is greatest.

    The longest common subsequence (Wagner and Fischer 1974), weighted.
    """
    best = [[0.0] * (len(right) + 1) for _ in range(len(left) + 1)]
    for i in reversed(range(len(left))):
        for j in reversed(range(len(right))):
            alike = likeness(left[i], right[j])
            together = alike + best[i + 1][j + 1] if alike else 0.0
            best[i][j] = max(together, best[i + 1][j], best[i][j + 1])
    pairs, i, j = [], 0, 0
    while i < len(left) and j < len(right):
        if best[i][j] == best[i + 1][j]:
            i += 1
        elif best[i][j] == best[i][j + 1]:
            j += 1
        else:
            pairs.append((i, j))
            i, j = i + 1, j + 1
    return pairs
