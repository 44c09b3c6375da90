"""The pin of a barrel hinge in shear and bending, and the barrel that it presses on.

All pins of a leaf are alike: each check is of the one that has most to carry.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from leafwright.chain import Quantity
from leafwright.handbook import pins
from leafwright.handbook.aisc360 import LimitState, available, bending, connecting
from leafwright.handbook.sections import ROUND_BAR, properties_of_round_bar
from leafwright.mount.hinge_loads import OnHinge, barrel_hinge, half_length, hung_cases, on_hinges
from leafwright.mount.parts import (
    PartSteel,
    force,
    made_check,
    moment,
    part_steel,
    size,
    stock_size,
)
from leafwright.mount.records import Mounting
from leafwright.proof.working import Lines
from leafwright.records import Check, Metres, NewtonMetres, Newtons, Pascals

_INCH = 0.0254
_SUBJECT = "hinge pins"
_STRONGER = "a thicker pin, one of stronger steel, or shorter halves"
_LOOSER = "a little more play in the barrels, or a pin of stronger steel"
_BENT = "F11; chapter G, 0.6 F_y"


def pin_checks(
    m: Mounting, every: Sequence[OnHinge]
) -> tuple[tuple[Check, ...], tuple[Quantity, ...]]:
    """Return whether a leaf's hinge pins hold, and the barrels round them; and what was taken.

    Args:
        m: the leaf as it hangs.
        every: every hinge's force in every case.
    """
    mount, L = barrel_hinge(m), half_length(m).value
    d = None if mount.pin_diameter is None else mount.pin_diameter.si
    steel = part_steel(
        m, "hinge pin", mount.pin_grade, "pin_grade", shape=ROUND_BAR, thickness=d or 0.0
    )
    sheared = max(every, key=lambda on: on.force.on_pin)
    bent = max(every, key=lambda on: _moment(on, L))
    if d is not None and not steel.unknown:
        return _worked(m, d, steel, every, ""), steel.defaults
    takes = (
        f"{force(m, sheared.force.on_pin)} across and {moment(m, _moment(bent, L))} of bending "
        f"at most: {_would(m, steel, L)}"
    )
    if d is not None:
        return _worked(m, d, steel, every, takes), steel.defaults
    asked = made_check(
        m,
        "hinge/pin bending",
        _SUBJECT,
        "do they hold as they bend",
        clause=_BENT,
        demand=_moment(bent, L),
        available=None,
        unit="N m",
        case=bent.words(m),
        change="",
        rule="the force across the pin at the middle of one half",
        lines=Lines(),
        unknown=(f"give pin_diameter, as measured; it takes {takes}", steel.unknown),
    )
    return (asked,), steel.defaults


def _moment(on: OnHinge, length: Metres) -> NewtonMetres:
    """Return the moment in the pin where its halves meet [N m]."""
    return pins.half_barrel_moment(on.force.on_pin, length) + on.force.pin_moment


def _shear_strength(m: Mounting, F_y: Pascals, d: Metres, lines: Lines) -> Newtons:
    bar = lines.work(properties_of_round_bar, diameter=d)
    V_n = lines.work(connecting.element_shear_yielding, F_y=F_y, A_gv=bar.shear_area_u)
    V_c = lines.work(available, nominal=V_n, limit_state=LimitState.SHEAR, method=m.method)
    return float(V_c)


def _bending_strength(m: Mounting, F_y: Pascals, d: Metres, lines: Lines) -> NewtonMetres:
    M_n = lines.work(bending.bending_round_bar, F_y=F_y, D=d)
    M_c = lines.work(available, nominal=M_n, limit_state=LimitState.BENDING, method=m.method)
    return float(M_c)


def _together(M_over_M: float, V_over_V: float) -> float:
    """Return the use of a pin bent and sheared: the root, so that it grows as the load does."""
    return math.sqrt(pins.pin_interaction(M_over_M, V_over_V))


def _would(m: Mounting, steel: PartSteel, L: Metres) -> str:
    """Return in words the least pin that holds in every case, in the steel that is taken.

    What it passes on where it binds is taken as of a pin that does not bend: it holds at any size.
    """
    every = on_hinges(hung_cases(m, stiff=True))
    step, count = (_INCH / 8.0, 32) if m.job.job.system == "feet-inch" else (0.002, 50)

    def holds(d: Metres) -> bool:
        V_c = _shear_strength(m, steel.yield_stress, d, Lines())
        M_c = _bending_strength(m, steel.yield_stress, d, Lines())
        return all(_together(_moment(on, L) / M_c, on.force.on_pin / V_c) <= 1.0 for on in every)

    least = next((step * i for i in range(2, count + 1) if holds(step * i)), None)
    if least is None:
        return f"no ordinary bar of {steel.name} would do; shorter halves, or more hinges"
    return f"{stock_size(m, least, parts=8)} of {steel.name} would do"


def _worked(
    m: Mounting, d: Metres, steel: PartSteel, every: Sequence[OnHinge], takes: str
) -> tuple[Check, ...]:
    """Return the checks of a pin of known size; ``takes`` is said where its steel is not known."""
    L = half_length(m).value
    asked = f"{steel.unknown}; it takes {takes}" if steel.unknown else ""
    shear, bend, both, bear = Lines(), Lines(), Lines(), Lines()
    V_c = _shear_strength(m, steel.yield_stress, d, shear)
    sheared = max(every, key=lambda on: on.force.on_pin)
    bent = max(every, key=lambda on: _moment(on, L))
    bend.work(pins.half_barrel_moment, F=bent.force.on_pin, length=L)
    M_c = _bending_strength(m, steel.yield_stress, d, bend)

    def use(on: OnHinge) -> float:
        return _together(_moment(on, L) / M_c, on.force.on_pin / V_c)

    worst = max(every, key=use)
    both.work(
        pins.pin_interaction,
        M_over_M=_moment(worst, L) / M_c,
        V_over_V=worst.force.on_pin / V_c,
    )
    barrel = part_steel(m, "barrels", "unknown", "", shape=ROUND_BAR, thickness=d).yield_stress
    R_n = bear.work(connecting.pin_bearing, F_y=min(steel.yield_stress, barrel), d=d, t=L)
    R_c = bear.work(available, nominal=R_n, limit_state=LimitState.SURFACE_BEARING, method=m.method)
    bear.work(pins.projected_pressure, F=sheared.force.on_pin, d=d, length=L)
    of = f"a pin of {size(m, d)} in {steel.words}"
    passed = bent.force.pin_moment
    change = _STRONGER if passed == 0.0 else _LOOSER
    bound = "" if passed == 0.0 else f", and {moment(m, passed)} that a bound pin passes on"
    return (
        made_check(
            m,
            "hinge/pin shear",
            _SUBJECT,
            "do they hold where their two halves meet",
            clause="chapter G, 0.6 F_y on the greatest elastic stress",
            demand=sheared.force.on_pin,
            available=V_c,
            unit="N",
            case=sheared.words(m),
            change=_STRONGER,
            rule=f"the hinge's force across {of}, one plane of shear",
            lines=shear,
            unknown=(steel.unknown,),
        ),
        made_check(
            m,
            "hinge/pin bending",
            _SUBJECT,
            "do they hold as they bend",
            clause=_BENT,
            demand=_moment(bent, L),
            available=M_c,
            unit="N m",
            case=bent.words(m),
            change=change,
            rule=f"{force(m, bent.force.on_pin)} across {of} at the middle of a half of "
            f"{size(m, L)}{bound}",
            lines=bend,
            unknown=(asked,),
        ),
        made_check(
            m,
            "hinge/pin together",
            _SUBJECT,
            "do they hold bent and sheared at once",
            clause="Table 3.10, with the strengths of ANSI/AISC 360-22",
            document="EN 1993-1-8:2005",
            demand=use(worst),
            available=1.0,
            unit="1",
            case=worst.words(m),
            change=change,
            rule="the root of the squares of both shares, added",
            lines=both,
            unknown=(steel.unknown,),
        ),
        made_check(
            m,
            "hinge/bearing",
            "hinge barrels",
            "do they hold where the pin presses on them",
            clause="J7(a), Eq. J7-1",
            demand=sheared.force.on_pin,
            available=float(R_c),
            unit="N",
            case=sheared.words(m),
            change="a thicker pin, or longer halves",
            rule=f"the force across {size(m, d)} of pin on {size(m, L)} of barrel, the barrel of "
            "ordinary mild steel; a pin that turns wears at less",
            lines=bear,
        ),
    )
