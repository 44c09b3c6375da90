"""The order of welding of a leaf: the best found, against going round corner by corner.

No length is given: what a weld draws in is known too badly. Orders are compared, and the comparison
is made again for other values of what is not known.
"""

from __future__ import annotations

import functools
import random
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from leafwright.leaf import Leaf
from leafwright.proof.seam_records import Seam
from leafwright.records import COMMON_PRACTICE, Held, Number, Source
from leafwright.shop.weld_order.by_ends import choices
from leafwright.shop.weld_order.chain import SIZE, Worked, ratio, worked
from leafwright.shop.weld_order.ends import Bead, End, ends_and_beads
from leafwright.shop.weld_order.orders import may_be, passes_of, plain_order, turns_of
from leafwright.shop.weld_order.records import Left, OutBy, Tacks, Turned, WeldOrder
from leafwright.shop.weld_order.reduced import Linear, Unknown, linear, welds
from leafwright.shop.weld_order.search import Found, Supposed, search
from leafwright.shop.weld_order.steps import steps_of

#: Orders that are worked for each number of turns.
ORDERS = 128
#: Numbers of turns of the leaf that are tried.
TURNS = (1, 2)
#: One more turn has to leave less than this share of what fewer leave, or it is not worth it [-].
WORTH_A_TURN = 0.85
#: A bead longer than this is laid in short lengths, each back toward the one before [m].
BACK_STEP = 0.150
#: A leaf that is out by less than this is not out at all [m].
TINY = 1e-12
#: What is left is named down to this share of it all [-].
NAMED = 0.15

#: What an order is judged by in the search: tacks as taken, half and double as stiff.
JUDGED_BY = (Unknown(), Unknown(tacks=0.5), Unknown(tacks=2.0))

#: What is not known, tried one at a time: half and double the tacks, and so on.
TRIED = (
    Unknown(tacks=0.5),
    Unknown(tacks=2.0),
    Unknown(give=0.5),
    Unknown(give=2.5),
    Unknown(bends=0.0),
    Unknown(bends=2.0),
)

SOURCES = (
    Source("K. Masubuchi, Analysis of Welded Structures", "shrinkage across a fillet, from memory"),
    Source("O. W. Blodgett, weld distortion formulas", "bow of a bead off the axis, from memory"),
    COMMON_PRACTICE,
)

ASSUMPTIONS = (
    "every seam draws in across itself by the rule for a fillet of its size, whatever its kind",
    "the walls beside a bead give as a piece of them two walls long would",
    "a bead bends the tube that it lies on by the same rule, along the tube or across it",
    "a tack holds as its length of the finished seam does; what lies underneath is not tacked",
    "joints fit without a gap, and each bead is cold before the next one pulls at its joint",
    "what a brace will cover is laid first; the frame is then pushed square, the brace fitted",
    "a rod is put in after all welding; hinges, pivot plates and infill are not in it",
)

NO_LENGTH = (
    "no published range holds for seams as thick as the wall of a tube, so orders are compared and "
    "no length is given: weld one trial joint of your own tube, measure it, and you know more"
)


@dataclass(frozen=True, slots=True)
class _Question:
    """All that the search depends on, so that the same leaf is not searched twice."""

    ends: tuple[End, ...]
    beads: tuple[Bead, ...]
    plain: tuple[int, ...]
    modulus: Number
    arrays: tuple[tuple[tuple[int, ...], bytes], ...]
    names: tuple[str, ...]
    most: int
    seed: int


def weld_order(
    leaf: Leaf,
    seams: Sequence[Seam],
    covered: Mapping[str, str],
    *,
    most: int = ORDERS,
    seed: int = 0,
) -> WeldOrder | Held:
    """Return the best order of welding that was found for a leaf.

    Args:
        leaf: the leaf.
        seams: its seams, from its proof.
        covered: of a seam's key the mark of the brace that will cover it, where one does.
        most: how many orders to work for each number of turns.
        seed: of what draws the changes.
    """
    ends, beads = ends_and_beads(leaf, seams, covered)
    if len(beads) < 2:
        return Held("the leaf has no two seams to put in order", ("members that are welded",))
    plain = tuple(plain_order(leaf, ends, beads))
    try:
        free = linear(leaf, ends, beads, dogged=False)
        dogged = linear(leaf, ends, beads, dogged=True)
    except ValueError as error:
        return Held(f"the tacked leaf cannot be worked: {error}", ("members that hold together",))
    question = _Question(ends, beads, plain, _modulus(leaf), _packed(free), free.names, most, seed)
    founds = _searched(question)
    chosen = founds[0]
    for one in founds[1:]:
        if one.share < WORTH_A_TURN * chosen.share:
            chosen = one
    return _told(leaf, question, free, dogged, founds, chosen)


def mirrored(
    order: WeldOrder, leaf: Leaf, seams: Sequence[Seam], covered: Mapping[str, str]
) -> WeldOrder | None:
    """Return the order of a leaf that is the mirror image of one whose order is found, or None.

    They are mirror images where every seam has its like in the other leaf: of the same length,
    as far from the hinge and as high.
    """
    ends, beads = ends_and_beads(leaf, seams, covered)
    mine = {(b.seam.partition("/")[2], b.part): b for b in beads}
    steps = []
    for step in order.steps:
        if step.kind != "weld":
            steps.append(step)
            continue
        bead = mine.pop((step.seam.partition("/")[2], step.part), None)
        mirror = (leaf.width - step.at[0], *step.at[1:])
        if bead is None or abs(bead.length - step.length) > 1e-6:
            return None
        if max(abs(a - b) for a, b in zip(mirror, bead.at, strict=True)) > 1e-6:
            return None
        steps.append(replace(step, seam=bead.seam, at=bead.at))
    if mine or abs(leaf.lift_mass - order.mass) > 1e-6:
        return None
    left = tuple(
        replace(one, member=one.member.replace(f"{order.key}/", f"{leaf.key}/", 1))
        for one in order.left
    )
    return replace(
        order,
        key=leaf.key,
        steps=tuple(steps),
        tacks=_tacks(leaf, ends, beads),
        left=left,
        like=order.key,
    )


def _modulus(leaf: Leaf) -> Number:
    return leaf.members[0].section.grade.elastic_modulus


def _packed(found: Linear) -> tuple[tuple[tuple[int, ...], bytes], ...]:
    return tuple(
        (array.shape, np.ascontiguousarray(array).tobytes())
        for array in (found.stiffness, found.shape, found.bend_forces, found.bend_shapes)
    )


@functools.lru_cache(maxsize=16)
def _searched(asked: _Question) -> tuple[Found, ...]:
    """Return the best order found for each number of turns, the plain one if none is better."""
    arrays = [np.frombuffer(data).reshape(shape) for shape, data in asked.arrays]
    n, b, m = arrays[0].shape[0], len(asked.beads), arrays[1].shape[0]
    found = Linear(
        stiffness=arrays[0],
        shape=arrays[1],
        bend_forces=arrays[2],
        bend_shapes=arrays[3],
        pressed=np.zeros((0, n)),
        bend_pressed=np.zeros((b, 0)),
        let_go_forces=np.zeros((n, 0)),
        let_go_shapes=np.zeros((m, 0)),
        names=asked.names,
        residual=0.0,
    )
    supposed = []
    for unknown in JUDGED_BY:
        welded = welds(found, asked.ends, asked.beads, asked.modulus, unknown)
        plain = float(worked(found, welded, [asked.plain]).total()[0])
        supposed.append(Supposed(found, welded, max(plain, TINY)))
    made = choices(
        [(one.found, one.welded, one.plain) for one in supposed],
        asked.beads,
        random.Random(asked.seed),
    )
    founds = [
        search(
            supposed,
            asked.ends,
            asked.beads,
            passes_of(turns, asked.beads),
            made,
            most=asked.most,
            seed=asked.seed,
        )
        for turns in TURNS
    ]
    if founds[0].share > 1.0:
        passes = passes_of(1, asked.beads)
        when = tuple(may_be(bead, passes)[0] for bead in asked.beads)
        way = replace(founds[0].way, passes=passes, when=when)
        founds[0] = replace(founds[0], way=way, order=asked.plain, share=1.0)
    return tuple(founds)


def _told(
    leaf: Leaf,
    asked: _Question,
    free: Linear,
    dogged: Linear,
    founds: Sequence[Found],
    chosen: Found,
) -> WeldOrder:
    """Return what was found, beside the plain order, for all that was tried of what is unknown."""
    ends, beads = asked.ends, asked.beads
    orders = [asked.plain, chosen.order]

    def compared(how: Linear, unknown: Unknown) -> Worked:
        return worked(how, welds(how, ends, beads, asked.modulus, unknown), orders)

    nominal = compared(free, Unknown())
    plain, best = (float(v) for v in nominal.total())
    shares = [ratio(best, plain)]
    for unknown in TRIED:
        one, other = (float(v) for v in compared(free, unknown).total())
        shares.append(ratio(other, one))
    return WeldOrder(
        key=leaf.key,
        mass=leaf.lift_mass,
        turns=turns_of(chosen.way.passes),
        steps=steps_of(chosen.way, chosen.order, beads),
        tacks=_tacks(leaf, ends, beads),
        share=shares[0],
        least=min(shares),
        most=max(shares),
        dogged=ratio(float(compared(dogged, Unknown()).total()[1]), plain),
        parts=tuple(
            OutBy(kind, *(ratio(float(v), plain) for v in nominal.part(kind)))
            for kind in ("square", "twist", "flat", "edge")
        ),
        left=_left(leaf, nominal),
        tried=tuple(Turned(turns_of(f.way.passes), f.share) for f in founds),
        worked=sum(f.worked for f in founds),
        like="",
        longest=max(bead.length for bead in beads),
        sources=SOURCES,
        assumptions=ASSUMPTIONS,
        no_length=NO_LENGTH,
    )


def _left(leaf: Leaf, found: Worked) -> tuple[Left, ...]:
    """Return what the second of two orders leaves, the greatest first."""
    values = [float(v) for v in found.shapes[1]]
    whole = float(found.total()[1]) or 1.0
    roles = {member.key: member.role for member in leaf.members}
    named = []
    for name, value in zip(found.names, values, strict=True):
        kind, _, member = name.partition(" ")
        if kind == SIZE or abs(value) < NAMED * whole:
            continue
        more = value > 0.0
        if kind in ("square", "twist"):
            way = "falling" if more else "rising"
            if kind == "twist":
                way = "rising" if more else "falling"
        elif kind == "flat":
            way = "face" if more else "back"
        elif "stile" in roles[member]:
            way = "out" if more else "in"
        else:
            way = "up" if more else "down"
        named.append(Left(kind, member, way, abs(value) / whole))
    return tuple(sorted(named, key=lambda one: (-one.share, one.kind, one.member)))


def _tacks(leaf: Leaf, ends: Sequence[End], beads: Sequence[Bead]) -> tuple[Tacks, ...]:
    """Return the tacks of every joint: one in the middle of each seam that does not lie under."""
    at = {joint.key: joint.at for joint in leaf.joints}
    found: dict[str, list[Bead]] = {}
    for bead in beads:
        if bead.side != "back":
            found.setdefault(ends[bead.end].joint, []).append(bead)
    return tuple(
        Tacks(
            joint,
            at[joint],
            len(mine),
            sum(ends[bead.end].later for bead in mine),
            max(bead.tack for bead in mine),
            tuple(dict.fromkeys(bead.seam for bead in mine)),
        )
        for joint, mine in found.items()
    )
