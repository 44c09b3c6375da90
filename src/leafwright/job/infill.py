"""What closes a leaf's panels, how it is sold and how it is fixed."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from leafwright.job.readings import Table
from leafwright.job.typed import ArealMass, Density, Gap, InfillPanel, Pressure, Size, Thickness


class Infill(Table):
    """``infill``: what closes a panel, or each, and on which face it lies.

    ``runs`` is which way boards run; ``sold_width`` what one board covers or how wide a sheet is
    sold, ``sold_length`` how long either is sold.
    """

    kind: Literal["boards", "sheet", "mesh", "polycarbonate", "twin-wall", "glass", "panel"]
    on: Literal["face", "back", "both"] = "back"
    panel: InfillPanel = "each"
    thickness: Thickness | None = None
    density: Density | None = None
    mass_per_area: ArealMass | None = None
    opening: Size | None = None
    wire: Size | None = None
    screw_heads: Gap | None = None
    elastic_modulus: Pressure | None = None
    bending_strength: Pressure | None = None
    runs: Literal["up", "across"] | None = None
    sold_width: Size | None = None
    sold_length: Size | None = None
    fixing_spacing: Size | None = None
    screw: Size | None = None
    note: str = Field(default="", max_length=200)
