"""What is made from report and log for people and other programs, anew whenever somebody decides?

Nothing here is a source: delete it, and `hand-over` makes it again. report.html, report.json and the tables of
the check stay as they were proposed.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from spokenfor.record.decisions import review_shown
from spokenfor.record.digests import readable
from spokenfor.record.durable import finish, together, write_synced, writing
from spokenfor.record.entries import Entry
from spokenfor.record.folder import DERIVED, Inspection, holds_inspection, read_inspection
from spokenfor.record.hand_over import hand_over_csv, hand_over_tree
from spokenfor.record.lock import locked
from spokenfor.record.reviewed import reviewed
from spokenfor.record.summary_page import summary_md
from spokenfor.reporting.page import report_html
from spokenfor.reporting.sound_source import linked, sound_files
from spokenfor.reporting.thumbnails import pictures


def derived_files(inspection: Inspection, entries: Sequence[Entry]) -> dict[str, bytes]:
    """The bytes of each derived file, by name: the same inspection and log give the same bytes."""
    folder, settings = inspection.folder, inspection.settings
    review = reviewed(inspection.result, entries)
    shown = review_shown(inspection.result, review, entries)
    tree = hand_over_tree(inspection.result, review, shown)
    sounds = [folder / one.path for one in settings.recordings]
    found = sound_files(review.result.recordings, sounds)
    page = report_html(
        review.result,
        inspection.transcript,
        {index: linked(path, folder) for index, path in found.items()},
        pictures(review.result.photos, [folder / one.path for one in settings.photos], folder),
        shown,
    )
    texts = (
        readable(review.model_dump(mode="json", by_alias=True)),
        page.encode("utf-8"),
        hand_over_csv(tree).encode("utf-8"),
        readable(tree),
        summary_md(review, shown).encode("utf-8"),
    )
    return dict(zip(DERIVED, texts, strict=True))


def write_derived(folder: Path) -> Path:
    """Write the derived files of an inspection into its folder, all or none; return reviewed.html.

    Raises InputError where the folder holds no inspection or cannot be written to.
    """
    holds_inspection(folder)
    with writing("The reviewed pages", folder), locked(folder):
        finish(folder)
        inspection = read_inspection(folder)
        with together(folder) as aside:
            for name, data in derived_files(inspection, inspection.log.entries).items():
                write_synced(aside / name, data)
    return folder / "reviewed.html"
