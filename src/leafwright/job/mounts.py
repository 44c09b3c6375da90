"""What a leaf turns on and is held by: pivots, hinges, plates, latches and stops."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from leafwright.job.readings import Table
from leafwright.job.typed import Angle, Gap, Length, Pressure, Size, Speed, Whole


class Hold(Table):
    """``hold``: what holds the nose of the shut leaf, what stops it open, and what keeps it so."""

    shut: Literal["unknown", "latch", "stop", "drop rod"] = "unknown"
    at: tuple[Literal["top", "bottom"], ...] = Field(default=("bottom",), min_length=1)
    rod_diameter: Size | None = None
    stop_out: Size | None = None
    stop_travel: Size | None = None
    stop_height: Size | None = None
    nose_speed: Speed | None = None
    open: Literal["unknown", "nothing", "hook", "drop rod"] = "unknown"


class Plate(Table):
    """A pivot's plate."""

    thickness: Size
    width: Size
    length: Size
    grade: str = "unknown"


class Bolt(Table):
    """A bolt and the hole made for it."""

    size: str
    grade: str = "unknown"
    hole: Size | None = None


class FloorPivot(Table):
    """A leaf that stands on a ball over a pin in the floor, held by a loose pin at its head."""

    kind: Literal["floor pivot"]
    axis: Length | None = None
    spacer: Gap | None = None
    plate: Plate | None = None
    pin_diameter: Size | None = None
    bottom_pin_length: Size | None = None
    top_pin_length: Size | None = None
    sleeve_bore: Size | None = None
    sleeve_outside: Size | None = None
    ball_diameter: Size | None = None
    slug_length: Size | None = None
    grease_fitting: str | None = None
    access_hole: Size | None = None
    bolt: Bolt | None = None
    pin_grade: str = "unknown"
    pin_weld: Size | None = None
    slug_weld: Size | None = None
    sleeve_length: Size | None = None
    plug_hole: Size | None = None
    plug_holes: Whole | None = Field(default=None, ge=1, le=12)
    ball_seat: Literal["unknown", "mild", "hardened"] = "unknown"
    plate_level: Angle | None = None
    pin_square: Angle | None = None
    top_plate: Plate | None = None
    top_pin_diameter: Size | None = None
    top_sleeve_bore: Size | None = None
    top_fixed: Literal["unknown", "bolted", "welded"] = "unknown"
    top_bolts: Whole | None = Field(default=None, ge=1, le=12)
    top_weld: Size | None = None
    bolt_gauge: Size | None = None


class BarrelHinge(Table):
    """A leaf hung from a post on barrel hinges; the lowest carries the weight."""

    kind: Literal["barrel hinge"]
    standoff: Gap
    heights: tuple[Gap, ...] = Field(min_length=2, max_length=4)
    pin_diameter: Size | None = None
    clearance: Gap | None = None
    pin_grade: str = "unknown"
    barrel_length: Size | None = None
    weld: Size | None = None
    weld_length: Size | None = None


Mount = Annotated[FloorPivot | BarrelHinge, Field(discriminator="kind")]


class Post(Table):
    """``[post]``: what a gate hangs from; ``buried`` is how far it goes on under the ground."""

    section: str
    height: Size
    footing_diameter: Size | None = None
    footing_depth: Size | None = None
    buried: Size | None = None
    grade: str | None = None
    soil_pressure: Pressure | None = None
