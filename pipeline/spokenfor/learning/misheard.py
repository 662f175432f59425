"""Which runs of words were heard in place of a component's name, by the corrections of a reviewer?"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher

from spokenfor.packs.terms import Term
from spokenfor.packs.wording import match_key, split_tokens

_LONGEST_LABEL = 7
"""Words of the longest run that is held against the labels."""


@dataclass(frozen=True)
class Misheard:
    """`heard` stood where somebody said `label`, a name of `component`."""

    component: str
    label: str
    heard: str


def misheard(
    heard: str, corrected: str, components: Mapping[str, Term], known: str | None = None
) -> list[Misheard]:
    """Hold the words as heard against the words as corrected. `components` are the pack's terms by match key;
    a label of several components counts only where `known`, the component that the passage is about, is one
    of them. Words that only one side has are no mis-hearing."""
    before, after = _words(heard), _words(corrected)
    blocks = SequenceMatcher(None, before, after, autojunk=False).get_opcodes()
    found = []
    for start, end, term in _labels(after, components):
        component = known if known in term.concepts else term.concepts[0]
        if len(term.concepts) > 1 and known not in term.concepts:
            continue
        run = before[_before(blocks, start, first=True) : _before(blocks, end, first=False)]
        if run and match_key(" ".join(run)) != term.key:
            said = " ".join(after[start:end])
            found.append(Misheard(component, said, " ".join(run)))
    return found


def _words(text: str) -> list[str]:
    return [one.lower().replace("\u2019", "'") for one in split_tokens(text) if one[0].isalnum()]


def _labels(
    words: Sequence[str], components: Mapping[str, Term]
) -> Iterator[tuple[int, int, Term]]:
    """Labels in the words that do not overlap, the longest first from the left; hidden ones are no names."""
    at = 0
    while at < len(words):
        for end in range(min(len(words), at + _LONGEST_LABEL), at, -1):
            term = components.get(match_key(" ".join(words[at:end])))
            if term is not None and not term.hidden:
                yield at, end, term
                at = end
                break
        else:
            at += 1


def _before(blocks: Sequence[tuple[str, int, int, int, int]], position: int, *, first: bool) -> int:
    """The place among the words as heard of a boundary among the corrected ones; within a changed block, its
    beginning for the first word of a run and its end for the last."""
    for kind, a1, a2, b1, b2 in blocks:
        inside = b1 <= position < b2 if first else b1 < position <= b2
        if inside:
            if kind == "equal":
                return a1 + position - b1
            return a1 if first else a2
    return blocks[-1][2] if blocks and position else 0
