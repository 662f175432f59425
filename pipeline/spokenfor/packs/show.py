"""A pack as text for people and as JSON for programs."""

from __future__ import annotations

import json
from itertools import groupby

from spokenfor.packs.load import Pack


def pack_lines(pack: Pack) -> list[str]:
    """The head of a pack and its check sheet in walking order, a line each."""
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
            states = component.states
            right = f"; right: {', '.join(states.expected)}" if states.expected else ""
            wrong = f"; wrong: {', '.join(states.adverse)}" if states.adverse else ""
            lines.append(f"  {item.label}{optional}{number}: {aspects}{right}{wrong}")
    return lines


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
        "conditions": [one.model_dump(mode="json") for one in pack.conditions.values()],
        "positions": [one.model_dump(mode="json") for one in pack.positions.values()],
        "aspects": [one.model_dump(mode="json") for one in pack.aspects.values()],
        "cues": [cue.model_dump(mode="json") for cue in pack.cues],
        "units": [unit.model_dump(mode="json") for unit in pack.units],
    }
    return json.dumps(whole, indent=2, sort_keys=True, ensure_ascii=False)
