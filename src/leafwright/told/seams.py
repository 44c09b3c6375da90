"""Every seam on the terminal: its number, where, what it is, how long, in what position."""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence

from leafwright.documents.records import SeamsDocument
from leafwright.pipeline import Plan
from leafwright.records import Held
from leafwright.say import sentence, words_of
from leafwright.shop.seams import LeafSeams, Left, NumberedSeam
from leafwright.shop.seams.words import (
    FLUSH,
    SHARP,
    best_position,
    extra_words,
    left_words,
    length_words,
    total_words,
    weld_words,
    where_words,
)
from leafwright.told.lines import (
    cautions,
    check_lines,
    exit_code_of,
    heading_lines,
    held_lines,
    leaf_name,
    stop_lines,
    wrapped,
)
from leafwright.units import Tape

#: What is said where ticks are asked of a bare job file.
NO_LOG = (
    "{} is a job file alone, and ticks are kept in the log of a job's folder: give the folder that "
    "holds job.toml."
)
_STATES = {"left": "[ ]", "done": "[x]", "changed": "[!]"}


def seams_exit_code(document: SeamsDocument) -> int:
    """Return the exit code of what is told: by the checks of welds, and by what stops."""
    held = isinstance(document.seams, Held)
    return exit_code_of(document.checks, document.stops, held=held)


def seams_text(made: Plan, document: SeamsDocument, *, only_left: bool = False) -> str:
    """Return every seam, or with ``only_left`` what is not ticked yet, for the terminal."""
    words = words_of(made.job)
    what = "seams not welded yet" if only_left else "seams"
    lines = [*heading_lines(made, what), *([] if only_left else stop_lines(document.stops))]
    if isinstance(document.seams, Held):
        return "\n".join([*lines, *held_lines("Seams", document.seams)])
    states = {tick.key: tick.state for tick in document.ticks or ()}
    lefts: Sequence[Left | None] = document.left or [None] * len(document.seams.leaves)
    for leaf, left in zip(document.seams.leaves, lefts, strict=True):
        who = leaf_name(leaf.leaf)
        head = f"{who}: {len(leaf.frame)} seams of its own, {len(leaf.mount)} of what holds it"
        lines.append(f"{head}; symbols by {leaf.symbols}")
        if left is not None:
            lines += wrapped(left_words(left, "ticks"), "  ")
        shown = [s for s in leaf.every if not only_left or states[s.key] != "done"]
        lines += _seam_lines(shown, words.tape, states, iso=words.system == "mm")
        if not only_left:
            lines += _end_lines(leaf, words.tape)
        lines.append("")
    lines += cautions([document.hold], "")
    if only_left:
        return "\n".join(lines)
    lines += [*cautions([FLUSH], ""), *cautions([SHARP], "")]
    asked = check_lines(document.checks, words)
    return "\n".join([*lines, *(["", "Checks of welds", *asked] if asked else [])])


def _seam_lines(
    seams: Sequence[NumberedSeam], tape: Tape, states: Mapping[str, str], *, iso: bool
) -> list[str]:
    lines = []
    wide = max((len(seam.mark) for seam in seams), default=0)
    for place, here in itertools.groupby(seams, key=lambda seam: seam.place):
        lines.append(f"  {sentence(place)}")
        end = ""
        for seam in here:
            member, side = where_words(seam)
            if member != end:
                lines.append(f"    {sentence(member)}")
                end = member
            box = f"{_STATES[states[seam.key]]} " if states else ""
            told = [f"{weld_words(seam, tape)} {length_words(seam, tape)}"]
            told += [best_position(seam, iso=iso), *extra_words(seam)]
            if seam.done_at == "field":
                told.append("FIELD")
            first = f"      {box}{seam.mark:{wide}}  "
            lines += wrapped(f"{side}: {'; '.join(told)}", " " * len(first), first=first)
    return lines


def _end_lines(leaf: LeafSeams, tape: Tape) -> list[str]:
    lines = ["  Together"]
    for row in leaf.lengths:
        weld, place, count, long = total_words(row, tape)
        lines.append(f"    {count:>3} × {weld}, {place}: {long}")
    lines.append("  No seam")
    for bare in leaf.unwelded:
        lines += wrapped(f"{bare.where}: {bare.reason}", "      ", first="    ")
    return lines
