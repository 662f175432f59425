"""How does a label get into a pack's YAML, with every other character left as its author wrote it?"""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Mapping, Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

import yaml

from spokenfor.errors import InputError
from spokenfor.packs.load import load_pack
from spokenfor.record.durable import sync_folder, write_synced, writing

_PLAIN = re.compile(r"[a-z][a-z0-9 ]*")
_YAML_WORDS = {"y", "n", "yes", "no", "on", "off", "true", "false", "null"}
"""Words that YAML 1.1 reads as something else."""
_WIDEST = 100


def add_labels(folder: Path, common: Path, labels: Mapping[tuple[str, str], Sequence[str]]) -> None:
    """Add labels, by component and field (altLabel, hiddenLabel), to components/*.yaml of a pack folder.

    The pack is first tried as a copy that must load; then each changed file is replaced as a whole. Raises
    InputError where a component is not found, the pack would not load, or the disk refuses.
    """
    left = {where: list(more) for where, more in labels.items()}
    changed: dict[Path, str] = {}
    for path in sorted((folder / "components").glob("*.yaml")):
        text = path.read_text(encoding="utf-8")
        for name, field in list(left):
            more = with_labels(text, name, left[name, field], field)
            if more is not None:
                text = changed[path] = more
                del left[name, field]
    if left:
        raise InputError(
            f"The pack has no component '{min(left)[0]}'", "Give the pack it belongs to"
        )
    _try(folder, common, changed)
    with writing("The pack", folder):
        for path, text in changed.items():
            aside = path.with_name(f".{path.name}.part")
            aside.unlink(missing_ok=True)
            write_synced(aside, text.encode("utf-8"))
            aside.replace(path)
            sync_folder(path.parent)


def with_labels(
    text: str, component: str, labels: Sequence[str], field: str = "hiddenLabel"
) -> str | None:
    """The text of a YAML list of components with labels added to one of them; None where it is not there."""
    root = yaml.compose(text, Loader=yaml.CSafeLoader)
    for node in root.value if isinstance(root, yaml.SequenceNode) else []:
        keys = {key.value: (key, value) for key, value in node.value}
        if keys["id"][1].value == component:
            written = [_scalar(one) for one in labels]
            if field not in keys:
                key, value = keys["prefLabel"]
                at = text.find("\n", value.end_mark.index)
                at = len(text) if at < 0 else at
                row = f"\n{' ' * key.start_mark.column}{field}: [{', '.join(written)}]"
                return text[:at] + row + text[at:]
            return _into_list(text, keys[field][1], written)
    return None


def _into_list(text: str, node: yaml.SequenceNode, written: Sequence[str]) -> str:
    if not node.value:
        start, end = node.start_mark.index, node.end_mark.index
        return f"{text[:start]}[{', '.join(written)}]{text[end:]}"
    last = node.value[-1]
    at = last.end_mark.index
    if not node.flow_style:
        dash = node.start_mark.column
        return text[:at] + "".join(f"\n{' ' * dash}- {one}" for one in written) + text[at:]
    line = text[text.rfind("\n", 0, at) + 1 : at]
    first = node.value[0].start_mark.column
    more = f", {', '.join(written)}"
    if len(line) + len(more) + 1 > _WIDEST:
        more = f",\n{' ' * first}{', '.join(written)}"
    return text[:at] + more + text[at:]


def _scalar(label: str) -> str:
    plain = _PLAIN.fullmatch(label) and label not in _YAML_WORDS
    return label if plain else json.dumps(label, ensure_ascii=False)


def _try(folder: Path, common: Path, changed: Mapping[Path, str]) -> None:
    with TemporaryDirectory(prefix="spokenfor-") as name:
        shutil.copytree(folder, Path(name, folder.name))
        shutil.copytree(common, Path(name, "common"))
        for path, text in changed.items():
            Path(name, folder.name, path.relative_to(folder)).write_text(text, encoding="utf-8")
        load_pack(str(Path(name, folder.name)))
