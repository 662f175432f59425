"""What a pack author should look at in a pack that loads: each remark at its place, with its mend."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from spokenfor.packs import lint_names, lint_sheet, lint_sounds
from spokenfor.packs.faults import Fault
from spokenfor.packs.heard import not_heard
from spokenfor.packs.load import Pack
from spokenfor.packs.terms import compile_terms

Check = Callable[[Pack, lint_names.Compiled], Iterator[Fault]]
CHECKS: tuple[Check, ...] = (
    lint_sheet.unused,
    lint_sheet.out_of_reach,
    lint_sheet.lonely_positions,
    lint_sheet.limits_of_the_wrong_kind,
    lint_names.shared_labels,
    lint_names.two_kinds,
    lint_names.cue_phrases,
    lint_names.repeated_labels,
    lint_sounds.alike,
    lint_sounds.everyday_words,
    lint_sounds.unpronounced,
    not_heard,
)


def lint(pack: Pack) -> list[Fault]:
    """Every remark, in the order of the files; none where there is nothing to look at. What is wrong with the
    files themselves is raised on loading, as PackError."""
    terms = compile_terms(pack)
    remarks = [remark for check in CHECKS for remark in check(pack, terms)]
    return sorted(
        dict.fromkeys(remarks),
        key=lambda remark: (str(remark.place.file), remark.place.line, remark.place.column),
    )
