"""What comes of comparing walks? The one function that the command line and the web call."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from spokenfor.comparing.order import WalkedOrder, walked_order
from spokenfor.comparing.progress import Person, covered_lines, people
from spokenfor.comparing.sheet import CommonSheet, common_sheet
from spokenfor.comparing.side_by_side import FindingRow, ZoneLines, differing_lines, finding_rows
from spokenfor.comparing.walks import Walk, in_order
from spokenfor.comparing.wording_remarks import (
    AspectCount,
    WordingRemark,
    aspect_counts,
    wording_remarks,
)
from spokenfor.comparing.zones import ZoneView, zone_view
from spokenfor.reporting.wording import counted, listed


@dataclass(frozen=True)
class Comparison:
    """Two or more walks side by side. All mappings go by the walks' marks; `zones` by zone id, then mark."""

    walks: list[Walk]
    sheet: CommonSheet
    covered: Mapping[str, int]
    zones: Mapping[str, Mapping[str, ZoneView]]
    orders: Mapping[str, WalkedOrder]
    remarks: Mapping[str, list[WordingRemark]]
    aspects: Mapping[str, list[AspectCount]]
    findings: list[FindingRow]
    differing: list[ZoneLines]
    people: list[Person]

    @property
    def reference(self) -> Walk | None:
        return next((one for one in self.walks if one.reference), None)

    def called(self, marks: Sequence[str]) -> str:
        """Walks in words: walk A and the reference walk."""
        return listed([walk.called for walk in self.walks if walk.mark in marks])

    def cautions(self, walks: Sequence[Walk]) -> list[str]:
        """What must be known before these walks are held against each other."""
        lines = [self.sheet.differs] if self.sheet.differs else []
        assets = list(dict.fromkeys(walk.asset for walk in walks))
        if len(assets) > 1:
            lines.append(
                f"The walks are of different machines ({listed(assets)}): what was found on one need not be "
                "there on another."
            )
        alone = len(walks) == 1
        for walk in walks:
            if walk.reviewers:
                made = counted(len(walk.decided_by), "decision")
                lines.append(
                    f"Reviewed by {listed(walk.reviewers)}: {'this walk' if alone else walk.called}, {made}. "
                    "What they decided outranks what was proposed, and it says so beside each."
                )
        unreviewed = [walk.called for walk in walks if not walk.reviewers]
        if unreviewed:
            which = "this walk" if alone else listed(unreviewed)
            them = "them" if len(unreviewed) > 1 else "it"
            lines.append(
                f"Not reviewed: {which}. What is shown of {them} was proposed from the sound: listen before "
                "you rely on it."
            )
        return lines


def compare_walks(walks: Sequence[Walk], reference: Walk | None = None) -> Comparison:
    """Hold two or more walks against each other, the reference among them if there is one.

    Raises InputError for fewer than two walks, for one given twice, and where no line of a sheet is common.
    """
    return _held(in_order(walks, reference))


def one_walk(walk: Walk) -> Comparison:
    """A walk beside the sheet alone, for pages that show nobody else's."""
    return _held([walk])


def _held(ordered: list[Walk]) -> Comparison:
    sheet = common_sheet(ordered)
    return Comparison(
        walks=ordered,
        sheet=sheet,
        covered={walk.mark: covered_lines(sheet, walk) for walk in ordered},
        zones={
            zone.id: {walk.mark: zone_view(zone, walk) for walk in ordered} for zone in sheet.zones
        },
        orders={walk.mark: walked_order(sheet, walk) for walk in ordered},
        remarks={walk.mark: wording_remarks(sheet, walk) for walk in ordered},
        aspects={walk.mark: aspect_counts(sheet, walk) for walk in ordered},
        findings=finding_rows(sheet, ordered),
        differing=differing_lines(sheet, ordered),
        people=people(ordered),
    )
