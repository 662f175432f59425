"""How probable is it that a line's status is what the speaker said? A logistic model, calibrated.

The weights lie in confidence.json, fitted on the development half of the hearing bench by
tests/bench/hearing/fit_confidence.py; docs/benchmarks.md holds the reliability on the test half.
"""

from __future__ import annotations

import json
import math
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files

from spokenfor.models import (
    Evidence,
    ItemStatus,
    Reading,
    Repair,
    SoundKind,
    Statement,
    Transcript,
    Verdict,
    ZoneStay,
)

LISTEN_UNDER = 0.8
"""A status less probable than this is marked *listen* (*common practice*: about one in five is wrong)."""

SURE_REPAIR = 0.98
"""What rests on a repair less probable than this must be listened to (*common practice*)."""

READ_SURELY = 0.5
"""So must what reading itself holds for less probable than not, as the words beside it sound bad."""

LEAST_ALIKE = 0.9
"""The same of a repair whose words sound less like what was heard (0..1)."""

SURE_WORDS = 0.7
"""What rests on words less probable than this in the geometric mean must be listened to (*common practice*: at
0.6 one in eleven of such lines was wrong on development narrations, of all others one in forty; weights tuned
on their voices are surer of themselves than they are right of others)."""

ADRIFT_SECONDS = 5.0
"""Behind so much unheard sound in one stay its zone is itself in doubt (*common practice*)."""

ANNOUNCED_WITHIN = 4.0
"""A zone is announced in the first so many seconds of the stay in it (*common practice*)."""

BESIDE_SECONDS = 6.0
"""A fault that nobody could place casts doubt on lines stated within this time of it."""

_LEAST = 0.02
_RESULTS = {ItemStatus.SATISFACTORY, ItemStatus.REMARK}
_WEAK = {ItemStatus.NAMED, ItemStatus.LOOKED_FOR}


@dataclass(frozen=True)
class Heard:
    """What a transcript's words are like: their times and log probabilities by recording, and the mean over
    all that may be read."""

    starts: dict[int, list[float]]
    sure: dict[int, list[float]]
    mean: float

    @classmethod
    def of(cls, transcript: Transcript) -> Heard:
        starts: dict[int, list[float]] = {}
        sure: dict[int, list[float]] = {}
        for segment in transcript.segments:
            for word in () if segment.doubtful else segment.words:
                starts.setdefault(segment.recording, []).append(word.start)
                sure.setdefault(segment.recording, []).append(
                    math.log(max(word.probability, _LEAST))
                )
        every = [value for values in sure.values() for value in values]
        return cls(starts, sure, sum(every) / len(every) if every else math.log(_LEAST))

    def words(self, evidence: Evidence) -> list[float]:
        """Log probabilities of the words of an evidence."""
        starts = self.starts.get(evidence.recording, [])
        first, after = bisect_left(starts, evidence.start), bisect_left(starts, evidence.end)
        return self.sure.get(evidence.recording, [])[first:after] or [self.mean]

    def mean_of(self, evidence: Evidence) -> float:
        """Mean log probability of the words of an evidence."""
        words = self.words(evidence)
        return sum(words) / len(words)


def features(
    status: ItemStatus, deciding: Sequence[Statement], heard: Heard, visited: bool
) -> dict[str, float]:
    """What the model weighs of a line: its status, the statements that decided it (none where nothing was
    said), how well it was heard, and whether its zone was walked."""
    if not deciding:
        return {
            "silent": 1.0,
            "silent_heard": heard.mean,
            "silent_walked": float(visited),
            "silent_walked_heard": heard.mean * visited,
        }
    best = max(deciding, key=lambda one: one.confidence)
    raw = min(max(best.confidence, _LEAST), 1 - _LEAST)
    kind = "good" if status in _RESULTS else "weak" if status in _WEAK else "bad"
    return {
        kind: 1.0,
        f"{kind}_heard": heard.mean,
        "words": heard.mean_of(best.evidence),
        "least_word": min(heard.words(best.evidence)),
        "reading": math.log(raw / (1 - raw)),
        "said_again": math.log(len(deciding)),
    }


@dataclass(frozen=True)
class Calibration:
    """Weights by feature."""

    weights: dict[str, float]

    def probability(self, found: dict[str, float]) -> float:
        """Probability 0..1 of what `features` describes."""
        odds = sum(self.weights.get(name, 0.0) * value for name, value in found.items())
        return 1 / (1 + math.exp(-max(-30.0, min(30.0, odds))))


@lru_cache(maxsize=1)
def calibration() -> Calibration:
    """The model that ships."""
    text = (files("spokenfor.coverage") / "confidence.json").read_text("utf-8")
    return Calibration(json.loads(text)["weights"])


class Trust:
    """How far the lines and findings of one inspection can be relied on."""

    def __init__(self, transcript: Transcript, reading: Reading) -> None:
        self._heard = Heard.of(transcript)
        self._walked = {stay.zone for stay in reading.walk}
        self._doubted = [repair.evidence for repair in reading.repairs if doubted(repair)]
        self._doubted_stays = [
            stay
            for stay in reading.walk
            if any(announces(proof, stay, reading.statements) for proof in self._doubted)
        ]
        self._walk = reading.walk
        self._lost = [one for one in transcript.ledger if one.kind is SoundKind.UNHEARD]
        self._unplaced = [
            one.evidence
            for one in reading.statements
            if one.item is None and one.verdict in (Verdict.DEFECT, Verdict.REMARK)
        ]

    def confidence(
        self, status: ItemStatus, deciding: Sequence[Statement], zone: str | None
    ) -> float:
        """Probability that a line of a zone, or a finding, with this status is what the speaker said."""
        if status is ItemStatus.UNHEARD:
            return 0.0
        found = features(status, deciding, self._heard, zone in self._walked)
        return round(calibration().probability(found), 3)

    def listen(self, confidence: float, deciding: Sequence[Statement]) -> bool:
        """Whether a person must listen: too unsure, or it rests on doubtful words, on words that no phrase
        lists, on a repair that turns a meaning or is itself in doubt (its own, or of the words that told which
        zone it is in), comes behind much unheard sound in its stay, or stands beside a fault that may belong to
        it."""
        proofs = [one.evidence for one in deciding]
        return bool(proofs) and (
            confidence < LISTEN_UNDER
            or max(one.confidence for one in deciding) < READ_SURELY
            or all(one.unlisted is not None for one in deciding)
            or any(within(repair, proof) for proof in proofs for repair in self._doubted)
            or any(walked_in(proof, stay) for proof in proofs for stay in self._doubted_stays)
            or any(self._lost_before(proof) >= ADRIFT_SECONDS for proof in proofs)
            or max(map(self._heard.mean_of, proofs)) < math.log(SURE_WORDS)
            or any(beside(fault, proof) for proof in proofs for fault in self._unplaced)
        )

    def _lost_before(self, proof: Evidence) -> float:
        """Seconds unheard in the stay of a proof before it: the zone may have been left in them."""
        begun = [stay.start for stay in self._walk if walked_in(proof, stay)]
        return sum(
            max(0.0, min(one.end, proof.start) - max(one.start, start))
            for start in begun
            for one in self._lost
            if one.recording == proof.recording
        )


def doubted(repair: Repair) -> bool:
    """Whether what rests on a repair must be listened to."""
    unsure = repair.probability is not None and repair.probability < SURE_REPAIR
    return repair.turns or unsure or repair.phonetic_score < LEAST_ALIKE


def announces(repair: Evidence, stay: ZoneStay, statements: Sequence[Statement]) -> bool:
    """Whether a repair stands in the words that a stay in a zone begins with, and in no statement: then the
    zone rests on it."""
    begins = stay.start <= repair.start <= stay.start + ANNOUNCED_WITHIN
    return (
        repair.recording == stay.recording
        and begins
        and not any(within(repair, one.evidence) for one in statements)
    )


def walked_in(one: Evidence, stay: ZoneStay) -> bool:
    """Whether an evidence begins in a stay."""
    return one.recording == stay.recording and stay.start <= one.start < stay.end


def beside(one: Evidence, other: Evidence) -> bool:
    """Whether two evidences lie within BESIDE_SECONDS of each other."""
    apart = max(one.start - other.end, other.start - one.end)
    return one.recording == other.recording and apart <= BESIDE_SECONDS


def within(inner: Evidence, outer: Evidence) -> bool:
    """Whether one evidence lies in another's seconds."""
    same = inner.recording == outer.recording
    return same and outer.start <= inner.start and inner.end <= outer.end
