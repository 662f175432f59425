"""What words around a measured number say of it: how exact it is, how it stands to a limit.

All phrases: *common practice* of spoken English.
"""

from __future__ import annotations

from enum import StrEnum


class Manner(StrEnum):
    """How exactly a number was said. LESS and MORE leave open by how much, JUST_UNDER and JUST_OVER do not."""

    EXACT = "exact"
    ABOUT = "about"
    JUST_UNDER = "just_under"
    JUST_OVER = "just_over"
    LESS = "less"
    MORE = "more"
    AT_MOST = "at_most"
    AT_LEAST = "at_least"


class Lean(StrEnum):
    """Which side of a limit a number is a distance on: below or above it, or on its good or bad side."""

    BELOW = "below"
    ABOVE = "above"
    INSIDE = "inside"
    BEYOND = "beyond"


class Bound(StrEnum):
    """Which limit was named."""

    MINIMUM = "minimum"
    MAXIMUM = "maximum"
    LIMIT = "limit"


def _phrases(table: dict[Manner, str]) -> dict[str, Manner]:
    return {phrase.strip(): kind for kind, said in table.items() for phrase in said.split(",")}


BEFORE = _phrases(
    {
        Manner.ABOUT: "about, around, round about, roughly, approximately, approx, circa, something like, "
        "somewhere around, somewhere about, somewhere near, in the region of, more or less",
        Manner.JUST_UNDER: "nearly, almost, not quite, just under, just below, just short of, just shy of, "
        "a bit under, bit under, a touch under, a shade under, a little under, slightly under, slightly below, "
        "getting on for, the best part of",
        Manner.JUST_OVER: "just over, just above, a bit over, bit over, a touch over, a shade over, "
        "a little over, slightly over, slightly above, a good",
        Manner.LESS: "less than, under, below, well under, well below, fewer than",
        Manner.MORE: "more than, over, above, well over, well above, upwards of, in excess of, "
        "better than, greater than",
        Manner.AT_MOST: "at most, no more than, not more than, not over, within, to within, "
        "anything up to",
        Manner.AT_LEAST: "at least, no less than, not less than",
        Manner.EXACT: "exactly, bang on, dead on, spot on",
    }
)
AFTER = _phrases(
    {
        Manner.ABOUT: "or so, or thereabouts, odd, ish, roughly, approximately, give or take, "
        "near enough, or near enough, or about that",
        Manner.AT_MOST: "at most, at the most, or less, or under, tops",
        Manner.AT_LEAST: "at least, at the least, or more, or over",
    }
)
LEANS = {
    "below": Lean.BELOW,
    "under": Lean.BELOW,
    "short of": Lean.BELOW,
    "shy of": Lean.BELOW,
    "above": Lean.ABOVE,
    "over": Lean.ABOVE,
    "inside": Lean.INSIDE,
    "within": Lean.INSIDE,
    "off": Lean.INSIDE,
    "from": Lean.INSIDE,
    "away from": Lean.INSIDE,
    "clear of": Lean.INSIDE,
    "to": Lean.INSIDE,
    "beyond": Lean.BEYOND,
    "past": Lean.BEYOND,
    "outside": Lean.BEYOND,
    "out of": Lean.BEYOND,
}
BOUND_WORDS = {
    "minimum": Bound.MINIMUM,
    "min": Bound.MINIMUM,
    "maximum": Bound.MAXIMUM,
    "max": Bound.MAXIMUM,
    "limit": Bound.LIMIT,
    "tolerance": Bound.LIMIT,
}
# A limit is quoted where only these stand between such a word and the number.
LIMIT_WORDS = frozenset(
    "limit minimum min maximum max tolerance allowance allowed allowable permitted permissible "
    "anything".split()
)
LINKS = frozenset(
    "is are was of at being be for that this these it here there the on says up to over under above "
    "below between from about around less more than which".split()
)
# ... unless one of these stands before it: "within limits at two mil" is measured.
HELD_AGAINST = frozenset(
    "within inside in beyond over outside of exceeds exceeding under below above on at near".split()
)
# Behind these a number is a name.
LABELS = frozenset(
    "number no blade blades system systems engine engines item line part station frame cylinder page "
    "figure version section stage step row channel".split()
)
# Behind these, "one" is a thing and not a number.
NOT_ONE = frozenset(
    "this that the each every which any another other left right first last next no front rear upper "
    "lower top bottom inner outer good bad new old forward aft only same".split()
)
# Behind a unit: how big something is.
SIZES = frozenset(
    ["long", "wide", "across", "in diameter", "in length", "in width", "square", "round"]
)
# Behind a unit: a difference, a distance or an age, no reading of the thing itself.
OTHER_THINGS = frozenset(
    phrase.strip()
    for phrase in "ago, old, since, low, high, short, light, down, off, apart, different, difference, less, "
    "lower, higher, lighter, heavier, from, above, below, over, under, up, check, inspection, service, "
    "interval, to go, to run, too low, too high, too much, too little, out of, of travel".split(",")
)
VOLUMES = ("liter", "milliliter", "pint", "quart", "gallon")
# Before a number: something put in or taken out, no reading.
ADDED = frozenset(
    "by with another added adding add extra poured drained lost used topped filled takes holds".split()
)
