"""What the files of a pack may hold: pydantic models of vocab/, nothing read from disk here.

Labels follow SKOS (W3C Recommendation 2009): `prefLabel` is the name, `altLabel` also said,
`hiddenLabel` misspellings and usual mis-hearings, used for matching only and never shown.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints, model_validator

from spokenfor.packs.road_sides import BY_DRIVER

Identifier = Annotated[str, StringConstraints(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$")]
Label = Annotated[str, StringConstraints(min_length=1, strip_whitespace=True)]
Phones = Annotated[str, StringConstraints(pattern=r"^[A-Z]{1,2}[0-2]?( [A-Z]{1,2}[0-2]?)*$")]


class PackModel(BaseModel):
    """Base of the pack's models: unknown keys are refused, so that a slip of the pen is seen."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class Labelled(PackModel):
    """A concept with SKOS labels. `say` gives ARPAbet phones for a label the dictionary gets wrong."""

    id: Identifier
    prefLabel: Label  # noqa: N815 (SKOS spelling)
    altLabel: list[Label] = Field(default_factory=list)  # noqa: N815
    hiddenLabel: list[Label] = Field(default_factory=list)  # noqa: N815
    say: dict[Label, Phones] = Field(default_factory=dict)

    @property
    def labels(self) -> list[str]:
        """Every label, name first."""
        return [self.prefLabel, *self.altLabel, *self.hiddenLabel]

    @model_validator(mode="after")
    def _say_names_a_label(self) -> Labelled:
        for label in self.say:
            if label not in self.labels:
                raise ValueError(f"say: '{label}' is not a label of '{self.id}'")
        return self


class Condition(Labelled):
    """A flagged word's meaning. `serious` False: alone it is a remark (staining), not a defect.
    `source` says where the word comes from."""

    definition: Label
    serious: bool = True
    broader: Identifier | None = None
    source: Label


class Axis(StrEnum):
    """The axis a position lies on; one position per axis can hold at once."""

    SIDE = "side"
    NUMBER = "number"
    LENGTH = "length"
    HEIGHT = "height"
    SPAN = "span"


class Position(Labelled):
    """Which one: left/right, No. 1/No. 2... `opposite` is what "the other one" means."""

    axis: Axis
    opposite: Identifier | None = None


class Aspect(Labelled):
    """What is to be said of an item. `conditions` are flagged words that speak of it, present or absent
    ("no leaks" states the aspect leaks); `measured_in` are units (as pint spells them) of the kinds of
    quantity that a limit of it may have, none where it is not measured."""

    conditions: list[Identifier] = Field(default_factory=list)
    measured_in: list[Label] = Field(default_factory=list)


class Scope(StrEnum):
    """How far a cue reaches: to the end of its clause, of its sentence, or to the next target only."""

    CLAUSE = "clause"
    SENTENCE = "sentence"
    NEXT = "next"


class Direction(StrEnum):
    """Which way a cue reaches from where it stands (ConText, Harkema et al. 2009)."""

    FORWARD = "forward"
    BACKWARD = "backward"
    BOTH = "both"
    ALONE = "alone"


class CueCategory(StrEnum):
    """What a cue phrase does to the words in its scope (explained row by row in docs/pack-author.md)."""

    ABSENT = "absent"
    ANY = "any"
    PURPOSE = "purpose"
    SUPPOSED = "supposed"
    EXPECTED = "expected"
    RULE = "rule"
    ELSEWHERE = "elsewhere"
    IRONY = "irony"
    AFFIRMED = "affirmed"
    DENIED = "denied"
    NOW = "now"
    FILLER = "filler"
    HARMLESS = "harmless"
    EXCEPTION = "exception"
    CLOSING = "closing"
    WITHIN_LIMITS = "within_limits"
    SATISFACTORY = "satisfactory"
    UNSATISFACTORY = "unsatisfactory"
    NEGATION = "negation"
    NOT_INSPECTED = "not_inspected"
    NOT_FITTED = "not_fitted"
    PUT_RIGHT = "put_right"
    LATER_DONE = "later_done"
    BY_REFERENCE = "by_reference"
    HISTORY = "history"
    CORRECTION = "correction"
    GROUP = "group"
    TERMINATION = "termination"
    PSEUDO = "pseudo"
    PART = "part"


class Cue(PackModel):
    """One cue phrase. `phrase` is words as spoken, lower case; `a|b` gives alternatives for one word and
    `?` after a word makes it optional. `source` is a paper or "common practice"."""

    phrase: Label
    category: CueCategory
    direction: Direction
    scope: Scope = Scope.CLAUSE
    source: Label


class Limit(PackModel):
    """A generic limit, always an example: the approved data rule. `of` is the aspect it holds for; `unit` as
    pint spells it. Either `minimum`, `maximum` or both, inclusive; or a `nominal` value with a `tolerance`
    to either side in the same unit, or one in `percent` of it. `minimum` and `maximum` are then made of it."""

    of: Identifier
    unit: str
    minimum: float | None = None
    maximum: float | None = None
    nominal: float | None = None
    tolerance: Annotated[float, Field(gt=0)] | None = None
    percent: Annotated[float, Field(gt=0, lt=100)] | None = None
    example: bool = True

    @model_validator(mode="after")
    def _has_bounds(self) -> Limit:
        bounds = self.minimum is not None or self.maximum is not None
        margins = [margin for margin in (self.tolerance, self.percent) if margin is not None]
        if self.nominal is None and (margins or not bounds):
            raise ValueError(
                f"limit of '{self.of}': give minimum, maximum or both, or nominal with tolerance or percent"
            )
        if self.nominal is not None:
            margin = self.tolerance or abs(self.nominal) * (self.percent or 0.0) / 100
            made = (round(self.nominal - margin, 9), round(self.nominal + margin, 9))
            if len(margins) != 1 or (bounds and made != (self.minimum, self.maximum)):
                raise ValueError(
                    f"limit of '{self.of}': with nominal give tolerance or percent alone"
                )
            object.__setattr__(self, "minimum", made[0])
            object.__setattr__(self, "maximum", made[1])
        elif self.minimum is not None and self.maximum is not None and self.minimum > self.maximum:
            raise ValueError(f"limit of '{self.of}': minimum is above maximum")
        return self


class States(PackModel):
    """Words that state a result of this component only: `expected` is right ("in", "flush", "removed"),
    `adverse` is not ("out", "popped")."""

    expected: list[Label] = Field(default_factory=list)
    adverse: list[Label] = Field(default_factory=list)


class Component(Labelled):
    """A thing with a name. The same label may belong to several components ("tyre"): the zone being
    walked then decides. `aspects` are those to be stated; `kinds` give `states` that it shares with others of
    its kind (kinds.py); `ata` is a JASC/ATA number of two or four digits."""

    aspects: list[Identifier] = Field(min_length=1)
    kinds: list[Identifier] = Field(default_factory=list)
    states: States = Field(default_factory=States)
    limits: list[Limit] = Field(default_factory=list)
    ata: Annotated[str, StringConstraints(pattern=r"^\d{2}(\d{2})?$")] | None = None


class Zone(Labelled):
    """A stretch of the walk. `position`: where an item there that has this position is named without
    one, this is meant (the left side's tyre is the left tyre)."""

    position: list[Identifier] = Field(default_factory=list)


class SheetLine(PackModel):
    """A component in a zone, once per entry of `positions`. An entry is one position or several joined
    by a space ("left upper"); no entry: once, with no position."""

    component: Identifier
    positions: list[Label] = Field(default_factory=list)
    required: bool = True


class SheetZone(PackModel):
    """The lines of one zone, in walking order."""

    zone: Identifier
    lines: list[SheetLine] = Field(min_length=1)


class PackHead(PackModel):
    """pack.yaml: what the pack is, which positions mean the same thing here (No. 1 = left), on which side
    the driver sits ("driver's side" is neither left nor right where that is not said), and which names that
    sound alike (or like an everyday word) were looked at and stay."""

    name: Identifier
    title: Label
    version: Annotated[str, StringConstraints(pattern=r"^\d+\.\d+\.\d+$")]
    language: Label = "en"
    description: Label
    caution: Label
    same_position: list[tuple[Identifier, Identifier]] = Field(default_factory=list)
    driver_side: Literal["left", "right"] | None = None
    sounds_kept: list[tuple[Label, Label]] = Field(default_factory=list)

    @property
    def same_positions(self) -> list[tuple[str, str]]:
        """Pairs of positions that mean the same: those written, and what nearside and driver's side mean."""
        return [*self.same_position, *BY_DRIVER[self.driver_side]]

    def meant(self, position: str) -> str:
        """The position that a position id means here: the first of its pair."""
        same = {second: first for first, second in self.same_positions}
        for _ in same:
            position = same.get(position, position)
        return position


class Following(StrEnum):
    """What must follow a turning word at once."""

    COMPONENT = "component"
    CONDITION = "condition"


class TurningWord(PackModel):
    """A word that turns a meaning round, and words it is misheard as. It may be meant only where a name of
    a kind in `before` follows, a word in `after` goes before, and, if `alone`, its clause ends with it."""

    word: Label
    heard_as: list[Label] = Field(min_length=1)
    before: list[Following] = Field(default_factory=list)
    after: list[Label] = Field(default_factory=list)
    alone: bool = False
    source: Label


class Unit(PackModel):
    """A unit as it is said, and the unit it means as pint spells it."""

    said: list[Label] = Field(min_length=1)
    unit: Label


class SameKind(StrEnum):
    """Why several words mean the same: spelled otherwise, another dialect's word, or letters for a name."""

    SPELLING = "spelling"
    DIALECT = "dialect"
    LETTERS = "letters"


class SameWords(PackModel):
    """Words or phrases that mean the same wherever they stand in a label."""

    words: list[Label] = Field(min_length=2)
    kind: SameKind
