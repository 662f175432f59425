"""What a written cell of a check sheet says: short forms spelled out, name and checks told apart."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from pydantic import Field

from spokenfor.packs.load import vocabulary_root
from spokenfor.packs.phones import in_dictionary, is_spelled_out
from spokenfor.packs.reader import Reader
from spokenfor.packs.schema import Aspect, Condition, Label, PackModel
from spokenfor.packs.wording import match_key, words_of

_NUMBERING = re.compile(
    r"^\s*(?:\d+(?:\.\d+)+\.?|\d+[.)]|[A-Za-z][.)]|[-\u2022*\u25a1\u2610])\s*(?=[A-Za-z#(])"
)
_VERB = re.compile(
    r"^(?:(?:visual|visually|please)\s+)?(?:check|inspect|ensure|verify|test|examine|look at|confirm|make sure)"
    r"(?:\s+(?:that|the|of|all|operation of|condition of|security of))*\s+"
)
_TAIL = re.compile(
    r"\s+[-:;]\s*|[:;]\s+|\s+(?:for|between|is|are|must be|to be|free of|free from)\s+|\s*\("
)
OPTIONAL = re.compile(
    r"\b(?:if|where|when) (?:fitted|installed|equipped|applicable)\b|\boptional\b"
)
_SHORT_TOKEN = re.compile(r"[^\s,;:()\[\]&+]+")


class Abbreviation(PackModel):
    """Short forms as written, and the words that they stand for."""

    short: list[Label] = Field(min_length=1)
    long: Label


@dataclass(frozen=True)
class Cell:
    """A cell with an item in it: `name` and what is to be looked at, in lower case but for letters spoken one
    by one; `inside` is what stood in brackets."""

    name: str
    checks: str
    inside: list[str]


class SheetWords:
    """The short forms of check sheets, ready to be spelled out."""

    def __init__(self) -> None:
        path = vocabulary_root() / "common" / "abbreviations.yaml"
        rows = Reader().read(path, "abbreviations", list[Abbreviation])
        self._long = {_bare(short): row.long for row in rows for short in row.short}
        self._searched = re.compile(r"(?<![\w.])([A-Za-z][A-Za-z']{1,5})\.(?!\w)")

    def spelled_out(self, text: str) -> str:
        """A text with its short forms spelled out, in lower case but for letters spoken one by one."""
        text = text.replace("\u2013", "-").replace("\u2014", "-").replace("\u2019", "'")
        text = re.sub(
            r"\b([LR])/?H\s*/\s*([LR])/?H\b",
            lambda sides: f"{sides[1]}H & {sides[2]}H",
            text,
            flags=re.I,
        )
        shouting = text.upper() == text
        return " ".join(_SHORT_TOKEN.sub(lambda one: self._word(one[0], shouting), text).split())

    def unknown(self, text: str) -> list[str]:
        """Words of a text that end in a full stop, are no known short form and stand in no dictionary."""
        return [
            one[0]
            for one in self._searched.finditer(text)
            if _bare(one[1]) not in self._long and not in_dictionary(one[1].lower())
        ]

    def _word(self, token: str, shouting: bool) -> str:
        known = self._long.get(_bare(token))
        if known is not None:
            return known
        if "/" in token and len(token) > 3:
            return " / ".join(self._word(part, shouting) for part in token.split("/") if part)
        if is_spelled_out(token) and not (shouting and in_dictionary(token.lower())):
            return token
        bare = token.rstrip(".") if not token[:-1].replace(".", "").isdecimal() else token
        return bare.lower()

    def read(self, text: str) -> Cell:
        """The item that a cell names, and what is to be looked at."""
        words = self.spelled_out(_NUMBERING.sub("", text))
        words = OPTIONAL.sub(" ", words)
        inside = [one.strip() for one in re.findall(r"[(\[]([^)\]]*)[)\]]", words) if one.strip()]
        words = " ".join(re.sub(r"[(\[][^)\]]*[)\]]", " ", words).split())
        looked = _VERB.match(words)
        words = words[looked.end() :] if looked else words
        tail = _TAIL.search(words)
        name = words[: tail.start()] if tail else words
        checks = words[tail.start() :] if tail else ""
        return Cell(_trimmed(name), checks.strip(" -:;()"), inside)


def _bare(short: str) -> str:
    """A short form without case, full stops and apostrophes."""
    return re.sub(r"[.'\u2019]", "", short.lower())


def _trimmed(name: str) -> str:
    """A name without articles and marks at its ends."""
    name = re.sub(r"^(?:the|a|an|all|any)\s+", "", name.strip(" -:;,./&+*_"))
    return " ".join(re.sub(r"\s[&+]\s", " and ", name).split())


def parts_of(name: str) -> list[str]:
    """The things that a cell lists: parted by strokes, or by commas where there are three or all are plural.
    With one comma the trade's inverted order is read forwards ("pump, hydraulic")."""
    parts = [one.strip() for one in re.split(r"\s*/\s*|\s*;\s*", name) if one.strip()]
    found = []
    for part in parts:
        listed = [one.strip() for one in part.split(",") if one.strip()]
        if len(listed) == 2 and not all(one.endswith("s") for one in listed):
            listed = [f"{listed[1]} {listed[0]}"]
        found += [_trimmed(re.sub(r"^(?:and|&)\s+", "", one)) for one in listed]
    return [one for one in found if re.search(r"[a-zA-Z]{2}", one)]


def _key(words: Iterable[str]) -> str:
    """The match key of words without articles, which sheets save ("between marks")."""
    return match_key(" ".join(word for word in words if word not in ("the", "a", "an")))


class SheetAspects:
    """The aspects of a vocabulary, ready to be found in what a sheet asks for."""

    def __init__(self, aspects: Mapping[str, Aspect], conditions: Iterable[Condition]) -> None:
        self._by_key: dict[str, str] = {}
        for condition in conditions:
            speaks = [name for name, aspect in aspects.items() if condition.id in aspect.conditions]
            for label in condition.labels if speaks else ():
                self._by_key.setdefault(_key(words_of(label)), speaks[0])
        for name, aspect in aspects.items():
            for label in [name, *aspect.labels]:
                self._by_key[_key(words_of(label))] = name
        self._longest = 4

    def find(self, text: str) -> list[str]:
        """Ids of the aspects that a text asks for, in the order asked."""
        words = words_of(text)
        found: list[str] = []
        at = 0
        while at < len(words):
            for size in range(min(self._longest, len(words) - at), 0, -1):
                name = self._by_key.get(_key(words[at : at + size]))
                if name is not None:
                    found.append(name)
                    break
            else:
                size = 1
            at += size
        return list(dict.fromkeys(found))
