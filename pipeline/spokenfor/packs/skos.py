"""From a pack to SKOS (W3C Recommendation 2009), as RDF Turtle."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from spokenfor.packs.load import Pack
from spokenfor.packs.schema import Labelled

if TYPE_CHECKING:
    from rdflib import Graph, URIRef

BASE = "urn:x-spokenfor:"


def skos_text(pack: Pack, base: str = BASE) -> str:
    """Zones, components, conditions and positions as concepts of one scheme, with all their labels; the lines
    of a zone as an ordered collection. `base` begins every name."""
    return skos_graph(pack, base).serialize(format="turtle")


def skos_graph(pack: Pack, base: str = BASE) -> Graph:
    """The same as an rdflib graph."""
    from rdflib import RDF, BNode, Graph, Literal, Namespace, URIRef
    from rdflib.collection import Collection
    from rdflib.namespace import DCTERMS, OWL, SKOS

    name = Namespace(f"{base}{pack.head.name}/")
    language = pack.head.language
    graph = Graph()
    graph.bind("skos", SKOS)
    graph.bind("dcterms", DCTERMS)
    graph.bind("pack", name)
    scheme = URIRef(f"{base}{pack.head.name}")
    graph.add((scheme, RDF.type, SKOS.ConceptScheme))
    graph.add((scheme, DCTERMS.title, Literal(pack.head.title, lang=language)))
    graph.add((scheme, DCTERMS.description, Literal(pack.head.description, lang=language)))
    graph.add((scheme, OWL.versionInfo, Literal(pack.head.version)))

    def add(kind: str, concepts: Iterable[Labelled]) -> None:
        for concept in concepts:
            node: URIRef = name[f"{kind}/{concept.id}"]
            graph.add((node, RDF.type, SKOS.Concept))
            graph.add((node, SKOS.inScheme, scheme))
            graph.add((node, SKOS.notation, Literal(concept.id)))
            graph.add((node, SKOS.prefLabel, Literal(concept.prefLabel, lang=language)))
            for label in concept.altLabel:
                graph.add((node, SKOS.altLabel, Literal(label, lang=language)))
            for label in concept.hiddenLabel:
                graph.add((node, SKOS.hiddenLabel, Literal(label, lang=language)))

    add("zone", pack.zones)
    add("component", pack.components.values())
    add("condition", pack.conditions.values())
    add("position", pack.positions.values())
    for condition in pack.conditions.values():
        node = name[f"condition/{condition.id}"]
        graph.add((node, SKOS.definition, Literal(condition.definition, lang=language)))
        graph.add((node, DCTERMS.source, Literal(condition.source)))
        if condition.broader:
            graph.add((node, SKOS.broader, name[f"condition/{condition.broader}"]))
    for part in pack.sheet:
        lines, members = name[f"lines/{part.zone}"], BNode()
        graph.add((lines, RDF.type, SKOS.OrderedCollection))
        graph.add((lines, SKOS.memberList, members))
        named = [name[f"component/{line.component}"] for line in part.lines]
        Collection(graph, members, list(dict.fromkeys(named)))
    return graph
