"""The pin of a floor pivot: bent and sheared as a bar that stands out of its plate, and bearing.

The pin is a round bar fixed in its plate. The sleeve presses on it sideways with V, at a lever a
from the plate, and where it is bound grips it with a moment M, so that at the plate it carries
M + V a (statics; the two are added as though they turned it the same way). What stands on it goes
down through it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from leafwright.chain import Quantity
from leafwright.handbook.aisc360 import LimitState, Method, available, bending, combined
from leafwright.handbook.aisc360.compression import compression_nonslender
from leafwright.handbook.aisc360.connecting import element_shear_yielding, pin_bearing
from leafwright.handbook.sections import ROUND_BAR, properties_of_round_bar
from leafwright.job.defaults import chosen
from leafwright.mount.envelope import PinForce, PinPlace
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
from leafwright.records import Check, Metres, NewtonMetres, Pascals, Verdict

#: Effective length of a bar fixed at one end and free at the other, over its length [-]: AISC
#: 360-22, commentary Table C-A-7.1, recommended value.
CANTILEVER_K = 2.1

#: No pin is looked for that is thicker than this [m].
THICKEST = 0.3


@dataclass(frozen=True, slots=True)
class Pin:
    """One pin as it is proved: its place, its steel, and what had to be taken.

    ``lever`` is from the plate to where the sleeve presses [m], ``grip`` the length of pin that
    bears in the sleeve [m]. ``unknown`` says what to bring.
    """

    at: PinPlace
    forces: tuple[PinForce, ...]
    steel: PartSteel
    lever: Metres
    grip: Metres
    unknown: tuple[str, ...]
    defaults: tuple[Quantity, ...]

    @property
    def name(self) -> str:
        """Return what the pin is called."""
        return f"{self.at.end} pin"

    def at_plate(self, given: PinForce) -> NewtonMetres:
        """Return the moment at the plate in one case [N m]: M + V a, statics."""
        return given.moment + given.shear * self.lever


def pin_of(m: Mounting, at: PinPlace, forces: Sequence[PinForce], grade: str) -> Pin:
    """Return the pin as it is proved, with defaults for what the job does not say."""
    steel = part_steel(
        m, f"{at.end} pin", grade, "pin_grade", shape=ROUND_BAR, thickness=at.diameter or 0.0
    )
    unknown: list[str] = []
    defaults = [*at.defaults, *steel.defaults]
    lever, grip = at.lever, at.least_engagement
    if at.diameter is None:
        unknown.append(f"give {'top_' if at.end == 'top' else ''}pin_diameter, as measured")
    if at.length is None:
        taken = chosen(
            None,
            "pivot pin length",
            f"{m.key}/{at.end} pin length",
            f"length of the {at.end} pin",
            system=m.job.job.system,
        )
        defaults.append(taken)
        unknown.append(f"give {at.end}_pin_length, from the plate to the pin's end")
        lever = taken.value
    if grip is None:
        grip = min(at.diameter or math.inf, (lever or 0.0) - at.gap)
    return Pin(
        at=at,
        forces=tuple(forces),
        steel=steel,
        lever=lever or 0.0,
        grip=max(grip, 0.0),
        unknown=tuple(unknown),
        defaults=tuple(defaults),
    )


@dataclass(frozen=True, slots=True)
class _Strength:
    """What a round bar carries as a cantilever [N m, N, N]."""

    bending: float
    shear: float
    axial: float


def _strength(d: Metres, lever: Metres, F_y: Pascals, method: Method, lines: Lines) -> _Strength:
    bar = lines.work(properties_of_round_bar, diameter=d)
    M_n = lines.work(bending.bending_round_bar, F_y=F_y, D=d)
    V_n = lines.work(element_shear_yielding, F_y=F_y, A_gv=bar.shear_area_u)
    slender = CANTILEVER_K * lever / bar.radius_of_gyration_u
    P_n = lines.work(compression_nonslender, F_y=F_y, A_g=bar.area, L_c_over_r=slender)
    allowed = [
        float(lines.work(available, nominal=nominal, limit_state=state, method=method))
        for nominal, state in (
            (M_n, LimitState.BENDING),
            (V_n, LimitState.SHEAR),
            (P_n, LimitState.COMPRESSION),
        )
    ]
    return _Strength(*allowed)


def _uses(pin: Pin, has: _Strength, given: PinForce) -> tuple[float, float, float]:
    """Return a pin's use of its axial, bending and shear strength in one case [-]."""
    return (
        max(given.axial, 0.0) / has.axial,
        pin.at_plate(given) / has.bending,
        given.shear / has.shear,
    )


def _together(uses: tuple[float, float, float], lines: Lines) -> float:
    """Return the use of a bar's strength with shear [-].

    H1.1 for pressing and bending, then as the root of the sum of squares with shear: von Mises'
    sum σ² + 3 τ², with the greatest of both taken in one fibre, and 0.6 F_y for F_y/√3.
    """
    P, M, V = uses
    normal = lines.work(
        combined.interaction_axial_bending, P_r_over_P_c=P, M_rx_over_M_cx=M, M_ry_over_M_cy=0.0
    )
    return math.hypot(float(normal), V)


def _worst(pin: Pin, d: Metres, method: Method) -> float:
    """Return the greatest use of a pin of some diameter in any case [-]."""
    has = _strength(d, pin.lever, pin.steel.yield_stress, method, Lines())
    return max((_together(_uses(pin, has, f), Lines()) for f in pin.forces), default=0.0)


def least_diameter(pin: Pin, method: Method) -> Metres | None:
    """Return the least diameter at which the pin holds [m], None where none within reason does.

    Found by halving: a thicker pin is never weaker.
    """
    return _least(lambda d: _worst(pin, d, method), THICKEST)


def _least(use: Callable[[float], float], most: float) -> float | None:
    """Return the least size at which a use that falls with size is 1 or less; None past most."""
    if use(most) > 1.0:
        return None
    low, high = most * 1e-4, most
    for _ in range(40):
        middle = 0.5 * (low + high)
        if use(middle) > 1.0:
            low = middle
        else:
            high = middle
    return high


def _thicker(m: Mounting, pin: Pin) -> str:
    least = least_diameter(pin, m.method)
    if least is None:
        return "a shorter pin: no bar of any usual size holds this"
    wanted = stock_size(m, least, parts=8)
    return f"a pin of {wanted} or more in {pin.steel.name}, a shorter one, or stronger steel"


def pin_checks(m: Mounting, pin: Pin, sleeve: PartSteel) -> tuple[Check, ...]:
    """Return the checks of a pin: its strength at the plate, and bearing in its sleeve.

    Args:
        m: the leaf as it hangs.
        pin: as it is proved.
        sleeve: what its sleeve is made of.
    """
    d = pin.at.diameter
    if d is not None:
        return (_strong(m, pin, d), *_bearing(m, pin, d, sleeve))
    worst = max(pin.forces, key=pin.at_plate)
    unknown = [*pin.unknown, pin.steel.unknown]
    unknown[0] += f": as all is taken here, {_thicker(m, pin)}"
    check = made_check(
        m,
        f"{pin.name}/strength",
        pin.name,
        _QUESTION,
        clause=_CLAUSE,
        demand=pin.at_plate(worst),
        available=None,
        unit="N m",
        case=worst.words,
        change="",
        rule=_at_plate_words(m, pin, worst),
        lines=Lines(),
        unknown=unknown,
    )
    return (check,)


_QUESTION = "is the pin strong enough where it leaves its plate"
_CLAUSE = "F11.1, Eq. F11-2; E3; H1.1; shear 0.6 F_y on a solid bar's greatest elastic stress"


def _at_plate_words(m: Mounting, pin: Pin, worst: PinForce) -> str:
    words = pin.at.lever_words if pin.at.length is not None else "the pin's end"
    told = f"{force(m, worst.shear)} at {size(m, pin.lever)} over the plate, taken to {words}"
    if worst.moment > 0.0:
        told += f", and {moment(m, worst.moment)} where the sleeve grips it"
    return f"M + V a at the plate: {told}: {moment(m, pin.at_plate(worst))}"


def _strong(m: Mounting, pin: Pin, d: Metres) -> Check:
    lines = Lines()
    has = _strength(d, pin.lever, pin.steel.yield_stress, m.method, lines)
    worst = max(pin.forces, key=lambda f: _together(_uses(pin, has, f), Lines()))
    uses = _uses(pin, has, worst)
    together = _together(uses, lines)
    return made_check(
        m,
        f"{pin.name}/strength",
        pin.name,
        _QUESTION,
        clause=_CLAUSE,
        demand=together,
        available=1.0,
        unit="1",
        case=worst.words,
        change=_thicker(m, pin) if together > 0.9 else "",
        rule=(
            f"{_at_plate_words(m, pin, worst)}, of {moment(m, has.bending)} that a round bar of "
            f"{size(m, d)} in {pin.steel.words} bears. √((pressed {uses[0]:.2f} with bent "
            f"{uses[1]:.2f}, by H1.1)² + sheared {uses[2]:.2f}²): von Mises, with the greatest of "
            "each taken in one place"
        ),
        lines=lines,
        unknown=(*pin.unknown, pin.steel.unknown),
    )


def _bearing(m: Mounting, pin: Pin, d: Metres, sleeve: PartSteel) -> tuple[Check, ...]:
    """Return how hard the pin bears on its sleeve; nothing where it does not reach into it.

    V spread evenly over the grip, M as pressure that grows in a straight line to both ends: at
    one end V/L + 6 M/L² for each length of pin (statics), held against J7's for each length.
    """
    if pin.grip <= 0.0:
        return ()
    lines = Lines()
    softer = min(pin.steel.yield_stress, sleeve.yield_stress)
    R_n = lines.work(pin_bearing, F_y=softer, d=d, t=pin.grip)
    has = lines.work(
        available, nominal=R_n, limit_state=LimitState.SURFACE_BEARING, method=m.method
    )
    pressed = [f.shear + 6.0 * f.moment / pin.grip for f in pin.forces]
    demand = max(pressed)
    worst = pin.forces[pressed.index(demand)]
    return (
        made_check(
            m,
            f"{pin.name}/bearing",
            pin.name,
            "does the pin bear on its sleeve without crushing either",
            clause="J7(a), Eq. J7-1",
            demand=demand,
            available=float(has),
            unit="N",
            case=worst.words,
            change="let the sleeve reach farther over the pin, or a thicker pin",
            rule=(
                f"V + 6 M/L over L = {size(m, pin.grip)} of pin in its sleeve: "
                f"{force(m, worst.shear)} and {moment(m, worst.moment)}; 1.8 F_y d L of the "
                "softer steel, no pin being taken as softer than the lowest common steel. Strength "
                "only: for slow wear keep it greased and far under this"
            ),
            lines=lines,
            unknown=pin.unknown,
        ),
    )


def reach_checks(m: Mounting, pin: Pin) -> tuple[Check, ...]:
    """Return a check that is short where the pin does not reach into its sleeve at all.

    Geometry: the pin over its gap, and a bottom sleeve over its slug and ball.
    """
    at = pin.at
    if at.length is None or at.engagement is None or at.engagement > 0.0:
        return ()
    mount = m.table.mount
    needs, has, change = at.gap, at.length, f"make {at.end}_pin_length more than the gap"
    if at.length > at.gap:
        sizes = (getattr(mount, name) for name in ("slug_length", "ball_diameter"))
        needs = math.fsum(typed.si for typed in sizes if typed is not None)
        typed = getattr(mount, "sleeve_length", None)
        has = 0.0 if typed is None else typed.si
        change = "make sleeve_length more than slug and ball together, and as much again"
    found = made_check(
        m,
        f"{pin.name}/reach",
        pin.name,
        "does the pin reach into its sleeve",
        clause="",
        demand=needs,
        available=has,
        unit="m",
        case="",
        change=change,
        rule="pin over the gap; for the bottom one, sleeve over slug and ball",
        lines=Lines(),
        document="geometry of the pivot",
    )
    # Just reaching it is not reaching into it.
    return (replace(found, verdict=Verdict.SHORT, change=change),)
