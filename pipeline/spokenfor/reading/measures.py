"""Measured numbers in a run of words: a number with its unit, and how exactly it was said."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from spokenfor.packs.wording import singular
from spokenfor.reading.manners import (
    ADDED,
    AFTER,
    BEFORE,
    BOUND_WORDS,
    HELD_AGAINST,
    LEANS,
    LIMIT_WORDS,
    LINKS,
    OTHER_THINGS,
    SIZES,
    VOLUMES,
    Bound,
    Lean,
    Manner,
)
from spokenfor.reading.number_names import BREAK, name_length
from spokenfor.reading.numbers import fraction_at, number_at

Units = Mapping[tuple[str, ...], str]
_SECONDS = {"second": 1, "minute": 60, "hour": 3600, "day": 86400}
DROPS = ("drop", "drip")
_ARTICLES = ("a", "an")
# "A bar" is a rod and "a degree of" a manner of speaking; these units need a number.
_NEVER_A = ("bar", "degree", "hour", "foot", "percent", "pound", "volt")
_MOST_LISTED = 4


@dataclass(frozen=True)
class Measure:
    """A number with its unit in words[first:after]; of a range each end is one, and `whole` spans both.

    `manner`: how exactly it was said; `lean` and `bound`: it is a distance from a limit ("two mil under the
    minimum"); `apart`: a difference, an age or something added, no reading; `size`: how long or deep
    something is; `limit`: a limit that was quoted, nothing measured; `ranged`: one end of a range.
    """

    value: float
    unit: str
    first: int
    after: int
    manner: Manner = Manner.EXACT
    lean: Lean | None = None
    bound: Bound | None = None
    apart: bool = False
    size: bool = False
    limit: bool = False
    ranged: bool = False
    whole: tuple[int, int] = (0, 0)


def measures(words: Sequence[str], units: Units) -> list[Measure]:
    """All measures of a sentence, in order, and numbers without a unit (`unit` "").

    `words` are lower case, a mark that parts is ","; `units` maps a unit's words (singular) to the unit as
    pint spells it.
    """
    return list(_Reader(words, units).read())


class _Reader:
    def __init__(self, words: Sequence[str], units: Units) -> None:
        self.words = words
        self.stems = [singular(word) for word in words]
        self.units = units
        self.longest = max(map(len, units))

    def read(self) -> Iterator[Measure]:
        index = 0
        while index < len(self.words):
            name = name_length(self.words, index)
            if name and not (self._word(index - 1) == BREAK and self._is_measure(index)):
                index += name
                continue
            found, after = self._at(index)
            yield from found
            index = max(after, index + 1)

    def _is_measure(self, index: int) -> bool:
        """Whether a number has a unit ("number two, *eighty eight psi*")."""
        number = number_at(self.words, index)
        return number is not None and self._unit(number[1], 0)[0] is not None

    def _word(self, index: int) -> str:
        return self.words[index] if 0 <= index < len(self.words) else ""

    def _at(self, index: int) -> tuple[list[Measure], int]:
        numbers, joints, after = (
            self._numbers(index) if not self._bare_unit(index) else ([(1, index)], [], index)
        )
        if not numbers:
            return [], index + 1
        unit, value, end = self._unit(after, numbers[-1][0])
        if unit is None and self._word(after) == "of" and self._word(after + 1) in _ARTICLES:
            unit, value, end = self._unit(after + 2, numbers[-1][0])  # "point one of a millimetre"
        if unit is None:
            bare = (index, numbers[0][1])
            return [Measure(numbers[0][0], "", *bare, whole=bare)], numbers[0][1]
        first, manner = self._before(index)
        last = self._after(Measure(value, unit, first, end, manner))
        starts = [first, *(number_end + 1 for _, number_end in numbers[:-1])]
        between = self._word(first - 1) == "between"
        ranged = bool(joints) and (between or joints[-1] not in ("and", "by"))
        said = (first - between, last.after)
        found = [
            replace(last, value=number, first=start, after=number_end, ranged=ranged)
            for (number, number_end), start in zip(numbers[:-1], starts, strict=False)
        ]
        found.append(replace(last, first=starts[-1], ranged=ranged))
        return [
            replace(one, whole=said if ranged else (one.first, one.after)) for one in found
        ], last.after

    def _bare_unit(self, index: int) -> bool:
        """ "Inch and a half"."""
        _, _, after = self._unit(index, 1)
        part = fraction_at(self.words, after + 1) if self._word(after) == "and" else None
        return after > index and part is not None and self._unit(part[1], 0)[0] is None

    def _numbers(self, index: int) -> tuple[list[tuple[float, int]], list[str], int]:
        """Numbers that share a unit ("88 and 92", "ten to twelve"), what joins them, and where the unit is
        to stand."""
        word = self._word(index)
        first = number_at(self.words, index)
        if first is None and word in _ARTICLES:
            unit, _, _ = self._unit(index + 1, 1)
            one_of = unit is not None and not unit.startswith(_NEVER_A)
            return ([(1.0, index + 1)], [], index + 1) if one_of else ([], [], index)
        if first is None:
            return [], [], index
        numbers, joints = [first], []
        while len(numbers) < _MOST_LISTED and self._unit(numbers[-1][1], 0)[0] is None:
            joint = self._word(numbers[-1][1])
            more = number_at(self.words, numbers[-1][1] + 1)
            if joint not in ("to", "or", "and", "by", "through", BREAK) or more is None:
                break
            numbers.append(more)
            joints.append(joint)
        plain = self._unit(numbers[-1][1], 0)[0] is not None
        if joints and (not plain or joints[-1] == BREAK):
            return [first], [], first[1]
        return numbers, joints, numbers[-1][1]

    def _unit(self, index: int, value: float) -> tuple[str | None, float, int]:
        """The unit at `index`, the value in it, and the index after it."""
        for size in range(self.longest, 0, -1):
            said = tuple(self.stems[index : index + size])
            unit = self.units.get(said)
            if unit is not None and len(said) == size:
                return self._rate(unit, value, index + size)
        if self._word(index) and self.stems[index] in DROPS:
            rate = self._rate("count", value, index + 1)
            if rate[0] != "count":
                return rate
        return None, value, index

    def _rate(self, unit: str, value: float, index: int) -> tuple[str, float, int]:
        """ "... a minute", "... every ten seconds"."""
        start = index
        joint = self._word(index)
        if joint in ("a", "an", "per", "each", "every", "in", "the"):
            number = number_at(self.words, index + 1) if joint in ("in", "every") else None
            one = index + 1 + (joint == "in" and self._word(index + 1) in ("a", "one"))
            times, index = number if number is not None else (1.0, one)
            time = singular(self._word(index))
            if time in _SECONDS and (joint != "in" or index > start + 1):
                if times == 1:
                    return f"{unit} / {time}", value, index + 1
                return f"{unit} / minute", value * 60 / (times * _SECONDS[time]), index + 1
        return unit, value, start

    def _before(self, index: int) -> tuple[int, Manner]:
        """Where the words of manner before a number begin, and what they say."""
        for size in range(4, 0, -1):
            phrase = " ".join(self.words[max(0, index - size) : index])
            if index >= size and phrase in BEFORE:
                return index - size, BEFORE[phrase]
        return index, Manner.EXACT

    def _after(self, one: Measure) -> Measure:
        """A measure with what the words behind its unit make of it."""
        one = self._added_fraction(one)
        one = self._give_or_take(one)
        for size in range(3, 0, -1):
            phrase = " ".join(self.words[one.after : one.after + size])
            if phrase in AFTER:
                one = replace(one, after=one.after + size, manner=AFTER[phrase])
                break
        one = self._distance(one)
        following = self._word(one.after)
        two = f"{following} {self._word(one.after + 1)}"
        clock = one.unit == "hour" and self._word(one.first - 1) in ("at", "by", ":")
        return replace(
            one,
            size=two in SIZES or (following in SIZES and not self._crosses(one.after)),
            apart=one.apart
            or following in OTHER_THINGS
            or two in OTHER_THINGS
            or self._is_added(one),
            limit=self._quoted_limit(one) or clock,
        )

    def _is_added(self, one: Measure) -> bool:
        """Whether something was put in or taken out; "with" only adds a volume ("with *five mil* of tread")."""
        before = self._word(one.first - 1)
        return before in ADDED and (before != "with" or one.unit in VOLUMES)

    def _crosses(self, index: int) -> bool:
        """Whether "across" says where a number was taken ("eight mil *across the tread*"), not how wide a mark
        is."""
        return self._word(index) == "across" and self._word(index + 1) in ("the", "its", "both")

    def _added_fraction(self, one: Measure) -> Measure:
        """ "An inch and a half"."""
        if self._word(one.after) != "and" or one.value != int(one.value):
            return one
        part = fraction_at(self.words, one.after + 1)
        if part is None or self._unit(part[1], 0)[0] is not None:
            return one
        return replace(one, value=one.value + part[0], after=part[1])

    def _give_or_take(self, one: Measure) -> Measure:
        """ "Ninety psi plus or minus two"."""
        for joint in (["plus", "or", "minus"], ["±"], ["give", "or", "take"]):
            start = one.after + len(joint)
            if list(self.words[one.after : start]) == joint:
                margin = number_at(self.words, start)
                end = start if margin is None else self._unit(margin[1], 0)[2]
                return replace(one, after=end, manner=Manner.ABOUT)
        return one

    def _distance(self, one: Measure) -> Measure:
        """ "Two psi below the minimum", "a mil off the limit"; "two mil of the limit" only behind "within"."""
        within = one.manner is Manner.AT_MOST and self._word(one.first).endswith("within")
        for size in (2, 1):
            phrase = " ".join(self.words[one.after : one.after + size])
            lean = Lean.INSIDE if within and phrase == "of" else LEANS.get(phrase)
            if lean is None:
                continue
            index = one.after + size
            while self._word(index) in (
                "the",
                "its",
                "our",
                "lower",
                "upper",
                "bottom",
                "top",
                "wear",
            ):
                index += 1
            bound = BOUND_WORDS.get(self.stems[index]) if self._word(index) else None
            if bound is not None:
                return replace(one, after=index + 1, lean=lean, bound=bound)
        return replace(one, apart=True) if within and self._word(one.after) == "of" else one

    def _quoted_limit(self, one: Measure) -> bool:
        """Whether a limit is quoted: "the limit is two mil", "the limit for that is two mil", "two mil is the
        limit", "anything over two mil"."""
        if one.lean is not None:
            return False
        index = one.first - 1
        while self._word(index) in LINKS:
            index -= 1
        if self._word(one.first - 1) in ("is", "of"):
            while self._word(index) not in (BREAK, "") and not self._is_limit(index):
                index -= 1
        if self._is_limit(index):
            index -= 1
            while self._word(index) in ("the", "its"):
                index -= 1
            return self._word(index) not in HELD_AGAINST
        index = one.after
        while self._word(index) in ("is", "the", "our", "its", "being", "as"):
            index += 1
        return bool(self._word(index)) and self.stems[index] in BOUND_WORDS

    def _is_limit(self, index: int) -> bool:
        return singular(self._word(index).removesuffix("'s")) in LIMIT_WORDS
