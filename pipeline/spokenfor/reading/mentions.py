"""Where the pack's terms are named, word for word."""

from __future__ import annotations

from collections.abc import Iterator

from spacy.language import Language
from spacy.tokens import Doc, Span, Token

from spokenfor.packs.load import load_pack
from spokenfor.packs.terms import Term, TermKind, compile_terms, label_words
from spokenfor.packs.wording import words_of
from spokenfor.reading.document import ASPECTS, MENTIONS, STATES, is_word, set_spans

# Where two terms of the same length overlap, the kind that comes first here is taken.
_ORDER = [TermKind.COMPONENT, TermKind.CONDITION, TermKind.ZONE, TermKind.POSITION]
_JOINING = {"-", "\u2013", "'"}


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
        found: dict[str, list[Span]] = {MENTIONS: [], STATES: [], ASPECTS: []}
        for sentence in doc.sents:
            windows = list(word_windows(sentence, self.longest + 2))
            found[MENTIONS] += self._pick(doc, windows, _ORDER)
            found[STATES] += self._pick(doc, windows, [TermKind.STATE])
            found[ASPECTS] += self._pick(doc, windows, [TermKind.ASPECT])
        for group, spans in found.items():
            set_spans(doc, group, spans)
        return doc

    def _pick(self, doc: Doc, windows: list[list[Token]], kinds: list[TermKind]) -> list[Span]:
        matches: list[tuple[int, int, int, int, Term]] = []
        for tokens in windows:
            key = "".join(token._.stem for token in tokens)
            for rank, kind in enumerate(kinds):
                term = self.terms[kind].get(key)
                if term is not None:
                    matches.append((-len(key), rank, tokens[0].i, tokens[-1].i + 1, term))
        taken: set[int] = set()
        spans = []
        for _, _, start, end, term in sorted(matches, key=lambda match: match[:4]):
            if taken.isdisjoint(range(start, end)):
                taken.update(range(start, end))
                spans.append(mention_span(doc, start, end, term))
        return sorted(spans, key=lambda span: span.start)


def word_windows(sentence: Span, longest: int) -> Iterator[list[Token]]:
    """Every run of up to `longest` words of a sentence with no mark but a hyphen between them."""
    run: list[Token] = []
    for token in sentence:
        if is_word(token):
            run.append(token)
            for size in range(1, min(longest, len(run)) + 1):
                yield run[-size:]
        elif token.text not in _JOINING and not _is_number_stop(run, token):
            run = []


def _is_number_stop(run: list[Token], token: Token) -> bool:
    """The stop of "No. 1"."""
    return (
        token.text == "." and bool(run) and run[-1]._.key == "number" and run[-1].i == token.i - 1
    )


def mention_span(doc: Doc, start: int, end: int, term: Term) -> Span:
    """A span of a mention, with its term and whether it was said in the plural."""
    span = Span(doc, start, end, label=term.kind.value)
    extension = term.kind.value if term.kind in (TermKind.STATE, TermKind.ASPECT) else "term"
    span._.set(extension, term)
    last = doc[end - 1]
    labelled = words_of(term.label)[-1]
    span._.plural = last._.key != last._.stem and labelled == last._.stem
    return span
