"""Grades of steel: yield and tensile strength by shape and thickness, and how they are known.

The figures are in `steel_catalogue.toml`.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from leafwright.records import Metres, Number, Pascals, Source
from leafwright.units.constants import PSI

_KSI = float(1000 * PSI)
_MPA = 1.0e6


class CatalogueError(ValueError):
    """A section or grade that the catalogue does not hold, or a name that is not read."""


@dataclass(frozen=True, slots=True)
class StrengthRow:
    """Yield and tensile strength of one shape ("" for any) up to a thickness."""

    shape: str
    thickness_to: Metres
    to_included: bool
    yield_stress: Pascals
    tensile_strength: Pascals


@dataclass(frozen=True, slots=True)
class Grade:
    """A grade of steel; ``how_known`` says whether its figures were read or remembered."""

    name: str
    standard: str
    strength: tuple[StrengthRow, ...]
    yield_guaranteed: bool
    design_wall_ratio: Number
    elastic_modulus: Pascals
    shear_modulus: Pascals
    source: Source
    how_known: str


def strength_of(grade: Grade, shape: str, thickness: float) -> tuple[Pascals, Pascals]:
    """Return the yield stress and tensile strength of a grade [Pa].

    By the product standard that the grade's entry in steel_catalogue.toml names.

    grade: from the catalogue; shape: as in `sections`; thickness: nominal wall or the bar's least
    size [m]. Raises CatalogueError where the standard gives none for that shape or thickness.
    """
    for row in grade.strength:
        # A thickness may miss the limit by the last bit of its conversion to metres.
        limit = row.thickness_to * (1.0 + 1e-9 if row.to_included else 1.0 - 1e-9)
        if thickness < limit and row.shape in ("", shape):
            return row.yield_stress, row.tensile_strength
    raise CatalogueError(
        f"{grade.name} has no strength for a {shape} of {1000.0 * thickness:g} mm here; "
        "choose another grade, or ask for the mill certificate"
    )


def grade_from(entry: Mapping[str, Any], moduli: Mapping[str, Any]) -> Grade:
    """Return the grade that one entry of the catalogue's data file describes.

    entry: a ``grade`` table; moduli: the file's ``moduli`` tables, by name.
    """
    unit = {"ksi": _KSI, "MPa": _MPA}[entry["unit"]]
    module = moduli[entry["moduli"]]
    elastic, shear = (
        module[f"{kind}_ksi"] * _KSI if f"{kind}_ksi" in module else module[f"{kind}_MPa"] * _MPA
        for kind in ("elastic", "shear")
    )
    rows = tuple(
        StrengthRow(
            shape=row.get("shape", ""),
            thickness_to=row.get("to_mm", row.get("below_mm", math.inf)) / 1000.0,
            to_included="below_mm" not in row,
            yield_stress=row["yield"] * unit,
            tensile_strength=row["tensile"] * unit,
        )
        for row in entry["strength"]
    )
    return Grade(
        name=entry["name"],
        standard=entry["standard"],
        strength=rows,
        yield_guaranteed=entry["yield_guaranteed"],
        design_wall_ratio=float(entry["design_wall"]),
        elastic_modulus=elastic,
        shear_modulus=shear,
        source=Source(entry["source"]),
        how_known=entry["how"],
    )
