"""Up the opening: floor, packing, plate, spacer, leaf, top gap, transom, head.

Leaf tops are level with one another, so the leaves stand on one line: the highest that any of
them needs, by its pivot's plate and spacer or by the floor under its swing. What a lower floor
leaves under a plate is packed.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.doorway.between import floor_between, head_between
from leafwright.doorway.budget import GapBudget, budget
from leafwright.doorway.gaps import gap_check
from leafwright.doorway.heel import Heel, leaf_words
from leafwright.doorway.over import (
    Over,
    as_cut,
    over_the_leaves,
    top_as_hung,
    top_check,
    under_plates,
)
from leafwright.doorway.records import Allowances, AsMade, FillerPiece, Side
from leafwright.job.defaults import chosen
from leafwright.job.model import FloorPivot, Job
from leafwright.job.steel import Steel
from leafwright.records import Check, Held, Metres, Radians
from leafwright.survey import (
    Survey,
    Sweep,
    coordinate,
    head_of,
    head_points,
    highest_floor,
)

FOOT: dict[Side, str] = {"left": "BL", "right": "BR"}


@dataclass(frozen=True, slots=True)
class Up:
    """What the up stage found: one bottom line for all leaves, and how high each is.

    ``leaf_height`` is that of all leaves; where one came out otherwise, of the highest top.
    ``bottoms`` is where each stands: on that line, or over it where it came out lower than the
    other, so that their tops agree.
    """

    bottom: Quantity
    bottoms: dict[Side, Quantity]
    leaf_height: Quantity
    heights: dict[Side, Quantity]
    packing: dict[Side, Quantity]
    head: Quantity | None
    clear_height: Quantity | None
    gaps: tuple[Quantity, ...]
    budgets: tuple[GapBudget, ...]
    checks: tuple[Check, ...]


def _stand(job: Job, found: Survey, heel: Heel, hand: Side) -> Quantity | None:
    """Return the y that a floor pivot holds its leaf's bottom at, unpacked; None for hinges."""
    mount = heel.table.mount
    if not isinstance(mount, FloorPivot):
        return None
    plate = mount.plate.thickness if mount.plate else None
    system = job.job.system
    parts = [
        (1.0, coordinate(found, FOOT[hand], "y")),
        (1.0, chosen(plate, "pivot plate", f"{heel.key}/plate", "pivot plate", system=system)),
        (1.0, chosen(mount.spacer, "spacer", f"{heel.key}/spacer", "spacer", system=system)),
    ]
    return chain.total(
        f"{heel.key}/stands at", f"{leaf_words(heel.key)} on plate and spacer", parts
    )


def opens_to(job: Job) -> Quantity:
    """Return how far the leaves are to open [rad]."""
    wish, key = job.doorway.opens_to, "doorway/opens to"
    return chosen(wish, "opens to", key, "how far the leaves open", system=job.job.system)


def sweep_of(heel: Heel, hand: Side, hinge_edge: Metres, width: Metres, opens_to: Radians) -> Sweep:
    """Return what of the floor a leaf sweeps, by where it hangs and how wide it is [m]."""
    axis = heel.axis.value
    half = max(heel.half_face.value, heel.half_back.value)
    return Sweep(
        hand=hand,
        swing=heel.table.swing,
        axis=hinge_edge + (axis if hand == "left" else -axis),
        radius=math.hypot(width - axis, half),
        half=half,
        upto=opens_to,
    )


def up(
    job: Job,
    found: Survey,
    steel: Steel,
    heels: dict[Side, Heel],
    sweeps: dict[Side, Sweep],
    allow: Allowances,
    made: AsMade | None = None,
) -> Up | Held:
    """Return everything up the opening [m], or why nothing fits.

    Args:
        job: wishes.
        found: the adjusted opening.
        steel: sections and grades of the job.
        heels: each leaf's heel, by its hand.
        sweeps: what of the floor each leaf sweeps, by its hand.
        allow: sag known from an earlier pass.
        made: leaves that are welded already: the other one's top is to agree with theirs.
    """
    known = {m.name for m in found.marks}
    lacking = [name for name in ("BR", "TL", "TR") if name not in known]
    if lacking:
        return Held(
            f"no reading reaches {', '.join(lacking)}",
            ("a reading from or to each corner of the opening",),
        )
    feet = {name: coordinate(found, name, "y") for name in FOOT.values()}
    under = {hand: highest_floor(job, found, sweeps[hand], heights=feet) for hand in heels}
    # The gap wished is over what was read; what lies between readings has a check of its own.
    read = {q.key: q for q in (*feet.values(), *(q for f in under.values() for q in f.read))}
    floor = list(read.values())
    highest = chain.largest("doorway/highest floor", "highest floor under the leaves", floor)
    least_gap = chosen(
        job.doorway.bottom_gap,
        "bottom gap",
        "doorway/bottom gap",
        "bottom gap",
        system=job.job.system,
    )
    clear_of_floor = chain.total(
        "doorway/clear of floor",
        "clear of the highest floor",
        [(1.0, highest), (1.0, least_gap), (1.0, allow.nose_drop)],
    )
    stands = {hand: _stand(job, found, heel, hand) for hand, heel in heels.items()}
    on_pivots = [s for s in stands.values() if s is not None]
    bottom = chain.largest(
        "doorway/bottom line", "bottom line of the leaves", [*on_pivots, clear_of_floor]
    )
    bottoms = _bottoms(heels, bottom, made)
    packing = {
        hand: chain.total(
            f"{heels[hand].key}/packing",
            f"packing under the plate of {leaf_words(heels[hand].key)}",
            [(1.0, bottoms[hand]), (-1.0, stand)],
        )
        for hand, stand in stands.items()
        if stand is not None
    }
    above = _above(job, found, steel, bottom, heels, made)
    if isinstance(above, Held):
        return above
    lowest = chain.least("doorway/lowest floor", "lowest floor under the leaves", floor)
    # Plates and packing are made to the sheet: from then on the floor alone is unsure.
    as_set = chain.as_made(bottom, "doorway/bottom as set", "bottom of the leaves as set")
    clearance = chain.total(
        "doorway/floor clearance",
        "clearance over the highest floor, sagged",
        [(1.0, as_set), (-1.0, highest), (-1.0, allow.nose_drop)],
    )
    deepest = chain.total(
        "doorway/deepest gap", "gap over the lowest floor", [(1.0, as_set), (-1.0, lowest)]
    )
    between = floor_between(job, heels, under, as_set, least_gap, allow)
    if above.head is not None:
        top = chain.total(
            "doorway/tops of the leaves",
            "tops of the leaves",
            [(1.0, bottom), (1.0, above.leaf_height)],
        )
        set_top = chain.as_made(top, "doorway/tops as set", "tops of the leaves as set")
        depth = transom_parts(job, steel)[:1] if _has_transom(job) else []
        profile = head_of(found, system=job.job.system, heights=above.heads)
        between += head_between(job, profile, heels, sweeps, set_top, depth, above.gaps[0])
    heights = [budget(clearance, [(1.0, least_gap)])]
    warm: tuple[Check, ...] = ()
    over: tuple[Quantity, ...] = ()
    if above.head is not None and above.over is not None:
        # A transom is set from the leaves, and what is over leaves of a wished height is filled:
        # there the gap is what it was chosen to be.
        if not _has_transom(job) and job.doorway.leaf_height is None:
            # What is cut no longer follows the readings; what was read of a made leaf does.
            cut = above.leaf_height if made is not None else as_cut(above.leaf_height)
            over = (top_as_hung(above.head, as_set, cut),)
        top_gap = over[0] if over else above.gaps[0]
        heights.append(budget(top_gap, above.over.parts))
        warm = (top_check(top_gap, above.over),)
        over = (*over, *under_plates(heels, top_gap))
    return Up(
        bottom=bottom,
        bottoms=bottoms,
        leaf_height=above.leaf_height,
        heights=above.heights,
        packing=packing,
        head=above.head,
        clear_height=above.clear_height,
        gaps=(*above.gaps, *over, clearance, deepest),
        budgets=tuple(heights),
        checks=(
            *above.checks,
            *warm,
            *_floor_checks(job, least_gap, clearance, deepest),
            *between,
        ),
    )


def _floor_checks(
    job: Job, least_gap: Quantity, clearance: Quantity, deepest: Quantity
) -> tuple[Check, ...]:
    checks = [
        gap_check(
            "doorway/floor clearance",
            "bottom of the leaves",
            "do the leaves clear the highest point of the floor that was read",
            needed=least_gap,
            has=clearance,
            change="raise the leaves, or grind the floor",
        )
    ]
    greatest = job.doorway.greatest_bottom_gap
    if greatest is not None:
        limit = chain.base(
            "wish",
            "doorway/greatest bottom gap",
            "greatest gap underneath",
            greatest.si,
            note=greatest.text,
        )
        checks.append(
            gap_check(
                "doorway/deepest gap",
                "gap under the leaves",
                "is the gap over the lowest ground no more than wished",
                needed=deepest,
                has=limit,
                change="step the leaves with the ground, or fill the low side",
            )
        )
    return tuple(checks)


@dataclass(frozen=True, slots=True)
class _Above:
    leaf_height: Quantity
    heights: dict[Side, Quantity]
    head: Quantity | None
    heads: dict[str, Quantity]
    clear_height: Quantity | None
    over: Over | None
    gaps: tuple[Quantity, ...]
    checks: tuple[Check, ...]


def _above(
    job: Job,
    found: Survey,
    steel: Steel,
    bottom: Quantity,
    heels: dict[Side, Heel],
    made: AsMade | None,
) -> _Above | Held:
    """Return the leaf's height and what is above it."""
    wish = job.doorway.leaf_height
    wished = None
    if wish is not None:
        wished = chain.base(
            "wish", "doorway/leaf height", "height of the leaves", wish.si, note=wish.text
        )
    if not job.opening.head:
        if wished is None:
            return Held(
                "the opening has no head and the leaves no height",
                ('leaf_height in [doorway], as in leaf_height = "6\'-6"',),
            )
        tallest, heights = _heights(heels, wished, made)
        return _Above(tallest, heights, None, {}, None, None, (), ())
    heads = {name: coordinate(found, name, "y") for name in head_points(found)}
    head = chain.least("doorway/head", "head at its lowest", list(heads.values()))
    under = [(1.0, head), (-1.0, bottom), *((-1.0, q) for q in transom_parts(job, steel))]
    over = over_the_leaves(job, heels, chain.total("doorway/under", "room under it", under), wished)
    top_gap = over.gap
    room = chain.total(
        "doorway/room for leaf", "room for the leaf's height", [*under, (-1.0, top_gap)]
    )
    if room.value <= 0:
        return Held("the opening is too low for plates, gaps and transom", ("a higher opening",))
    clear_height = chain.total(
        "doorway/height", "least height from bottom line to head", [(1.0, head), (-1.0, bottom)]
    )
    if wished is None:
        height = chain.renamed(room, "doorway/leaf height", "height of the leaves")
        tallest, heights = _heights(heels, height, made)
        return _Above(tallest, heights, head, heads, clear_height, over, (top_gap,), ())
    tallest, heights = _heights(heels, wished, made)
    check = gap_check(
        "doorway/leaf height",
        "height of the leaves",
        "does the height wished fit under the head, with its gap and transom",
        needed=tallest,
        has=room,
        change="make the leaves lower, the transom thinner or the top gap less",
    )
    return _Above(tallest, heights, head, heads, clear_height, over, (top_gap,), (check,))


def _heights(
    heels: dict[Side, Heel], height: Quantity, made: AsMade | None
) -> tuple[Quantity, dict[Side, Quantity]]:
    """Return the height of the tallest leaf and of each [m].

    A leaf that is made is as high as it came out. All stand on one line, so that the other one's
    top agrees with it where it is as high as the made one is at its closing edge.

    Args:
        heels: the leaves, by their hand.
        height: of all leaves, as wished or as the opening leaves it.
        made: leaves that are made.
    """
    heights = dict.fromkeys(heels, height)
    read = [leaf for leaf in (made.leaves if made is not None else ()) if leaf.closing is not None]
    if not read:
        return height, heights
    for hand, heel in heels.items():
        own = made.of(hand) if made is not None else None
        if own is None and read[0].closing is not None:
            name = f"height of {leaf_words(heel.key)}, its top level with the one that is made"
            heights[hand] = chain.renamed(read[0].closing, f"{heel.key}/leaf height", name)
        elif own is not None and own.tallest is not None:
            heights[hand] = own.tallest
    lifts = _lifts(heels, made)
    tops = [
        chain.total(f"{heels[hand].key}/top", f"top of {leaf_words(heels[hand].key)}", parts)
        for hand, height in heights.items()
        for parts in [[(1.0, height), *lifts.get(hand, ())]]
    ]
    return chain.largest("doorway/tallest", "highest top, over the bottom line", tops), heights


def _lifts(
    heels: dict[Side, Heel], made: AsMade | None
) -> dict[Side, tuple[tuple[float, Quantity], ...]]:
    """Return how far each of two leaves that are made stands over the line, for tops that agree.

    What came out lower at its closing edge is packed up by as much; the parts of a sum [m].
    """
    known: dict[Side, Quantity] = {}
    for leaf in made.leaves if made is not None else ():
        if leaf.closing is not None:
            # A racked leaf's top is up at its closing edge, and there the tops are to agree.
            parts = [(1.0, leaf.closing), *([(1.0, leaf.risen)] if leaf.risen else [])]
            key, name = f"{heels[leaf.hand].key}/closing top", "its top at the closing edge"
            known[leaf.hand] = chain.total(key, name, parts)
    if len(known) < 2 or len(known) < len(heels):
        return {}
    high = chain.largest("doorway/closing edges", "the higher closing edge", list(known.values()))
    return {
        hand: ((1.0, high), (-1.0, closing))
        for hand, closing in known.items()
        if high.value - closing.value > 1e-9
    }


def _bottoms(
    heels: dict[Side, Heel], bottom: Quantity, made: AsMade | None
) -> dict[Side, Quantity]:
    """Return where the bottom of each leaf stands [m]."""
    bottoms = dict.fromkeys(heels, bottom)
    for hand, parts in _lifts(heels, made).items():
        key, name = f"{heels[hand].key}/bottom", f"bottom of {leaf_words(heels[hand].key)}"
        bottoms[hand] = chain.total(key, name, [(1.0, bottom), *parts])
    return bottoms


def _has_transom(job: Job) -> bool:
    return job.doorway.transom is not None and job.doorway.transom.section is not None


def transom_parts(job: Job, steel: Steel) -> list[Quantity]:
    """Return the transom's depth and the least shim over it [m]; nothing without a transom."""
    wish = job.doorway.transom
    if wish is None:
        return []
    parts = []
    if wish.section is not None:
        depth = steel.section(wish.section).width
        parts.append(chain.base("table", "table/transom", "transom", depth, note=wish.section))
    if wish.shim is not None or job.doorway.leaf_height is None:
        parts.append(
            chosen(
                wish.shim,
                "transom shim",
                "doorway/transom shim",
                "transom shim",
                system=job.job.system,
            )
        )
    return parts


def transom(
    job: Job, found: Survey, steel: Steel, found_up: Up, lines: dict[Side, Quantity]
) -> FillerPiece | None:
    """Return the transom between the hanging lines, with the taper over it.

    Where no transom is wished and the leaves stop short of the head by more than the top gap,
    the space is still reported, as a filler without a section.
    """
    if found_up.head is None:
        return None
    top_gap = next(g for g in found_up.gaps if g.key == "doorway/top gap")
    what = "transom" if job.doorway.transom and job.doorway.transom.section else "top gap"
    near = chain.total(
        "doorway/transom bottom",
        f"{'underside' if what == 'transom' else 'upper side'} of the {what}",
        [(1.0, found_up.bottom), (1.0, found_up.leaf_height), (1.0, top_gap)],
    )
    wish = job.doorway.transom
    section = wish.section if wish else None
    far = near
    if section is not None:
        depth = chain.base(
            "table", "table/transom", "transom", steel.section(section).width, note=section
        )
        far = chain.total("doorway/transom top", "top of the transom", [(1.0, near), (1.0, depth)])
    behind = tuple(
        chain.total(
            f"doorway/over transom at {name}",
            f"space over the {what} at {name}",
            [(1.0, coordinate(found, name, "y")), (-1.0, far)],
        )
        for name in head_points(found)
    )
    if section is None and max(b.value for b in behind) < 1e-6:
        return None
    length = chain.total(
        "doorway/transom length",
        "length of the transom" if what == "transom" else "length of the space over the leaves",
        [(1.0, lines["right"]), (-1.0, lines["left"])],
    )
    return FillerPiece("doorway/transom", what, section, length, near, far, behind)
