"""What the top pin's plate hangs from: bolts or welds, and the transom or beam that carries it.

The top pin holds the leaf's head sideways only. What it pushes may point any way, as the leaf
turns; it acts below the plate, and so tips the plate as well as pushing it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

from leafwright.chain import Quantity
from leafwright.handbook.aisc360.bolt_holes import Hole, hole_class
from leafwright.mount.carrier import Carrier, beam_over, carrier_of
from leafwright.mount.envelope import floor_pivot
from leafwright.mount.head_bolts import (
    SUBJECT,
    Bolted,
    across_check,
    bearing_checks,
    bent_check,
    head_layout,
    head_states,
)
from leafwright.mount.head_carrier import (
    TRANSOM_ASSUMPTIONS,
    beam_checks,
    transom_alone,
    transom_checks,
)
from leafwright.mount.head_holes import hole_check, place_checks, standard_hole
from leafwright.mount.head_loads import TopPlate, bolt_kind, top_plate
from leafwright.mount.head_prying import on_flange, on_plate, pulled_check, slip_check
from leafwright.mount.head_weld import plate_check, weld_checks
from leafwright.mount.parts import force, made_check, moment, size
from leafwright.mount.records import Mounting, Proved
from leafwright.proof.working import Lines
from leafwright.records import Check, Metres

CAUTIONS = (
    "Head: never drill, burn or weld a beam that carries a building before its owner and an "
    "engineer have said yes; look what is on, in and over it first, and post a fire watch.",
    "Head: hold the leaf and catch its head before the top plate is loosened: nothing else does.",
)
#: Checks that hang on what the beam is made of.
_ON_BEAM = ("flange bent", "holes in carrier", "web", "weld")
_SLEEVES = (
    "bolts through a transom go through both of its walls, with a sleeve between them and a plate "
    "washer on top, so that tightening and pulling do not crush or bend a wall"
)
_BOLTED = (
    "a bolted top plate is stiff; its bolts pull by their distance from where it tips, share a "
    "push alike, and pretension and friction are not counted on but in oversize holes",
)
_WELDED = ("a welded top plate has fillets along both of its long edges, whole in their length",)


def head_fixing(m: Mounting) -> Proved:
    """Return the proof of what holds the top pivot's plate to the building.

    Args:
        m: the leaf as it hangs on floor pivots.
    """
    mount, plate, carrier = floor_pivot(m), top_plate(m), carrier_of(m)
    told = (_told(m, plate, carrier),)
    why = ""
    if carrier.kind == "none":
        why = carrier.unknown
    elif plate.length <= 0.0:
        why = "give top_plate = { thickness = …, width = …, length = …, grade = … }"
    elif mount.top_fixed == "unknown":
        why = 'say top_fixed = "bolted" or "welded", with top_bolts and bolt, or top_weld'
    if why:
        return Proved(
            checks=(_asked(m, plate, why),), defaults=_once(plate.defaults), words=told,
            cautions=CAUTIONS,
        )  # fmt: skip
    used: list[Quantity] = [*plate.defaults, *carrier.defaults]
    checks: list[Check] = []
    assumed: tuple[str, ...] = ()
    if mount.top_fixed == "welded":
        leg = mount.top_weld.si if mount.top_weld is not None else None
        found, defaults = weld_checks(m, plate, carrier, leg)
        checks += [plate_check(m, plate, _half(plate, carrier)), *found]
        used += defaults
        assumed += _WELDED
        into = carrier
    else:
        bolted, into, defaults = _bolted(m, plate, carrier)
        checks += bolted
        used += defaults
        assumed += _BOLTED
        if into.kind == "transom":
            assumed += (_SLEEVES,)
    if into.section is not None:
        checks += transom_checks(m, plate, into.section, into.span)
        assumed += TRANSOM_ASSUMPTIONS
    elif carrier.section is not None:
        checks.append(transom_alone(m, carrier.section, carrier.span))
        assumed += TRANSOM_ASSUMPTIONS
    if into.beam is not None:
        checks += beam_checks(m, plate, into, into.beam, welded=mount.top_fixed == "welded")
    if into.steel is not None and into.steel.unknown:
        checks = _asked_once(checks, into)
    return Proved(
        checks=tuple(checks),
        defaults=_once(used),
        words=told,
        cautions=CAUTIONS,
        assumptions=(*assumed, *_NOT_COUNTED),
    )


_NOT_COUNTED = (
    "what else the beam carries (beam_load) is not counted here: only what the leaf gives it",
)


def _half(plate: TopPlate, carrier: Carrier) -> tuple[Metres, Metres]:
    """Return how far out from the pin welds hold a plate, along and across [m]."""
    return plate.length / 2.0, min(plate.width, carrier.width) / 2.0


def _once(defaults: Iterable[Quantity]) -> tuple[Quantity, ...]:
    return tuple({q.key: q for q in defaults if q.kind == "default"}.values())


def _told(m: Mounting, plate: TopPlate, carrier: Carrier) -> str:
    push, tip = plate.pushed, plate.tipped
    where = f" on the {carrier.name}" if carrier.kind != "none" else ""
    return (
        f"top plate of {m.who}{where}: {force(m, push.shear)} sideways, any way ({push.case}), "
        f"and {moment(m, tip.moment)} that tips it ({tip.case})"
    )


def _asked(m: Mounting, plate: TopPlate, why: str) -> Check:
    """Return the question what holds the head, with the forces."""
    push, tip = plate.pushed, plate.tipped
    return made_check(
        m,
        "head",
        SUBJECT,
        "does what the top plate is fixed to hold the leaf's head",
        clause="J1",
        demand=push.shear,
        available=None,
        unit="N",
        case=push.case,
        change="",
        rule="what the leaf gives its top pin, factors of the proof in it",
        lines=Lines(),
        unknown=(
            f"{why}. It must hold {force(m, push.shear)} sideways, any way, and "
            f"{moment(m, tip.moment)} that tips the plate",
            *(w for w in plate.pin.unknown if plate.pin.at.length is None and "length" in w),
        ),
    )


def _asked_once(checks: list[Check], into: Carrier) -> list[Check]:
    """Return the checks with those that only the beam's steel leaves open told as one.

    It is the one that uses most, taken in the lowest common steel.
    """
    on_beam = [c for c in checks if c.key.rsplit("/", 1)[-1] in _ON_BEAM]
    if not on_beam or into.beam is None:
        return checks

    def share(check: Check) -> float:
        # A check without a ratio has nothing left to carry with.
        return math.inf if check.ratio is None else check.ratio

    worst = max(on_beam, key=share)
    told = ", ".join(
        f"{c.question}: {'nothing left' if c.ratio is None else f'{c.ratio:.2f}'}" for c in on_beam
    )
    one = replace(
        worst,
        key=worst.key.rsplit("/", 1)[0] + "/beam",
        question="does the beam hold where the top plate is fixed",
        rule=f"{worst.rule}; used of each strength: {told}",
    )
    return [one if c is worst else c for c in checks if c is worst or c not in on_beam]


# ---------------------------------------------------------------- bolted


def _bolted(
    m: Mounting, plate: TopPlate, carrier: Carrier
) -> tuple[list[Check], Carrier, tuple[Quantity, ...]]:
    """Return the checks of the bolts, what they go into, and the defaults used."""
    mount = floor_pivot(m)
    if mount.bolt is None or mount.top_bolts is None:
        why = "say top_bolts, how many there are, and bolt = { size = …, grade = …, hole = … }"
        return [_asked(m, plate, why)], carrier, ()
    kind = bolt_kind(mount.bolt)
    if isinstance(kind, str):
        return [_asked(m, plate, kind)], carrier, ()
    used: tuple[Quantity, ...] = ()
    standard = standard_hole(m, kind.d)
    if isinstance(standard, str):
        return [_asked(m, plate, standard)], carrier, ()
    if mount.bolt.hole is not None:
        hole = mount.bolt.hole.si
    else:
        hole, used = standard
    gauge = mount.bolt_gauge.si if mount.bolt_gauge is not None else None
    layout = head_layout(m, plate, int(mount.top_bolts), gauge, kind.d, carrier.width)
    if isinstance(layout, str):
        return [_asked(m, plate, layout)], carrier, used
    gone = _gone_into(m, plate, carrier, 2.0 * max(layout.rows), hole)
    if isinstance(gone, Check):
        return [gone], carrier, used
    into, free, rests = gone
    pins = plate.pin.unknown
    bolted = Bolted(
        m, plate, into, kind, hole, layout, head_states(plate, layout, rests), free, pins
    )
    return _bolted_checks(bolted), into, (*used, *layout.defaults, *into.defaults)


def _gone_into(
    m: Mounting, plate: TopPlate, carrier: Carrier, across: Metres, hole: Metres
) -> tuple[Carrier, Metres, Metres] | Check:
    """Return what the bolts go into, how long they stand free, and how wide the plate lies [m].

    Bolts farther apart than a transom is wide pass beside it to the beam over it.
    """
    tube = carrier.section
    if tube is None or across + hole <= tube.height:
        return carrier, 0.0, carrier.width
    if across - hole < tube.height:
        through = max(tube.height - 3.0 * hole, 0.0)
        return made_check(
            m,
            "head/edge of carrier",
            SUBJECT,
            "do the bolts go through the transom, or clear of it",
            clause="J3.5",
            demand=across + hole,
            available=tube.height,
            unit="m",
            case="",
            change=(
                f"the holes meet the transom's walls: a bolt_gauge of {size(m, through)} or less "
                f"goes through it, one of {size(m, tube.height + 1.5 * hole)} or more beside it"
            ),
            rule="the outer sides of the holes against the transom's width",
            lines=Lines(),
        )
    beam = beam_over(m)
    if beam.kind == "none":
        return _asked(
            m, plate, f"the bolts pass beside the transom to what is over it; {beam.unknown}"
        )
    over = m.room.transom
    packed = max((gap.value for gap in over.behind), default=0.0) if over is not None else 0.0
    return beam, tube.width + max(packed, 0.0), tube.height


def _bolted_checks(b: Bolted) -> list[Check]:
    held = (b.layout.half_x, b.layout.half_y)
    hole = hole_check(b)
    found = [plate_check(b.m, b.plate, held), *([hole] if hole else []), *place_checks(b)]
    if b.hole < b.bolt.d - 1e-6:
        return found
    found += [across_check(b), pulled_check(b, on_plate(b))]
    if b.carrier.beam is not None and b.carrier.steel is not None:
        found.append(pulled_check(b, on_flange(b, b.carrier.beam, b.carrier.steel)))
    found += bearing_checks(b)
    if hole_class(b.bolt.d, b.hole) is Hole.OVERSIZE:
        slip = slip_check(b)
        found += [slip] if slip is not None else []
    if b.free > 0.0:
        found.append(bent_check(b))
    return found
