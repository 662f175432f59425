"""Which possible repairs does the primed hearing bear out, under any name, and which does it gainsay?"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

from spokenfor.reading.sound_rule import Possible


def borne_out(found: Sequence[Possible]) -> list[Possible]:
    """The same repairs, each with how probable (0..1) a hearer who was told the names found what it means,
    under whatever name, in words of its own, and how probable another term there. One that comes twice for
    the same words is left out the second time."""
    told: dict[int, list[Possible]] = defaultdict(list)
    once: dict[tuple[tuple[int, int], str, str], Possible] = {}
    for one in found:
        once.setdefault((one.tokens, one.term.kind.value, one.term.key), one)
        if one.primed:
            for at in range(*one.tokens):
                told[at].append(one)
    made = []
    for one in once.values():
        there = [other for at in range(*one.tokens) for other in told[at]]
        means = set(one.term.concepts)
        same = [other.primed or 0.0 for other in there if means & set(other.term.concepts)]
        others = [other.primed or 0.0 for other in there if not means & set(other.term.concepts)]
        primed = None if one.primed is None else max(same, default=0.0)
        made.append(replace(one, primed=primed, gainsaid=max(others, default=0.0)))
    return made
