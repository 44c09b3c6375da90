"""The hole schedule told on a terminal: part by part, from which end, which edge, which face."""

from __future__ import annotations

from leafwright.documents.records import HolesDocument
from leafwright.pipeline import Plan
from leafwright.records import Held
from leafwright.say import Words, count_of, hole_size, hole_words, sentence, words_of
from leafwright.shop.holes.records import HoledPart, Holes, InPlace, Plate, ScrewRow
from leafwright.told.lines import (
    cautions,
    check_lines,
    exit_code_of,
    heading_lines,
    held_lines,
    steps,
    stop_lines,
    wrapped,
)


def holes_exit_code(document: HolesDocument) -> int:
    """Return 0 where every hole may be drilled, 3 where a check is short, 4 where one is asked."""
    found = document.holes
    held = isinstance(found, Held)
    asked = not isinstance(found, Held) and bool(found.asks)
    return exit_code_of(document.checks, document.stops, held=held or asked)


def holes_text(made: Plan, document: HolesDocument) -> str:
    """Return the hole schedule for a maker at a terminal."""
    words = words_of(made.job)
    lines = [*heading_lines(made, "holes and plates"), *stop_lines(document.stops)]
    if not document.for_cutting:
        lines += ["NOT FOR CUTTING until this is decided.", ""]
    found = document.holes
    if isinstance(found, Held):
        return "\n".join([*lines, *held_lines("Holes", found)])
    lines += [
        f"{len(found.every)} holes in {len(found.parts) + len(found.plates)} parts; "
        f"{sum(one.count for one in found.in_place)} more are drilled in place. Each leaf has its "
        "own; none is the other's turned over.",
        *cautions(found.cautions),
    ]
    hands = [*(part.hand for part in found.parts), *(plate.hand for plate in found.plates)]
    for hand in dict.fromkeys(hands):
        lines += ["", f"{hand.upper()} LEAF" if hand != "leaf" else "THE LEAF"]
        for part in found.parts:
            lines += _part_lines(part, words) if part.hand == hand else []
        for plate in found.plates:
            lines += _plate_lines(plate, words) if plate.hand == hand else []
    lines += _in_place_lines(found, words)
    lines += _screw_lines(found, words)
    lines += ["", "In this order:", *steps(found.order)]
    for said in found.words:
        lines += wrapped(f"{sentence(said)}.", "  ", first="")
    if found.asks:
        lines += ["", "Not known yet:"]
        for asked in found.asks:
            lines += wrapped(f"{asked}", "    ", first="  ? ")
    lines += ["", f"Checks: {count_of(document.checks)}", *check_lines(document.checks, words)]
    return "\n".join(lines)


def _part_lines(part: HoledPart, words: Words) -> list[str]:
    head = f"{part.mark} {part.name}, {part.section}, {words.length(part.length)}"
    lines = ["", *wrapped(f"{head}: hook the tape on {part.datum_end}", "    ", first="  ")]
    datums = {face.key: face.datum for face in part.faces}
    for hole in part.holes:
        told = hole_words(hole, words, across_from=datums.get(hole.face, ""))
        lines += wrapped(f"{hole.label}. {told}", "       ", first="    ")
    return lines


def _plate_lines(plate: Plate, words: Words) -> list[str]:
    left, lower, right, upper = plate.edges
    size = " x ".join(words.length(q) for q in (plate.length, plate.width))
    lines = [
        "",
        *wrapped(
            f"{plate.mark} {plate.name}, {size}, {words.length(plate.thickness)} thick, "
            f"{plate.grade}: seen {plate.seen}",
            "    ",
            first="  ",
        ),
        *wrapped(
            f"left edge toward {left}, lower toward {lower}, right toward {right}, upper "
            f"{'' if upper.startswith('away') else 'toward '}{upper}".replace(
                "toward away", "away"
            ),
            "      ",
            first="    ",
        ),
    ]
    for hole in plate.holes:
        told = hole_words(hole, words, across_from="the lower edge")
        lines += wrapped(f"{hole.label}. {told}", "       ", first="    ")
    return lines


def _in_place_lines(found: Holes, words: Words) -> list[str]:
    if not found.in_place:
        return []
    lines = ["", "DRILLED IN PLACE"]
    marks = {plate.key: plate.mark for plate in found.plates}
    for one in found.in_place:
        lines += wrapped(in_place_words(one, marks, words), "    ", first="  ")
    return lines


def in_place_words(one: InPlace, marks: dict[str, str], words: Words) -> str:
    """Return holes that are drilled on site, in a line."""
    through = f"through {marks[one.template]}" if one.template in marks else "marked by the rod"
    refused = f" DO NOT DRILL: {one.refused}." if one.refused else ""
    return (
        f"{one.count} x {hole_size(one.diameter, words)} in the {one.into}, {through}: {one.use}; "
        f"{one.tool}; {one.when}; {one.why}.{refused}"
    ).replace("in the the", "in the")


def _screw_lines(found: Holes, words: Words) -> list[str]:
    if not found.screws:
        return []
    lines = ["", "SCREWS OF THE INFILL"]
    for row in found.screws:
        lines += wrapped(screw_words(row, words), "    ", first="  ")
    return lines


def screw_words(row: ScrewRow, words: Words) -> str:
    """Return a row of screws in a line."""
    slot = f", slots {words.length(row.slot)} long" if row.slot > 0.0 else ""
    return (
        f"{row.mark}, {row.side}: {row.count} screws, the first {words.length(row.first)} from its "
        f"datum end, then every {words.length(row.pitch)}, {words.length(row.across)} across; "
        f"{row.tool} in the tube, {row.sheet_tool} in the infill{slot}; {row.why}"
    )
