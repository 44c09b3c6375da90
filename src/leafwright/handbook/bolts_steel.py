"""What bolts are made of: ASTM A307 and F3125 grades, and ISO 898-1 property classes, as facts.

Read in suppliers' transcriptions of ASTM A307 (tensile table), ASTM F3125/F3125M and ISO
898-1:2013 (values per class; loads per size). Proof stresses of A325 and A490 are from memory and
therefore left out. Design stresses for steelwork are in `aisc360.bolts`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from leafwright.records import Newtons, Pascals, SquareMetres

_KSI: Final = 1000.0 * 0.45359237 * 9.80665 / 0.0254**2
_MPA: Final = 1e6


@dataclass(frozen=True, slots=True)
class BoltSteel:
    """Least tensile strength, yield (or 0.2 %) stress and proof stress; None where not set."""

    name: str
    tensile: Pascals
    yield_stress: Pascals | None
    proof: Pascals | None
    source: str


_F3125: Final = "ASTM F3125/F3125M"

# ASTM grades, least values; A307 sets no yield.
ASTM: Final = MappingProxyType(
    {
        steel.name: steel
        for steel in (
            BoltSteel("A307 Grade A", 60.0 * _KSI, None, None, "ASTM A307"),
            BoltSteel("A307 Grade B", 60.0 * _KSI, None, None, "ASTM A307"),
            BoltSteel("F3125 A325", 120.0 * _KSI, 92.0 * _KSI, None, _F3125),
            BoltSteel("F3125 A490", 150.0 * _KSI, 130.0 * _KSI, None, _F3125),
            BoltSteel("F3125 A325M", 830.0 * _MPA, None, None, _F3125),
            BoltSteel("F3125 A490M", 1040.0 * _MPA, None, None, _F3125),
        )
    }
)

# ISO 898-1 [MPa]: least R_m, least R_eL or R_p0.2 (R_pf for 4.8, 5.8, 6.8), proof stress S_p.
_ISO: Final = {
    "4.6": (400.0, 240.0, 225.0),
    "4.8": (420.0, 340.0, 310.0),
    "5.6": (500.0, 300.0, 280.0),
    "5.8": (520.0, 420.0, 380.0),
    "6.8": (600.0, 480.0, 440.0),
    "9.8": (900.0, 720.0, 650.0),
    "10.9": (1040.0, 940.0, 830.0),
    "12.9": (1220.0, 1100.0, 970.0),
}
_ISO_8_8_TO_M16: Final = (800.0, 640.0, 580.0)
_ISO_8_8_OVER_M16: Final = (830.0, 660.0, 600.0)


def iso_property_class(name: str, d: float) -> BoltSteel:
    """Return the least strengths of a bolt of an ISO property class [Pa].

    ISO 898-1:2013, Table 3. Class 8.8 is 800/640/580 MPa up to M16 and 830/660/600 above.

    name: property class as marked on the head: 4.6, 4.8, 5.6, 5.8, 6.8, 8.8, 9.8, 10.9, 12.9.
    d: nominal diameter [m].
    Raises ValueError for another name or a d at or below 0. Limits: bolts, screws and studs of
    carbon and alloy steel at ordinary temperature, M1.6 to M39; stainless has its own classes.
    """
    if not d > 0.0:
        raise ValueError(f"d = {d!r}: must be above 0; give the nominal diameter in metres")
    if name == "8.8":
        row = _ISO_8_8_TO_M16 if d <= 0.016 + 1e-6 else _ISO_8_8_OVER_M16
    elif name in _ISO:
        row = _ISO[name]
    else:
        raise ValueError(
            f"property class {name!r}: not one of ISO 898-1; give what is marked on the head, "
            f"one of {', '.join(sorted([*_ISO, '8.8'], key=float))}"
        )
    tensile, yielding, proof = (value * _MPA for value in row)
    return BoltSteel(name, tensile, yielding, proof, "ISO 898-1")


def stress_area_metric(d: float, pitch: float) -> SquareMetres:
    """Return the tensile stress area of an ISO metric thread [m2].

    ISO 898-1, 9.1.6.1: π/4 (d - 0.9382 P)² (the mean of pitch and minor diameter).

    d: nominal diameter [m].
    pitch: P [m]; 1.75 mm for M12, 2 for M16, 2.5 for M20, 3 for M24 coarse.
    Raises ValueError for a pitch at or below 0 or not well under d. Limits: 60° metric threads.
    """
    _require_thread(d, pitch)
    return math.pi / 4.0 * (d - 0.9382 * pitch) ** 2


def stress_area_unified(d: float, threads_per_inch: float) -> SquareMetres:
    """Return the tensile stress area of a unified inch thread [m2].

    ASME B1.1, as used in ASTM's tables: π/4 (d - 0.9743/n)².

    d: nominal diameter [m].
    threads_per_inch: n [1/in]; 13 for 1/2, 11 for 5/8, 10 for 3/4, 9 for 7/8, 8 for 1 in coarse.
    Raises ValueError for n at or below 0 or too few for d. Limits: 60° unified threads.
    """
    pitch = 0.0254 / threads_per_inch if threads_per_inch > 0.0 else 0.0
    _require_thread(d, pitch)
    return math.pi / 4.0 * (d - 0.9743 * pitch) ** 2


def tensile_load(steel: BoltSteel, stress_area: float) -> Newtons:
    """Return the least load at which a bolt breaks in tension [N].

    ISO 898-1 and ASTM A307: tensile strength times stress area; not a design strength.

    steel: of the bolt.
    stress_area: tensile stress area [m2].
    Raises ValueError for an area at or below 0. Limits: straight pull on the thread.
    """
    _require_area(stress_area)
    return steel.tensile * stress_area


def proof_load(steel: BoltSteel, stress_area: float) -> Newtons:
    """Return the load that a bolt must bear without lasting stretch [N].

    ISO 898-1: proof stress times stress area.

    steel: of the bolt.
    stress_area: tensile stress area [m2].
    Raises ValueError for an area at or below 0, or a steel for which no proof stress is set.
    Limits: straight pull on the thread.
    """
    _require_area(stress_area)
    if steel.proof is None:
        raise ValueError(
            f"{steel.name}: {steel.source} gives no proof stress here; use the least pretension "
            "of the structural tables, or ask the maker"
        )
    return steel.proof * stress_area


def _require_area(stress_area: float) -> None:
    if not stress_area > 0.0:
        raise ValueError(f"stress_area = {stress_area!r}: must be above 0; give it in m2")


def _require_thread(d: float, pitch: float) -> None:
    if not 0.0 < pitch < 0.5 * d:
        raise ValueError(
            f"d = {d!r} m with a pitch of {pitch!r} m is no thread; give the diameter in metres "
            "and its pitch or threads per inch"
        )
