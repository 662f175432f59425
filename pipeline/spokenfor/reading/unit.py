"""Components named together, and what one stretch of speech says of them."""

from __future__ import annotations

from dataclasses import dataclass, field

from spacy.tokens import Span

from spokenfor.models import FlaggedReading
from spokenfor.packs.schema import CueCategory
from spokenfor.reading.targets import Target

# Results that a cue states by itself, whatever stands around it.
SETTLING = {
    CueCategory.WITHIN_LIMITS,
    CueCategory.HARMLESS,
    CueCategory.NOT_INSPECTED,
    CueCategory.NOT_FITTED,
    CueCategory.PUT_RIGHT,
    CueCategory.LATER_DONE,
    CueCategory.BY_REFERENCE,
}
NO_RESULT = (FlaggedReading.LOOKED_FOR, FlaggedReading.SUPPOSED)


@dataclass
class Unit:
    """Components named together, and what one stretch of a sentence says of them. With no component of
    its own, a unit speaks of what was named before; `absent` where it says that there is none, `now` where
    it says how things are by now, `excepted` where it is an exception to what is said around it."""

    start: int
    end: int
    components: list[Span] = field(default_factory=list)
    targets: list[Target] = field(default_factory=list)
    settling: list[Span] = field(default_factory=list)
    quantities: list[Span] = field(default_factory=list)
    grouped: bool = False
    purpose: bool = False
    foreign_subject: bool = False
    absent: bool = False
    now: bool = False
    excepted: bool = False

    @property
    def settled(self) -> set[CueCategory]:
        said = {cue._.cue.category for cue in self.settling}
        return said | {CueCategory.NOT_FITTED} if self.absent else said

    @property
    def tells_fault(self) -> bool:
        """Whether a flagged word is said to be there, or a listed phrase tells of a fault."""
        return any(
            one.is_bad_word and one.reading is FlaggedReading.PRESENT and one.unlisted is None
            for one in self.targets
        )

    @property
    def unlisted(self) -> float | None:
        """How probable (0..1) the least sure of its results is that no listed phrase states; None without."""
        return min(self._unlisted(FlaggedReading.PRESENT), default=None)

    @property
    def doubt(self) -> float:
        """How probable (0..1) it is that words which no phrase lists tell of a fault: not probable enough."""
        return max(self._unlisted(FlaggedReading.UNCLEAR), default=0.0)

    def _unlisted(self, meant: FlaggedReading) -> list[float]:
        return [
            one.unlisted
            for one in self.targets
            if one.unlisted is not None and one.reading is meant
        ]

    @property
    def states_something(self) -> bool:
        return bool(self.targets or self.settling or self.quantities or self.absent)

    @property
    def states_result(self) -> bool:
        targets = any(target.reading not in NO_RESULT for target in self.targets)
        return targets or bool(self.settling or self.quantities)
