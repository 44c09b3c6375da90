"""The cut list told on a terminal: each piece, both its ends, which saw and how it is set."""

from __future__ import annotations

from leafwright.documents.records import CutsDocument
from leafwright.leaf import Leaf
from leafwright.pipeline import Plan
from leafwright.records import Held
from leafwright.say import (
    BY_HAND,
    JIG,
    LIES,
    Words,
    count_of,
    edge_words,
    end_steps,
    end_words,
    sentence,
    tool_words,
    words_of,
    wrap_note,
    wrap_rows,
)
from leafwright.say_cutting import in_cut_order, order_told, turn_words
from leafwright.shop.cut_list import CutItem, CutList
from leafwright.shop.cut_order import CutOrder
from leafwright.shop.wraps import Wrap
from leafwright.told.lines import (
    cautions,
    check_lines,
    exit_code_of,
    heading_lines,
    held_lines,
    steps,
    stop_lines,
    table,
    wrapped,
)


def cuts_exit_code(document: CutsDocument) -> int:
    """Return 0 where every piece may be cut, 3 where a check is short, 4 where one is asked."""
    held = isinstance(document.cuts, Held)
    return exit_code_of(document.checks, document.stops, held=held)


def cuts_text(made: Plan, document: CutsDocument) -> str:
    """Return the cut list for a maker at a terminal, with how every end is made."""
    words = words_of(made.job)
    lines = [*heading_lines(made, "the cuts"), *stop_lines(document.stops)]
    if not document.for_cutting:
        lines += ["NOT FOR CUTTING until this is decided.", ""]
    cuts = document.cuts
    if isinstance(cuts, Held):
        return "\n".join([*lines, *held_lines("Cut list", cuts)])
    lines += _saw_lines(cuts, document.idle, words)
    pieces = sum(len(item.marks) for item in cuts.items)
    lines += ["", f"{pieces} pieces, {words.mass(cuts.mass)}"]
    for item in in_cut_order(cuts, made.order):
        lines += ["", *_item_lines(item, turn_words(item, made.order, words), words)]
    lines += _order_lines(made, words)
    lines += ["", f"Checks: {count_of(document.checks)}", *check_lines(document.checks, words)]
    return "\n".join(lines)


def _order_lines(made: Plan, words: Words) -> list[str]:
    """Return what joints leave, in what order to cut, and whether the leaves close as cut."""
    if not isinstance(made.order, CutOrder):
        return []
    told = order_told([leaf for leaf in made.leaves if isinstance(leaf, Leaf)], made.order, words)
    lines = ["", "How the pieces fit:"]
    for line in (*told.fit, *told.closes):
        lines += wrapped(line, "    ", first="  ")
    lines += ["", "Cut in this order:"]
    return lines + steps(told.steps, "  ")


def _saw_lines(cuts: CutList, unused: tuple[str, ...], words: Words) -> list[str]:
    listed = any(tool.listed for tool in cuts.tools)
    lines = ["Cut with:" if listed else "Cut with (no saw is listed under [[cut_with]]):"]
    for tool in cuts.tools:
        lines += wrapped(tool_words(tool, words), "    ", first="  ")
    if unused:
        lines += wrapped(f"Nothing here is cut by: {', '.join(unused)}.", "    ", first="  ")
    lines += ["", *wrapped(LIES)]
    made = [cut for item in cuts.items for end in (item.start, item.end) for cut in end.cuts]
    if any(cut.way in ("by hand", "none") for cut in made):
        lines += wrapped(BY_HAND)
    if any(cut.way == "jig" for cut in made):
        lines += cautions([JIG], "")
    return lines


def _item_lines(item: CutItem, turn: str, words: Words) -> list[str]:
    square = all(s < 1e-9 for end in (item.start, item.end) for _, s in end.offsets)
    lines = [
        f"{len(item.marks)} × {', '.join(item.marks)}: {', '.join(item.roles)}",
        f"  {item.section.designation}, {item.section.grade.name}; {words.mass(item.mass)} each",
        *(wrapped(turn, "    ", first="  ") if turn else ()),
        f"  {words.length(item.length)} "
        + ("overall, square ends" if square else "long point to long point"),
    ]
    if not square:
        lines += wrapped(f"along its edges: {edge_words(item, words)}", "    ", first="  ")
    ends = [("left end", item.start), ("right end", item.end)]
    alike = end_steps(item.start, words) == end_steps(item.end, words)
    if alike and item.start.wrap == item.end.wrap:
        ends = [("both ends", item.start)]
    for name, end in ends:
        told = end_steps(end, words)
        if len(told) == 1:
            lines += wrapped(f"{name}: {told[0]}", "    ", first="  ")
        else:
            lines.append(f"  {name}: {sentence(end_words(end))}")
            lines += steps(told, "    ")
        if end.wrap is not None:
            lines += _wrap_lines(end.wrap, words)
    return lines


def _wrap_lines(wrap: Wrap, words: Words) -> list[str]:
    """Return the stations of a round tube's end, for who has no printer."""
    lines = wrapped(
        f"Round the tube from a line along its lower edge, {words.length(wrap.around)} in all, "
        f"first over the {wrap.first} with the end up and the tube before you:",
        "    ",
    )
    head = ("station", "round to the right", "back from the long point")
    lines += table(head, wrap_rows(wrap, words), "    ")
    lines += wrapped(wrap_note(wrap, words), "    ")
    return lines
