"""The hole schedule of a job: every leaf's holes, part by part, each hand for itself."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import TypeVar

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.doorway import Doorway
from leafwright.job.model import Job
from leafwright.job.steel import Steel
from leafwright.job.tape import tape_of
from leafwright.leaf import Leaf
from leafwright.mount import Mounting, mounting_of
from leafwright.proof import LeafProof
from leafwright.records import Check, Held
from leafwright.shop.holes.bench import Bench, bench
from leafwright.shop.holes.checks import plate_checks, tube_checks
from leafwright.shop.holes.plates import plate_parts
from leafwright.shop.holes.records import (
    Hole,
    HoledPart,
    Holes,
    HoleTool,
    InPlace,
    Plate,
    ScrewRow,
)
from leafwright.shop.holes.screws import screw_rows
from leafwright.shop.holes.stile import sleeve_part, stile_holes
from leafwright.shop.holes.tools import size_words
from leafwright.shop.holes.tube import Tube, datum_end_words, face_of, faces_in_turn
from leafwright.shop.holes.vents import ZINC, vents

_INCH = 0.0254

_Part = TypeVar("_Part", HoledPart, Plate)

ORDER = (
    "Mark out from the datum end and the datum edge, hand and face first; centre-punch; have the "
    "other person read the marks back from the part.",
    "Drill tubes before they are welded, while every face is in reach; deburr inside and out.",
    "Floor plate and top plate: cut, drill, then weld their pins on.",
    "Slab: stand the leaf plumb, then drill through the floor plate's holes; the plate is the "
    "template.",
    "Top plate: clamp it up, drill one hole through it into what carries it, bolt that, then drill "
    "the rest.",
    "Drop rods last: let the rod mark its own hole with the leaf shut, then open.",
)

CAUTIONS = (
    "Clamp the work: a cutter that grabs in thin wall spins the tube or your wrist. Eyes covered; "
    "no gloves at a turning spindle; chips are hot and sharp.",
    "A hole in the wrong hand is scrap: each leaf has its own schedule. Read hand, face, datum end "
    "on the part before the punch comes down.",
    "Do not drill a slab before it is scanned for tendons and steel, nor a beam before its owner "
    "has agreed to it.",
)


def holes_of_job(
    job: Job,
    room: Doorway,
    leaves: Sequence[Leaf | Held],
    proofs: Sequence[LeafProof | Held],
    material: Steel,
) -> Holes | Held:
    """Return every hole of a job's leaves; held with the first leaf or proof that is.

    Args:
        job: with its choices.
        room: the doorway, with its posts and transom.
        leaves, proofs: in the doorway's order.
        material: steel of the job.
    """
    tape, hung = tape_of(job), []
    for place, leaf, proof in zip(room.leaves, leaves, proofs, strict=True):
        if isinstance(leaf, Held):
            return leaf
        if isinstance(proof, Held):
            return proof
        hung.append(mounting_of(job, room, place, leaf, proof, material, tape))
    return holes_of(hung, room)


def holes_of(mountings: Sequence[Mounting], room: Doorway) -> Holes:
    """Return every hole of a job.

    Args:
        mountings: every leaf as it hangs, in the doorway's order.
        room: the doorway with its posts and transom.
    """
    parts: list[HoledPart] = []
    plates: list[Plate] = []
    in_place: list[InPlace] = []
    screws: list[ScrewRow] = []
    words: list[str] = []
    asks: list[str] = []
    checks: list[Check] = []
    defaults: list[Quantity] = []
    zinc = False
    for m in mountings:
        b = bench(m)
        sleeve = None
        if m.table.mount.kind == "floor pivot":
            stile_holes(b)
            sleeve = sleeve_part(b)
            plate_parts(b)
        else:
            b.words.append(f"the barrel hinges of {m.who} are welded on: they need no holes")
        vents(b)
        _held_shut(b)
        screws += screw_rows(b)
        zinc = zinc or m.table.finish == "galvanized"
        parts += [_part(b, tube) for tube in b.tubes if b.holes.get(tube.member.key)]
        parts += [_labelled(sleeve)] if sleeve is not None else []
        plates += [_labelled(plate) for plate in b.plates]
        in_place += b.in_place
        words += b.words
        asks += b.asks
        checks += [*tube_checks(b), *plate_checks(b)]
        defaults += b.defaults
    asks += _fillers(room)
    return Holes(
        parts=tuple(parts),
        plates=tuple(plates),
        in_place=tuple(in_place),
        screws=tuple(screws),
        order=ORDER,
        words=tuple(dict.fromkeys(words)),
        asks=tuple(dict.fromkeys(asks)),
        cautions=((ZINC,) if zinc else ()) + CAUTIONS,
        checks=tuple(checks),
        defaults=tuple({q.key: q for q in defaults if q.kind == "default"}.values()),
    )


def _part(b: Bench, tube: Tube) -> HoledPart:
    member = tube.member
    holes = sorted(b.holes[member.key], key=lambda h: (h.along.value, h.key))
    order = faces_in_turn(tube)
    used = {hole.face for hole in holes}
    seen = b.m.job.job.seen_from
    return _labelled(
        HoledPart(
            key=member.key,
            mark=member.mark,
            name=member.role,
            hand=b.hand,
            section=member.section.designation,
            length=member.length,
            wall=tube.wall,
            datum_end=datum_end_words(tube),
            faces=tuple(face_of(tube, face, seen) for face in order if face in used),
            holes=tuple(holes),
        )
    )


def _labelled(part: _Part) -> _Part:
    """Return a part whose holes are numbered in the order in which they are met."""
    holes: Iterable[Hole] = part.holes
    numbered = tuple(replace(hole, label=str(i)) for i, hole in enumerate(holes, 1))
    return replace(part, holes=numbered)


def _held_shut(b: Bench) -> None:
    """Put in the holes of what holds the leaf shut and open."""
    hold = b.m.table.hold
    if hold.shut == "latch" or hold.open == "hook":
        what = " and ".join(
            name
            for name, there in (("latch", hold.shut == "latch"), ("hook", hold.open == "hook"))
            if there
        )
        b.asks.append(f"holes for the {what} of {b.m.who}: by its own template, not in the job")
    rods = [("shut", end) for end in hold.at] if hold.shut == "drop rod" else []
    rods += [("open", "bottom")] if hold.open == "drop rod" else []
    if not rods:
        return
    if hold.rod_diameter is None:
        b.asks.append(f"the drop rods of {b.m.who}: say rod_diameter in its hold")
        return
    d = hold.rod_diameter.si
    play = b.usual(
        "rod play", "play of a drop rod in its hole", _INCH / 8.0, 0.003,
        "so that it drops in by itself; common practice, no source",
    )  # fmt: skip
    rod = chain.base("wish", f"{b.m.key}/drop rod", "drop rod", d, note=hold.rod_diameter.text)
    hole = chain.total(f"{b.m.key}/rod hole", "hole for a drop rod", [(1.0, rod), (1.0, play)])
    head = "transom" if b.m.room.transom is not None else "beam"
    for when, end in rods:
        is_floor = end == "bottom"
        b.in_place.append(
            InPlace(
                key=f"{b.m.key}/{'slab' if is_floor else head}/rod, {when}",
                hand=b.hand,
                use=f"drop rod of {b.m.who}, {when}, {end}",
                into="slab" if is_floor else head,
                count=1,
                diameter=hole,
                depth=0.0,
                tools=(
                    HoleTool(
                        "masonry bit" if is_floor else "annular cutter",
                        size_words(hole.value, b.system),
                    ),
                ),
                template="",
                when="once the leaf hangs",
                why=f"the rod marks it with the leaf {when}; its place is not laid out before"
                + ("" if is_floor else "; ask who owns what is drilled"),
            )
        )


def _fillers(room: Doorway) -> list[str]:
    """Return what is to be asked of jamb posts and transom."""
    every = (*room.posts, *((room.transom,) if room.transom is not None else ()))
    there = [filler.name for filler in every if filler.section is not None]
    if not there:
        return []
    return [
        f"what fixes {' and '.join(there)} to the building: anchors or bolts, how many and where, "
        "are not in the job; they are drilled once that is known"
    ]
