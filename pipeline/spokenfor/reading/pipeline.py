"""The reading stage as a whole: a Transcript in, a Reading out."""

from __future__ import annotations

from spacy.language import Language

from spokenfor.models import Reading, Transcript
from spokenfor.packs.load import load_pack
from spokenfor.reading import (  # noqa: F401 (importing registers the components)
    bare_names,
    corrections,
    cues,
    elided_names,
    group_names,
    hesitations,
    leads,
    mentions,
    names_here,
    quantities,
    references,
    repairs,
    sentences,
    sides,
    statements,
    stops,
    turned_names,
    unmarked,
    walk,
    word_repairs,
)
from spokenfor.reading.heard_doc import transcript_doc

COMPONENTS = (
    "spokenfor_hesitations",
    "spokenfor_leads",
    "spokenfor_unmarked",
    "spokenfor_stops",
    "spokenfor_bare_names",
    "spokenfor_sentences",
    "spokenfor_word_repairs",
    "spokenfor_mentions",
    "spokenfor_cues",
    "spokenfor_quantities",
    "spokenfor_walk",
    "spokenfor_repairs",
    "spokenfor_corrections",
    "spokenfor_names_here",
    "spokenfor_turned_names",
    "spokenfor_elided_names",
    "spokenfor_group_names",
    "spokenfor_references",
    "spokenfor_statements",
    "spokenfor_sides",
)

_OF_NO_PACK = ("spokenfor_sentences", "spokenfor_corrections")


def build(pack: str) -> Language:
    """A blank English spaCy pipeline with our components, configured for the pack of that name."""
    nlp = Language()
    for name in COMPONENTS:
        configured = name not in _OF_NO_PACK
        nlp.add_pipe(name, config={"pack": pack} if configured else {})
    return nlp


def read(transcript: Transcript, pack: str, nlp: Language | None = None) -> Reading:
    """Everything that was said, read against the pack. Raises InputError for a pack that cannot be used."""
    nlp = nlp or build(pack)
    doc = transcript_doc(nlp.vocab, transcript)
    for _, component in nlp.pipeline:
        doc = component(doc)
    loaded = load_pack(pack)
    zones = [zone.id for zone in loaded.zones]
    return Reading(
        statements=doc._.statements,
        flagged_words=doc._.flagged_words,
        repairs=doc._.repairs,
        walk=walk.stays(doc, zones),
        unsure_zones=sides.unsure_zones(doc, loaded),
    )
