"""Wind on a leaf or gate: velocity pressure, and the force on a wall, a sign or a lattice.

ASCE/SEI 7-22, chapters 26, 29 and 30, and EN 1991-1-4:2005 for metric jobs. The standards were not
opened: equations, constants and tables are second-hand, each from two readings that agree. A leaf
in a wall of a building takes the wall's pressures, see `wall_cladding`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Final, Literal

import numpy as np

from leafwright.handbook._given import require_not_negative, require_positive
from leafwright.records import Metres, Number, Pascals, Unit

MetresPerSecond = Annotated[float, Unit("m/s")]

#: Air's half density in ASCE 7's SI form [kg/m3]: 0.613 V² is 0.00256 V² in psf and mph.
HALF_DENSITY: Final = 0.613
#: Density of air in EN 1991-1-4, 4.5(1) Note 2 [kg/m3].
AIR_DENSITY: Final = 1.25
#: Directionality K_d of solid freestanding walls and signs, and of lattices (Table 26.6-1).
DIRECTIONALITY: Final = 0.85
#: Gust-effect factor G of a rigid structure (26.11.1).
GUST: Final = 0.85
#: Least horizontal pressure on inside walls over 6 ft high, 5 psf [Pa] (International Building
#: Code 2009, 1607.13, second-hand; 1607.16 in later editions, from memory).
INDOOR_PRESSURE: Final = 5.0 * 4.4482216152605 / 0.3048**2

#: Least design pressure on a component of a wall, and on a freestanding structure's solid area
#: (30.2.2 and 29.7, from memory): 16 psf [Pa].
LEAST_PRESSURE: Final = 16.0 * 4.4482216152605 / 0.3048**2
#: Internal pressure coefficient GC_pi of an enclosed building (Table 26.13-1).
ENCLOSED: Final = 0.18

# ASCE 7-22 Table 26.11-1: exponent α, and z_g [ft].
_EXPOSURES = {"B": (7.5, 3280.0), "C": (9.8, 2460.0), "D": (11.5, 1935.0)}
_FOOT: Final = 0.3048
_LOWEST_FEET: Final = 15.0
_HIGHEST_FEET: Final = 500.0

# ASCE 7-22 Figure 29.3-1, cases A and B: C_f by s/h (rows) and B/s (columns).
_B_OVER_S = (0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 4.0, 5.0, 10.0, 20.0, 30.0, 45.0)
_S_OVER_H = (0.16, 0.2, 0.3, 0.5, 0.7, 0.9, 1.0)
_C_F = (
    (1.95, 1.90, 1.85, 1.85, 1.80, 1.80, 1.85, 1.85, 1.85, 1.90, 1.90, 1.95),
    (1.95, 1.90, 1.85, 1.80, 1.80, 1.80, 1.80, 1.80, 1.85, 1.90, 1.90, 1.95),
    (1.95, 1.90, 1.85, 1.80, 1.80, 1.80, 1.80, 1.80, 1.80, 1.85, 1.85, 1.85),
    (1.95, 1.85, 1.80, 1.75, 1.75, 1.70, 1.70, 1.70, 1.70, 1.70, 1.70, 1.75),
    (1.90, 1.85, 1.75, 1.70, 1.65, 1.60, 1.60, 1.55, 1.55, 1.55, 1.55, 1.55),
    (1.85, 1.75, 1.70, 1.60, 1.55, 1.50, 1.45, 1.45, 1.40, 1.40, 1.40, 1.40),
    (1.80, 1.70, 1.65, 1.55, 1.45, 1.40, 1.35, 1.35, 1.30, 1.30, 1.30, 1.30),
)
# The same figure, case C: C_f of each region from the windward edge by B/s of 2 to 10 (columns).
_REGION_B_OVER_S = (2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0)
_REGION_ENDS = (1.0, 2.0, 3.0, 10.0)
_REGION_C_F = (
    (2.25, 2.60, 2.90, 3.10, 3.30, 3.40, 3.55, 3.65, 3.75),
    (1.50, 1.70, 1.90, 2.00, 2.15, 2.25, 2.30, 2.35, 2.45),
    (1.15, 1.30, 1.45, 1.55, 1.65, 1.70, 1.75, 1.85),
    (1.10, 1.05, 1.05, 1.05, 1.05, 1.00, 0.95),
)
# ASCE 7-22 Figure 29.4-2 by solidity: under 0.1, 0.1 to 0.29, 0.3 to 0.7. Flat members; round ones
# with D√q_z up to 5.3 (m and Pa), and over it.
_LATTICE = ((2.0, 1.2, 0.8), (1.8, 1.3, 0.9), (1.6, 1.5, 1.1))
_SUBCRITICAL: Final = 5.3
#: Solidity from which a screen counts as a solid wall with openings (Figure 29.3-1, note 1).
SOLID_FROM: Final = 0.7

# ASCE 7-22 Figure 30.3-1, walls of buildings up to 60 ft: GC_p at 10 ft2 and at 500 ft2, inward,
# and outward by zone.
_CLADDING_IN = (1.0, 0.7)
_CLADDING_OUT = {4: (1.1, 0.8), 5: (1.4, 0.8)}
_CLADDING_AREAS = (10.0, 500.0)

# EN 1991-1-4 Table 4.1: z_0 and z_min [m].
_TERRAINS = {
    "0": (0.003, 1.0),
    "I": (0.01, 1.0),
    "II": (0.05, 2.0),
    "III": (0.3, 5.0),
    "IV": (1.0, 10.0),
}

Exposure = Literal["B", "C", "D"]
Terrain = Literal["0", "I", "II", "III", "IV"]
Members = Literal["flat", "round"]


@dataclass(frozen=True, slots=True)
class WallRegion:
    """A stretch of a wall, from the windward edge, and its force coefficient (case C)."""

    start: Metres
    end: Metres
    C_f: Number


@dataclass(frozen=True, slots=True)
class WallCladding:
    """Wind on a part of a building's wall: coefficients, and pressures with what is inside.

    Attributes:
        GC_p_in: coefficient of what pushes the part inward.
        GC_p_out: coefficient of what pulls it outward, a magnitude.
        inward: pressure inward.
        outward: pressure outward, a magnitude.
    """

    GC_p_in: Number
    GC_p_out: Number
    inward: Pascals
    outward: Pascals


@dataclass(frozen=True, slots=True)
class PeakPressure:
    """Wind of EN 1991-1-4 at a height.

    Attributes:
        roughness: c_r(z).
        mean_speed: v_m(z).
        turbulence: I_v(z).
        pressure: q_p(z), the peak velocity pressure.
    """

    roughness: Number
    mean_speed: MetresPerSecond
    turbulence: Number
    pressure: Pascals


def exposure_coefficient(height: float, exposure: Exposure) -> float:
    """Return the velocity pressure exposure coefficient K_z [-].

    ASCE/SEI 7-22, Table 26.10-1 note 1 and Table 26.11-1: 2.41 (z/z_g)^(2/α), z not under 15 ft;
    α 7.5, 9.8, 11.5 and z_g 3280, 2460, 1935 ft in exposures B, C, D.

    height: z above ground [m].
    exposure: B towns and woods, C open country, D open water [-].
    Raises ValueError where the height is negative or over 500 ft, or the exposure unknown.
    """
    require_not_negative("the height above ground", height, "m")
    if exposure not in _EXPOSURES:
        raise ValueError(f"exposure {exposure!r} is unknown; give B, C or D")
    z = height / _FOOT
    if z > _HIGHEST_FEET:
        raise ValueError(f"{height!r} m above ground is beyond a leaf; give up to 500 ft (152.4 m)")
    alpha, z_g = _EXPOSURES[exposure]
    return 2.41 * math.pow(max(z, _LOWEST_FEET) / z_g, 2.0 / alpha)


def ground_elevation_factor(elevation: float) -> float:
    """Return the ground elevation factor K_e for thinner air [-].

    ASCE/SEI 7-22, 26.9, Table 26.9-1 note 2: e^(−0.000119 z_e); 1 is always permitted.

    elevation: z_e of the ground above sea level [m].
    """
    return math.exp(-0.000119 * elevation)


def velocity_pressure(speed: float, K_z: float, *, K_zt: float = 1.0, K_e: float = 1.0) -> float:
    """Return the velocity pressure q_z [Pa].

    ASCE/SEI 7-22, 26.10, Eq. 26.10-1.SI: 0.613 K_z K_zt K_e V², which is 0.00256 K_z K_zt K_e V²
    in psf and mph. K_d stands no longer in it (it did in 7-16), but in the force.

    speed: V, basic wind speed of the code's map, a 3-second gust [m/s].
    K_z: exposure coefficient, see `exposure_coefficient` [-].
    K_zt: topographic factor, 1 on flat ground [-].
    K_e: ground elevation factor, see `ground_elevation_factor` [-].
    Raises ValueError where the speed is negative or a factor not positive.
    Limits: V is a strength-level speed; for service or allowable stress the code's load factor
    (0.6 W) goes with it.
    """
    require_not_negative("the wind speed", speed, "m/s")
    for what, factor in (("K_z", K_z), ("K_zt", K_zt), ("K_e", K_e)):
        require_positive(what, factor, "")
    return HALF_DENSITY * K_z * K_zt * K_e * speed**2


def wall_coefficient(width: float, height: float, top: float) -> float:
    """Return the force coefficient C_f of a freestanding wall or sign, wind square on to it [-].

    ASCE/SEI 7-22, Figure 29.3-1, cases A and B: table by B/s and s/h, straight lines between.
    Case B puts the same force 0.2 B from the middle.

    width: B, along the wall [m].
    height: s, of the wall or sign itself [m].
    top: h, of its top above ground, s for a wall that stands on it [m].
    Raises ValueError where a size is not positive, or the top is lower than the wall is high.
    Limits: openings under 30 % (see `opening_reduction`). A gate in a fence is part of the whole
    fence: B is the fence's.
    """
    _refuse_wall(width, height, top)
    by_row = [float(np.interp(width / height, _B_OVER_S, row)) for row in _C_F]
    return float(np.interp(height / top, _S_OVER_H, by_row))


def wall_regions(width: float, height: float, top: float) -> tuple[WallRegion, ...]:
    """Return the force coefficients C_f of stretches of a wall, wind aslant (case C) [-].

    ASCE/SEI 7-22, Figure 29.3-1, case C, notes 3 and 4: stretches of 0 to s, s to 2 s, 2 s to 3 s
    and beyond from the windward edge; straight lines between B/s (a stretch that the smaller B/s
    does not have takes the larger one's); times (1.8 − s/h) where s/h is over 0.8.

    width: B, along the wall [m].
    height: s, of the wall or sign itself [m].
    top: h, of its top above ground [m].
    Raises ValueError as `wall_coefficient` does, or where B/s is over 10. Nothing where B/s is
    under 2: case C is then not asked for. Limits: no return corner, which would lessen the first.
    """
    _refuse_wall(width, height, top)
    ratio = width / height
    if ratio < 2.0:
        return ()
    if ratio > 10.0:
        raise ValueError(
            f"a wall {ratio:.1f} times as long as high is beyond the table held (10); "
            "ask for its end stretches by themselves"
        )
    low_gap = 1.8 - height / top if height / top > 0.8 else 1.0
    regions = []
    start = 0.0
    for end, row in zip(_REGION_ENDS, _REGION_C_F, strict=True):
        if start >= ratio:
            break
        # The rows of the later stretches begin at a longer wall.
        columns = _REGION_B_OVER_S[len(_REGION_B_OVER_S) - len(row) :]
        C_f = float(np.interp(ratio, columns, row)) * low_gap
        regions.append(WallRegion(start * height, min(end, ratio) * height, C_f))
        start = end
    return tuple(regions)


def opening_reduction(solidity: float) -> float:
    """Return what is left of the force on a solid wall where it has openings [-].

    ASCE/SEI 7-22, Figure 29.3-1, note 1: 1 − (1 − ε)^1.5, on the gross area.

    solidity: ε, solid over gross area, 0.7 to 1 [-].
    Raises ValueError where it is not from 0.7 to 1: with 30 % of openings or more it is an open
    screen, see `lattice_coefficient`, whose force is on the solid area.
    """
    if not SOLID_FROM <= solidity <= 1.0:
        raise ValueError(
            f"a solidity of {solidity!r} is not that of a solid wall (0.7 to 1); "
            "take lattice_coefficient on the solid area"
        )
    return 1.0 - math.pow(1.0 - solidity, 1.5)


def lattice_coefficient(
    solidity: float, *, members: Members = "flat", diameter: float = 0.0, pressure: float = 0.0
) -> float:
    """Return the force coefficient C_f of an open sign, mesh or lattice, on its solid area [-].

    ASCE/SEI 7-22, Figure 29.4-2: flat members 2.0, 1.8, 1.6 by solidity under 0.1, to 0.29, to 0.7;
    round ones 1.2, 1.3, 1.5 where D √q_z is up to 5.3 (m, Pa), else 0.8, 0.9, 1.1.

    solidity: ε, solid over gross area, over 0 and up to 0.7 [-].
    members: flat (bars, angles, square tube) or round [-].
    diameter: D of round members [m].
    pressure: q_z, see `velocity_pressure` [Pa].
    Raises ValueError where the solidity is not over 0 and up to 0.7. Limits: between 0.29 and 0.3
    the denser row is taken; ice or dirt closes a mesh, which then is a solid wall.
    """
    if not 0.0 < solidity <= SOLID_FROM:
        raise ValueError(
            f"a solidity of {solidity!r} is not that of an open screen (over 0 to 0.7); "
            "take wall_coefficient with opening_reduction on the gross area"
        )
    row = _LATTICE[0 if solidity < 0.1 else 1 if solidity < 0.29 else 2]
    if members == "flat":
        return row[0]
    return row[1 if diameter * math.sqrt(pressure) <= _SUBCRITICAL else 2]


def wind_force(
    pressure: float,
    C_f: float,
    area: float,
    *,
    K_d: float = DIRECTIONALITY,
    G: float = GUST,
) -> float:
    """Return the wind force on a wall, sign or lattice [N].

    ASCE/SEI 7-22, Eqs. 29.3-1 and 29.4-1: F = q K_d G C_f A.

    pressure: q_h at the top of a wall, q_z at the middle of a lattice, see `velocity_pressure`
        [Pa].
    C_f: force coefficient [-].
    area: A, gross of a solid wall, solid of a lattice [m2].
    K_d: directionality, 0.85 for walls, signs and lattices [-].
    G: gust-effect factor, 0.85 where the structure is rigid [-].
    Raises ValueError where a value is negative. Limits: rigid, natural frequency of 1 Hz or more.
    """
    for what, value, unit in (("the pressure", pressure, "Pa"), ("C_f", C_f, ""), ("K_d", K_d, "")):
        require_not_negative(what, value, unit)
    require_not_negative("the area", area, "m2")
    require_not_negative("G", G, "")
    return pressure * K_d * G * C_f * area


def wall_cladding(
    pressure: float,
    area: float,
    zone: Literal[4, 5],
    *,
    GC_pi: float = ENCLOSED,
    K_d: float = DIRECTIONALITY,
) -> WallCladding:
    """Return the wind pressure on a part of a building's wall, a door in it say [Pa].

    ASCE/SEI 7-22, Eq. 30.3-1 and Figure 30.3-1: p = q_h K_d (GC_p − GC_pi), with GC_p +1.0 to +0.7
    and −1.1 to −0.8 (zone 4) or −1.4 to −0.8 (zone 5) between 10 and 500 ft2, straight over log A;
    the worse of pressure and suction inside.

    pressure: q_h at the mean height of the roof, see `velocity_pressure` [Pa].
    area: A, effective wind area of the part [m2].
    zone: 5 beside a corner of the building, 4 elsewhere [-].
    GC_pi: internal pressure, 0.18 enclosed, 0.55 partially enclosed, 0 open [-].
    K_d: directionality [-].
    Raises ValueError where a value is negative or the zone is another. Limits: roof not over 60 ft
    (18.3 m) up; the tenth less that the figure's note lets off under flat roofs is not taken.
    """
    require_not_negative("the pressure", pressure, "Pa")
    require_positive("the area", area, "m2")
    require_not_negative("GC_pi", GC_pi, "")
    require_not_negative("K_d", K_d, "")
    if zone not in _CLADDING_OUT:
        raise ValueError(f"zone {zone!r} of a wall is unknown; give 4, or 5 beside a corner")
    along = [math.log10(limit) for limit in _CLADDING_AREAS]
    place = math.log10(area / _FOOT**2)
    GC_p_in = float(np.interp(place, along, _CLADDING_IN))
    GC_p_out = float(np.interp(place, along, _CLADDING_OUT[zone]))
    q = pressure * K_d
    return WallCladding(GC_p_in, GC_p_out, q * (GC_p_in + GC_pi), q * (GC_p_out + GC_pi))


def peak_velocity_pressure(
    speed: float, height: float, terrain: Terrain, *, c_o: float = 1.0
) -> PeakPressure:
    """Return the peak velocity pressure q_p at a height, and what it is made of [Pa].

    EN 1991-1-4:2005, 4.3 to 4.5, Eqs. 4.3 to 4.8, recommended values (ρ 1.25 kg/m3, k_I 1):
    k_r = 0.19 (z_0/0.05)^0.07, c_r = k_r ln(z/z_0), v_m = c_r c_o v_b, I_v = 1/(c_o ln(z/z_0)),
    q_p = (1 + 7 I_v) ½ ρ v_m².

    speed: v_b, basic wind velocity, a 10-minute mean [m/s].
    height: z above ground, not taken under the terrain's z_min [m].
    terrain: category 0 sea, I flat and bare, II low growth, III suburb or wood, IV town [-].
    c_o: orography factor, 1 on flat ground [-].
    Raises ValueError where a value is negative, the height over 200 m or the terrain unknown.
    Limits: the national annex may change every value.
    """
    require_not_negative("the wind speed", speed, "m/s")
    require_not_negative("the height above ground", height, "m")
    require_positive("c_o", c_o, "")
    if terrain not in _TERRAINS:
        raise ValueError(f"terrain category {terrain!r} is unknown; give 0, I, II, III or IV")
    if height > 200.0:
        raise ValueError(f"{height!r} m above ground is beyond the rule; give up to 200 m")
    z_0, z_min = _TERRAINS[terrain]
    up = math.log(max(height, z_min) / z_0)
    c_r = 0.19 * math.pow(z_0 / 0.05, 0.07) * up
    v_m = c_r * c_o * speed
    I_v = 1.0 / (c_o * up)
    return PeakPressure(c_r, v_m, I_v, (1.0 + 7.0 * I_v) * 0.5 * AIR_DENSITY * v_m**2)


def _refuse_wall(width: Metres, height: Metres, top: Metres) -> None:
    require_positive("the wall's width", width, "m")
    require_positive("the wall's height", height, "m")
    if not top >= height:
        raise ValueError(
            f"the top of the wall is {top!r} m above ground and the wall {height!r} m high; "
            "give the top's height, no less than the wall's own"
        )
