"""Buying list, the supplier's list of sticks, welding and power, and the pack list to tick."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from leafwright.documents.supplies import SORT, Told, told_of
from leafwright.paper.layout import Caution, Cell, Column, Table
from leafwright.paper.sheet import Sheet, area
from leafwright.paper.sheets.common import Desk, blank
from leafwright.paper.sheets.flow import (
    Block,
    Boxed,
    Figures,
    Listed,
    Rows,
    Says,
    Title,
    flowed,
    in_columns,
)
from leafwright.records import Held, Verdict
from leafwright.say import VERDICTS, check_line, check_source, sentence
from leafwright.shop.pack import BuyLine, Pack

POWER = Caution(
    "Power and hot work",
    "Wiring is for a licensed electrician, by the local code. The cord unrolled, out of the wet; "
    "the welder's own plate rules over these figures. Hot work as the building allows it.",
)
STICKS = Caution(
    "Long stock",
    "Slings or two people and both ends held; tied on the truck so that nothing can shift.",
)


def packing_sheets(at: Desk) -> tuple[Sheet, ...]:
    """Return the buying list, the sticks for the supplier, welding and power, and the pack list."""
    told = told_of(at.plan)
    if told is None:
        held = at.plan.pack
        sheet = blank(at, "Buying list", seen=False)
        why = held.why if isinstance(held, Held) else ""
        text = f"There is nothing to buy or pack: {why}."
        return flowed(sheet, area(sheet), lambda: sheet, (Says(text, 5.0),))
    return (
        *_buying_sheets(at, told),
        *_supplier_sheets(at, told.pack),
        *_welding_sheets(at, told),
        *_pack_sheets(at, told),
    )


def _buying_sheets(at: Desk, told: Told) -> tuple[Sheet, ...]:
    blocks: list[Block] = [Figures(told.totals())]
    blocks += [Says(said) for said in told.beside()]
    lines: list[tuple[str | Cell, ...]] = []
    for name, rows in told.bought():
        lines.append((Cell(""), "", name.upper(), "", "", "", ""))
        lines += [
            (
                Cell("", tick=False),
                r.count,
                r.what,
                r.size,
                r.mass or "–",
                r.cost or "–",
                r.why,
            )
            for r in rows
        ]
    columns = (
        Column("", 9.0),
        Column("How many", 16.0, align="right", bold=True, height_mm=4.0),
        Column("What", 72.0, bold=True),
        Column("Size", 62.0, bold=True),
        Column("All weighs", 24.0, align="right"),
        Column("Costs", 36.0, align="right"),
        Column("For", 136.0),
    )
    blocks.append(Rows(Table(columns, tuple(lines), height_mm=3.2)))
    later = blank(at, "Buying list", seen=False)
    first = blank(at, "Buying list", seen=False, cautions=(STICKS,))
    return flowed(first, area(first), lambda: later, blocks)


def _supplier_sheets(at: Desk, pack: Pack) -> tuple[Sheet, ...]:
    """Return what goes to each who sells steel: their own sticks, no prices, no marks."""
    by_supplier: dict[str, list[BuyLine]] = {}
    for line in pack.buying.lines:
        if line.group == "steel":
            by_supplier.setdefault(line.supplier, []).append(line)
    return tuple(
        sheet for name, lines in by_supplier.items() for sheet in _supplier_sheet(at, name, lines)
    )


def _supplier_sheet(at: Desk, name: str, lines: Sequence[BuyLine]) -> tuple[Sheet, ...]:
    title = f"Sticks, from {name}" if name else "Sticks, for the supplier"
    later = blank(at, title, seen=False)
    # Whose stick it is stands in the title: the size is the length alone.
    rows = tuple(
        (
            str(line.count),
            line.what,
            line.size.removesuffix(f" from {name}"),
            at.words.mass(line.mass or 0.0),
        )
        for line in lines
    )
    total = sum(line.mass or 0.0 for line in lines)
    blocks: list[Block] = [
        Says(
            "Please with the mill certificate. Straight enough for door stiles: we sight along "
            "every stick when we fetch it.",
            4.0,
        ),
        Rows(
            Table(
                (
                    Column("How many", 30.0, align="right", bold=True, height_mm=6.0),
                    Column("Section and grade", 150.0, bold=True, height_mm=5.0),
                    Column("Length of each", 80.0, bold=True, height_mm=5.0),
                    Column("All weighs", 50.0, align="right", height_mm=4.0),
                ),
                rows,
                height_mm=4.0,
            )
        ),
        Says(f"Together {at.words.mass(total)}.", 4.0),
    ]
    return flowed(later, area(later), lambda: later, blocks)


def _welding_sheets(at: Desk, told: Told) -> tuple[Sheet, ...]:
    first = blank(at, "Welding, power and straight sticks", seen=False, cautions=(POWER,))
    later = blank(at, "Welding, power and straight sticks", seen=False)
    return in_columns(first, lambda: later, [*_welding(told), *_power(at, told), *_straight(told)])


def _welding(told: Told) -> Iterator[Block]:
    yield Title("What welding takes")
    yield Rows(
        Table(
            (
                Column("Seams", 90.0),
                Column("How many", 22.0, align="right"),
                Column("Length", 22.0, align="right"),
                Column("Metal", 24.0, align="right"),
            ),
            told.seams(),
            height_mm=3.0,
        )
    )
    yield Rows(_pairs(told.welding()))
    yield Says(told.not_counted())


def _power(at: Desk, told: Told) -> Iterator[Block]:
    yield Title("Power at the end of the cord")
    outlet = told.outlet()
    if isinstance(outlet, str):
        yield Says(outlet)
    else:
        yield Rows(_pairs(outlet))
    keys = {check.key for check in told.pack.checks}
    rows = []
    for check in at.plan.checks:
        if check.key in keys:
            ok = check.verdict is Verdict.OK
            line = sentence(check_line(check, at.words))
            change = "" if ok else f" {sentence(check.change)}."
            rows.append((VERDICTS[check.verdict], f"{line}.{change} [{check_source(check)}]"))
    if rows:
        columns = (Column("", 14.0, bold=True), Column("Asked, and what to change", 140.0))
        yield Rows(Table(columns, tuple(rows), height_mm=2.7))


def _straight(told: Told) -> Iterator[Block]:
    yield Title("Straight sticks for the stiles")
    yield Listed(told.crooked())
    yield Boxed(Caution("Sort the straightest", SORT))


def _pairs(pairs: tuple[tuple[str, str], ...]) -> Table:
    columns = (Column("What", 88.0), Column("How much", 70.0, bold=True, height_mm=3.4))
    return Table(columns, pairs, height_mm=3.0)


def _pack_sheets(at: Desk, told: Told) -> tuple[Sheet, ...]:
    later = blank(at, "Pack list", seen=False)
    blocks: list[Block] = [
        Says("Each thing stands once, under the first operation that needs it. Tick it as packed.")
    ]
    for operation in told.pack.operations:
        if operation.cautions:
            blocks.append(Boxed(Caution(operation.name, " ".join(operation.cautions)), 2.6))
        else:
            blocks.append(Title(operation.name))
        rows = tuple(
            (
                Cell("", tick=False),
                row.count,
                f"{row.what}{f', {row.size}' if row.size else ''}{row.spare}",
                f"{sentence(row.why)}{f'; {row.goes_with}' if row.goes_with else ''}",
            )
            for row in told.packing(operation)
        )
        if rows:
            columns = (
                Column("", 8.0),
                Column("", 10.0, align="right", bold=True, height_mm=3.6),
                Column("Pack", 66.0, bold=True),
                Column("For", 74.0),
            )
            blocks.append(Rows(Table(columns, rows, height_mm=2.8)))
    return in_columns(later, lambda: later, blocks)
