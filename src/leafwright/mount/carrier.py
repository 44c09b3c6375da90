"""What the top plate is fixed to: the transom, the beam over it, or what is not known."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from leafwright.chain import Quantity
from leafwright.handbook.catalogue import CatalogueError, CatalogueSection
from leafwright.handbook.rolled_beams import BEAM_GRADES, RolledBeam, rolled_beam
from leafwright.handbook.sections import FLAT_BAR, RECTANGULAR_TUBE
from leafwright.mount.envelope import floor_pivot
from leafwright.mount.parts import PartSteel, part_steel
from leafwright.mount.records import Mounting
from leafwright.records import Metres

#: Words of a head that steel is not bolted or welded to.
_CONCRETE = ("concrete", "cement", "masonry", "block", "brick", "stone")
_WOOD = ("wood", "timber", "glulam", "lvl", "log", "oak", "pine", "fir")

#: What to bring of a beam whose steel is not known, bolted to and welded to.
OLD_STEEL = (
    "say beam_grade, by the building's records or by a coupon cut and tested: old steel may be "
    "weaker than any that is sold today"
)
OLD_STEEL_WELDED = (
    f"{OLD_STEEL}, and may not weld: have the coupon tested for that as well, or bolt to it"
)


@dataclass(frozen=True, slots=True)
class Carrier:
    """What carries the top plate.

    ``width`` is what the plate can lie on and ``thickness`` the wall or flange that is bolted
    through or welded to [m]. ``unknown`` says what to bring where it is no steel that is known.
    """

    kind: Literal["transom", "beam", "none"]
    name: str
    width: Metres
    thickness: Metres
    steel: PartSteel | None
    section: CatalogueSection | None
    beam: RolledBeam | None
    span: Metres
    unknown: str

    @property
    def defaults(self) -> tuple[Quantity, ...]:
        """Return the defaults that its steel rests on."""
        return () if self.steel is None else self.steel.defaults


def carrier_of(m: Mounting) -> Carrier:
    """Return what carries the top plate: the transom where there is one, else the beam."""
    over = m.room.transom
    if over is not None and over.section is not None:
        try:
            tube = m.steel.section(over.section)
        except CatalogueError as error:
            return _nothing(over.section, f"the transom: {error}")
        if tube.shape != RECTANGULAR_TUBE:
            return _nothing(tube.designation, f"a {tube.shape} as a transom is not proved here")
        steel = PartSteel(tube.grade.name, tube.yield_stress, tube.tensile_strength, "", ())
        return Carrier(
            kind="transom",
            name=f"transom, {tube.designation}",
            width=tube.height,
            thickness=tube.design_wall,
            steel=steel,
            section=tube,
            beam=None,
            span=over.length.value,
            unknown="",
        )
    return beam_over(m)


def beam_over(m: Mounting) -> Carrier:
    """Return the beam over the opening, or what is to be said of it."""
    b = m.job.building
    words = b.beam.lower()
    if not m.job.opening.head:
        return _nothing("nothing", "nothing is over the opening: say what holds the top pin")
    if any(word in words for word in _CONCRETE):
        return _nothing(
            b.beam,
            f"{b.beam!r} is not steel: what holds the top plate are anchors overhead, or a steel "
            "transom between the jambs; have them designed by an engineer, by the anchors' own "
            "report for that material (no adhesive anchor overhead without its own approval)",
        )
    if any(word in words.split() for word in _WOOD):
        return _nothing(
            b.beam,
            f"{b.beam!r} is wood: what holds the top plate are lag screws or through bolts by the "
            "code for wood; have an engineer size them, or set a steel transom between the jambs",
        )
    found = rolled_beam(b.beam)
    if found is None:
        return _nothing(
            b.beam,
            'say what is over the opening, as beam = "W12x26", or measure its flange (width and '
            "thickness), web and depth for an engineer",
        )
    return Carrier(
        kind="beam",
        name=f"beam, {found.name}",
        width=found.flange_width,
        thickness=found.flange,
        steel=beam_steel(m, found),
        section=None,
        beam=found,
        span=b.beam_span.si if b.beam_span is not None else 0.0,
        unknown="",
    )


def beam_steel(m: Mounting, beam: RolledBeam) -> PartSteel:
    """Return the steel of the beam; where it is not known the lowest common one, and the ask."""
    grade = m.job.building.beam_grade
    if grade in BEAM_GRADES:
        F_y, F_u = BEAM_GRADES[grade]
        return PartSteel(grade, F_y, F_u, "", ())
    found = part_steel(m, "beam", grade, "beam_grade", shape=FLAT_BAR, thickness=beam.flange)
    if not found.unknown:
        return found
    welded = floor_pivot(m).top_fixed == "welded"
    return replace(found, unknown=OLD_STEEL_WELDED if welded else OLD_STEEL)


def _nothing(name: str, why: str) -> Carrier:
    return Carrier("none", name, 0.0, 0.0, None, None, None, 0.0, why)
