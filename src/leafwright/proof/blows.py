"""How hard the wind presses on what is solid: by which standard, with what factors, and why."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from leafwright import units
from leafwright.chain import Quantity
from leafwright.frame.load_cases import WindFactors
from leafwright.handbook import wind
from leafwright.job.defaults import chosen
from leafwright.job.model import Job, Wind
from leafwright.job.tape import tape_of
from leafwright.leaf import Leaf
from leafwright.proof.panels import rectangles
from leafwright.proof.working import Lines
from leafwright.records import Held, Source

#: ASCE 7 wind is of strength level: 0.6 W in 2.4.1 (ASD) and 1.0 W in 2.3.1 (LRFD).
ASCE_FACTORS = {"ASD": WindFactors(0.6, 0.6), "LRFD": WindFactors(1.0, 0.6)}
#: A live load, as the push of air indoors is: D + L and 1.2 D + 1.6 L.
LIVE_FACTORS = {"ASD": WindFactors(1.0, 1.0), "LRFD": WindFactors(1.6, 1.0)}
#: What is taken where no exposure is given.
WORST_EXPOSURE: wind.Exposure = "D"


_ASCE = "ASCE/SEI 7-22"
_EN = "EN 1991-1-4:2005"
_INDOORS = Source("International Building Code", "1607, walls inside a building")
_TERRAINS: tuple[wind.Terrain, ...] = ("0", "I", "II", "III", "IV")
_LEAST = "16 psf (0.77 kPa)"
_FLAT = ("", "flat", "level", "flat ground", "level ground")


@dataclass(frozen=True, slots=True)
class Blows:
    """What presses on a solid panel of an area, on flat bars and on round wires [Pa of solid].

    ``solid`` takes the panel's area [m2], the others the solidity of what they stand in;
    ``whole`` is the solidity of the whole leaf where the maker gave it.
    """

    rule: str
    source: Source
    factors: WindFactors
    solid: Callable[[float], float]
    flat: Callable[[float], float]
    round: Callable[[float, float], float]
    whole: float | None = None
    words: tuple[str, ...] = ()
    asked: tuple[tuple[str, str, str], ...] = ()


def is_indoors(job: Job) -> bool:
    """Return whether only the push of air indoors is proved: said, or no wind was given."""
    return job.building.indoors == "yes" or job.wind is None


def blows_of(
    job: Job, leaf: Leaf, under: float, lines: Lines, taken: list[Quantity]
) -> Blows | Held:
    """Return what presses on a leaf, or what must be given first.

    Args:
        job: ``[wind]``, ``[building]``, ``[loads]`` and the basis.
        leaf: for its size and panels.
        under: from the ground to the leaf's bottom [m].
        lines: where to keep the formulas.
        taken: where to put the defaults and wishes used.
    """
    given = job.wind
    if given is None or is_indoors(job):
        return _air_indoors(job, taken)
    if given.pressure is not None:
        pressure = given.pressure.si
        return _even(
            pressure,
            f"the pressure in [wind], {given.pressure.text}, taken as it is on what is solid",
            Source(given.standard, "its pressure, as given in [wind]"),
            LIVE_FACTORS[job.basis.method],
            whole=given.solidity,
            words=(
                "the pressure in [wind] is taken as it is, × 1.0 by ASD and × 1.6 by LRFD: of one "
                "worked out by ASCE 7, which is of strength level, give 0.6",
            ),
        )
    if given.speed is None:
        return Held(
            "[wind] says neither how fast it blows nor what it presses with",
            ('speed = "105 mph", or pressure = "20 psf", in [wind]',),
        )
    name = given.standard.lower()
    if "asce" in name:
        return _asce(job, given, given.speed.si, leaf, under, lines, taken)
    if "1991" in name or "eurocode" in name:
        return _eurocode(job, given, given.speed.si, leaf, under, lines)
    return Held(
        f"how {given.standard!r} makes a pressure of a wind speed is not held here",
        ('standard = "ASCE 7-22" or "EN 1991-1-4", or its pressure = "20 psf", in [wind]',),
    )


def _air_indoors(job: Job, taken: list[Quantity]) -> Blows:
    push = chosen(
        job.loads.indoor_pressure,
        "indoor pressure",
        "proof/indoor pressure",
        "push of air indoors",
        system=job.job.system,
    )
    taken.append(push)
    rule = "the push of air indoors on what is solid"
    if job.building.indoors != "yes":
        rule += ": no [wind] is given, and outdoors it is more"
    return _even(push.value, rule, _INDOORS, LIVE_FACTORS[job.basis.method])


def _even(
    pressure: float,
    rule: str,
    source: Source,
    factors: WindFactors,
    *,
    whole: float | None = None,
    words: tuple[str, ...] = (),
) -> Blows:
    """Return one pressure on all that is solid [Pa]."""
    return Blows(
        rule,
        source,
        factors,
        solid=lambda area: pressure,
        flat=lambda solidity: pressure,
        round=lambda solidity, diameter: pressure,
        whole=whole,
        words=words,
    )


def _asce(
    job: Job,
    given: Wind,
    speed: float,
    leaf: Leaf,
    under: float,
    lines: Lines,
    taken: list[Quantity],
) -> Blows:
    top = under + leaf.height
    in_wall = job.opening.head and given.C_f is None
    if in_wall:
        name = "mean height of the roof"
        roof = chosen(None, "roof height", "proof/roof height", name, system=job.job.system)
        taken.append(roof)
        top = max(top, roof.value)
    words: list[str] = []
    asked: list[tuple[str, str, str]] = []
    K_z = given.K_z
    if K_z is None:
        K_z = lines.work(
            wind.exposure_coefficient, height=top, exposure=given.exposure or WORST_EXPOSURE
        )
        if given.exposure is None:
            words.append("no exposure is given: D, open water, the worst, is taken")
    if given.ground.strip().lower() not in _FLAT:
        asked.append(
            (
                "ground",
                f"what does the ground ({given.ground}) do to the wind",
                "have an engineer say its K_zt (ASCE 7-22, 26.8): here it is taken as flat",
            )
        )
    q = lines.work(wind.velocity_pressure, speed=speed, K_z=K_z)
    make = _on_a_wall if in_wall else _freestanding
    blows = make(job, given, leaf, top, q, lines, words)
    return replace(blows, words=tuple(words), asked=tuple(asked))


def _on_a_wall(
    job: Job, given: Wind, leaf: Leaf, top: float, q: float, lines: Lines, words: list[str]
) -> Blows:
    """Return the pressure on a part of a building's wall: both ways the greater, zone 5."""
    K_d = wind.DIRECTIONALITY if given.K_d is None else given.K_d

    def clad(area: float) -> float:
        on = lines.work(wind.wall_cladding, pressure=q, area=area, zone=5, K_d=K_d)
        return max(on.inward, on.outward, wind.LEAST_PRESSURE)

    worst = clad(min(leaf.width * (r.top - r.bottom) for r in rectangles(leaf)))
    words.append(
        f"a leaf in a building's wall takes the wall's pressure: beside a corner (zone 5), the "
        f"building closed, its roof {units.show_length(top, tape_of(job))} up; never under {_LEAST}"
    )
    return Blows(
        "wind on a building's wall, K_d q_h (GC_p + GC_pi) on what is solid, both ways",
        Source(_ASCE, "26.10, 30.3.2 (Eq. 30.3-1), Figure 30.3-1, 30.2.2"),
        ASCE_FACTORS[job.basis.method],
        solid=clad,
        flat=lambda solidity: worst,
        round=lambda solidity, diameter: worst,
        whole=given.solidity,
    )


def _freestanding(
    job: Job, given: Wind, leaf: Leaf, top: float, q: float, lines: Lines, words: list[str]
) -> Blows:
    """Return the pressure on a wall or a lattice that stands free; what the maker gives wins."""
    K_d = wind.DIRECTIONALITY if given.K_d is None else given.K_d
    G = wind.GUST if given.G is None else given.G
    C_f = given.C_f
    C_wall = _wall_coefficient(job, leaf, top, lines, words) if C_f is None else C_f

    def on(C: float) -> float:
        force = lines.work(wind.wind_force, pressure=q, C_f=C, area=1.0, K_d=K_d, G=G)
        return max(force, wind.LEAST_PRESSURE)

    def lattice(solidity: float, members: wind.Members, diameter: float = 0.0) -> float:
        if C_f is not None or solidity > wind.SOLID_FROM:
            return on(C_wall)
        return on(
            lines.work(
                wind.lattice_coefficient,
                solidity=solidity,
                members=members,
                diameter=diameter,
                pressure=q,
            )
        )

    def solid(area: float) -> float:
        if C_f is not None or given.solidity is None:
            return on(C_wall)
        if given.solidity < wind.SOLID_FROM:
            return lattice(given.solidity, "flat")
        left = lines.work(wind.opening_reduction, solidity=given.solidity)
        return on(C_wall * left / given.solidity)

    rule = "wind on a freestanding leaf, K_d G C_f q on what is solid"
    of_maker = [k for k in ("K_z", "K_d", "G", "C_f", "solidity") if getattr(given, k) is not None]
    if of_maker:
        rule += f"; {', '.join(of_maker)} as given in [wind]"
    words.append(f"never under {_LEAST} on what is solid")
    return Blows(
        rule,
        Source(_ASCE, "26.10, 29.3 (Figure 29.3-1), 29.4 (Figure 29.4-2), 29.7"),
        ASCE_FACTORS[job.basis.method],
        solid=solid,
        flat=lambda solidity: lattice(solidity, "flat"),
        round=lambda solidity, diameter: lattice(solidity, "round", diameter),
        whole=given.solidity,
    )


def _wall_coefficient(job: Job, leaf: Leaf, top: float, lines: Lines, words: list[str]) -> float:
    """Return C_f of a leaf as part of a freestanding wall as wide as the shut leaves [-]."""
    width = leaf.width * len(job.leaf)
    C_f = lines.work(wind.wall_coefficient, width=width, height=leaf.height, top=top)
    regions = (
        lines.work(wind.wall_regions, width=width, height=leaf.height, top=top)
        if width <= 10.0 * leaf.height
        else ()
    )
    # Of the leaf at the windward end: its stretches, each as far as the leaf goes.
    aslant = sum(
        r.C_f * max(0.0, min(r.end, leaf.width) - min(r.start, leaf.width)) for r in regions
    )
    if aslant / leaf.width > C_f:
        words.append(
            "wind aslant on the end of a wall that is no longer than the leaves (Figure 29.3-1, "
            "case C) is the worst; where a fence goes on at both sides give its C_f in [wind]"
        )
        return aslant / leaf.width
    return C_f


def _eurocode(
    job: Job, given: Wind, speed: float, leaf: Leaf, under: float, lines: Lines
) -> Blows | Held:
    ground = given.ground.upper().replace("CATEGORY", "").replace("TERRAIN", "").strip()
    terrain = next((t for t in _TERRAINS if t == ground), None)
    needs = []
    if terrain is None:
        needs.append('ground = "II" in [wind]: the terrain category 0, I, II, III or IV')
    if given.C_f is None:
        needs.append("C_f in [wind]: its net pressure or force coefficient (7.2, 7.4 or 7.11)")
    if terrain is None or given.C_f is None:
        return Held(f"{_EN} needs more to make a pressure of a wind speed", tuple(needs))
    peak = lines.work(
        wind.peak_velocity_pressure, speed=speed, height=under + leaf.height, terrain=terrain
    )
    K_d, G = (1.0 if k is None else k for k in (given.K_d, given.G))
    force = lines.work(
        wind.wind_force, pressure=peak.pressure, C_f=given.C_f, area=1.0, K_d=K_d, G=G
    )
    return _even(
        force,
        "peak velocity pressure × C_f as given in [wind], on what is solid",
        Source(_EN, "4.5 (Eq. 4.8), 5.3; the national annex may change it"),
        LIVE_FACTORS[job.basis.method],
        whole=given.solidity,
        words=(
            "the wind of EN 1991-1-4 is no strength-level one: × 1.0 by ASD, × 1.6 by LRFD "
            "(EN 1990 has 1.5)",
        ),
    )
