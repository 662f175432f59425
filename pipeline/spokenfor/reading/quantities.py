"""Numbers with units, and how they stand to a component's limits (units by pint)."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from spacy.language import Language
from spacy.tokens import Doc, Span, Token

from spokenfor.models import Quantity
from spokenfor.packs.load import load_pack
from spokenfor.packs.schema import Component, Limit
from spokenfor.packs.wording import singular
from spokenfor.reading.document import QUANTITIES, set_spans
from spokenfor.reading.numbers import number_at

if TYPE_CHECKING:
    from pint import UnitRegistry


@Language.factory("spokenfor_quantities", default_config={"pack": ""})
def create_quantities(nlp: Language, name: str, pack: str) -> Quantities:
    return Quantities(pack)


class Quantities:
    """Fills the span group `quantities`: a number followed by a unit."""

    def __init__(self, pack: str) -> None:
        self.units = {
            tuple(singular(word.lower()) for word in said.split()): unit.unit
            for unit in load_pack(pack).units
            for said in unit.said
        }
        self.longest = max(map(len, self.units))

    def __call__(self, doc: Doc) -> Doc:
        spans = []
        for sentence in doc.sents:
            tokens = [token for token in sentence if token.text not in ("-", ",")]
            words = [token.lower_ for token in tokens]
            index = 0
            while index < len(tokens):
                span, index = self._at(doc, tokens, words, index)
                if span is not None:
                    spans.append(span)
        set_spans(doc, QUANTITIES, spans)
        return doc

    def _at(
        self, doc: Doc, tokens: list[Token], words: list[str], index: int
    ) -> tuple[Span | None, int]:
        number = number_at(words, index)
        if number is None:
            return None, index + 1
        value, after = number
        for size in range(self.longest, 0, -1):
            said = tuple(singular(word) for word in words[after : after + size])
            unit = self.units.get(said)
            if unit is not None and len(said) == size:
                last = tokens[after + size - 1].i
                span = Span(doc, tokens[index].i, last + 1, label="quantity")
                span._.quantity = Quantity(text=span.text, value=value, unit=unit)
                return span, after + size
        return None, max(after, index + 1)


@lru_cache(maxsize=1)
def _registry() -> UnitRegistry[float]:
    from pint import UnitRegistry

    return UnitRegistry()


def against_limits(quantity: Quantity, component: Component) -> Quantity:
    """The quantity held against the component's first limit of the same dimension; unchanged where it has
    none. A bound itself is within."""
    for limit in component.limits:
        measured = _registry().Quantity(quantity.value, quantity.unit)
        if not measured.check(_registry().Quantity(1, limit.unit).dimensionality):
            continue
        value = round(float(measured.to(limit.unit).magnitude), 6)
        within = (limit.minimum is None or value >= limit.minimum) and (
            limit.maximum is None or value <= limit.maximum
        )
        return quantity.model_copy(update={"limit": limit_text(limit), "within": within})
    return quantity


def limit_text(limit: Limit) -> str:
    """A limit in words, saying that it is an example where it is one."""
    if limit.minimum is None:
        bounds = f"at most {limit.maximum:g}"
    elif limit.maximum is None:
        bounds = f"at least {limit.minimum:g}"
    else:
        bounds = f"{limit.minimum:g} to {limit.maximum:g}"
    return f"{bounds} {limit.unit}" + (" (example, not approved data)" if limit.example else "")
