"""Which files does a comparison write, and what are they called?"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from spokenfor.comparing.clips import cut_clips
from spokenfor.comparing.comparison import Comparison
from spokenfor.comparing.pages import comparison_html, feedback_html
from spokenfor.comparing.progress import Person
from spokenfor.comparing.sound_address import no_sound
from spokenfor.comparing.tables import comparison_csv
from spokenfor.comparing.walks import Walk
from spokenfor.errors import InputError
from spokenfor.models import Evidence
from spokenfor.record.folder import REPORT_FILE, is_inspection
from spokenfor.reporting.sound_source import linked
from spokenfor.reporting.write import write_files

COMPARISON, REPORT_PAGE = "comparison.html", "report.html"
_NAME_AT_MOST = 60


def write_comparison(comparison: Comparison, out: Path, *, with_sound: bool = True) -> list[Path]:
    """Write comparison.html, a page of feedback for each person but the reference's, and the CSV files; return
    the pages. All complete, or none changed. Raises InputError."""
    if is_inspection(out) or (out / REPORT_FILE).exists():
        raise InputError(f"'{out}' holds an inspection", "Give --out a folder of its own")
    sound = cut_clips(_passages(comparison)) if with_sound else no_sound
    pages = {COMPARISON: comparison_html(comparison, sound, _reports(comparison, out))}
    for name, person in feedback_names(comparison).items():
        own = cut_clips(_for(comparison, person)) if with_sound else no_sound
        pages[name] = feedback_html(comparison, person, own)
    write_files(pages | comparison_csv(comparison), out)
    return [out / name for name in pages]


def feedback_names(comparison: Comparison) -> dict[str, Person]:
    """The file of each person's feedback: feedback.html where it is one person, else with their name."""
    if len(comparison.people) == 1:
        return {"feedback.html": comparison.people[0]}
    names: dict[str, Person] = {}
    for person in comparison.people:
        plain = "".join(one if one.isalnum() else " " for one in person.name.casefold())
        stem = "-".join(["feedback", *plain[:_NAME_AT_MOST].split()])
        name, number = f"{stem}.html", 1
        while name in names:
            number += 1
            name = f"{stem}-{number}.html"
        names[name] = person
    return names


def _passages(comparison: Comparison) -> Iterator[tuple[Walk, Evidence]]:
    """The passages that can be played, those of findings first."""
    for row in comparison.findings:
        for walk in comparison.walks:
            for cell in row.cells[walk.mark]:
                if cell.said is not None:
                    yield walk, cell.said
    for walk in comparison.walks:
        for one in comparison.remarks[walk.mark]:
            if one.said is not None:
                yield walk, one.said


def _for(comparison: Comparison, person: Person) -> Iterator[tuple[Walk, Evidence]]:
    """Those of one person's last walk, and of what the reference found."""
    shown = (person.walks[-1], comparison.reference)
    return (pair for pair in _passages(comparison) if any(pair[0] is walk for walk in shown))


def _reports(comparison: Comparison, out: Path) -> dict[str, str]:
    found = {}
    for walk in comparison.walks:
        folder = walk.source if walk.source.is_dir() else walk.source.parent
        if (folder / REPORT_PAGE).is_file():
            found[walk.mark] = linked(folder / REPORT_PAGE, out)
    return found
