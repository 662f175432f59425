"""How the measures of hearing are printed: tables in Markdown, and the reliability diagram."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from tests.bench.hearing.fit_confidence import BINS, Line, calibration_error
from tests.bench.hearing.missing import Missing

Shares = list[tuple[float, float]]


@dataclass
class Table:
    """Sums over the narrations of one condition, or of one voice in it."""

    words: list[float] = field(default_factory=list)
    terms: dict[str, Shares] = field(default_factory=lambda: defaultdict(list))
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
    false_unmarked: int = 0
    missing: list[Missing] = field(default_factory=list)
    judged: list[Line] = field(default_factory=list)

    @property
    def repairs(self) -> int:
        return self.repairs_right + len(self.repairs_wrong)

    def turned(self, repaired: bool) -> str:
        """Lines turned, and those not marked; only those that rest on a repair, or all others."""
        some = [line for line in self.judged if line.turned and line.repaired is repaired]
        return f"{len(some)} ({sum(not line.listen for line in some)})"


def mean(pairs: Shares, which: int) -> float:
    return sum(pair[which] for pair in pairs) / max(1, len(pairs))


def _head(*names: str) -> None:
    print(f"\n| {' | '.join(names)} |")
    print("| --- " * len(names) + "|")


def show(tables: Mapping[str, Table]) -> None:
    """All tables, by condition."""
    first = next(iter(tables.values()))
    _head("condition", "word error", *(f"{way}: recall / precision" for way in first.terms))
    for name, one in tables.items():
        ways = [f"{mean(p, 0):.3f} / {mean(p, 1):.3f}" for p in one.terms.values()]
        print(f"| {name} | {sum(one.words) / len(one.words):.3f} | {' | '.join(ways)} |")
    _head(
        "condition",
        "repairs right / wrong",
        "flagged listed",
        "lines right",
        "of those spoken",
        "invented (not marked)",
        "defects found",
        "false (not marked)",
        "turned by a repair (not marked)",
        "turned as heard (not marked)",
    )
    for name, one in tables.items():
        print(
            f"| {name} | {one.repairs_right} / {len(one.repairs_wrong)} "
            f"({one.repairs_right / max(1, one.repairs):.3f}) | "
            f"{one.flagged_listed / max(1, one.flagged_said):.3f} of {one.flagged_said} | "
            f"{one.right / one.lines:.3f} | {one.spoken_right / max(1, one.spoken):.3f} | "
            f"{len(one.invented)} ({len(one.invented_unmarked)}) | "
            f"{one.defects_found} of {one.defects} | "
            f"{one.false_defects} ({one.false_unmarked}) | "
            f"{one.turned(True)} | {one.turned(False)} |"
        )
    _head(
        "condition",
        "seconds of speech",
        "unheard seconds",
        "spoken in an unheard stretch, called not mentioned",
    )
    for name, one in tables.items():
        print(
            f"| {name} | {sum(m.speech for m in one.missing):.0f} | "
            f"{sum(m.unheard for m in one.missing):.0f} | "
            f"{sum(len(m.lost) for m in one.missing)} of {sum(m.drowned for m in one.missing)} |"
        )
    _reliability([line for one in tables.values() for line in one.judged])
    for name, one in tables.items():
        for text in one.repairs_wrong:
            print(f"WRONG REPAIR {name}: {text}")
        for text in one.invented:
            print(f"INVENTED {name}: {text}")


def show_voices(tables: Mapping[tuple[str, str], Table]) -> None:
    """Word error and recall by voice and condition."""
    _head("voice", "condition", "narrations", "word error", "plain recall", "with second hearing")
    for (voice, condition), one in sorted(tables.items()):
        print(
            f"| {voice} | {condition} | {len(one.words)} | {mean_of(one.words):.3f} | "
            f"{mean(one.terms['plain'], 0):.3f} | {mean(one.terms['second hearing'], 0):.3f} |"
        )


def mean_of(values: Sequence[float]) -> float:
    return sum(values) / max(1, len(values))


def _reliability(judged: Sequence[Line]) -> None:
    for title, some in (
        ("all lines", judged),
        ("lines spoken of", [line for line in judged if line.status.value != "not_mentioned"]),
    ):
        shown = np.array([line.shown for line in some])
        right = np.array([line.right for line in some], float)
        print(f"\nreliability, {title}: calibration error {calibration_error(shown, right):.3f}")
        place = np.minimum((shown * BINS).astype(int), BINS - 1)
        for bin_ in range(BINS):
            inside = place == bin_
            if inside.any():
                print(
                    f"  {bin_ / BINS:.1f}-{(bin_ + 1) / BINS:.1f}: {inside.sum():5} lines, "
                    f"said {shown[inside].mean():.2f}, right {right[inside].mean():.2f}"
                )
