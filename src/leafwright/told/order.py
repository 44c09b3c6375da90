"""The order of welding as a terminal shows it."""

from __future__ import annotations

from leafwright.documents.records import LeafWelded, ToDo, WeldOrderDocument
from leafwright.pipeline import Plan
from leafwright.records import Held
from leafwright.shop.weld_order import WeldOrder
from leafwright.told.lines import (
    cautions,
    heading_lines,
    held_lines,
    leaf_name,
    stop_lines,
    table,
    wrapped,
)

KINDS = {
    "square": "out of square",
    "twist": "twist",
    "flat": "bows out of its plane",
    "edge": "bows in its plane",
}


def order_text(made: Plan, document: WeldOrderDocument) -> str:
    """Return the order of welding of a plan's leaves."""
    lines = heading_lines(made, "order of welding")
    lines += stop_lines(document.stops)
    if isinstance(document.leaves, Held):
        return "\n".join([*lines, *held_lines("Order of welding", document.leaves)])
    for leaf in document.leaves:
        lines += [leaf_name(leaf.key).upper(), *_leaf_lines(leaf), ""]
    return "\n".join(lines).rstrip()


def _leaf_lines(leaf: LeafWelded) -> list[str]:
    order = leaf.order
    if isinstance(order, Held):
        return held_lines("  Order of welding", order)
    lines = cautions(leaf.cautions)
    lines += wrapped(f"Tacks: {'; '.join(leaf.tacks)}.", "    ", first="  ")
    lines.append("")
    for step in leaf.steps:
        mark = f"{step.mark}: " if step.mark else ""
        lines += wrapped(f"{mark}{step.words}.", "        ", first=f"  {label(step):>5} ")
    lines.append("")
    for said in leaf.found:
        lines += wrapped(said, "    ", first="  ")
    if leaf.left:
        lines += wrapped("What it leaves, the most first:", "  ", first="  ")
        for said in leaf.left:
            lines += wrapped(f"– {said}", "      ", first="    ")
    if not order.like:
        lines += ["", *_compared(order)]
        lines += wrapped(f"By {'; '.join(map(str, order.sources))}.", "    ", first="  ")
        for said in order.assumptions:
            lines += wrapped(f"Taken: {said}.", "    ", first="  ")
    return lines


def _compared(order: WeldOrder) -> list[str]:
    rows = [
        (KINDS[part.kind], f"{100 * part.plain:.0f}", f"{100 * part.best:.0f}")
        for part in order.parts
    ]
    return table(("Of 100", "corner by corner", "this order"), rows)


def label(step: ToDo) -> str:
    """Return what stands before a step: its number among the welds, or a dash."""
    return f"{step.number}." if step.kind == "weld" else "–"


def order_exit_code(document: WeldOrderDocument) -> int:
    """Return the exit code of the command: 4 where something was held or stops the work."""
    leaves = document.leaves
    held = isinstance(leaves, Held) or any(isinstance(one.order, Held) for one in leaves)
    return 4 if held or document.stops else 0
