"""Infill between the bars: bending in wind and under somebody leaning, fixings, heat.

A sheet is a plate on four simple edges, from middle to middle of the tubes round its panel; boards
are strips side by side along the panel's longer side, or the shorter where only that holds, which
is asked. What a brace behind them helps is left out. Loads are unfactored (0.6 of ASCE 7's
strength-level wind) by either method, against a stress that holds all safety. What only a data
sheet or a licensed trade can answer is asked.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from leafwright import units
from leafwright.chain import Quantity
from leafwright.handbook import beams, plates, screws
from leafwright.job.defaults import chosen
from leafwright.job.model import Infill, Job, LeafTable
from leafwright.job.tape import tape_of
from leafwright.leaf import InfillPiece, Leaf
from leafwright.proof.compared import (
    asked,
    compared,
    force_words,
    leaf_subject,
    pressure_words,
)
from leafwright.proof.infill_asks import infill_questions
from leafwright.proof.infill_heat import InfillRoom, heat_room
from leafwright.proof.infill_stuff import Stuff, infill_of, is_steel, piece_subject, stuff_of
from leafwright.proof.wind import LeafWind
from leafwright.proof.working import Lines
from leafwright.records import (
    Check,
    Held,
    Metres,
    Newtons,
    NewtonsPerMetre,
    Pascals,
    Source,
    Verdict,
    Working,
)

_PLATE = Source("Roark's Formulas, 7th edition", "Table 11.4 cases 1a and 1b, simple edges")
_STRIP = Source("AISC Manual, Table 3-23", "cases 1 and 8; boards side by side")
_SCREW = Source("AISI S100-16", "J4.4.1 and J4.4.2 (second-hand), over 3.0")


@dataclass(frozen=True, slots=True)
class InfillProof:
    """The checks of a leaf's infill, the room its pieces need, and what both rest on."""

    checks: tuple[Check, ...]
    rooms: tuple[InfillRoom, ...]
    taken: tuple[Quantity, ...]


@dataclass(frozen=True, slots=True)
class _Bent:
    """What one load does to a piece.

    ``edge`` is the greatest reaction of its edges; ``small`` is False where a plate gives so much
    that the formula stops, with less stress and bow in truth than here.
    """

    stress: Pascals
    bow: Metres
    span: Metres
    edge: NewtonsPerMetre
    small: bool


def infill_proof(job: Job, table: LeafTable, leaf: Leaf, on: LeafWind | Held) -> InfillProof:
    """Return the proof of a leaf's infill.

    Args:
        job: loads, temperatures and units.
        table: the leaf's choices.
        leaf: its panels, pieces and members.
        on: the wind on it, before factors.
    """
    checks: list[Check] = []
    rooms: list[InfillRoom] = []
    taken: list[Quantity] = []
    short_way: list[InfillPiece] = []
    for piece in leaf.infill:
        infill = infill_of(table, piece)
        stuff = stuff_of(infill, leaf.key, job.job.system)
        if isinstance(stuff, Stuff) and infill.kind not in ("glass", "mesh"):
            taken += [stuff.stress, stuff.stiffness, stuff.limit]
            checks += _bending(job, leaf, piece, infill, stuff, on, taken, short_way)
        found, room = heat_room(job, leaf, piece, infill, taken)
        checks += found
        rooms += room
    checks += infill_questions(job, table, leaf)
    if short_way:
        checks.append(_way_asked(leaf, short_way))
    return InfillProof(tuple(checks), tuple(rooms), tuple(taken))


def _way_asked(leaf: Leaf, pieces: Sequence[InfillPiece]) -> Check:
    """Return the question which way boards run that hold only the short way."""
    panels = " and ".join(str(n) for n in sorted({piece.panel for piece in pieces}))
    return asked(
        f"{leaf.key}/boards/run",
        f"boards of {leaf_subject(leaf.key)}",
        f"do they run the short way of panel {panels}",
        source=_STRIP,
        change=(
            "they hold only so, and are proved so here; for boards that run the long way put a "
            "mid rail or a bar across, or take thicker ones"
        ),
    )


# ---------------------------------------------------------------- bending


def _sides(leaf: Leaf, piece: InfillPiece) -> tuple[float, float]:
    """Return the longer and the shorter side of a piece between the middles of its tubes [m]."""
    panel = next(p for p in leaf.panels if p.number == piece.panel)
    stile = leaf.members[0].section.width
    rail = max(m.section.width for m in leaf.members if m.role.endswith("rail"))
    wide, high = panel.right - panel.left + stile, panel.top - panel.bottom + rail
    return max(wide, high), min(wide, high)


def _in_wind(lines: Lines, stuff: Stuff, sides: tuple[float, float], pressure: float) -> _Bent:
    along, across = sides
    E, t = stuff.stiffness.value, stuff.thickness
    if stuff.carries == "strips":
        # A strip a metre wide.
        beam = lines.work(
            beams.simple_beam_uniform_load, load=pressure, length=along, stiffness=E * t**3 / 12.0
        )
        stress = beam.moment / (t**2 / 6.0)
        return _Bent(stress, beam.deflection, along, beam.reactions[0], small=True)
    plate = lines.work(
        plates.simply_supported_plate,
        pressure=pressure,
        long_side=along,
        short_side=across,
        thickness=t,
        elastic_modulus=E,
    )
    return _Bent(
        plate.stress, plate.deflection, across, plate.greatest_reaction, plate.small_deflection
    )


def _leaned_on(
    lines: Lines, stuff: Stuff, sides: tuple[float, float], load: float, square: float
) -> _Bent:
    along, across = sides
    E, t = stuff.stiffness.value, stuff.thickness
    if stuff.carries == "strips":
        beam = lines.work(
            beams.simple_beam_point_load,
            load=load,
            length=along,
            distance=along / 2.0,
            stiffness=E * square * t**3 / 12.0,
        )
        stress = beam.moment / (square * t**2 / 6.0)
        return _Bent(stress, beam.deflection, along, 0.0, small=True)
    plate = lines.work(
        plates.pushed_plate,
        load=load,
        long_side=along,
        short_side=across,
        thickness=t,
        elastic_modulus=E,
        # A round as large as the square.
        pad_radius=min(square / math.sqrt(math.pi), 0.5 * across),
    )
    return _Bent(plate.stress, plate.deflection, across, 0.0, plate.small_deflection)


def _bending(
    job: Job,
    leaf: Leaf,
    piece: InfillPiece,
    infill: Infill,
    stuff: Stuff,
    on: LeafWind | Held,
    taken: list[Quantity],
    short_way: list[InfillPiece],
) -> list[Check]:
    """Return the bending of a piece in wind and leaned on.

    Boards that nobody says the way of, and that hold only the short way, go to ``short_way``, and
    their checks are by that way.
    """
    longer, shorter = _sides(leaf, piece)
    load = chosen(None, "leaning", "proof/leaning", "somebody leaning", system=job.job.system)
    name = "side of what is leaned on"
    square = chosen(None, "leaned on", "proof/leaned on", name, system=job.job.system)
    taken += [load, square]
    pressed = _Pressed(job, piece, piece_subject(leaf, piece), stuff, on, load, square)
    sides = (longer, shorter)
    if stuff.carries == "strips" and infill.runs is not None:
        panel = next(p for p in leaf.panels if p.number == piece.panel)
        tall = panel.top - panel.bottom > panel.right - panel.left
        sides = (longer, shorter) if tall == (infill.runs == "up") else (shorter, longer)
    checks = _pressed_checks(pressed, sides)
    if stuff.carries == "strips" and infill.runs is None and _short(checks):
        checks = _pressed_checks(pressed, (shorter, longer))
        if not _short(checks):
            short_way.append(piece)
    if isinstance(on, LeafWind):
        edge = _in_wind(Lines(), stuff, sides, _pressure(on, piece)).edge
        checks += _screwed(job, leaf, piece, infill, edge, pressed.subject, taken)
    return checks


def _short(checks: Sequence[Check]) -> bool:
    return any(check.verdict is Verdict.SHORT for check in checks)


@dataclass(frozen=True, slots=True)
class _Pressed:
    """A piece with what presses on it."""

    job: Job
    piece: InfillPiece
    subject: str
    stuff: Stuff
    on: LeafWind | Held
    load: Quantity
    square: Quantity


def _pressure(on: LeafWind, piece: InfillPiece) -> Pascals:
    """Return the wind on a piece without a load factor [Pa]."""
    panel = next(p for p in on.panels if p.panel == piece.panel)
    return panel.on_solid * on.factors.movement


def _pressed_checks(pressed: _Pressed, sides: tuple[float, float]) -> list[Check]:
    """Return the checks of a piece; boards run from end to end of the first of its sides."""
    job, stuff, on, key = pressed.job, pressed.stuff, pressed.on, pressed.piece.key
    boards = stuff.carries == "strips"
    source = _STRIP if boards else _PLATE
    way = "longer" if sides[0] >= sides[1] else "shorter"
    across = (
        f"boards tongued into one another, along the {way} side, worked by strips of a metre, a "
        "brace behind them left out"
        if boards
        else "a plate on four simple edges, a brace behind it left out"
    )
    turned = ", boards that run the short way" if boards and way == "longer" else ""
    change = f"thicker {pressed.piece.kind}{turned}, or a mid rail or bar across the panel"
    checks = []
    if isinstance(on, LeafWind):
        lines, case = Lines(), "wind on either face"
        pressure = _pressure(on, pressed.piece)
        bent = _in_wind(lines, stuff, sides, pressure)
        share = "" if on.factors.movement == 1.0 else f", {on.factors.movement:g} of the wind"
        rule = f"{pressure_words(job, pressure)}{share}; {across}"
        checks += [
            _graded(
                f"{key}/wind",
                pressed.subject,
                "bending in the wind",
                (bent.stress, stuff.stress.value, "Pa"),
                (source, rule, change, case),
                lines,
                on.working,
                small=bent.small,
            ),
            _graded(
                f"{key}/wind bow",
                pressed.subject,
                "how far it bows in the wind",
                (bent.bow, bent.span / stuff.limit.value, "m"),
                (source, f"{rule}; its span over {stuff.limit.value:g}", change, case),
                lines,
                on.working,
                small=bent.small,
            ),
        ]
        if not bent.small:
            checks.append(
                asked(
                    f"{key}/edge pull",
                    pressed.subject,
                    "do the bars round it hold what its edges pull in the wind",
                    source=Source("large deflection of plates: it hangs as a membrane"),
                    change="fix it so that its edges slide, in slots and clear of one another, or "
                    "have an engineer answer: nothing here loads the bars with that pull",
                    rule="it bows by more than half its thickness",
                    case=case,
                )
            )
    lines = Lines()
    leant = _leaned_on(lines, stuff, sides, pressed.load.value, pressed.square.value)
    size = units.show_length(pressed.square.value, tape_of(job))
    where = (
        f"{force_words(job, pressed.load.value)} in the middle, over a square of {size}; {across}"
    )
    checks.append(
        _graded(
            f"{key}/leaning",
            pressed.subject,
            "bending where somebody leans on it",
            (leant.stress, stuff.stress.value, "Pa"),
            (source, where, change, "somebody leaning on it"),
            lines,
            small=leant.small,
        )
    )
    return checks


def _graded(
    key: str,
    subject: str,
    question: str,
    numbers: tuple[float, float, str],
    told: tuple[Source, str, str, str],
    lines: Lines,
    before: tuple[Working, ...] = (),
    *,
    small: bool,
) -> Check:
    """Return the check; past where a plate's formula holds, what fails by it is asked.

    ``numbers`` are demand, available and unit, ``told`` source, rule, change and case.
    """
    demand, available, unit = numbers
    source, rule, change, case = told
    if not small:
        rule += (
            "; it gives more than half its thickness, so it also hangs as a membrane: "
            "less than this in truth, and its edges pull on the frame"
        )
        if demand > available:
            return asked(
                key,
                subject,
                question,
                source=source,
                change=f"past what the plate formula can say: {change}, or an engineer's answer",
                rule=rule,
                case=case,
                lines=lines,
                before=before,
            )
    return compared(
        key,
        subject,
        question,
        demand,
        available,
        source=source,
        rule=rule,
        change=change,
        unit=unit,
        case=case,
        lines=lines,
        before=before,
    )


# ---------------------------------------------------------------- fixings


def _screwed(
    job: Job,
    leaf: Leaf,
    piece: InfillPiece,
    infill: Infill,
    edge: NewtonsPerMetre,
    subject: str,
    taken: list[Quantity],
) -> list[Check]:
    """Return whether the screws hold a piece that wind pulls off its frame."""
    if infill.screw is None or infill.fixing_spacing is None:
        return []
    pull: Newtons = edge * infill.fixing_spacing.si
    rule = (
        f"{force_words(job, pull)} a screw: the greatest reaction of the edge over "
        f"{infill.fixing_spacing.text} between screws"
    )
    if infill.screw.si > screws.SIZES[1] * (1.0 + 1e-9):
        return []
    lines = Lines()
    tube = leaf.members[0].section
    found = [
        lines.work(
            screws.pull_out,
            diameter=infill.screw.si,
            wall=tube.design_wall,
            F_u=tube.tensile_strength,
        )
    ]
    if is_steel(infill) and infill.thickness is not None:
        F_u = chosen(
            None,
            "sheet tensile strength",
            "proof/sheet tensile strength",
            "sheet: tensile strength",
            system=job.job.system,
        )
        taken.append(F_u)
        found.append(
            lines.work(
                screws.pull_over,
                head=screws.LEAST_HEAD,
                sheet=infill.thickness.si,
                F_u=F_u.value,
            )
        )
        rule += "; out of the tube, and the sheet over a head of 5/16 in"
    else:
        rule += "; out of the tube"
    return [
        compared(
            f"{piece.key}/screws",
            subject,
            "do its screws hold in the wind",
            pull,
            min(found) / screws.SAFETY,
            source=_SCREW,
            rule=rule,
            change="screws closer together, or thicker ones",
            unit="N",
            case="wind pulling it off the frame",
            lines=lines,
        )
    ]
