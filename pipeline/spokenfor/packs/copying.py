"""A pack of one's own, copied from another: its name and the driver's side changed, editor help beside it."""

from __future__ import annotations

import re
import shutil
from pathlib import Path
from tempfile import TemporaryDirectory

from spokenfor.errors import InputError
from spokenfor.packs.json_schemas import schema_files
from spokenfor.packs.load import load_pack, vocabulary_root


def copy_pack(
    source: str,
    into: Path,
    name: str | None = None,
    driver_side: str | None = None,
    common: bool = False,
) -> Path:
    """Copies the pack called `source` to a new folder and returns it; all of it, or nothing. The common files
    go beside it where they are not those that ship, or where `common` asks for them.

    Raises InputError where something is there already, the copy would not load, or nothing can be written.
    """
    pack = load_pack(source)
    beside = into.parent / "common"
    own_common = pack.common != vocabulary_root() / "common"
    if into.exists():
        raise InputError(f"'{into}' exists already", "Give the name of a new folder")
    if common and beside.exists():
        raise InputError(f"'{beside}' exists already", "Leave out --common; the pack will use it")
    try:
        into.parent.mkdir(parents=True, exist_ok=True)
        with TemporaryDirectory(dir=into.parent, prefix=".pack-") as made:
            whole = Path(made) / into.name
            shutil.copytree(pack.folder, whole, ignore=shutil.ignore_patterns("heard.csv"))
            _own_schemas(whole)
            _change_head(whole / "pack.yaml", name, driver_side)
            if common or (own_common and not beside.exists()):
                shutil.copytree(pack.common, Path(made) / "common")
                _own_schemas(Path(made) / "common")
            load_pack(str(whole))
            if (Path(made) / "common").exists():
                shutil.move(str(Path(made) / "common"), beside)
            shutil.move(str(whole), into)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise InputError(
            f"The pack cannot be copied to '{into}' ({reason})",
            "Mend the rights, or give another folder",
        ) from error
    return into


def _own_schemas(folder: Path) -> None:
    """Puts the schemas beside the pack and has the first line of each file name them there."""
    (folder / ".schema").mkdir(exist_ok=True)
    for name, text in schema_files(common=True).items():
        (folder / ".schema" / name).write_text(text, encoding="utf-8")
    for path in [*folder.glob("*.yaml"), *(folder / "components").glob("*.yaml")]:
        text = path.read_text(encoding="utf-8")
        path.write_text(
            re.sub(r"(\$schema=(?:\.\./)*)\.\./schema/", r"\1.schema/", text, count=1),
            encoding="utf-8",
        )


def _change_head(path: Path, name: str | None, driver_side: str | None) -> None:
    text = path.read_text(encoding="utf-8")
    for key, value in (("name", name), ("driver_side", driver_side)):
        if value is not None:
            row = f"{key}: {value}"
            text, changed = re.subn(rf"(?m)^{key}:.*$", row, text, count=1)
            text = text if changed else f"{text.rstrip()}\n{row}\n"
    path.write_text(text, encoding="utf-8")
