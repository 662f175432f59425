"""The common stock of inspectors' words (stock/*.txt), said of things of the packs that ship.

All of it is *common practice*: short words that anybody uses of any sheet, no narrator's own. A line of good.txt,
bad.txt and other.txt is `verdict | kind | words, words...` (a comma inside words is written " ;"), of kinds.txt
`verdict | pack zone component name | words...`. A line of sentences.txt is `A=verdict B=verdict | sentence`. Words and
sentences with "!" before them are read wrongly still.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from tests.reading.labelled_sentences import verdict_of
from tests.reading.test_structure import AEROPLANE, HELICOPTER, LORRY, pipeline
from tests.spoken import spoken

from spokenfor.models import Statement
from spokenfor.packs.load import load_pack
from spokenfor.reading.pipeline import read

STOCK = Path(__file__).resolve().parent / "stock"
THINGS = (
    (HELICOPTER, "rotor-head", "pitch-link", "pitch link"),
    (LORRY, "left-drive-axle", "mudguard", "mudguard"),
    (AEROPLANE, "propeller", "spinner", "spinner"),
)
THREE_THINGS = (
    (HELICOPTER, "rotor-head", ("pitch-link", "swashplate", "scissor-link")),
    (LORRY, "left-trailer-side", ("side-guard", "landing-leg", "trailer-air-tank")),
    (AEROPLANE, "right-engine-side", ("engine-mount", "alternator", "vacuum-pump")),
)
FRAMES = {
    "adj": ("{Name}, {words}.", "The {name} is {words}.", "{Name}'s {words}.", "{Name} {words}."),
    "verb": ("The {name} {words}.", "{Name} {words}."),
    "noun": ("{Name}, {words}.", "The {name} has {words}.", "There's {words} on the {name}."),
    "say": ("{Name}, {words}.", "{Name}. {Words}."),
}
OF_A_KIND = ("{Name}, {words}.", "{Name} {words}.")


@dataclass(frozen=True)
class Stock:
    """Words of the stock in one sentence: what they are to come to, and of what."""

    verdict: str
    words: str
    sentence: str
    pack: str
    zone: str
    component: str
    known_wrong: bool

    def read(self) -> list[str]:
        """The verdicts that the component comes to, one for each of its lines that anything was said of."""
        found = verdicts_of(self.pack, self.zone, self.sentence)
        return [verdict for name, verdict in found if name == self.component]

    def is_right(self, verdicts: list[str]) -> bool:
        """Whether every line came to the verdict; of a fault, whether any did ("one's out")."""
        if self.verdict == "defect":
            return "defect" in verdicts
        return bool(verdicts) and set(verdicts) == {self.verdict}


def verdicts_of(pack: str, zone: str, sentence: str) -> list[tuple[str, str]]:
    """Component and verdict of each line that a sentence said in a zone speaks of."""
    zones = {one.id: one.prefLabel for one in load_pack(pack).zones}
    by_item = defaultdict[str, list[Statement]](list)
    said = spoken(f"Now the {zones[zone]}. {sentence}")
    for one in read(said, pack, pipeline(pack)).statements:
        if one.item:
            by_item[one.item].append(one)
    return [(item.split(".")[1], verdict_of(ones)) for item, ones in by_item.items()]


@dataclass(frozen=True)
class Sentence:
    """A sentence about up to three things of a zone: what each is to come to, by component."""

    expected: dict[str, str]
    sentence: str
    pack: str
    zone: str
    known_wrong: bool

    def wrong(self) -> dict[str, str]:
        """What came of each component that did not come out as expected ("nothing" where nothing did)."""
        found = dict(verdicts_of(self.pack, self.zone, self.sentence))
        read_as = {name: found.get(name, "nothing") for name in self.expected}
        return {name: got for name, got in read_as.items() if got != self.expected[name]}


def sentences(whole: bool) -> Iterator[Sentence]:
    """The sentences of sentences.txt: each of the things of every pack if `whole`, else of one, in turn."""
    told = [line.split(" | ", 1) for line in _lines("sentences.txt")]
    for turn, (verdicts, text) in enumerate(told):
        things = THREE_THINGS if whole else (THREE_THINGS[turn % len(THREE_THINGS)],)
        for pack, zone, components in things:
            names = [load_pack(pack).components[one].prefLabel for one in components]
            names = [one.removeprefix("trailer ") for one in names]
            written = dict(zip("abc", names, strict=True))
            written |= {one.upper(): _capital(name) for one, name in written.items()}
            expected = dict(one.removeprefix("!").split("=") for one in verdicts.split())
            yield Sentence(
                {components["ABC".index(letter)]: verdict for letter, verdict in expected.items()},
                text.format(**written),
                pack,
                zone,
                verdicts.startswith("!"),
            )


@dataclass(frozen=True)
class Naming:
    """A sentence that names a component and states nothing of it."""

    sentence: str
    pack: str
    zone: str
    known_wrong: bool

    def results(self) -> list[str]:
        """The results that it is read as all the same."""
        found = [verdict for _, verdict in verdicts_of(self.pack, self.zone, self.sentence)]
        return [one for one in found if one in ("satisfactory", "defect", "put_right")]


def namings(each: int) -> Iterator[Naming]:
    """The sentences of no_result.txt, said of so many components of each pack in turn."""
    frames = _lines("no_result.txt")
    for name in (HELICOPTER, LORRY, AEROPLANE):
        pack = load_pack(name)
        walked = list({item.component: item.zone for item in pack.items}.items())
        for turn, frame in enumerate(frames):
            for step in range(each):
                component, zone = walked[(7 * turn + 13 * step) % len(walked)]
                told, wrong = pack.components[component], frame.startswith("!")
                # What is no flaw by its name ("security"), so that naming it tells of none.
                aspects = [pack.aspects[one] for one in told.aspects]
                aspect = next((one.prefLabel for one in aspects if not one.conditions), "condition")
                said = frame.removeprefix("!").replace("{a}", aspect)
                said = said.replace("{n}", told.prefLabel)
                said = said.replace("{N}", _capital(told.prefLabel))
                yield Naming(said, name, zone, wrong)


def _phrases(name: str) -> Iterator[tuple[str, str, list[tuple[str, bool]]]]:
    for line in _lines(name):
        verdict, what, words = (part.strip() for part in line.split("|"))
        each = [one.strip().replace(" ;", ",") for one in words.split(", ")]
        yield verdict, what, [(one.removeprefix("!"), one.startswith("!")) for one in each]


def _lines(name: str) -> list[str]:
    """The lines of a file of the stock that are no notes."""
    lines = (STOCK / name).read_text("utf-8").splitlines()
    return [line for line in lines if line and not line.startswith("#")]


def _framed(frame: str, name: str, words: str) -> str:
    return frame.format(name=name, Name=_capital(name), words=words, Words=_capital(words))


def _capital(text: str) -> str:
    return text[0].upper() + text[1:]


def general(whole: bool) -> Iterator[Stock]:
    """The words that are said of anything: each in every frame and of every thing if `whole`, else in one frame
    of one thing, in turn."""
    turn = 0
    for name in ("good.txt", "bad.txt", "other.txt"):
        for verdict, kind, phrases in _phrases(name):
            for words, wrong in phrases:
                frames, things = FRAMES[kind], THINGS
                if not whole:
                    frames = (frames[turn % len(frames)],)
                    things = (things[turn // len(FRAMES[kind]) % len(things)],)
                turn += 1
                for pack, zone, component, called in things:
                    for frame in frames:
                        said = _framed(frame, called, words)
                        yield Stock(verdict, words, said, pack, zone, component, wrong)


def of_kinds(whole: bool) -> Iterator[Stock]:
    """The words that are said of things of a kind: in both frames if `whole`, else in one, in turn."""
    for verdict, what, phrases in _phrases("kinds.txt"):
        pack, zone, component, called = what.split(" ", 3)
        for turn, (words, wrong) in enumerate(phrases):
            for frame in OF_A_KIND if whole else (OF_A_KIND[turn % 2],):
                said = _framed(frame, called, words)
                yield Stock(verdict, words, said, pack, zone, component, wrong)
