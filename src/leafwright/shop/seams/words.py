"""Seams in the maker's words: what a weld is, how long, in what position, what is left to do."""

from __future__ import annotations

import re

from leafwright.handbook.weld_positions import Position, iso_position
from leafwright.shop.seams.frame_seams import size_words
from leafwright.shop.seams.records import NumberedSeam, WeldLength
from leafwright.shop.seams.ticks import Left
from leafwright.units import Tape, show_length

_KINDS = {
    "fillet": "fillet",
    "flare-bevel": "flare-bevel",
    "square groove": "square groove",
    "bevel groove": "bevel groove",
    "plug": "plug",
}
HOLD = (
    "The leaf is not to be stood up while a seam is left that is made on pad or bench, nor let go "
    "of while one is left that holds it as it hangs."
)
FLUSH = (
    "Flush seams lie under what is hung over them. A flare-bevel or a groove is ground to the "
    "tube's own face and no lower: the throat that the proof counts is that of a groove filled to "
    "that face, not ground. A fillet loses throat as soon as it is ground: bevel instead, and have "
    "it proved again."
)
SHARP = (
    "In a corner sharper than 60° a fillet is not a full one, and under 30° none at all (AWS D1.1, "
    "skewed joints): such a seam closes the corner, and the proof does not count on it."
)


def weld_words(seam: NumberedSeam, tape: Tape) -> str:
    """Return what a seam is, with its size: a fillet's leg, a groove's throat, a hole's width."""
    kind = _KINDS[seam.kind]
    if seam.size is None:
        return f"{kind}, size not given,"
    size = size_words(seam.size, tape)
    if seam.kind == "fillet":
        return f"fillet {size}"
    if seam.kind == "plug":
        return f"plug {size} across,"
    return f"{kind}, throat {size}"


def length_words(seam: NumberedSeam, tape: Tape) -> str:
    """Return how long a seam is, in words."""
    if seam.kind == "plug":
        return "filled"
    way = "all round" if seam.all_round else "all along"
    if seam.length is None:
        return f"{way}, length not given"
    return f"{way}, {show_length(seam.length, tape)} long"


def best_position(seam: NumberedSeam, *, iso: bool) -> str:
    """Return in which position a seam is best made, and how the leaf lies for it."""
    p = seam.positions
    if not (p.apart or p.face_up or p.hung):
        return "as it comes"
    if p.apart:
        return f"{_listed(p.apart, seam, iso=iso)}, on the bench"
    if seam.done_at == "field" or not p.face_up:
        return f"{_listed(p.hung, seam, iso=iso)}, as it hangs"
    order = [each.value for each in Position]
    ways = [("face up", p.face_up), ("face down", p.face_down)]

    def worst(way: tuple[str, tuple[str, ...]]) -> int:
        return max(order.index(each) for each in way[1])

    told, best = min(ways, key=worst)
    if ways[0][1] == ways[1][1]:
        return _listed(best, seam, iso=iso)
    return f"{_listed(best, seam, iso=iso)}, {told}"


def _listed(positions: tuple[str, ...], seam: NumberedSeam, *, iso: bool) -> str:
    words = []
    for each in positions:
        letters = iso_position(Position(each), fillet=seam.kind == "fillet")
        words.append(f"{each} ({letters})" if iso else each)
    return " and ".join(words)


def where_words(seam: NumberedSeam) -> tuple[str, str]:
    """Return which end a seam is round, and which side of it."""
    if not seam.end:
        return f"{seam.member} on {seam.onto}", seam.face
    head = seam.where.split(f" {seam.end} end", 1)[0] + f" {seam.end} end"
    on = "mitred with" if f"mitred with {seam.onto}" in seam.where else "on"
    return head, f"{seam.where.rpartition(': ')[2]}, {on} {seam.onto}"


def extra_words(seam: NumberedSeam, *, short: bool = False) -> tuple[str, ...]:
    """Return what to mind of a seam, first what cannot be mended later.

    Args:
        seam: the seam.
        short: say only that something is not given, not what.
    """
    said = []
    if seam.before:
        said.append(f"before {seam.before} goes in, which covers it")
    if seam.flush:
        said.append(f"flush: {seam.covered_by}")
    if seam.unknown:
        said.append("not all is given" if short else seam.unknown)
    if any(note.startswith("round a saddle") for note in seam.notes):
        said.append("a saddle: flush on its flanks, where it seals and is not counted")
    sharp = next((note for note in seam.notes if note.startswith("a corner of")), "")
    if sharp:
        angle = re.search(r"corner of \d+°", sharp)
        counts = seam.throat > 0.0 and seam.counted > 0.0
        told = angle.group(0) if angle else "sharp corner"
        said.append(told if counts else f"{told}: seals, not counted")
    return tuple(said)


def ranges(numbers: list[int]) -> str:
    """Return numbers with runs of three or more put together: ``1, 3–6, 9, 10``."""
    found: list[list[int]] = []
    for number in sorted(numbers):
        if found and number == found[-1][-1] + 1:
            found[-1].append(number)
        else:
            found.append([number])
    told = []
    for run in found:
        told += [f"{run[0]}–{run[-1]}"] if len(run) > 2 else [str(each) for each in run]
    return ", ".join(told)


def left_words(left: Left, who: str) -> str:
    """Return what is not welded yet of a leaf, in one sentence."""
    if not left.shop and not left.field:
        return f"{who}: all {left.of} seams are ticked"
    parts = []
    if left.shop:
        parts.append(f"{len(left.shop)} on pad and bench, before it is stood up")
    if left.field:
        parts.append(f"{len(left.field)} as it hangs")
    told = f"{who}: {len(left.shop) + len(left.field)} of {left.of} seams are not ticked yet: "
    changed = f"; changed since the tick: {', '.join(left.changed)}" if left.changed else ""
    return told + " and ".join(parts) + changed


#: Where a seam is made: before the leaf is stood up, or when it hangs.
PLACES = {"shop": "pad or bench", "field": "as it hangs"}


def total_words(row: WeldLength, tape: Tape) -> tuple[str, str, str, str]:
    """Return a row of sums: weld, where, how many, how long together."""
    kind = _KINDS[row.kind]
    size = "size not given" if row.size is None else size_words(row.size, tape)
    long = "–" if row.kind == "plug" else show_length(row.length, tape)
    sized = row.size is not None or not row.length
    if row.unknown and row.kind != "plug" and sized:
        long += f", and {row.unknown} not given" if row.length else "not given"
    return (f"{kind}, {size}", PLACES[row.done_at], str(row.seams), long)
