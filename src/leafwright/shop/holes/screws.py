"""Screws of the infill: pilot holes in the tubes, clearance holes or slots in the sheet.

A sheet is screwed along all four sides of its panel, at no more than the spacing that the job has.
What grows more than its frame has one screw that holds it fast, and slots that point at that one.
"""

from __future__ import annotations

import math

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.doorway.allow import warmer
from leafwright.handbook import thermal
from leafwright.job.defaults import chosen
from leafwright.job.model import Infill
from leafwright.leaf import InfillPiece
from leafwright.proof.infill_stuff import PLASTIC, colder, growth_of, infill_of
from leafwright.records import Metres
from leafwright.shop.holes.bench import Bench
from leafwright.shop.holes.records import ScrewRow
from leafwright.shop.holes.tools import cutters
from leafwright.shop.holes.tube import STILES, Tube

#: Screwed along its sides as a sheet is.
SHEETS = ("sheet", "polycarbonate", "twin-wall", "panel")

#: Pilot of a thread-forming screw in steel over its diameter [-]; common practice, no source: the
#: screw's own sheet decides.
PILOT = 0.88

_INCH = 0.0254
#: By how much a round hole in the sheet is wider than its screw [m], inch and metric.
_PLAY = {"feet-inch": _INCH / 32.0, "metric": 0.001}


def screw_rows(b: Bench) -> tuple[ScrewRow, ...]:
    """Return every row of screws of a leaf's infill, as far as the job says how it is fixed."""
    rows: list[ScrewRow] = []
    asked: set[str] = set()
    for piece in b.m.leaf.infill:
        infill = infill_of(b.m.table, piece)
        if infill.kind not in SHEETS:
            if infill.kind == "boards" and infill.runs is None:
                asked.add("boards: say which way they run, and their screws are counted")
            continue
        if infill.fixing_spacing is None:
            asked.add(f"{infill.kind}: say fixing_spacing and screw, and its rows are laid out")
            continue
        rows += _rows_of(b, piece, infill)
    b.asks += [f"how the infill of {b.m.who} is fixed, {words}" for words in sorted(asked)]
    return tuple(rows)


def _rows_of(b: Bench, piece: InfillPiece, infill: Infill) -> list[ScrewRow]:
    screw = chosen(
        infill.screw,
        "infill screw",
        "proof/infill screw",
        "infill: screw",
        system=b.m.job.job.system,
    )
    b.defaults += [screw] if screw.kind == "default" else []
    stiles = [t for t in b.tubes if t.member.role in STILES]
    rails = [t for t in b.tubes if abs(t.way[1]) <= 1e-9]
    under = min(rails, key=lambda t: abs(_level(t) - piece.bottom))
    over = min(rails, key=lambda t: abs(_level(t) - piece.top))
    found = []
    for tube in stiles:
        found.append(_stile_row(b, piece, infill, tube, screw))
    for tube, name, is_over in ((under, "lower", False), (over, "upper", True)):
        found.append(_rail_row(b, piece, infill, tube, screw, name, is_over=is_over))
    return found


def _level(tube: Tube) -> Metres:
    return tube.start[1] + tube.width / 2.0


def _share(tube: Tube, edge: Metres) -> float:
    """Return how far up a rail a piece's row is [-]: half, or a quarter where two pieces meet."""
    off = edge - _level(tube)
    # A piece that ends on the rail's middle has its screws in that half of the rail.
    return 0.5 if abs(off) > tube.width / 4.0 else 0.25


def _stile_row(
    b: Bench, piece: InfillPiece, infill: Infill, tube: Tube, screw: Quantity
) -> ScrewRow:
    half = tube.width / 2.0
    low = piece.bottom + (half if piece.bottom < half else half / 2.0)
    high = piece.top - (half if b.m.leaf.height - piece.top < half else half / 2.0)
    count = _count(high - low, infill) + 1
    name = "hinge" if tube.member.role == "hanging stile" else "nose"
    return _row(
        b, piece, infill, tube, screw, f"{name} side", low - tube.start[1], high - low, count,
        tube.width / 2.0, 0,
    )  # fmt: skip


def _rail_row(
    b: Bench,
    piece: InfillPiece,
    infill: Infill,
    tube: Tube,
    screw: Quantity,
    name: str,
    *,
    is_over: bool,
) -> ScrewRow:
    stile = b.tube("hanging stile").width
    between = b.m.leaf.width - stile
    spaces = _count(between, infill)
    pitch = between / spaces
    edge = piece.top if is_over else piece.bottom
    share = _share(tube, edge)
    if share == 0.25 and not is_over:
        share = 0.75
    # The rows of the stiles hold its corners.
    from_hinge = abs(tube.start[0] - (0.0 if b.m.leaf.hand == "left" else b.m.leaf.width))
    start = stile / 2.0 - from_hinge
    count = spaces - 1
    fixed = 0
    if is_over and infill.kind in PLASTIC:
        fixed = max((count + 1) // 2, 1)
    return _row(
        b, piece, infill, tube, screw, f"{name} side", start + pitch,
        pitch * max(count - 1, 0), max(count, 1), share * tube.width, fixed,
    )  # fmt: skip


def _count(length: Metres, infill: Infill) -> int:
    assert infill.fixing_spacing is not None
    return max(math.ceil(length / infill.fixing_spacing.si - 1e-9), 1)


def _row(
    b: Bench,
    piece: InfillPiece,
    infill: Infill,
    tube: Tube,
    screw: Quantity,
    side: str,
    first: Metres,
    length: Metres,
    count: int,
    across: Metres,
    fixed: int,
) -> ScrewRow:
    key = f"{piece.key}/{side}"
    d = screw.value
    pilot = chain.base(
        "default", f"holes/pilot {infill.kind}", "pilot for the infill's screws", PILOT * d,
        note="0.88 of the screw, thread-forming; common practice, no source: its sheet decides, "
        "and a drill-point screw needs none",
    )  # fmt: skip
    play = _PLAY[b.system]
    clear = chain.base(
        "default", f"holes/clearance {infill.kind}", "hole in the infill for its screws", d + play,
        note="a thirty-second or 1 mm over the screw; common practice, no source",
    )  # fmt: skip
    b.defaults += [pilot, clear]
    slot = _slot(b, piece, infill, screw) if infill.kind in PLASTIC else 0.0
    why = "round holes: it grows as its frame does"
    if slot > 0.0:
        why = "slots point at the one screw that holds it fast, in the middle of its upper side"
        if fixed:
            why = f"screw {fixed} from the datum end holds it fast, in a round hole; {why}"
    return ScrewRow(
        key=key,
        piece=piece.key,
        part=tube.member.key,
        mark=tube.member.mark,
        hand=b.hand,
        face=piece.face,
        side=b.side(piece.face),
        first=chain.base("wish", f"{key}/first", "first screw", first, note="laid out by spacing"),
        pitch=chain.base(
            "wish", f"{key}/pitch", "screw to screw", length / (count - 1) if count > 1 else 0.0,
            note=infill.fixing_spacing.text if infill.fixing_spacing else "",
        ),
        count=count,
        across=chain.base(
            "table", f"{key}/across", "across the tube", across, note="the middle of what it covers"
        ),
        screw=screw,
        pilot=pilot,
        clearance=clear,
        slot=slot,
        fixed=fixed,
        tool=", then ".join(
            t.words for t in cutters(pilot.value, tube.wall, b.system, plate=False)
        ),
        sheet_tool=", then ".join(
            t.words for t in cutters(clear.value, piece.thickness, b.system, plate=False)
        ),
        why=why,
    )  # fmt: skip


def _slot(b: Bench, piece: InfillPiece, infill: Infill, screw: Quantity) -> Metres:
    """Return the longest slot of a piece held fast in the middle of its upper side [m]."""
    grows = growth_of(infill)
    if grows is None:
        return 0.0
    job = b.m.job
    fall = colder(job.building.least_temperature, job.opening.survey_temperature, job.job.system)
    placing = chosen(
        None, "slot placing", "proof/slot placing", "play for placing", system=job.job.system
    )
    far = math.hypot((piece.right - piece.left) / 2.0, piece.top - piece.bottom)
    return thermal.slot_length(
        screw.value,
        far,
        grows.greatest,
        rise=warmer(job).value,
        fall=fall.value,
        placing=placing.value,
    )
