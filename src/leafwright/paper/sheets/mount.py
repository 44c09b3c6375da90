"""How a leaf is held, to scale: its pivots and their plates, or its hinges and their post."""

from __future__ import annotations

import re
from collections.abc import Callable

from leafwright.doorway import Doorway
from leafwright.leaf import Leaf
from leafwright.mount import LeafMount, Mounting
from leafwright.paper.layout import Caution
from leafwright.paper.sheet import Sheet
from leafwright.paper.sheets.common import Desk, blank, title_of_leaf
from leafwright.paper.sheets.flow import Block, Says, Title, in_columns
from leafwright.paper.sheets.mount_bottom import bottom_drawing, not_given_below
from leafwright.paper.sheets.mount_hinges import hinge_sheets
from leafwright.paper.sheets.mount_parts import mountings
from leafwright.paper.sheets.mount_plates import not_given_of_plates, plate_drawings, plate_notes
from leafwright.paper.sheets.mount_room import large, views
from leafwright.paper.sheets.mount_top import not_given_above, top_drawing
from leafwright.paper.sheets.mount_words import (
    cautions_of,
    checks_in_short,
    mind,
    not_given,
    pin_carries,
    told,
    words_of_links,
)
from leafwright.records import Check, Held

#: Links of a floor pivot that stand on its plates' sheet.
_OF_PLATES = ("floor anchors", "head")
_HEAD = ("top pivot", "head")
_BELOW = ("bottom pivot", "ball", "vertical stack", "pin fits", "stops")

DASHED_HOLES = "What is dashed stands as the proof takes it: settle it before you cut or drill."


def mount_sheets(at: Desk) -> tuple[Sheet, ...]:
    """Return the sheets of how each leaf is held; nothing for a leaf that could not be designed."""
    sheets: list[Sheet] = []
    pivots: list[tuple[Mounting, LeafMount]] = []
    for m, mount in mountings(at):
        if m.table.mount.kind == "floor pivot":
            sheets += _pivot_sheets(at, m, mount)
            pivots.append((m, mount))
        else:
            sheets += hinge_sheets(at, m, mount)
    return (*sheets, *_plate_sheets(at, pivots), *_held_sheets(at))


def _held_sheets(at: Desk) -> list[Sheet]:
    """Return a sheet for each leaf whose mount could not be proved, that says why."""
    room, sheets = at.plan.doorway, list[Sheet]()
    if not isinstance(room, Doorway):
        return sheets
    for place, leaf, mount in zip(room.leaves, at.plan.leaves, at.plan.mounts, strict=False):
        if isinstance(leaf, Leaf) and isinstance(mount, Held):
            sheet = blank(at, f"{title_of_leaf(place.key)}: how it is held", seen=False)
            why = f"Not drawn: {mount.why}. It needs {'; '.join(mount.needs)}."
            sheets += in_columns(sheet, _same(sheet), [Says(why, 3.4)])
    return sheets


def _same(sheet: Sheet) -> Callable[[], Sheet]:
    return lambda: sheet


def _above(name: str, check: Check) -> bool:
    """Return whether a check is of the leaf's head."""
    tail = check.key.partition("/")[2]
    return name in _HEAD or re.search(r"\b(top|head)\b", tail) is not None


def _pivot_sheets(at: Desk, m: Mounting, mount: LeafMount) -> list[Sheet]:
    face = at.plan.job.job.seen_from.upper()
    who = title_of_leaf(m.key)
    below: list[Block] = [
        Title("The bottom pin", 3.6),
        *pin_carries(at, m, m.pivots[0]),
        *checks_in_short(at, m, mount, lambda name, check: not _above(name, check)),
        *mind("Mind", cautions_of(mount, *(n for n in _BELOW if n != "bottom pivot"))),
        Title("What goes with the drawing", 3.6),
        *told((*_notes_below(m), *words_of_links(mount, "ball", "vertical stack", "pin fits"))),
    ]
    above: list[Block] = [
        Title("The top pin", 3.6),
        *pin_carries(at, m, m.pivots[-1]),
        *checks_in_short(at, m, mount, _above),
        Title("What goes with the drawing", 3.6),
        *told((*_notes_above(m), *words_of_links(mount, "head"))),
    ]
    return [
        *large(
            at,
            f"{who}: bottom pivot",
            lambda how: bottom_drawing(at, m, how),
            below,
            caption=f"BOTTOM PIVOT, CUT ON ITS AXIS, SEEN FROM THE {face}",
            stops=not_given(not_given_below(m)),
            cautions=_boxed(mount, "bottom pivot"),
        ),
        *large(
            at,
            f"{who}: top pivot",
            lambda how: top_drawing(at, m, how),
            above,
            caption=f"TOP PIVOT, CUT ON ITS AXIS, SEEN FROM THE {face}",
            stops=not_given(not_given_above(m)),
            cautions=_boxed(mount, *_HEAD),
            breaks=True,
        ),
    ]


def _boxed(mount: LeafMount, *names: str) -> tuple[Caution, ...]:
    """Return the cautions of links in one box for above the title strip."""
    found = tuple(dict.fromkeys(cautions_of(mount, *names)))
    return (Caution("Before you weld or loosen anything here", " ".join(found)),) if found else ()


def _notes_below(m: Mounting) -> tuple[str, ...]:
    notes = [
        "Two loops, never added to one another: the floor side from the floor to the bottom of the "
        "leaf, the sleeve side from the top of the plate. The holes in the stile are from the "
        "bottom of the leaf.",
        "Which face each hole goes in stands in the hole schedule: the access hole in a face that "
        "no infill covers, plug holes where nothing lands.",
        "Floor plate and floor are broken off: the plate's whole size and its holes are on the "
        "sheet of the plates.",
    ]
    if m.table.corners != "stiles run through":
        notes.append(
            "The bottom rail runs under the stile: the pin goes through its wall, in a hole that "
            "the job file does not size. Make it so large that the pin never touches it."
        )
    return tuple(notes)


def _notes_above(m: Mounting) -> tuple[str, ...]:
    notes = [
        "The top sleeve is drawn flush with the top of the leaf, as the proof takes it. Where its "
        "plug holes go stands in the hole schedule: half of them near either end of it.",
        "Top sizes that the job file does not give apart are those of the bottom pivot.",
    ]
    if m.table.corners != "stiles run through":
        notes.append("The top rail runs over the stile: sleeve and pin go through its wall.")
    return tuple(notes)


def _plate_sheets(at: Desk, pivots: list[tuple[Mounting, LeafMount]]) -> list[Sheet]:
    """Return a sheet of plates for each leaf, or one for both where they are the same."""
    drawn = [plate_drawings(at, m) for m, _ in pivots]
    if len(drawn) == 2 and drawn[0] == drawn[1]:
        groups = [("Both leaves", pivots)]
    else:
        groups = [(title_of_leaf(m.key), [(m, mount)]) for m, mount in pivots]
    sheets: list[Sheet] = []
    for who, group in groups:
        first = group[0][0]
        every = [mount for _, mount in group]
        blocks: list[list[Block]] = [[], []]
        for number, link in enumerate(_OF_PLATES):
            warned = [c for one in every for c in cautions_of(one, link)]
            said = [w for one in every for w in words_of_links(one, link)]
            notes = plate_notes(first, both=len(group) == 2) if number == 0 else ()
            blocks[number] = [
                *mind("Before you drill" if number == 0 else "At the head", warned),
                *told((*notes, *said)),
            ]
        sheets += views(
            at,
            f"{who}: pivot plates",
            plate_drawings(at, first),
            blocks,
            cautions=not_given(not_given_of_plates(at, first), dashed=DASHED_HOLES),
        )
    return sheets
