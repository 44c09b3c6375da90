"""The ball between the bottom pin and the slug: how hard it presses, and how far it beds in."""

from __future__ import annotations

from leafwright.chain import Quantity
from leafwright.handbook import contact
from leafwright.job.defaults import chosen
from leafwright.job.model import FloorPivot
from leafwright.mount.parts import force, made_check, relied_on, size, stress
from leafwright.mount.pivot_pin import Pin
from leafwright.mount.records import Mounting
from leafwright.proof.working import Lines
from leafwright.records import Check

#: The ball beds into the pin's end and into the slug.
SEATS = 2

SEAT_ASSUMPTIONS = (
    "the ball is hardened steel, and sits on flat ends: a hollow seat presses less",
    "how hard mild steel is against a ball goes by its tensile strength, three times over; a dent "
    "this shallow is partly springy and comes out smaller",
)


def seat_checks(m: Mounting, pin: Pin) -> tuple[tuple[Check, ...], list[Quantity], str]:
    """Return the check of the ball on its seats, the defaults it rests on, and a sentence.

    A mild seat dents until the dent carries the ball, and stops: that is told and never short.
    """
    mount = m.table.mount
    if not isinstance(mount, FloorPivot):
        return (), [], ""
    worst = max(pin.forces, key=lambda f: f.axial)
    load = max(worst.axial, 0.0)
    lines = Lines()
    if mount.ball_diameter is None:
        asked = made_check(
            m,
            "ball/seat",
            "ball",
            "does its seat bear it",
            document="K. L. Johnson, Contact Mechanics (1985)",
            clause="section 4.2",
            demand=load,
            available=None,
            unit="N",
            case=worst.words,
            change="give ball_diameter",
            rule="all that stands on the bottom pin stands on the ball",
            lines=lines,
        )
        return (asked,), [], ""
    D = mount.ball_diameter.si
    touch = lines.work(contact.sphere_on_plane, load=load, radius=D / 2.0)
    if mount.ball_seat == "hardened":
        bears = relied_on(m, "ball seat pressure", "pressure that a hardened seat bears")
        hard = made_check(
            m,
            "ball/seat",
            "ball",
            "do its hardened seats bear it",
            document="K. L. Johnson, Contact Mechanics (1985)",
            clause="section 4.2; ISO 76, 4200 MPa, as bearing makers repeat it",
            demand=touch.peak_pressure,
            available=bears.value,
            unit="Pa",
            case=worst.words,
            change="a larger ball, or hollow seats",
            rule=f"{force(m, load)} on a ball of {size(m, D)} on a flat, peak pressure",
            lines=lines,
        )
        told = (
            f"the ball presses its seats with {stress(m, touch.peak_pressure)} at the most; "
            "through-hardened ends bear that"
        )
        return (hard,), [bears], told
    limit = chosen(
        None, "seat dent", "mount/seat dent", "bedding in of the ball", system=m.job.job.system
    )
    first = lines.work(
        contact.first_yield_load, yield_stress=pin.steel.yield_stress, radius=D / 2.0
    )
    hardness = lines.work(contact.indentation_hardness, yield_stress=pin.steel.tensile_strength)
    try:
        dent = lines.work(
            contact.brinell_dent, load=load, ball_diameter=D, hardness=hardness / contact.BRINELL
        )
        depth, across = dent.depth, dent.diameter
    except ValueError:
        # Sunk to its middle: as deep as it can be worked.
        depth, across = D / 2.0, D
    settles = SEATS * depth
    change = (
        "a larger ball, or hardened ends: it beds in by more than is usual, and the leaf comes "
        "down by as much"
    )
    mild = made_check(
        m,
        "ball/seat",
        "ball",
        "how far does it bed into its mild ends",
        document="K. L. Johnson, Contact Mechanics (1985); ISO 6506-1",
        clause="sections 4.2 and 6.3; a dent at the hardness of mild steel",
        demand=settles,
        available=limit.value,
        unit="m",
        case=worst.words,
        change=change,
        rule=(
            f"{force(m, load)} on a ball of {size(m, D)}: a dent {size(m, across)} wide in each of "
            f"{SEATS} ends; it first yields under {force(m, first)}"
        ),
        lines=lines,
        never_short=True,
    )
    told = (
        f"the ball presses its ends with {stress(m, touch.peak_pressure)} at the most, so mild "
        f"steel dents, {size(m, across)} wide, and stops: harmless. Harden pin and slug, or let "
        "hardened buttons in, where the leaf turns many times a day or must not come down"
    )
    return (mild,), [limit], told
