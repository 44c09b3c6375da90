"""What the leaf's top pin puts on its plate, and the bolts that hold the plate."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, replace

from leafwright.chain import Quantity
from leafwright.handbook.aisc360 import bolts
from leafwright.handbook.aisc360.bolts import BoltGroup
from leafwright.handbook.aisc360.constants import KSI
from leafwright.handbook.bolts_steel import iso_property_class
from leafwright.job.model import Bolt
from leafwright.mount.envelope import floor_pivot, pin_envelope, pin_place
from leafwright.mount.parts import PartSteel
from leafwright.mount.pivot_pin import Pin, pin_of
from leafwright.mount.pivot_weld import plate_steel, plate_thickness
from leafwright.mount.plate_loads import PlateLoad, plate_load
from leafwright.mount.records import Mounting
from leafwright.records import Metres, Newtons, Pascals
from leafwright.units import UnitError, read_length

_SIZE = re.compile(r"([0-9]+-[0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]+(?:\.[0-9]+)?)(?:-[0-9]+)?")
_METRIC = re.compile(r"m ?([0-9]+(?:\.[0-9]+)?)(?: ?x ?[0-9.]+)?")
#: SAE J429 grades, least tensile strength to 1 in (from memory) [Pa].
_SAE = {"grade 5": 120.0 * KSI, "grade 8": 150.0 * KSI}


@dataclass(frozen=True, slots=True)
class TopPlate:
    """The top plate with what the leaf puts on it, factors of the method in it.

    ``loads`` are at the face of the plate that lies on what carries it.
    """

    pin: Pin
    length: Metres
    width: Metres
    thickness: Metres
    steel: PartSteel
    loads: tuple[PlateLoad, ...]
    defaults: tuple[Quantity, ...]

    @property
    def pushed(self) -> PlateLoad:
        """Return the load with the greatest push across."""
        return max(self.loads, key=lambda load: load.shear)

    @property
    def tipped(self) -> PlateLoad:
        """Return the load that tips the plate hardest."""
        return max(self.loads, key=lambda load: load.moment)

    @property
    def radius(self) -> Metres:
        """Return the pin's radius [m], 0 where it is not known."""
        return (self.pin.at.diameter or 0.0) / 2.0


def top_plate(m: Mounting) -> TopPlate:
    """Return the leaf's top plate; its length and width are 0 where the job does not give them."""
    mount, place = floor_pivot(m), m.pivots[-1]
    pin = pin_of(m, pin_place(m, place), pin_envelope(m, place), mount.pin_grade)
    plate = mount.top_plate
    thickness, defaults = plate_thickness(m, plate, "top")
    loads = []
    for given in pin.forces:
        load = plate_load(given, lever=pin.lever + thickness, up=1.0, wind_up=1.0, hold=1.0)
        # What hangs on the pin pulls the plate off; what pushes up is not counted on.
        loads.append(replace(load, least_press=-max(given.axial, 0.0), most_press=0.0))
    return TopPlate(
        pin=pin,
        length=plate.length.si if plate is not None else 0.0,
        width=plate.width.si if plate is not None else 0.0,
        thickness=thickness,
        steel=plate_steel(m, plate, "top", thickness),
        loads=tuple(loads),
        defaults=(*pin.defaults, *defaults),
    )


@dataclass(frozen=True, slots=True)
class BoltKind:
    """A bolt as AISC takes it: its stresses on the body, and its group where it has one.

    ``unknown`` says what to bring; the stresses are then those of A307, the weakest.
    """

    d: Metres
    name: str
    F_nt: Pascals
    F_nv: Pascals
    F_u: Pascals
    group: BoltGroup | None
    unknown: str

    @property
    def area(self) -> float:
        """Return the area of the body [m2]."""
        return math.pi / 4.0 * self.d**2


def pretension(bolt: BoltKind) -> Newtons | None:
    """Return what a bolt is tightened to where it must hold by friction [N]; None if it cannot."""
    if bolt.group is None:
        return None
    try:
        return bolts.minimum_pretension(bolt.d, bolt.group)
    except ValueError:
        return None


def bolt_kind(bolt: Bolt) -> BoltKind | str:
    """Return a bolt of the job, or what is wrong with its size."""
    d = _diameter(bolt.size)
    if d is None:
        return f'bolt.size = {bolt.size!r} is not read: write it as "3/4 in", "3/4-10" or "M20"'
    plain = bolt.grade.lower().replace("gr ", "grade ").replace("f3125", "").strip()
    groups = (
        ("a325", BoltGroup.GROUP_120),
        ("f1852", BoltGroup.GROUP_120),
        ("a490", BoltGroup.GROUP_150),
        ("f2280", BoltGroup.GROUP_150),
        ("a307", BoltGroup.A307),
    )
    for word, group in groups:
        if word in plain:
            return _of_group(d, f"{word.upper()}", group, "")
    ultimate = _SAE.get(plain)
    name = bolt.grade
    if ultimate is None:
        try:
            ultimate = iso_property_class(plain.removeprefix("class").strip(), d).tensile
        except ValueError:
            said = "" if plain in ("", "unknown") else f", not {bolt.grade!r}"
            unknown = (
                'say what is marked on the bolts\' heads: bolt.grade = "A325", "grade 5" or '
                f'"8.8"{said}; taken as A307, which has no mark'
            )
            return _of_group(d, "A307 by default", BoltGroup.A307, unknown)
    return BoltKind(
        d=d,
        name=name,
        F_nt=float(bolts.threaded_part_stress(ultimate)),
        F_nv=float(bolts.threaded_part_shear_stress(ultimate)),
        F_u=ultimate,
        group=None,
        unknown="",
    )


def _of_group(d: Metres, name: str, group: BoltGroup, unknown: str) -> BoltKind:
    F_nt = bolts.nominal_tensile_stress(group)
    # F_nt is 0.75 F_u (Table J3.2).
    return BoltKind(d, name, F_nt, bolts.nominal_shear_stress(group), F_nt / 0.75, group, unknown)


def _diameter(text: str) -> Metres | None:
    plain = text.lower().replace("×", "x").strip()
    metric = _METRIC.fullmatch(plain)
    if metric is not None:
        return float(metric[1]) * 1e-3
    inches = re.sub(r"\s*(in\.?|inch|\"|”|″)$", "", plain)
    read = _SIZE.fullmatch(inches)
    try:
        if read is not None:
            return read_length(read[1], bare="in").si
        return read_length(plain).si
    except UnitError:
        return None
