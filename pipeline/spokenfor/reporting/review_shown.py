"""What does the page show of a review: who decided what, when, why, before and after?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field


@dataclass(frozen=True)
class DecisionLine:
    """An entry of the review log as people read it. `subject` is an id of the result shown, or what it was
    when that is gone; `label` its name; `before` and `after` are statuses or words; `void` says why it
    counts no longer: more was heard since, or it was taken back."""

    entry: int
    at: str
    by: str
    what: str
    subject: str
    label: str
    before: str | None
    after: str | None
    why: str | None
    void: str | None = None


@dataclass(frozen=True)
class ReviewShown:
    """The review of one inspection: decisions in the order of the log, what is still open (label, why), what
    the machine found and a person dismissed (what, words), the seal, if it stands, and `settled`: the
    ids of what a person has decided on, where nobody needs to be told to listen."""

    decisions: Sequence[DecisionLine]
    open: Sequence[tuple[str, str, str]]
    dismissed: Sequence[tuple[str, str]]
    sealed: str | None
    entries: int
    head: str
    settled: frozenset[str] = frozenset()
    by_subject: dict[str, list[DecisionLine]] = field(default_factory=dict)
