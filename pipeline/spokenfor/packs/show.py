"""A pack as text for people and as JSON for programs."""

from __future__ import annotations

import json
from itertools import groupby

from spokenfor.packs.kinds import own_states
from spokenfor.packs.load import Pack
from spokenfor.packs.schema import States


def pack_lines(pack: Pack) -> list[str]:
    """The head of a pack, its check sheet in walking order and the kinds that it uses, a line each."""
    names = {zone.id: zone.prefLabel for zone in pack.zones}
    lines = [
        f"{pack.head.title} ({pack.head.name} {pack.head.version}), sha256 {pack.sha256}",
        pack.head.description,
        pack.head.caution,
    ]
    for zone, items in groupby(pack.items, key=lambda item: item.zone):
        lines += ["", names[zone]]
        for item in items:
            component = pack.components[item.component]
            optional = "" if item.required else " (where fitted)"
            number = f"  [{component.ata}]" if component.ata else ""
            aspects = ", ".join(pack.aspects[name].prefLabel for name in component.aspects)
            states = own_states(component, pack.kinds)
            kinds = f"; as every {', '.join(component.kinds)}" if component.kinds else ""
            lines.append(f"  {item.label}{optional}{number}: {aspects}{_words(states)}{kinds}")
    used = {kind for component in pack.components.values() for kind in component.kinds}
    if used:
        lines += ["", "kinds"]
    for kind in pack.kinds.values():
        if kind.id in used:
            lines.append(f"  {kind.id}: {kind.definition}{_words(kind.states)}")
    return lines


def _words(states: States) -> str:
    """Words for right and for wrong, as they follow in a line."""
    right = f"; right: {', '.join(states.expected)}" if states.expected else ""
    wrong = f"; wrong: {', '.join(states.adverse)}" if states.adverse else ""
    return right + wrong


def pack_json(pack: Pack) -> str:
    """Everything in a pack, as JSON with sorted keys."""
    whole = {
        "head": pack.head.model_dump(mode="json"),
        "sha256": pack.sha256,
        "zones": [zone.model_dump(mode="json") for zone in pack.zones],
        "components": [one.model_dump(mode="json") for one in pack.components.values()],
        "items": [
            {
                "id": item.id,
                "zone": item.zone,
                "component": item.component,
                "position": item.position,
                "label": item.label,
                "required": item.required,
            }
            for item in pack.items
        ],
        "kinds": [one.model_dump(mode="json") for one in pack.kinds.values()],
        "conditions": [one.model_dump(mode="json") for one in pack.conditions.values()],
        "positions": [one.model_dump(mode="json") for one in pack.positions.values()],
        "aspects": [one.model_dump(mode="json") for one in pack.aspects.values()],
        "cues": [cue.model_dump(mode="json") for cue in pack.cues],
        "units": [unit.model_dump(mode="json") for unit in pack.units],
    }
    return json.dumps(whole, indent=2, sort_keys=True, ensure_ascii=False)
