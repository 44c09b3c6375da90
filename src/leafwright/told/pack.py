"""What to buy and what to take along, on a terminal."""

from __future__ import annotations

from leafwright.documents.of_plan import pack_document
from leafwright.documents.records import Document, PackDocument
from leafwright.documents.supplies import SORT, Told, told_of
from leafwright.pipeline import Plan
from leafwright.records import Held
from leafwright.say import count_of, words_of
from leafwright.told.lines import (
    cautions,
    check_lines,
    exit_code_of,
    heading_lines,
    held_lines,
    stop_lines,
    table,
    wrapped,
)

_POWER_BESIDE = "  Wiring is for a licensed electrician, by the local code."


def pack_text(made: Plan, document: PackDocument) -> str:
    """Return what to buy and what to take along, operation by operation."""
    lines = [*heading_lines(made, "what to buy and pack"), *stop_lines(document.stops)]
    told = told_of(made)
    if told is None:
        if isinstance(document.pack, Held):
            lines += held_lines("Pack", document.pack)
        return "\n".join(lines)
    lines += [*_buying(told), "", *_welding(told), "", *_power(told)]
    lines += check_lines(document.checks, words_of(made.job))
    lines += ["", "Straight sticks for the stiles"]
    for line in told.crooked():
        lines += wrapped(line, "    ", first="  ")
    lines += [*wrapped(SORT, "  "), "", "Pack, operation by operation; each thing stands once"]
    for operation in told.pack.operations:
        lines += ["", operation.name, *cautions(operation.cautions)]
        for row in told.packing(operation):
            size = f", {row.size}" if row.size else ""
            fits = f" ({row.goes_with})" if row.goes_with else ""
            said = f"{row.count} × {row.what}{size}{row.spare}: {row.why}{fits}"
            lines += wrapped(said, "      ", first="  ")
    lines += ["", f"Checks: {count_of(document.checks)}"]
    return "\n".join(lines)


def told_pack(made: Plan) -> tuple[Document, str, int]:
    """Return what to buy and pack as a document, as text, and as an exit code."""
    document = pack_document(made)
    held = isinstance(document.pack, Held)
    code = exit_code_of(document.checks, document.stops, held=held)
    return document, pack_text(made, document), code


def _buying(told: Told) -> list[str]:
    lines = ["Buy"]
    for name, rows in told.bought():
        lines.append(f"  {name}")
        for row in rows:
            amounts = ", ".join(part for part in (row.mass, row.cost) if part)
            tail = f" – {amounts}" if amounts else ""
            lines += wrapped(f"{row.named}{tail}: {row.why}", "        ", first="    ")
    lines += [f"  {name}: {value}" for name, value in told.totals()]
    for said in told.beside():
        lines += wrapped(said, "    ", first="  ")
    return lines


def _welding(told: Told) -> list[str]:
    lines = ["Welding"]
    lines += table(("seams", "how many", "length", "metal"), told.seams())
    lines += [f"  {name}: {value}" for name, value in told.welding()]
    return [*lines, *wrapped(told.not_counted(), "  ")]


def _power(told: Told) -> list[str]:
    found = told.outlet()
    lines = ["Power at the end of the cord"]
    if isinstance(found, str):
        return [*lines, *wrapped(found, "  ")]
    return [*lines, *(f"  {name}: {value}" for name, value in found), _POWER_BESIDE]
