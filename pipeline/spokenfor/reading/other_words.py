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
    before, _ = unshared(heard, words_of(term.label))
    return bool(before) and all(small[before.start : before.stop])


def unshared(heard: Sequence[str], label: Sequence[str]) -> tuple[range, range]:
    """Where the words heard and those of a label differ: without those that both begin or end with."""
    shortest = min(len(heard), len(label))
    head = 0
    while head < shortest and heard[head] == label[head]:
        head += 1
    tail = 0
    while tail < shortest - head and heard[-1 - tail] == label[-1 - tail]:
        tail += 1
    return range(head, len(heard) - tail), range(head, len(label) - tail)
