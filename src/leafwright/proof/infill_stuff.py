"""What infill is made of: its stiffness, the stress it may have, and how it grows by heat."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.handbook import thermal
from leafwright.job.defaults import System, chosen
from leafwright.job.model import Infill, LeafTable
from leafwright.leaf import InfillPiece, Leaf
from leafwright.proof.compared import leaf_subject
from leafwright.records import Metres, Number
from leafwright.units import Typed

#: How an infill carries what presses on it: as a plate on four edges, or in strips side by side.
Carries = Literal["plate", "strips"]

#: A sheet lighter than this is no steel [kg/m3].
STEEL_FROM = 7000.0

_DEFAULTS: dict[str, tuple[str, str, str]] = {
    "sheet": ("sheet stress", "sheet stiffness", "infill bow limit"),
    "boards": ("board stress", "board stiffness", "infill bow limit"),
    "polycarbonate": ("polycarbonate stress", "polycarbonate stiffness", "plastic bow limit"),
}
PLASTIC = ("polycarbonate", "twin-wall")


@dataclass(frozen=True, slots=True)
class Stuff:
    """What an infill is proved by.

    ``stress`` is what it may have under loads without factors [Pa], ``stiffness`` its modulus [Pa],
    ``limit`` its span over the most it may bow [-].
    """

    carries: Carries
    thickness: Metres
    stress: Quantity
    stiffness: Quantity
    limit: Quantity


@dataclass(frozen=True, slots=True)
class Grows:
    """By how much an infill grows for each degree, least and greatest [1/K], with its source."""

    least: Number
    greatest: Number
    source: str


def is_steel(infill: Infill) -> bool:
    """Return whether an infill is steel sheet: any sheet that is not given as lighter."""
    return infill.kind == "sheet" and (infill.density is None or infill.density.si >= STEEL_FROM)


def stuff_of(infill: Infill, leaf: str, system: System) -> Stuff | tuple[str, ...]:
    """Return what an infill is proved by, or what of it must be given."""
    missing = []
    if infill.thickness is None:
        missing.append("thickness")
    known = _DEFAULTS.get(infill.kind)
    if infill.kind == "sheet" and not is_steel(infill):
        known = None
    if known is None:
        missing += [
            name
            for name, typed in (
                ("elastic_modulus", infill.elastic_modulus),
                ("bending_strength", infill.bending_strength),
            )
            if typed is None
        ]
    if missing or infill.thickness is None:
        return tuple(missing)
    stress, stiffness, limit = known or ("sheet stress", "sheet stiffness", "infill bow limit")
    if infill.kind in PLASTIC:
        limit = "plastic bow limit"

    def pick(typed: Typed | None, default: str, name: str) -> Quantity:
        key = f"{leaf}/{infill.kind}/{name}" if typed else f"proof/{default}"
        return chosen(typed, default, key, f"{infill.kind}: {name}", system=system)

    return Stuff(
        carries="strips" if infill.kind == "boards" else "plate",
        thickness=infill.thickness.si,
        stress=pick(infill.bending_strength, stress, "bending stress it may have"),
        stiffness=pick(infill.elastic_modulus, stiffness, "stiffness"),
        limit=pick(None, limit, "span over bow"),
    )


def growth_of(infill: Infill) -> Grows | None:
    """Return how an infill grows by heat, None where nothing is known of what it is made of."""
    if infill.kind in PLASTIC:
        return Grows(
            thermal.POLYCARBONATE,
            thermal.POLYCARBONATE,
            "polycarbonate, its producers' association",
        )
    if infill.kind == "boards":
        return Grows(
            thermal.TIMBER_ALONG_GRAIN,
            thermal.TIMBER_ALONG_GRAIN,
            "timber along the grain, EN 1991-1-5, Annex C (second-hand)",
        )
    if is_steel(infill) or infill.kind == "mesh":
        return Grows(thermal.STEEL, thermal.STEEL, "steel, EN 1993-1-1:2005, 3.2.6(1)")
    return None


def difference(grows: Grows) -> float:
    """Return how differently from its steel frame an infill grows, at most [1/K], a magnitude."""
    return max(abs(grows.least - thermal.STEEL), abs(grows.greatest - thermal.STEEL))


def colder(least: Typed | None, fitted: Typed | None, system: System) -> Quantity:
    """Return how much colder the infill may become than when it is fitted [K], not below 0."""
    if least is None:
        return chosen(None, "cold under survey", "doorway/cold", "cold under survey", system=system)
    start = chosen(
        fitted,
        "survey temperature",
        "doorway/survey temperature",
        "survey temperature",
        system=system,
    )
    coldest = chain.base(
        "wish", "doorway/coldest", "least temperature", least.si, unit="K", note=least.text
    )
    fall = chain.total("doorway/cold", "cold under survey", [(1.0, start), (-1.0, coldest)])
    none = chain.base("table", "doorway/no cold", "never colder", 0.0, unit="K")
    return chain.largest("doorway/cold at most", "cold under survey", [fall, none])


def infill_of(table: LeafTable, piece: InfillPiece) -> Infill:
    """Return the maker's choice that a piece of infill comes from."""
    return next(
        i
        for i in table.infill
        if i.kind == piece.kind
        and i.panel in ("each", piece.panel)
        and i.on in (piece.face, "both")
    )


def piece_subject(leaf: Leaf, piece: InfillPiece) -> str:
    """Return what a check calls a piece of infill."""
    return f"{piece.kind} in panel {piece.panel} of {leaf_subject(leaf.key)}"
