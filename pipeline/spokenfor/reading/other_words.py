"""Words like a term of the pack that were meant: its verb ("vacuumed it"), a compound ("windowsill"), or a term
with another small word before it ("and the tail rotor").
"""

from __future__ import annotations

from collections.abc import Sequence

from spokenfor.packs.phones import in_dictionary
from spokenfor.packs.terms import Term
from spokenfor.packs.wording import words_of

_SHORTEST = 3


def inflects(heard: Sequence[str], term: Term) -> bool:
    """Whether a word heard is a word of the term made a verb ("vacuumed it" is no "vacuum pump")."""
    words = words_of(term.label)
    return any(
        said != word and said.startswith(word) and said[len(word) :] in ("ed", "d", "ing")
        for said in heard
        for word in words
    )


def is_compound(heard: Sequence[str], term: Term) -> bool:
    """Whether one English word was heard that only begins with the term ("windowsill" is no "window")."""
    if len(heard) != 1 or len(words_of(term.label)) != 1 or not heard[0].startswith(term.label):
        return False
    rest = heard[0][len(term.label) :]
    return len(rest) >= _SHORTEST and in_dictionary(heard[0]) and in_dictionary(rest)


def only_small_changed(heard: Sequence[str], small: Sequence[bool], term: Term) -> bool:
    """Whether a repair would change nothing but small words ("*and* the tail rotor", "*at* the tail rotor");
    `small` says of each word heard whether it is one."""
    before, after = list(zip(heard, small, strict=True)), words_of(term.label)
    while before and after and before[0][0] == after[0]:
        before, after = before[1:], after[1:]
    while before and after and before[-1][0] == after[-1]:
        before, after = before[:-1], after[:-1]
    return bool(before) and all(is_small for _, is_small in before)
