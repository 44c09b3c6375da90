"""How a pin fits its sleeve or barrel: the fit's name from what was measured, whether it binds.

A fit is named by the clearance that was measured, not by what was ordered.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import get_args

from leafwright.chain import Quantity
from leafwright.handbook.fits import (
    MEANT_FOR,
    PREFERRED,
    Fit,
    InchFit,
    MeasuredFit,
    inch_fit,
    iso_fit,
    measured_fit,
)
from leafwright.job.model import BarrelHinge, FloorPivot
from leafwright.mount.closing import asked_of, small
from leafwright.mount.envelope import pin_place
from leafwright.mount.records import Mounting, Proved
from leafwright.mount.rubbing import friction_words
from leafwright.mount.tilt import barrel_tilts, small_fit, tilt_budget, tilt_checks
from leafwright.proof.working import Lines
from leafwright.records import Check, Source, Verdict, graded
from leafwright.units import show_angle, show_machined

FITS = {
    "feet-inch": Source("ANSI B4.1-1967", "RC, LC and LN classes"),
    "metric": Source("ISO 286-1:2010", "hole-basis fits"),
}


def named_fit(pin: float, bore: float, system: str) -> tuple[str, MeasuredFit]:
    """Return what a measured pin and bore are to each other, in a maker's words.

    ANSI B4.1-1967 for inch jobs and ISO 286-1:2010 for metric ones, the tightest class that holds
    the clearance; where none does, the nearest.

    Args:
        pin: diameter measured [m].
        bore: diameter measured [m].
        system: ``feet-inch`` or ``metric``.
    """
    found = measured_fit(pin, bore)
    holds = found.inch if system == "feet-inch" else found.iso
    running = [name for name in holds if not name.startswith(("LC", "LN"))] or holds
    if running:
        name = min(running, key=lambda one: _limits(bore, one).greatest)
        meant = MEANT_FOR.get(name, "")
        return f"as {name}{f' ({meant})' if meant else ''}", found
    near = _nearest(bore, found.clearance, system)
    return (f"no class holds it; nearest is {near}" if near else "no class is held so large"), found


def _limits(bore: float, name: str) -> Fit:
    """Return the limits of a class of either standard, by its name."""
    for inch in get_args(InchFit):
        if name == inch:
            return inch_fit(bore, inch)
    return iso_fit(bore, name)


def _nearest(bore: float, clearance: float, system: str) -> str:
    """Return the class whose range is nearest to a clearance, and on which side it lies."""
    held: list[tuple[float, str]] = []
    names: Sequence[str] = get_args(InchFit) if system == "feet-inch" else PREFERRED
    for name in names:
        try:
            fit = _limits(bore, name)
        except ValueError:
            continue
        away = max(fit.least - clearance, clearance - fit.greatest)
        side = "looser than" if clearance > fit.greatest else "tighter than"
        held.append((away, f"{name}, and this is {side} that"))
    return min(held)[1] if held else ""


def fits(m: Mounting) -> Proved:
    """Return the proof of how a leaf's pins fit, tilt and rub.

    Args:
        m: the leaf as it hangs, on a floor pivot or on barrel hinges.
    """
    mount = m.table.mount
    if isinstance(mount, BarrelHinge):
        return _barrels(m, mount)
    return _pivots(m, mount)


# ---------------------------------------------------------------- a floor pivot


def _pivots(m: Mounting, mount: FloorPivot) -> Proved:
    checks: list[Check] = []
    words: list[str] = []
    top_said = mount.top_pin_diameter is not None or mount.top_sleeve_bore is not None
    ends = [pin_place(m, place) for place in m.pivots]
    for at in ends:
        if at.diameter is not None and at.bore is not None and (at.end == "bottom" or top_said):
            check, said = _fit_check(m, at.end, at.diameter, at.bore)
            checks.append(check)
            words.append(said)
    used: dict[str, Quantity] = {}
    for at in ends:
        other = next((o for o in ends if o is not at), None)
        if (budget := tilt_budget(m, at, other, used)) is not None:
            checks += tilt_checks(m, at.end, budget)
    checks += _ask_pins(m, mount)
    taken, said = friction_words(m)
    words += [said] if said else []
    assumptions = [
        "plate, pin, axis and the stile's bending are out of true each its own way: their likely "
        "sum is the root of their squares",
        "the top plate is set by the leaf, and level with it",
    ]
    if not top_said:
        assumptions.append("top pin and sleeve are taken as the bottom ones: no top_ sizes given")
    defaults = [*used.values(), *taken]
    return Proved(
        tuple(checks),
        tuple({q.key: q for q in defaults if q.kind == "default"}.values()),
        tuple(words),
        (),
        tuple(assumptions),
    )


def _fit_check(m: Mounting, end: str, pin: float, bore: float) -> tuple[Check, str]:
    """Return whether a pin goes into its bore and turns, and what fit that is."""
    lines = Lines()
    lines.work(measured_fit, pin=pin, bore=bore)
    system = m.job.job.system
    name, found = named_fit(pin, bore, system)
    ratio = pin / bore
    verdict = Verdict.SHORT if found.kind != "clearance" else graded(ratio, tight_from=1.0)
    sizes = f"{show_machined(pin, m.tape.system)} in {show_machined(bore, m.tape.system)}"
    if found.kind == "clearance":
        said = f"{small_fit(m, found.clearance)} of clearance, {name}"
    elif found.kind == "interference":
        said = (
            f"{small_fit(m, -found.clearance)} of interference, {name}. If it turns by hand it is "
            "clearance, whatever it is called: measure both again, warm hands off"
        )
    else:
        said = f"line to line, {name}: it binds as soon as grease or heat is in it"
    check = Check(
        key=f"{m.key}/fit/{end}",
        subject=f"the {end} pin of {m.who}",
        question=f"does it turn in its {'barrel' if end == 'hinge' else 'sleeve'}, by what was "
        "measured",
        verdict=verdict,
        source=FITS[system],
        unit="m",
        demand=pin,
        available=bore,
        ratio=ratio,
        change=""
        if verdict is Verdict.OK
        else "turn the pin down or ream the sleeve, then measure both again",
        rule=f"{sizes}: {said}",
        working=lines.kept(),
    )
    return check, f"{end.capitalize()} pin {sizes}: {said}."


def _ask_pins(m: Mounting, mount: FloorPivot) -> list[Check]:
    lacking = [
        name
        for name, size in (("pin_diameter", mount.pin_diameter), ("sleeve_bore", mount.sleeve_bore))
        if size is None
    ]
    who = asked_of(m)
    return [_ask_fit(m, who, lacking)] if lacking and who else []


def _ask_fit(m: Mounting, who: str, lacking: Sequence[str]) -> Check:
    return Check(
        key=f"{m.key}/fit/sizes",
        subject=f"the pins of {who}",
        question="what fit do they have",
        verdict=Verdict.ASK,
        source=FITS[m.job.job.system],
        change=f"measure the very parts, and write {' and '.join(lacking)} in the mount",
        basis="unknown",
        rule="a fit is named from what was measured, never from what was ordered",
    )


# ---------------------------------------------------------------- barrel hinges


def _barrels(m: Mounting, mount: BarrelHinge) -> Proved:
    checks: list[Check] = []
    words: list[str] = []
    lacking = [
        name
        for name, size in (
            ("pin_diameter", mount.pin_diameter),
            ("clearance", mount.clearance),
            ("barrel_length", mount.barrel_length),
        )
        if size is None
    ]
    if mount.pin_diameter is not None and mount.clearance is not None:
        pin = mount.pin_diameter.si
        check, said = _fit_check(m, "hinge", pin, pin + mount.clearance.si)
        checks.append(check)
        words.append(said)
    if mount.clearance is not None and mount.barrel_length is not None:
        checks += barrel_tilts(m, mount.clearance.si, mount.barrel_length.si)
        play = mount.clearance.si / mount.barrel_length.si
        words.append(
            f"A barrel may be out of line with the others by {show_angle(play, decimals=2)}, "
            f"{small(m, mount.clearance.si)} over its {mount.barrel_length.text}, before it binds: "
            "line all of them up on one straight bar while they are tacked."
        )
    who = asked_of(m)
    if lacking and who:
        checks.append(_ask_fit(m, who, lacking))
    taken, said = friction_words(m)
    words += [said] if said else []
    return Proved(
        tuple(checks),
        tuple(q for q in taken if q.kind == "default"),
        tuple(words),
        (),
        ("barrels are taken as tacked in line: what they are out of line binds sooner",),
    )
