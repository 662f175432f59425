"""The pack commands of the command line, thin over the functions of this stage."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

import typer

from spokenfor.errors import InputError
from spokenfor.packs.wording import counted

if TYPE_CHECKING:
    from spokenfor.packs.from_sheet import FromSheet
    from spokenfor.packs.schema import PackHead
    from spokenfor.packs.sheet_columns import Columns
    from spokenfor.packs.spreadsheets import Table

pack_app = typer.Typer(
    help="Trade vocabularies and check sheets.", no_args_is_help=True, rich_markup_mode=None
)
NameArgument = Annotated[str, typer.Argument(help="Pack name or folder.")]
OutOption = Annotated[
    Path | None, typer.Option(help="Folder for the pack; by default its name, here.")
]


def add_commands(app: typer.Typer) -> None:
    """Add the pack commands to the command line."""
    app.add_typer(pack_app, name="pack")


@pack_app.command("list")
def pack_list() -> None:
    """The packs that ship with spokenfor."""
    from spokenfor.packs.load import load_pack, pack_names

    for name in pack_names():
        pack = load_pack(name)
        typer.echo(
            f"{name}  {pack.head.version}  {pack.head.title}: "
            f"{len(pack.zones)} zones, {len(pack.items)} items"
        )


@pack_app.command("show")
def pack_show(
    name: NameArgument,
    json: Annotated[bool, typer.Option("--json", help="As JSON, for other programs.")] = False,
) -> None:
    """The check sheet of a pack, in walking order."""
    from spokenfor.packs.load import load_pack
    from spokenfor.packs.show import pack_json, pack_lines

    pack = load_pack(name)
    typer.echo(pack_json(pack) if json else "\n".join(pack_lines(pack)))


@pack_app.command("lint")
def pack_lint(path: Annotated[str, typer.Argument(help="Pack folder or name.")]) -> None:
    """Check a pack: every fault by file, line and column, and what may be misheard or mistaken."""
    from spokenfor.packs.faults import PackError
    from spokenfor.packs.heard import read_heard, table_lines
    from spokenfor.packs.lint import lint
    from spokenfor.packs.load import load_pack

    try:
        pack = load_pack(path)
    except PackError as error:
        for fault in error.faults:
            typer.echo(str(fault))
        count = len(error.faults)
        raise InputError(
            f"{path}: {counted(count, 'fault')}, so the pack cannot be used",
            "Mend what is listed and lint again",
        ) from error
    remarks = lint(pack)
    for remark in remarks:
        typer.echo(str(remark))
    if heard := read_heard(pack):
        typer.echo("\n".join(table_lines(heard, "a synthetic voice")))
    typer.echo(f"{path}: no faults, {counted(len(remarks), 'remark')}")


@pack_app.command("import")
def pack_import(
    sheet: Annotated[Path, typer.Argument(metavar="SHEET", help="Check sheet: .xlsx or .csv.")],
    out: OutOption = None,
    name: Annotated[str | None, typer.Option(help="Name of the pack; from the file's.")] = None,
    title: Annotated[str | None, typer.Option(help="Title of the pack; from the file's.")] = None,
    worksheet: Annotated[
        str | None, typer.Option(help="Which worksheet; by default the fullest.")
    ] = None,
    column: Annotated[
        list[str] | None,
        typer.Option(
            metavar="WHAT=LETTER", help="What a column holds, as item=B; may be repeated."
        ),
    ] = None,
    yes: Annotated[bool, typer.Option("--yes", help="Take the columns as guessed.")] = False,
) -> None:
    """Make a pack from a check sheet. Columns are guessed, shown, and asked about."""
    from spokenfor.packs.sheet_columns import column_lines, guess_columns, said_columns, sheet_title
    from spokenfor.packs.spreadsheets import read_table

    table = read_table(sheet, worksheet)
    said = column or []
    if any(one.replace(" ", "").lower().startswith("item=") for one in said):
        columns = guess_columns(table, sure=False)
    else:
        columns = guess_columns(table)
    columns = said_columns(columns, said, table)
    typer.echo(f"{sheet}, worksheet '{table.worksheet}'. The columns hold:")
    typer.echo("\n".join(column_lines(columns, table)))
    if table.others:
        named = ", ".join(f"'{one}'" for one in table.others)
        typer.echo(f"Not read: worksheet {named}; --worksheet reads another one")
    columns = columns if yes else _confirmed(columns, table)
    head = _head(name or sheet.stem, title or sheet_title(table, columns))
    _write(table, columns, head, out)


def _confirmed(columns: Columns, table: Table) -> Columns:
    """The columns that the user agrees to. Raises InputError where nobody is there to ask."""
    from spokenfor.packs.sheet_columns import column_lines, said_columns

    while True:
        try:
            said = typer.prompt(
                "Is that right? (yes, or what to change, as: item=B zone=A check=)", default="yes"
            )
        except typer.Abort:
            raise InputError(
                "The columns were guessed and nobody said whether they are right",
                "Run it again with --yes, or say what they hold, as --column item=B",
            ) from None
        if said.strip().lower() in ("y", "yes"):
            return columns
        try:
            columns = said_columns(columns, said.replace(",", " ").split(), table)
        except InputError as error:
            typer.echo(str(error))
        typer.echo("\n".join(column_lines(columns, table)))


def _slug(name: str) -> str:
    """The name of a pack for what a person calls it."""
    import re

    slug = re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")
    if not slug:
        raise InputError(
            f"'{name}' gives no name for a pack",
            "Give a name that has letters or digits, as crane-weekly",
        )
    return slug


def _head(name: str, title: str) -> PackHead:
    from spokenfor.packs.from_sheet import CAUTION
    from spokenfor.packs.schema import PackHead

    return PackHead(
        name=_slug(name),
        title=title,
        version="1.0.0",
        description=f"{title}. Made from a check sheet of the shop.",
        caution=CAUTION,
    )


def _write(table: Table, columns: Columns, head: PackHead, out: Path | None) -> None:
    """Makes the pack, writes it, and says what became of the sheet."""
    from spokenfor.packs.from_sheet import pack_from_sheet
    from spokenfor.packs.lint import lint
    from spokenfor.packs.load import load_pack
    from spokenfor.packs.write_pack import write_pack

    made = pack_from_sheet(table, columns, head)
    folder = out or Path(head.name)
    write_pack(made.parts, folder)
    pack = load_pack(str(folder))
    _say_doubts(made)
    for remark in lint(pack):
        typer.echo(str(remark))
    typer.echo(
        f"{folder}: {counted(len(pack.zones), 'zone')}, {counted(len(pack.items), 'item')}. See it with: "
        f"spokenfor pack show {folder}. Use it with: spokenfor check walk.wav --pack {folder}"
    )


def _say_doubts(made: FromSheet) -> None:
    for row in sorted(made.left_out, key=lambda row: row.number):
        typer.echo(f"row {row.number} left out ({row.why}): {row.text}")
    for doubt in made.doubts:
        typer.echo(doubt)


@pack_app.command("new")
def pack_new(out: OutOption = None) -> None:
    """Make a pack by answering a few questions."""
    from spokenfor.packs.sheet_columns import Columns
    from spokenfor.packs.sheet_headings import NO_HEADINGS, Holds
    from spokenfor.packs.spreadsheets import Row, Table

    title = typer.prompt("What is checked? (as: forklift, daily check)")
    head = _head(typer.prompt("Name of the pack", default=_head(title, title).name), title)
    typer.echo("Now the walk, zone by zone, in the order walked. An empty zone ends it.")
    rows: list[Row] = []
    while zone := typer.prompt("Zone", default="", show_default=False).strip():
        items = typer.prompt(
            f"Items at '{zone}', with semicolons between (as: tyres L/H & R/H; horn)"
        )
        rows += [
            Row(len(rows) + at, [zone, item.strip()])
            for at, item in enumerate(items.split(";"), start=1)
            if item.strip()
        ]
    if not rows:
        raise InputError("No zone was given", "Give at least one zone with one item")
    columns = Columns({Holds.ZONE: 0, Holds.ITEM: 1}, NO_HEADINGS)
    _write(Table(Path("answers"), "answers", rows), columns, head, out)


@pack_app.command("copy")
def pack_copy(
    name: NameArgument,
    to: Annotated[Path, typer.Argument(metavar="FOLDER", help="New folder for the copy.")],
    driver_side: Annotated[
        Literal["left", "right"] | None, typer.Option(help="On which side the driver sits.")
    ] = None,
    common: Annotated[
        bool, typer.Option("--common", help="What all packs share too, to be changed.")
    ] = False,
) -> None:
    """Copy a pack, to make it one's own."""
    from spokenfor.packs.copying import copy_pack

    slug = _slug(to.name)
    folder = copy_pack(name, to, slug, driver_side, common)
    typer.echo(
        f"{folder}: a copy of {name}, called {slug}. Use it with: "
        f"spokenfor check walk.wav --pack {folder}"
    )


@pack_app.command("export")
def pack_export(
    name: NameArgument,
    to: Annotated[
        Path, typer.Argument(metavar="FILE", help="Sheet (.xlsx, .csv) or SKOS Turtle (.ttl).")
    ],
) -> None:
    """Write a pack as a check sheet to edit, or as SKOS for other programs."""
    from spokenfor.packs.load import load_pack

    pack = load_pack(name)
    kind = to.suffix.lower()
    if kind not in (".xlsx", ".csv", ".ttl"):
        raise InputError(
            f"{to}: '{kind}' is not written", "Give a name that ends in .xlsx, .csv or .ttl"
        )
    if to.exists():
        raise InputError(f"{to}: is there already", "Give another name")
    if kind == ".xlsx":
        from spokenfor.packs.to_sheet import write_xlsx

        write_xlsx(pack, to)
    elif kind == ".csv":
        from spokenfor.packs.to_sheet import csv_text

        to.write_text(csv_text(pack), encoding="utf-8", newline="")
    else:
        from spokenfor.packs.skos import skos_text

        to.write_text(skos_text(pack), encoding="utf-8")
    typer.echo(f"{to}: {len(pack.items)} items of {pack.head.name} {pack.head.version}")


@pack_app.command("diff")
def pack_diff(
    old: Annotated[str, typer.Argument(help="Pack name or folder, as it was.")],
    new: Annotated[str, typer.Argument(help="Pack name or folder, as it is now.")],
) -> None:
    """What changed on the sheet from one pack to another."""
    from spokenfor.packs.diff import diff_lines
    from spokenfor.packs.load import load_pack

    typer.echo("\n".join(diff_lines(load_pack(old), load_pack(new))))
