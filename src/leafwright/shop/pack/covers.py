"""The infill as it is bought: boards and sheets by count where it is said how they are sold."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from leafwright.job.defaults import DEFAULTS
from leafwright.job.model import Infill, LeafTable
from leafwright.leaf import InfillPiece, Leaf
from leafwright.proof.infill_stuff import infill_of
from leafwright.records import Metres
from leafwright.shop.holes.records import Holes
from leafwright.shop.holes.tools import size_words
from leafwright.shop.pack.bill import WASTE, Bill, spares
from leafwright.shop.pack.holes import screws_of
from leafwright.units import Tape, rounded_to_tape, show_length, show_machined

#: What a saw takes between two boards cut from one [m].
BOARD_KERF = 0.004
#: Screws of a board at each tube that it crosses; common practice, no source.
SCREWS_A_BOARD = 2
#: What is fixed along all its sides, its screws laid out with the holes.
_LAID_OUT = ("sheet", "polycarbonate", "twin-wall", "panel")


@dataclass(frozen=True, slots=True)
class _Piece:
    """A piece of infill, the choice that it comes from, and the wall that it is fixed to."""

    piece: InfillPiece
    infill: Infill
    wall: Metres


def put_infill(
    made: Bill, tables: Sequence[LeafTable], leaves: Sequence[Leaf], drilled: Holes | None
) -> None:
    """Put down what closes the panels, and what it is fixed with."""
    groups: dict[tuple[object, ...], list[_Piece]] = {}
    for table, leaf in zip(tables, leaves, strict=True):
        wall = leaf.members[0].section.nominal_wall
        for piece in leaf.infill:
            one = infill_of(table, piece)
            sold = (one.sold_width, one.sold_length, one.runs, one.opening, one.wire, one.density)
            key = (piece.kind, round(piece.thickness, 6), *(t and str(t) for t in sold))
            groups.setdefault(key, []).append(_Piece(piece, one, wall))
    for pieces in groups.values():
        if pieces[0].piece.kind == "boards":
            _boards(made, pieces)
        else:
            _sheets(made, pieces)
    if drilled is not None:
        for what, size, count, why in screws_of(drilled, made.job.job.system):
            _screws(made, what, size, count, why)


def _screws(made: Bill, what: str, size: str, count: int, why: str) -> None:
    spare = spares(count)
    made.put(
        "bolts",
        f"bolts/{what}/{size}/{why}",
        what,
        size,
        count + spare,
        None,
        f"{why}; {spare} spare",
        priced=("screws", "bolts"),
    )


def _covers(made: Bill, pieces: Sequence[_Piece]) -> str:
    sizes = [
        f"{show_length(one.piece.right - one.piece.left, made.tape)} × "
        f"{show_length(one.piece.top - one.piece.bottom, made.tape)}"
        for one in pieces
    ]
    return ", ".join(f"{sizes.count(size)} × {size}" for size in dict.fromkeys(sizes))


def _put(
    made: Bill, pieces: Sequence[_Piece], size: str, count: int, area: float, why: str
) -> None:
    """Put an infill down: by its area, or so many of a size that together have that area."""
    first = pieces[0]
    a_square_metre = first.piece.mass / first.piece.area
    made.put(
        "infill",
        f"infill/{first.piece.kind}/{size}",
        first.piece.kind,
        size,
        count,
        area * a_square_metre,
        why,
        area=area,
        priced=(first.piece.kind,),
    )


def _by_area(made: Bill, pieces: Sequence[_Piece], thick: str) -> None:
    area = WASTE * math.fsum(one.piece.area for one in pieces)
    amount = f"{area / 0.3048**2:.0f} ft²" if made.inch else f"{area:.1f} m²"
    why = f"covers {_covers(made, pieces)}, and a tenth more"
    _put(made, pieces, f"{thick}, {amount}", 0, area, why)


# ---------------------------------------------------------------- boards


def _boards(made: Bill, pieces: Sequence[_Piece]) -> None:
    one = pieces[0].infill
    thick = _thin(pieces[0].piece.thickness, made.tape)
    missing = [key for key in ("runs", "sold_width", "sold_length") if getattr(one, key) is None]
    if one.runs is None or one.sold_width is None or one.sold_length is None:
        made.ask(f"boards by count, and their screws: say {', '.join(missing)} in their infill")
        _by_area(made, pieces, thick)
        return
    cover, sold = one.sold_width.si, one.sold_length.si
    lengths: list[float] = []
    for each in pieces:
        wide, high = each.piece.right - each.piece.left, each.piece.top - each.piece.bottom
        across, along = (wide, high) if one.runs == "up" else (high, wide)
        lengths += [along] * math.ceil(across / cover - 1e-9)
    if max(lengths) > sold + 1e-9:
        longest = show_length(max(lengths), made.tape)
        made.ask(
            f"boards of {longest}: those sold, {one.sold_length.text}, are shorter; say a longer "
            "sold_length, or how they are joined"
        )
        _by_area(made, pieces, thick)
        return
    count = sticks_for(lengths, sold, BOARD_KERF)
    spare = spares(count)
    size = f"{thick}, covers {one.sold_width.text}, {one.sold_length.text} long"
    cut = ", ".join(
        f"{lengths.count(x)} × {show_length(x, made.tape)}" for x in sorted(set(lengths))
    )
    why = f"cut to {cut}, running {one.runs}; covers {_covers(made, pieces)}; {spare} spare"
    _put(made, pieces, size, count + spare, (count + spare) * cover * sold, why)
    d = one.screw.si if one.screw is not None else _usual_screw(made)
    deep = pieces[0].piece.thickness + pieces[0].wall + d
    step = 0.00635 if made.inch else 0.005
    long = show_length(math.ceil(deep / step - 1e-9) * step, made.tape)
    screws = 2 * SCREWS_A_BOARD * len(lengths)
    ends = "rails" if one.runs == "up" else "stiles"
    _screws(
        made,
        "screws",
        f"{size_words(d, made.job.job.system)} × {long}",
        screws,
        f"boards: {SCREWS_A_BOARD} at each end of {len(lengths)} boards, into the {ends}",
    )


def _usual_screw(made: Bill) -> float:
    usual = DEFAULTS["infill screw"]
    return usual.inch if made.job.job.system == "feet-inch" else usual.metric


def sticks_for(lengths: Sequence[float], sold: float, kerf: float) -> int:
    """Return how many of one sold length all pieces come out of, the longest laid first [m].

    It is not said to be the least.
    """
    left: list[float] = []
    for length in sorted(lengths, reverse=True):
        place = next((i for i, room in enumerate(left) if room >= length - 1e-9), None)
        if place is None:
            left.append(sold - length - kerf)
        else:
            left[place] -= length + kerf
    return len(left)


# ---------------------------------------------------------------- sheets


def _sheets(made: Bill, pieces: Sequence[_Piece]) -> None:
    one, kind = pieces[0].infill, pieces[0].piece.kind
    thick = _thin(pieces[0].piece.thickness, made.tape)
    if kind == "mesh" and one.opening is not None and one.wire is not None:
        thick = f"{one.opening.text} clear, wire {one.wire.text}"
    if kind == "glass":
        made.ask("beads, blocks and tape of the glass: its glazier brings them")
    elif one.fixing_spacing is None:
        made.ask(f"what the {kind} is fixed with: say fixing_spacing and screw in its infill")
    elif kind not in _LAID_OUT:
        _round_edges(made, pieces, one)
    if one.sold_width is None or one.sold_length is None:
        if kind != "glass":
            made.ask(
                f"how many sheets the {kind} takes: say sold_width and sold_length in its infill"
            )
        _by_area(made, pieces, thick)
        return
    wide, long = one.sold_width.si, one.sold_length.si
    sizes: dict[tuple[float, float], int] = {}
    for each in pieces:
        size = (
            round(each.piece.right - each.piece.left, 6),
            round(each.piece.top - each.piece.bottom, 6),
        )
        sizes[size] = sizes.get(size, 0) + 1
    count = 0
    for (across, up), number in sizes.items():
        from_one = from_a_sheet(across, up, wide, long)
        if from_one == 0:
            made.ask(
                f"{kind} of {show_length(across, made.tape)} × {show_length(up, made.tape)}: it "
                f"does not come out of one sheet of {one.sold_width.text} × "
                f"{one.sold_length.text}; say a larger one, or where it is joined"
            )
            _by_area(made, pieces, thick)
            return
        count += math.ceil(number / from_one)
    size_told = f"{thick}, {one.sold_width.text} × {one.sold_length.text}"
    _put(made, pieces, size_told, count, count * wide * long, f"covers {_covers(made, pieces)}")


def from_a_sheet(across: Metres, up: Metres, wide: Metres, long: Metres) -> int:
    """Return how many pieces of one size come out of a sheet, all laid the same way [m]."""

    def fits(a: float, b: float) -> int:
        return int(wide / a + 1e-9) * int(long / b + 1e-9)

    return max(fits(across, up), fits(up, across))


def _round_edges(made: Bill, pieces: Sequence[_Piece], one: Infill) -> None:
    """Put down the screws round a mesh, by its spacing along all four sides."""
    assert one.fixing_spacing is not None
    count = 0
    for each in pieces:
        for side in (each.piece.right - each.piece.left, each.piece.top - each.piece.bottom):
            count += 2 * math.ceil(side / one.fixing_spacing.si - 1e-9)
    d = one.screw.si if one.screw is not None else _usual_screw(made)
    what = f"screws with washers wider than the {each.piece.kind}'s opening"
    size = size_words(d, made.job.job.system)
    _screws(made, what, size, count, f"{each.piece.kind}, every {one.fixing_spacing.text}")


def _thin(thickness: float, tape: Tape) -> str:
    """Return a thickness as a tape shows it, or in figures where no mark of it is near."""
    if abs(float(rounded_to_tape(thickness, tape)) - thickness) < 1e-4:
        return show_length(thickness, tape)
    return show_machined(thickness, tape.system)
