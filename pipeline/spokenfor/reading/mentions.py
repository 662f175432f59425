"""Where the pack's terms are named, word for word."""

from __future__ import annotations

from collections.abc import Iterator

from spacy.language import Language
from spacy.tokens import Doc, Span

from spokenfor.packs.load import load_pack
from spokenfor.packs.terms import Term, TermKind, compile_terms, label_words
from spokenfor.packs.wording import SMALL_NUMBERS, words_of
from spokenfor.reading.document import ASPECTS, MENTIONS, STATES, key_of, set_spans, table_of
from spokenfor.reading.left_over import is_amount

# Where two terms of the same length overlap, the kind that comes first here is taken.
_ORDER = [TermKind.COMPONENT, TermKind.CONDITION, TermKind.ZONE, TermKind.POSITION]
_JOINING = {"-", "\u2013", "'"}


# How a term stands in a sentence: minus its length, rank of its kind, start and end token, the term.
Match = tuple[int, int, int, int, Term]


@Language.factory("spokenfor_mentions", default_config={"pack": ""})
def create_mentions(nlp: Language, name: str, pack: str) -> Mentions:
    return Mentions(pack)


class Mentions:
    """Fills the span groups `mentions` (components, conditions, zones, positions; never overlapping,
    longest first), `states` and `aspects` (each by itself, as they may lie inside other phrases)."""

    def __init__(self, pack: str) -> None:
        self.terms = compile_terms(load_pack(pack))
        self.longest = max(
            label_words(term) for terms in self.terms.values() for term in terms.values()
        )

    def __call__(self, doc: Doc) -> Doc:
        stems = [_number(stem) for stem in table_of(doc).stem]
        found: dict[str, list[Span]] = {MENTIONS: [], STATES: [], ASPECTS: []}
        for sentence in doc.sents:
            windows = [
                (inside, "".join([stems[at] for at in inside]))
                for inside in word_windows(sentence, self.longest + 2)
            ]
            found[MENTIONS] += [
                span
                for span in self._pick(doc, windows, _ORDER)
                if not (len(span) == 1 and is_amount(doc, span.start, sentence.start))
            ]
            found[STATES] += self._pick(doc, windows, [TermKind.STATE])
            found[ASPECTS] += self._pick(doc, windows, [TermKind.ASPECT])
        for group, spans in found.items():
            set_spans(doc, group, spans)
        return doc

    def _pick(
        self, doc: Doc, windows: list[tuple[list[int], str]], kinds: list[TermKind]
    ) -> list[Span]:
        matches: list[Match] = []
        for inside, key in windows:
            for rank, kind in enumerate(kinds):
                term = self.terms[kind].get(key)
                if term is not None:
                    matches.append((-len(key), rank, inside[0], inside[-1] + 1, term))
        if TermKind.ZONE in kinds:
            matches = _without_heads(matches)
        taken: set[int] = set()
        spans = []
        for _, _, start, end, term in sorted(matches, key=lambda match: match[:4]):
            if taken.isdisjoint(range(start, end)):
                taken.update(range(start, end))
                spans.append(mention_span(doc, start, end, term))
        return sorted(spans, key=lambda span: span.start)


def _without_heads(matches: list[Match]) -> list[Match]:
    """Matches without the names of zones that only begin the name of a component ("left main gear leg")."""
    zones = [one for one in matches if one[-1].kind is TermKind.ZONE]
    if not zones:
        return matches
    names = [one for one in matches if one[-1].kind is TermKind.COMPONENT]
    heads = [zone for zone in zones if any(zone[2] < name[2] < zone[3] < name[3] for name in names)]
    return [one for one in matches if one not in heads]


def _number(stem: str) -> str:
    """A number as a digit, also where it was said as an owner ("number one's pump")."""
    return SMALL_NUMBERS.get(stem, stem)


def word_windows(sentence: Span, longest: int) -> Iterator[list[int]]:
    """Every run of up to `longest` words of a sentence, as token indices, with no mark but a hyphen (or the
    stop of "No. 1" and "T.G.B.") between them."""
    keys = table_of(sentence.doc).key
    run: list[int] = []
    for at in range(sentence.start, sentence.end):
        key = keys[at]
        if key[0].isalnum():
            run.append(at)
            for size in range(1, min(longest, len(run)) + 1):
                yield run[-size:]
        elif key not in _JOINING and not (
            key == "." and run and run[-1] == at - 1 and _shortened(keys[at - 1])
        ):
            run = []


def _shortened(key: str) -> bool:
    """Whether a full stop behind a word ends no sentence: "No. 1", letters spoken one by one ("T.G.B.")."""
    return key == "number" or (len(key) == 1 and key.isalpha())


def mention_span(doc: Doc, start: int, end: int, term: Term) -> Span:
    """A span of a mention, with its term and whether it was said in the plural."""
    span = Span(doc, start, end, label=term.kind.value)
    extension = term.kind.value if term.kind in (TermKind.STATE, TermKind.ASPECT) else "term"
    span._.set(extension, term)
    last = doc[end - 1]
    labelled = words_of(term.label)[-1]
    said = key_of(last).partition("'")[0]
    span._.plural = said != last._.stem and labelled == last._.stem
    return span
