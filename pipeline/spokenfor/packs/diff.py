"""What changed on the sheet from one pack to another (or one version of it to the next)."""

from __future__ import annotations

from collections.abc import Iterator

from spokenfor.packs.load import Pack
from spokenfor.packs.schema import Component, Labelled, Limit


def diff_lines(old: Pack, new: Pack) -> list[str]:
    """The changes a line each, lines of the sheet first; the heads of both stand above."""
    changes = [
        *_head(old, new),
        *_sheet(old, new),
        *_walk(old, new),
        *_names(old, new),
        *_shared(old, new),
    ]
    title = [
        f"from {old.head.name} {old.head.version}, sha256 {old.sha256}",
        f"to   {new.head.name} {new.head.version}, sha256 {new.sha256}",
    ]
    if not changes:
        same = old.sha256 == new.sha256
        changes = ["the same pack" if same else "no change on the sheet or in the words"]
    elif (old.head.name, old.head.version) == (new.head.name, new.head.version):
        changes.append("the version is the same: give the new one a higher number in pack.yaml")
    return [*title, *changes]


def _head(old: Pack, new: Pack) -> Iterator[str]:
    for key in (
        "name",
        "title",
        "description",
        "caution",
        "language",
        "same_position",
        "driver_side",
    ):
        before, after = getattr(old.head, key), getattr(new.head, key)
        if before != after:
            yield f"pack: {key} changed"


def _sheet(old: Pack, new: Pack) -> Iterator[str]:
    before = {item.id: item for item in old.items}
    after = {item.id: item for item in new.items}
    for name, item in after.items():
        if name not in before:
            yield f"item added: {name} ({item.label})"
    for name, item in before.items():
        if name not in after:
            yield f"item taken out: {name} ({item.label})"
        elif item.required != after[name].required:
            yield f"item {name}: {'required' if after[name].required else 'no longer required'}"


def _walk(old: Pack, new: Pack) -> Iterator[str]:
    before, after = [zone.id for zone in old.zones], [zone.id for zone in new.zones]
    both = [one for one in before if one in after]
    if both != [one for one in after if one in before]:
        yield "walk: zones are walked in another order"
    lines = [item.id for item in old.items], [item.id for item in new.items]
    kept = set(lines[0]) & set(lines[1])
    orders = [[one for one in order if one in kept] for order in lines]
    if orders[0] != orders[1] and both == [one for one in after if one in before]:
        yield "walk: lines stand in another order"


def _names(old: Pack, new: Pack) -> Iterator[str]:
    zones = [{zone.id: zone for zone in pack.zones} for pack in (old, new)]
    for name, zone in zones[0].items():
        if name in zones[1]:
            yield from _labels(f"zone {name}", zone, zones[1][name])
    for name, component in old.components.items():
        if name in new.components:
            yield from _labels(f"component {name}", component, new.components[name])
            yield from _content(name, component, new.components[name])


def _labels(owner: str, old: Labelled, new: Labelled) -> Iterator[str]:
    if old.prefLabel != new.prefLabel:
        yield f"{owner}: called '{new.prefLabel}', was '{old.prefLabel}'"
    for key in ("altLabel", "hiddenLabel"):
        before, after = getattr(old, key), getattr(new, key)
        for sign, words in (
            ("+", [one for one in after if one not in before]),
            ("-", [one for one in before if one not in after]),
        ):
            if words:
                yield f"{owner}: {key} {sign} {', '.join(words)}"


def _content(name: str, old: Component, new: Component) -> Iterator[str]:
    for key in ("aspects", "states", "ata"):
        if getattr(old, key) != getattr(new, key):
            yield f"component {name}: {key} changed"
    if old.limits != new.limits:
        before, after = (", ".join(map(_limit, one.limits)) or "none" for one in (old, new))
        yield f"component {name}: limits {after}, were {before}"


def _limit(limit: Limit) -> str:
    ends = [
        f"{word} {value:g}"
        for word, value in (("min", limit.minimum), ("max", limit.maximum))
        if value is not None
    ]
    return f"{limit.of} {' '.join(ends)} {limit.unit}"


def _shared(old: Pack, new: Pack) -> Iterator[str]:
    """Changes of what all packs share, by file."""
    for key in ("conditions", "positions", "aspects", "cues", "units", "turning", "same_words"):
        if getattr(old, key) != getattr(new, key):
            yield f"common: {key.replace('_', ' ')} changed"
