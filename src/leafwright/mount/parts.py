"""What the checks of every link share: the steel of its parts, words for sizes, how one is made."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from leafwright import chain, units
from leafwright.chain import Quantity
from leafwright.handbook.grades import CatalogueError, strength_of
from leafwright.job.defaults import chosen
from leafwright.leaf import Member
from leafwright.mount.records import Mounting
from leafwright.proof.capacity import DOCUMENT
from leafwright.proof.working import Lines
from leafwright.records import Check, Metres, Newtons, Pascals, Source, Verdict, graded, ratio_of
from leafwright.units.typed import mixed

#: The lowest steel that bars and plates commonly come in, feet-inch and metric jobs.
COMMON_GRADES = {"feet-inch": "A36", "metric": "S235JR"}


@dataclass(frozen=True, slots=True)
class PartSteel:
    """The steel of one part; ``unknown`` says what to bring where it is not known, else ''."""

    name: str
    yield_stress: Pascals
    tensile_strength: Pascals
    unknown: str
    defaults: tuple[Quantity, ...]

    @property
    def words(self) -> str:
        """Return the steel as a rule names it."""
        return f"{self.name} by default" if self.unknown else self.name


def part_steel(
    m: Mounting, part: str, grade: str, where: str, *, shape: str, thickness: Metres
) -> PartSteel:
    """Return the steel of a part: as the job names it, or the lowest common one.

    Args:
        m: the leaf as it hangs.
        part: what it is, in the maker's words.
        grade: as the job has it, perhaps ``"unknown"``.
        where: the job's key for it, for what to say.
        shape: as in `sections`; thickness: its least size [m].
    """
    grades = {g.name: g for g in m.steel.catalogue.grades}
    why = f'say what steel the {part} is: {where} = "A36", or as its mill certificate says'
    if grade in grades:
        found = grades[grade]
        try:
            F_y, F_u = strength_of(found, shape, thickness)
        except CatalogueError as error:
            why = f"{error}; {why}"
        else:
            unsure = f"{grade} promises no yield stress: get the {part}'s mill certificate"
            return PartSteel(grade, F_y, F_u, "" if found.yield_guaranteed else unsure, ())
    elif grade.strip().lower() not in ("", "unknown"):
        why = (
            f"{where} = {grade!r} is no steel that is known here: give it a [[grade]] with its "
            f"strength, or one of {', '.join(grades)}"
        )
    name = COMMON_GRADES[m.job.job.system]
    try:
        F_y, F_u = strength_of(grades[name], shape, thickness)
    except CatalogueError:
        # Thicker than its standard reaches: the strength of its thickest, which is its lowest.
        thickest = grades[name].strength[-1]
        F_y, F_u = thickest.yield_stress, thickest.tensile_strength
    note = f"{name}, the lowest steel commonly sold; common practice, no source"
    used = chain.base(
        "default",
        f"{m.key}/steel of the {part}",
        f"yield stress of the {part}",
        F_y,
        unit="Pa",
        note=note,
    )
    return PartSteel(name, F_y, F_u, why, (used,))


def relied_on(m: Mounting, default: str, name: str = "") -> Quantity:
    """Return a listed default by its name, called by that or by another."""
    return chosen(None, default, f"mount/{default}", name or default, system=m.job.job.system)


def carry_over(m: Mounting) -> Quantity:
    """Return how much of the others' clamped moments a pin takes that binds first [-]."""
    return relied_on(m, "carry-over", "carry-over between pins")


def weld_metal(m: Mounting) -> Quantity:
    """Return the strength of the weld metal F_EXX, a listed default [Pa]."""
    return chosen(None, "weld metal", "mount/weld metal", "weld metal", system=m.job.job.system)


def part_name(m: Mounting, what: str) -> str:
    """Return what a check is about: the part, and of which leaf."""
    return f"{what} of {m.who}"


def force(m: Mounting, newtons: Newtons) -> str:
    """Return a force in the maker's units."""
    return units.show_force(newtons, m.tape.system)


def moment(m: Mounting, newton_metres: float) -> str:
    """Return a moment in the maker's units."""
    return units.show_moment(newton_metres, m.tape.system)


def stress(m: Mounting, pascals: Pascals) -> str:
    """Return a stress in the maker's units."""
    return units.show_stress(pascals, m.tape.system)


def size(m: Mounting, metres: Metres) -> str:
    """Return a made size: as a fraction of an inch where it is one, or to a thousandth; or mm."""
    if m.tape.system == "mm":
        return f"{1000.0 * metres:.1f}".removesuffix(".0") + " mm"
    parts = metres / 0.0254 * 32.0
    if abs(parts - round(parts)) < 1e-6 and round(parts) > 0:
        return f"{mixed(Fraction(round(parts), 32))} in"
    return f"{metres / 0.0254:.3f} in"


def hanging_stile(m: Mounting) -> Member:
    """Return the leaf's hanging stile, which its pivots or hinges hold."""
    return next(member for member in m.leaf.members if member.role == "hanging stile")


def stock_size(m: Mounting, metres: Metres, *, parts: int = 16) -> str:
    """Return the next size up that is sold or set: a part of an inch, or a whole millimetre.

    ``parts`` to an inch. Rounded up, never down, but for a hundred-thousandth of the size.
    """
    least = metres * (1.0 - 1e-5)
    if m.tape.system == "mm":
        return f"{math.ceil(least / 0.001)} mm"
    steps = math.ceil(least / 0.0254 * parts)
    return f"{mixed(Fraction(steps, parts))} in"


def made_check(
    m: Mounting,
    key: str,
    subject: str,
    question: str,
    *,
    clause: str,
    demand: float | None,
    available: float | None,
    unit: str,
    case: str,
    change: str,
    rule: str,
    lines: Lines,
    unknown: Sequence[str] = (),
    document: str = DOCUMENT,
    tight_from: float = 0.9,
    never_short: bool = False,
) -> Check:
    """Return a check of one link; what is unknown is asked, with its ratio kept.

    Args:
        m: the leaf as it hangs.
        key: after the leaf's own.
        subject: the part; question: asked of it.
        clause: of the document.
        demand, available: in ``unit`` (SI); None where there is none to tell.
        unit: of both.
        case: that governs.
        change: what would mend it.
        rule: how demand and available came about.
        lines: the formulas worked.
        unknown: what is not known, each as what to bring.
        document: the source.
        tight_from: ratio from which what passes is called tight [-].
        never_short: what is over its limit is told as tight: it is no failure.
    """
    ratio = None
    if demand is not None and available is not None:
        ratio = ratio_of(demand, available)
    asked = tuple(dict.fromkeys(why for why in unknown if why))
    if asked or ratio is None:
        verdict = Verdict.ASK
        told = "; ".join(asked) or change
        if ratio is not None and ratio > 1.0:
            told += f"; as it is taken here it does not hold: {change}"
    else:
        verdict = graded(ratio, tight_from=tight_from)
        if never_short and verdict is Verdict.SHORT:
            verdict = Verdict.TIGHT
        told = "" if verdict is Verdict.OK else change
    return Check(
        key=f"{m.key}/{key}",
        subject=part_name(m, subject),
        question=question,
        verdict=verdict,
        source=Source(document, clause),
        unit=unit,
        demand=demand,
        available=available,
        ratio=ratio if ratio is None or math.isfinite(ratio) else None,
        case=case,
        change=told,
        basis=m.method.value,
        rule=rule,
        working=lines.kept(),
    )
