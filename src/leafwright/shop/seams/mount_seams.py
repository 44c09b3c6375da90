"""The seams of what holds a leaf: pins, sleeves, slug, top plate, hinges; and what is not known."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from leafwright.job.model import FloorPivot
from leafwright.mount.hinge_loads import barrel_hinge, hinge_heights, hinge_words
from leafwright.mount.hinge_welds import weld_length
from leafwright.mount.parts import hanging_stile
from leafwright.mount.pivot_weld import plate_thickness
from leafwright.mount.records import Mounting
from leafwright.proof.seam_parts import thickness
from leafwright.records import Metres, Point3
from leafwright.shop.holes.records import Hole
from leafwright.shop.seams.lie import position, positions_of
from leafwright.shop.seams.records import Kind, NumberedSeam, Place, Positions, Unwelded

_UP: Point3 = (0.0, 1.0, 0.0)
_OUT: Point3 = (0.0, 0.0, 1.0)
_NOT_LAID_OUT = "where its plugs are cannot be said yet: see the mount's checks"


@dataclass(frozen=True, slots=True)
class _Seam:
    """What is told of one seam of the mount; the rest is the same for all."""

    key: str
    place: str
    member: str
    onto: str
    face: str
    kind: Kind
    path: tuple[Point3, ...]
    faces: Point3
    size: Metres | None
    length: Metres | None
    wall: Metres
    done_at: Place
    positions: Positions
    all_round: bool = False
    before: str = ""
    notes: tuple[str, ...] = ()
    unknown: str = ""


def mount_seams(
    m: Mounting, before: str, drilled: Sequence[Hole]
) -> tuple[tuple[NumberedSeam, ...], list[Unwelded]]:
    """Return the seams of what holds a leaf, numbered from below up; and where none is.

    Args:
        m: the leaf as it hangs.
        before: what stands before their numbers.
        drilled: the holes of the leaf's own parts: its plugs are welded in them.
    """
    bare = [
        Unwelded(
            f"{m.key}/latches",
            "brackets of latches, drop rods and stops",
            "the job does not give them: weld them before cladding, and on a leaf that hangs only "
            "with the weld return clamped beside the seam, so that no current runs through pivots",
        )
    ]
    if isinstance(m.table.mount, FloorPivot):
        told, none = _floor_pivot(m, m.table.mount, drilled)
    else:
        told, none = list(_hinges(m)), []
    made = (_made(m, seam, before, number) for number, seam in enumerate(told, start=1))
    return tuple(made), [*none, *bare]


def _made(m: Mounting, seam: _Seam, before: str, number: int) -> NumberedSeam:
    fillet = seam.kind == "fillet"
    throat = 0.0
    if seam.size is not None and fillet:
        throat = seam.size / math.sqrt(2.0)
    elif seam.size is not None and seam.kind == "bevel groove":
        throat = seam.size
    return NumberedSeam(
        key=f"{m.key}/{seam.key}",
        leaf=m.key,
        number=number,
        mark=f"{before}{number}",
        joint="",
        place=seam.place,
        member=seam.member,
        onto=seam.onto,
        end="",
        face=seam.face,
        where=f"{seam.member} on {seam.onto}: {seam.face}",
        kind=seam.kind,
        leg=seam.size if fillet else None,
        size=seam.size,
        throat=throat,
        length=seam.length,
        counted=seam.length or 0.0,
        angle=math.pi / 2,
        radius=0.0,
        wall=seam.wall,
        path=seam.path,
        view="back" if seam.faces[2] < -0.1 else "face",
        faces=seam.faces,
        all_round=seam.all_round,
        done_at=seam.done_at,
        positions=seam.positions,
        flush=False,
        covered_by="",
        before=seam.before,
        used=None,
        case="",
        on_trial=False,
        notes=seam.notes,
        unknown=seam.unknown,
    )


def _floor_pivot(
    m: Mounting, mount: FloorPivot, drilled: Sequence[Hole]
) -> tuple[list[_Seam], list[Unwelded]]:
    bottom, of_bottom = _plugs(m, mount, "bottom", drilled)
    top, of_top = _plugs(m, mount, "top", drilled)
    slug = _slug(m, mount)
    head = list(_head(m, mount))
    bare = [*of_bottom, *of_top]
    if mount.top_fixed != "welded":
        why = (
            "it is bolted"
            if mount.top_fixed == "bolted"
            else 'the job does not say how it is fixed: say top_fixed = "bolted" or "welded"'
        )
        bare.append(Unwelded(f"{m.key}/top plate/head", "top plate to what is over it", why))
    bare.append(
        Unwelded(
            f"{m.key}/bottom plate/floor", "bottom plate to the floor", "it is anchored, not welded"
        )
    )
    return [_pin(m, mount, "bottom"), slug, *bottom, *top, _pin(m, mount, "top"), *head], bare


def _axis(m: Mounting) -> Metres:
    """Return the x of the pivot's axis in leaf axes [m]."""
    from_edge = m.place.axis.value
    return from_edge if m.leaf.hand == "left" else m.leaf.width - from_edge


def _pin(m: Mounting, mount: FloorPivot, which: str) -> _Seam:
    d = mount.pin_diameter
    if which == "top" and mount.top_pin_diameter is not None:
        d = mount.top_pin_diameter
    plate = mount.plate if which == "bottom" else mount.top_plate
    t, _ = plate_thickness(m, plate, which)
    x = _axis(m)
    y = 0.0 if which == "bottom" else m.leaf.height
    faces = _UP if which == "bottom" else (0.0, -1.0, 0.0)
    missing = [
        name for name, value in (("pin_diameter", d), ("pin_weld", mount.pin_weld)) if value is None
    ]
    r = 0.0 if d is None else d.si / 2.0
    return _Seam(
        key=f"{which} pin/plate",
        place=f"{which} pivot",
        member=f"{which} pin",
        onto=f"{which} plate",
        face="all round",
        kind="fillet",
        path=((x - r, y, 0.0), (x, y, r), (x + r, y, 0.0)),
        faces=faces,
        size=None if mount.pin_weld is None else mount.pin_weld.si,
        length=None if d is None else math.pi * d.si,
        wall=t,
        done_at="shop",
        positions=Positions(apart=("horizontal",)),
        all_round=True,
        notes=(
            "on the bench, the plate lying flat and the pin square to it in both directions: tack "
            "it at four places, square it, weld a quarter at a time crosswise, and square it again",
        ),
        unknown=f"give {' and '.join(missing)}" if missing else "",
    )


def _slug(m: Mounting, mount: FloorPivot) -> _Seam:
    bore, throat = mount.sleeve_bore, mount.slug_weld
    x = _axis(m)
    r = 0.0 if bore is None else bore.si / 2.0
    missing = [
        name for name, value in (("sleeve_bore", bore), ("slug_weld", throat)) if value is None
    ]
    outside = mount.sleeve_outside
    wall = 0.0 if bore is None or outside is None else max((outside.si - bore.si) / 2.0, 0.0)
    deeper = "3 mm" if m.job.job.system == "metric" else "1/8 in"
    return _Seam(
        key="bottom slug/sleeve",
        place="bottom pivot",
        member="slug",
        onto="bottom sleeve",
        face="all round its top",
        kind="bevel groove",
        path=((x - r, 0.0, 0.0), (x, 0.0, r), (x + r, 0.0, 0.0)),
        faces=_UP,
        size=None if throat is None else throat.si,
        length=None if bore is None else math.pi * bore.si,
        wall=wall,
        done_at="shop",
        positions=Positions(apart=("flat",)),
        all_round=True,
        notes=(
            "on the bench, the sleeve upright; the leaf's whole weight goes through it from the "
            "sleeve to the slug and the ball. Leave the cavity under it open until it has cooled",
            "the slug's top edge beveled at 45°, as deep as the throat; with rods "
            f"{deeper} deeper (AISC 360-22, Table J2.1)",
        ),
        unknown=f"give {' and '.join(missing)}: the leaf's whole weight hangs on it"
        if missing
        else "",
    )


def _plugs(
    m: Mounting, mount: FloorPivot, which: str, drilled: Sequence[Hole]
) -> tuple[list[_Seam], list[Unwelded]]:
    """Return the plugs of a sleeve, in the holes that are drilled for them."""
    name = f"{which} sleeve"
    where = f"{name} in {hanging_stile(m).mark}"
    if mount.plug_hole is None or mount.plug_holes is None:
        why = "give plug_hole and plug_holes"
        return [], [Unwelded(f"{m.key}/{name}/plugs", where, why)]
    own = [h for h in drilled if h.kind == "plug weld" and h.use.endswith(name)]
    if not own:
        return [], [Unwelded(f"{m.key}/{name}/plugs", where, _NOT_LAID_OUT)]
    return [_plug(m, which, number, hole) for number, hole in enumerate(own, start=1)], []


def _plug(m: Mounting, which: str, number: int, hole: Hole) -> _Seam:
    member = next(one for one in m.leaf.members if one.key == hole.part)
    toward_nose = 1.0 if m.leaf.hand == "left" else -1.0
    faces: Point3 = {
        "hinge": (-toward_nose, 0.0, 0.0),
        "nose": (toward_nose, 0.0, 0.0),
        "back": (0.0, 0.0, -1.0),
    }.get(hole.face, _OUT)
    half_wide, half_deep = member.section.width / 2.0, member.section.height / 2.0
    if abs(member.direction[1]) > 0.5:
        x = member.foot[0] + faces[0] * half_wide
        y = min(y for _, y in member.bar.outline) + hole.along.value
    else:
        # The hole lies in a rail that runs through over the stile.
        x = _axis(m)
        y = min(y for _, y in member.bar.outline) + hole.across.value
    field = which == "bottom"
    notes = ["the sleeve flush with the leaf's top, tried on its pin first"]
    if field:
        notes = [
            "only once the leaf stands on its spacer and the sleeve has come down on the ball: "
            "clamp the weld return to the stile"
        ]
        if hole.face == "hinge":
            notes.append("the leaf stands open for it: shut, this wall is against the jamb")
    along = _OUT if faces[2] == 0.0 else (1.0, 0.0, 0.0)
    own = position(along, faces, _UP, fillet=False)
    return _Seam(
        key=f"{which} sleeve/plug-{number}",
        place=f"{which} pivot",
        member=f"{which} sleeve",
        onto=member.mark,
        face=f"hole {hole.label}, {hole.side}",
        kind="plug",
        path=((x, y, faces[2] * half_deep),),
        faces=faces,
        size=hole.diameter.value,
        length=0.0,
        wall=thickness(member, design=False),
        done_at="field" if field else "shop",
        positions=Positions(hung=(own,)) if field else positions_of([(along, faces)], fillet=False),
        notes=tuple(notes),
    )


def _head(m: Mounting, mount: FloorPivot) -> Iterator[_Seam]:
    if mount.top_fixed != "welded":
        return
    plate = mount.top_plate
    x, y = _axis(m), m.leaf.height
    half = 0.0 if plate is None else plate.length.si / 2.0
    z = 0.0 if plate is None else plate.width.si / 2.0
    missing = [
        name
        for name, value in (("top_plate", plate), ("top_weld", mount.top_weld))
        if value is None
    ]
    t, _ = plate_thickness(m, plate, "top")
    for side, sign in (("face", 1.0), ("back", -1.0)):
        tilt = math.sqrt(0.5)
        faces = (0.0, -tilt, sign * tilt)
        yield _Seam(
            key=f"top plate/{side}",
            place="top pivot",
            member="top plate",
            onto="what is over it",
            face=f"{side} edge",
            kind="fillet",
            path=((x - half, y, sign * z), (x + half, y, sign * z)),
            faces=faces,
            size=None if mount.top_weld is None else mount.top_weld.si,
            length=None if plate is None else plate.length.si,
            wall=t,
            done_at="field",
            positions=Positions(hung=(position((1.0, 0.0, 0.0), faces, _UP, fillet=True),)),
            notes=(
                "hot work on the building: the owner and an engineer say yes first, look what is "
                "on and over it, and post a fire watch",
            ),
            unknown=f"give {' and '.join(missing)}" if missing else "",
        )


def _hinges(m: Mounting) -> Iterator[_Seam]:
    mount, stile, length = barrel_hinge(m), hanging_stile(m), weld_length(m)
    toward_nose = 1.0 if m.leaf.hand == "left" else -1.0
    edge = stile.foot[0] - toward_nose * stile.section.width / 2.0
    apart = 0.0 if mount.pin_diameter is None else mount.pin_diameter.si / 2.0
    tilt = math.sqrt(0.5)
    missing = "" if mount.weld is not None else "give weld, the leg of the fillets"
    for number, (place, y) in enumerate(hinge_heights(m).items(), start=1):
        name = hinge_words(m, place).removeprefix("the ")
        for half, done_at in (("leaf", "shop"), ("post", "field")):
            way = -toward_nose if half == "leaf" else toward_nose
            # The leaf's half is over the post's, which carries it.
            low, high = (y, y + length) if half == "leaf" else (y - length, y)
            x = edge if half == "leaf" else edge - toward_nose * mount.standoff.si
            for side, sign in (("face", 1.0), ("back", -1.0)):
                faces = (way * tilt, 0.0, sign * tilt)
                path = ((x, low, sign * apart), (x, high, sign * apart))
                hung = position((0.0, 1.0, 0.0), faces, _UP, fillet=True)
                lying = positions_of([((0.0, 1.0, 0.0), faces)], fillet=True)
                yield _Seam(
                    key=f"hinge-{number}/{half}/{side}",
                    place=name,
                    member=f"{name}, the {half}'s half",
                    onto=stile.mark if half == "leaf" else "the post",
                    face=f"{side} side",
                    kind="fillet",
                    path=path,
                    faces=faces,
                    size=None if mount.weld is None else mount.weld.si,
                    length=length,
                    wall=thickness(stile, design=False),
                    done_at="shop" if done_at == "shop" else "field",
                    positions=lying if half == "leaf" else Positions(hung=(hung,)),
                    notes=(
                        "set all hinges of the leaf on one straight bar first: their pins must be "
                        "in one line",
                        "nobody stands under or beside a leaf that hangs on tacks",
                    )
                    if half == "post"
                    else ("set all hinges of the leaf on one straight bar first",),
                    unknown=missing,
                )
