"""What a job file may hold: the maker's choices and readings, kept as typed.

Every table refuses keys it does not know. A field left out is either a stated default of the
plan (which lists the ones it used) or unknown, and what is unknown is asked, never assumed.
"""

from __future__ import annotations

from datetime import date
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from leafwright.job.typed import (
    Angle,
    ArealMass,
    Density,
    Force,
    Length,
    LineLoad,
    Mass,
    Pressure,
    Price,
    Speed,
    Temperature,
    Thickness,
)

FORM = 1

Hand = Literal["left", "right"]
Swing = Literal["toward", "away", "both"]
PaperName = Literal["Letter", "Tabloid", "A4", "A3"]


class Table(BaseModel):
    """A table of the job file: frozen, and strict about its keys."""

    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=True)


class Header(Table):
    """``[job]``: what the job is called and how its sheets are drawn."""

    name: str = Field(min_length=1, max_length=80)
    seen_from: str = Field(min_length=1, max_length=40)
    system: Literal["feet-inch", "metric"] = "feet-inch"
    tape: Length | None = None
    paper: PaperName | None = None
    revision: str = Field(default="A", max_length=12)
    surveyed: date | None = None
    crew: int = Field(default=2, ge=1, le=20)
    currency: str = Field(default="USD", max_length=4)
    note: str = Field(default="", max_length=2000)


class Basis(Table):
    """``[basis]``: the code that the proof follows."""

    steel: Literal["AISC 360-22", "EN 1993-1-1:2005"] = "AISC 360-22"
    method: Literal["ASD", "LRFD"] = "ASD"
    country: str = Field(default="US", max_length=40)


class OpeningTable(Table):
    """``[opening]``: what the hole in the wall is, apart from its readings."""

    head: bool = True
    side_straightness: Length | None = None
    reveal_depth: Length | None = None


class Mark(Table):
    """``[[mark]]``: a named point in space; z is toward the viewer and may be known."""

    name: str = Field(min_length=1, max_length=40)
    near_x: Length
    near_y: Length
    z: Length | None = None


Instrument = Literal["tape", "long tape", "laser", "level", "plumb line", "rule"]


class ReadingTable(Table):
    """What all kinds of reading share."""

    is_: Length = Field(alias="is")
    sd: Length | None = None
    by: Instrument | None = None
    on: date | None = None
    who: str = Field(default="", max_length=60)
    set_aside: str = Field(default="", max_length=200)
    note: str = Field(default="", max_length=200)


class DistanceReading(ReadingTable):
    """A taped or lasered distance between two marks."""

    kind: Literal["distance"]
    from_: str = Field(alias="from")
    to: str


class LevelReading(ReadingTable):
    """Height of a mark above (+) or below (−) a laser plane."""

    kind: Literal["level"]
    at: str
    plane: str = "laser"


class RiseReading(ReadingTable):
    """How much higher (+) one mark is than another."""

    kind: Literal["rise"]
    from_: str = Field(alias="from")
    to: str


class PlumbReading(ReadingTable):
    """How far one mark stands sideways from the plumb line through another."""

    kind: Literal["plumb"]
    from_: str = Field(alias="from")
    to: str
    toward: Literal["left", "right", "inward", "outward"]


class FloorReading(ReadingTable):
    """Height of the floor above (+) a mark, some way out along a leaf's swing."""

    kind: Literal["floor"]
    leaf: Hand
    out: Length | None = None
    above: str = "BL"


Reading = Annotated[
    DistanceReading | LevelReading | RiseReading | PlumbReading | FloorReading,
    Field(discriminator="kind"),
]


class Filler(Table):
    """A jamb post or a transom: a section and the shim behind it."""

    section: str | None = None
    shim: Length | None = None


class DoorwayTable(Table):
    """``[doorway]``: how the opening is to be closed; every gap may be wished or left to us."""

    leaves: Literal["single", "pair", "unequal pair"]
    running_clearance: Length | None = None
    heel_gap: Length | None = None
    meeting_gap: Length | None = None
    closing_gap: Length | None = None
    top_gap: Length | None = None
    bottom_gap: Length | None = None
    greatest_bottom_gap: Length | None = None
    leaf_height: Length | None = None
    jamb: Filler | None = None
    transom: Filler | None = None


class MidRail(Table):
    """A mid rail at half height, or with its centre line at a height above the leaf's bottom."""

    at: Literal["half"] | None = None
    height: Length | None = None


class Brace(Table):
    """``brace``: how one panel, or each, is braced; a rod may cross the whole leaf."""

    pattern: Literal["none", "one diagonal", "X", "rod"]
    panel: int | Literal["each", "whole leaf"] = "each"
    foot: Literal["hanging stile", "closing stile"] | None = None
    section: str | None = None
    grade: str | None = None
    through: Literal["rising", "falling"] = "rising"
    end_allowance: Length | None = None


class Infill(Table):
    """``infill``: what closes a panel, or each, and on which face it lies."""

    kind: Literal["boards", "sheet", "mesh", "panel"]
    on: Literal["face", "back", "both"] = "back"
    panel: int | Literal["each"] = "each"
    thickness: Thickness | None = None
    density: Density | None = None
    mass_per_area: ArealMass | None = None
    opening: Length | None = None
    wire: Length | None = None
    note: str = Field(default="", max_length=200)


class Plate(Table):
    """A pivot's plate."""

    thickness: Length
    width: Length
    length: Length
    grade: str = "unknown"


class Bolt(Table):
    """A bolt and the hole made for it."""

    size: str
    grade: str = "unknown"
    hole: Length | None = None


class FloorPivot(Table):
    """A leaf that stands on a ball over a pin in the floor, held by a loose pin at its head."""

    kind: Literal["floor pivot"]
    axis: Length | None = None
    spacer: Length | None = None
    plate: Plate | None = None
    pin_diameter: Length | None = None
    bottom_pin_length: Length | None = None
    top_pin_length: Length | None = None
    sleeve_bore: Length | None = None
    sleeve_outside: Length | None = None
    ball_diameter: Length | None = None
    slug_length: Length | None = None
    grease_fitting: str | None = None
    access_hole: Length | None = None
    bolt: Bolt | None = None


class BarrelHinge(Table):
    """A leaf hung from a post on barrel hinges; the lowest carries the weight."""

    kind: Literal["barrel hinge"]
    standoff: Length
    heights: tuple[Length, ...] = Field(min_length=2, max_length=4)
    pin_diameter: Length | None = None
    clearance: Length | None = None


Mount = Annotated[FloorPivot | BarrelHinge, Field(discriminator="kind")]


class LeafTable(Table):
    """``[each_leaf]`` and ``[[leaf]]``: one leaf, what it is made of and how it hangs."""

    hand: Hand | None = None
    name: str | None = Field(default=None, max_length=40)
    swing: Swing = "both"
    width: Length | None = None
    frame: str
    grade: str | None = None
    corners: Literal["mitred", "stiles run through", "rails run through"] = "stiles run through"
    mid_rail: tuple[MidRail, ...] = ()
    brace: tuple[Brace, ...] = ()
    infill: tuple[Infill, ...] = ()
    mount: Mount
    handle_height: Length | None = None


class SectionTable(Table):
    """``[[section]]``: a size of the maker's own, where the catalogue has none."""

    name: str = Field(min_length=1, max_length=60)
    shape: Literal["rectangular tube", "round tube", "round bar", "flat bar", "angle"]
    width: Length
    height: Length | None = None
    wall: Length | None = None
    grade: str | None = None


class GradeTable(Table):
    """``[[grade]]``: a steel of the maker's own, from its mill certificate."""

    name: str = Field(min_length=1, max_length=60)
    yield_strength: Pressure
    ultimate_strength: Pressure
    source: str = Field(min_length=1, max_length=120)


class Loads(Table):
    """``[loads]``: what the leaf is to be proved for beside its own weight."""

    person: Mass | None = None
    push: Force | None = None


class Limits(Table):
    """``[limits]``: how far the leaf may move."""

    nose_sag: Length | None = None
    racking: Length | None = None


class StockTable(Table):
    """``[stock]``: how steel is sold here and what the saw takes."""

    lengths: tuple[Length, ...] = ()
    kerf: Length | None = None
    end_trim: Length | None = None


class Offcut(Table):
    """``[[offcut]]``: a piece already on the rack."""

    section: str
    length: Length
    count: int = Field(default=1, ge=1, le=200)


class Saw(Table):
    """``[saw]``: how far the saw swings from square."""

    mitre_range: Angle | None = None


class Anchor(Table):
    """An anchor in the floor or the wall."""

    kind: str = "unknown"
    size: Length | None = None
    embedment: Length | None = None
    edge_distance: Length | None = None
    per_plate: int | None = Field(default=None, ge=1, le=16)


class Building(Table):
    """``[building]``: what the leaf hangs from and stands on; ``"unknown"`` is an answer."""

    beam: str = "unknown"
    beam_span: Length | None = None
    beam_load: LineLoad | None = None
    beam_grade: str = "unknown"
    paint: str = "unknown"
    slab: str = "unknown"
    slab_thickness: Length | None = None
    slab_edge: Length | None = None
    slab_tendons: Literal["unknown", "none found", "present"] = "unknown"
    exit_route: Literal["unknown", "yes", "no"] = "unknown"
    fire_rated_wall: Literal["unknown", "yes", "no"] = "unknown"
    powered: bool = False
    public: Literal["unknown", "yes", "no"] = "unknown"
    anchor: Anchor | None = None
    least_temperature: Temperature | None = None
    greatest_temperature: Temperature | None = None


class Post(Table):
    """``[post]``: what a gate hangs from."""

    section: str
    height: Length
    footing_diameter: Length | None = None
    footing_depth: Length | None = None


class Wind(Table):
    """``[wind]``: what the wind is taken to be."""

    standard: str
    speed: Speed
    exposure: Literal["B", "C", "D"] | None = None
    ground: str = ""
    K_z: float | None = Field(default=None, gt=0, lt=3)
    K_d: float | None = Field(default=None, gt=0, le=1)
    G: float | None = Field(default=None, gt=0, lt=2)
    C_f: float | None = Field(default=None, gt=0, lt=3)
    solidity: float | None = Field(default=None, gt=0, le=1)


class Power(Table):
    """``[power]``: what the outlet on site gives."""

    volts: float = Field(gt=0, le=1000)
    breaker_amps: float = Field(gt=0, le=400)
    cord: str | None = None
    cord_length: Length | None = None


class Answer(Table):
    """``[[answer]]``: an answer to a question that a check asked, and who gave it."""

    about: str
    says: str = Field(min_length=1, max_length=400)
    by: str = Field(min_length=1, max_length=80)
    document: str = Field(min_length=1, max_length=120)
    on: date
    until: date | None = None


class Job(Table):
    """A whole job, as its maker wrote it."""

    leafwright: int
    job: Header
    basis: Basis = Basis()
    opening: OpeningTable = OpeningTable()
    mark: tuple[Mark, ...] = ()
    reading: tuple[Reading, ...] = Field(min_length=1)
    doorway: DoorwayTable
    leaf: tuple[LeafTable, ...] = Field(min_length=1, max_length=2)
    section: tuple[SectionTable, ...] = ()
    grade: tuple[GradeTable, ...] = ()
    loads: Loads = Loads()
    limits: Limits = Limits()
    stock: StockTable = StockTable()
    offcut: tuple[Offcut, ...] = ()
    saw: Saw = Saw()
    building: Building = Building()
    post: Post | None = None
    wind: Wind | None = None
    power: Power | None = None
    price: dict[str, Price] = Field(default_factory=dict)
    answer: tuple[Answer, ...] = ()
