"""medspaCy's ConText on sentences, run by an interpreter that has it; the bench of sentences calls it.

PYTHON -m tests.bench.context_elsewhere < sentences.json > readings.json

In: {"forms": [flagged words], "sentences": [text]}. Out: for each sentence a list of [word, present]. Present
is what ConText calls neither negated, hypothetical, historical nor another person's (its default rules).

medspaCy 1.3.1 cannot stand beside our spaCy in one set of requirements: on Python 3.11 it asks for spaCy
below 3.8, and for a package of dictionaries that has no wheel and that ConText does not use. `pip install
--no-deps medspacy` with pysbd, PyRuSH and jsonschema beside spaCy 3.8 is enough; an empty module stands in for
the dictionaries.
"""

from __future__ import annotations

import json
import sys
from types import ModuleType

import spacy


def _without_dictionaries() -> None:
    package, component = ModuleType("quickumls"), ModuleType("quickumls.spacy_component")
    package.spacy_component = component  # type: ignore[attr-defined]
    sys.modules.update({"quickumls": package, "quickumls.spacy_component": component})


def main() -> None:
    _without_dictionaries()
    from medspacy.context import ConText  # noqa: F401 (importing registers the component)

    asked = json.load(sys.stdin)
    nlp = spacy.blank("en")
    nlp.add_pipe("sentencizer")
    ruler = nlp.add_pipe("entity_ruler")
    ruler.add_patterns(
        [{"label": "CONDITION", "pattern": nlp.make_doc(form).text} for form in asked["forms"]]
    )
    nlp.add_pipe("medspacy_context")
    answers = []
    for sentence in asked["sentences"]:
        found = []
        for word in nlp(sentence.lower()).ents:
            said = word._
            denied = said.is_negated or said.is_hypothetical or said.is_historical or said.is_family
            found.append([word.text, not denied])
        answers.append(found)
    json.dump(answers, sys.stdout)


if __name__ == "__main__":
    main()
