"""What a job file may hold: the maker's choices and readings, kept as typed.

Every table refuses keys it does not know. A field left out is either a stated default of the
plan (which lists the ones it used) or unknown, and what is unknown is asked, never assumed.
"""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from leafwright.job.cut_wishes import BraceEnd, Splice
from leafwright.job.infill import Infill
from leafwright.job.mounts import BarrelHinge, Bolt, FloorPivot, Hold, Mount, Plate, Post
from leafwright.job.on_site import (
    FitUp,
    FitUpDistance,
    FitUpHeight,
    FitUpReading,
    FitUpString,
    Hung,
    HungDrift,
    HungGap,
    HungPlate,
    HungPlumb,
    Obstacle,
    Site,
)
from leafwright.job.readings import (
    DepthReading,
    DistanceReading,
    FloorReading,
    Hand,
    HeadReading,
    Instrument,
    LevelReading,
    OffsetReading,
    PlumbReading,
    Reading,
    ReadingTable,
    RiseReading,
    Table,
    Taken,
)
from leafwright.job.typed import (
    Angle,
    ArealMass,
    BracePanel,
    Day,
    Flow,
    Force,
    Gap,
    Length,
    LineLoad,
    Mass,
    Number,
    Pressure,
    Price,
    Size,
    Speed,
    SteelPrice,
    Temperature,
    Whole,
    YesNo,
)

__all__ = [
    "Anchor",
    "Answer",
    "BarrelHinge",
    "Basis",
    "Bolt",
    "Brace",
    "Building",
    "CutWith",
    "DepthReading",
    "DistanceReading",
    "DoorwayTable",
    "FORM",
    "Filler",
    "FitUp",
    "FitUpDistance",
    "FitUpHeight",
    "FitUpReading",
    "FitUpString",
    "FloorPivot",
    "FloorReading",
    "GradeTable",
    "Hand",
    "HeadReading",
    "Header",
    "Hung",
    "HungDrift",
    "HungGap",
    "HungPlate",
    "HungPlumb",
    "Infill",
    "Instrument",
    "Job",
    "LeafTable",
    "LevelReading",
    "Limits",
    "Loads",
    "Mark",
    "MidRail",
    "Mount",
    "Obstacle",
    "Offcut",
    "OffsetReading",
    "OpeningTable",
    "PaperName",
    "Plate",
    "PlumbReading",
    "Post",
    "Power",
    "Reading",
    "ReadingTable",
    "RiseReading",
    "Saw",
    "SectionTable",
    "Site",
    "StickTable",
    "StockTable",
    "Swing",
    "Table",
    "Taken",
    "Welding",
    "Wind",
]

FORM = 1

Swing = Literal["toward", "away", "both"]
PaperName = Literal["Letter", "Tabloid", "A4", "A3"]


class Header(Table):
    """``[job]``: what the job is called and how its sheets are drawn."""

    name: str = Field(min_length=1, max_length=80)
    seen_from: str = Field(min_length=1, max_length=40)
    system: Literal["feet-inch", "metric"] = "feet-inch"
    tape: Size | None = None
    paper: PaperName | None = None
    revision: str = Field(default="A", max_length=12)
    surveyed: Day | None = None
    crew: Whole = Field(default=2, ge=1, le=20)
    currency: str = Field(default="USD", max_length=4)
    note: str = Field(default="", max_length=2000)


class Basis(Table):
    """``[basis]``: the code that the proof follows."""

    steel: Literal["AISC 360-22", "EN 1993-1-1:2005"] = "AISC 360-22"
    method: Literal["ASD", "LRFD"] = "ASD"
    country: str = Field(default="US", max_length=40)


class OpeningTable(Table):
    """``[opening]``: what the hole in the wall is, apart from its readings."""

    head: YesNo = True
    side_straightness: Gap | None = None
    reveal_depth: Size | None = None
    survey_temperature: Temperature | None = None


class Mark(Table):
    """``[[mark]]``: a named point in space; z is toward the viewer and may be known."""

    name: str = Field(min_length=1, max_length=40)
    near_x: Length
    near_y: Length
    z: Length | None = None


class Filler(Table):
    """A jamb post or a transom: a section and the shim behind it."""

    section: str | None = None
    shim: Gap | None = None


class DoorwayTable(Table):
    """``[doorway]``: how the opening is to be closed; every gap may be wished or left to us."""

    leaves: Literal["single", "pair", "unequal pair"]
    running_clearance: Gap | None = None
    heel_gap: Gap | None = None
    meeting_gap: Gap | None = None
    closing_gap: Gap | None = None
    top_gap: Gap | None = None
    bottom_gap: Gap | None = None
    greatest_bottom_gap: Size | None = None
    leaf_height: Size | None = None
    opens_to: Angle | None = None
    jamb: Filler | None = None
    transom: Filler | None = None


class MidRail(Table):
    """A mid rail at half height, or with its centre line at a height above the leaf's bottom."""

    at: Literal["half"] | None = None
    height: Size | None = None


class Brace(Table):
    """``brace``: how one panel, or each, is braced; a rod may cross the whole leaf."""

    pattern: Literal["none", "one diagonal", "X", "rod"]
    panel: BracePanel = "each"
    foot: Literal["hanging stile", "closing stile"] | None = None
    section: str | None = None
    grade: str | None = None
    through: Literal["rising", "falling"] = "rising"
    crossing: Literal["one through", "half lapped"] = "one through"
    lower_end: BraceEnd = "corner"
    upper_end: BraceEnd = "corner"
    clear_of_corner: Gap | None = None
    bead_clearance: Gap | None = None
    end_allowance: Gap | None = None


class LeafTable(Table):
    """``[each_leaf]`` and ``[[leaf]]``: one leaf, what it is made of and how it hangs."""

    hand: Hand | None = None
    name: str | None = Field(default=None, max_length=40)
    swing: Swing = "both"
    width: Size | None = None
    frame: str
    grade: str | None = None
    corners: Literal["mitred", "stiles run through", "rails run through"] = "stiles run through"
    root_gap: Gap | None = None
    weld_shrinkage: Gap | None = None
    scribe_braces: bool = False
    mid_rail: tuple[MidRail, ...] = Field(default=(), max_length=20)
    brace: tuple[Brace, ...] = Field(default=(), max_length=100)
    splice: tuple[Splice, ...] = Field(default=(), max_length=20)
    infill: tuple[Infill, ...] = Field(default=(), max_length=100)
    mount: Mount
    hold: Hold = Hold()
    handle_height: Size | None = None
    finish: Literal["unknown", "paint", "galvanized", "bare"] = "unknown"


class SectionTable(Table):
    """``[[section]]``: a size of the maker's own, where the catalogue has none."""

    name: str = Field(min_length=1, max_length=60)
    shape: Literal["rectangular tube", "round tube", "round bar", "flat bar", "angle"]
    width: Size
    height: Size | None = None
    wall: Size | None = None
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
    indoor_pressure: Pressure | None = None
    water_or_ice: ArealMass | None = None


class Limits(Table):
    """``[limits]``: how far the leaf may move."""

    nose_sag: Size | None = None
    racking: Size | None = None
    bow: Size | None = None
    post_lean: Size | None = None


class StockTable(Table):
    """``[stock]``: how steel is sold here and what the saw takes."""

    lengths: tuple[Size, ...] = Field(default=(), max_length=100)
    kerf: Gap | None = None
    end_trim: Gap | None = None
    share_cuts: YesNo = True


class StickTable(Table):
    """``[[stick]]``: a length that is sold, of one section or of any, and by whom for how much."""

    section: str | None = None
    length: Size
    price: SteelPrice | None = None
    count: Whole | None = Field(default=None, ge=0, le=10000)
    supplier: str = Field(default="", max_length=40)


class Offcut(Table):
    """``[[offcut]]``: a piece already on the rack; stiles come from it only if it is straight."""

    section: str
    length: Size
    count: Whole = Field(default=1, ge=1, le=200)
    price: SteelPrice | None = None
    straight: YesNo = False


class Saw(Table):
    """``[saw]``: how far the saw swings from square."""

    mitre_range: Angle | None = None


class CutWith(Table):
    """``[[cut_with]]``: one saw or other tool that cuts, in the order in which it is reached for.

    ``mitre_left`` and ``mitre_right`` are how far it swings; ``takes_high`` and ``takes_wide``
    the largest piece it cuts square, ``takes_high_swung`` and ``takes_wide_swung`` that at its
    greatest angle; ``jig`` whether a piece may be clamped square to its fence.
    """

    name: str = Field(min_length=1, max_length=40)
    kind: Literal["mitre saw", "cold saw", "band saw", "abrasive chop saw", "grinder", "hacksaw"]
    mitre_left: Angle | None = None
    mitre_right: Angle | None = None
    takes_high: Size | None = None
    takes_wide: Size | None = None
    takes_high_swung: Size | None = None
    takes_wide_swung: Size | None = None
    kerf: Gap | None = None
    stands: Literal["shop", "site"] = "shop"
    jig: YesNo = False


class Anchor(Table):
    """An anchor in the floor or the wall."""

    kind: str = "unknown"
    size: Size | None = None
    embedment: Size | None = None
    edge_distance: Gap | None = None
    per_plate: Whole | None = Field(default=None, ge=1, le=16)
    spacing_along: Size | None = None
    spacing_across: Size | None = None
    report: str = Field(default="", max_length=120)
    effective_embedment: Size | None = None
    steel_tension: Force | None = None
    steel_shear: Force | None = None
    pullout: Force | None = None
    category: Whole | None = Field(default=None, ge=1, le=3)
    cracked: Literal["yes", "no"] = "yes"


class Building(Table):
    """``[building]``: what the leaf hangs from and stands on; ``"unknown"`` is an answer."""

    beam: str = "unknown"
    beam_span: Size | None = None
    beam_load: LineLoad | None = None
    beam_grade: str = "unknown"
    paint: str = "unknown"
    slab: str = "unknown"
    slab_thickness: Size | None = None
    slab_edge: Gap | None = None
    slab_tendons: Literal["unknown", "none found", "present"] = "unknown"
    concrete_strength: Pressure | None = None
    beam_rise: Gap | None = None
    beam_drop: Gap | None = None
    indoors: Literal["unknown", "yes", "no"] = "unknown"
    exit_route: Literal["unknown", "yes", "no"] = "unknown"
    fire_rated_wall: Literal["unknown", "yes", "no"] = "unknown"
    powered: YesNo = False
    public: Literal["unknown", "yes", "no"] = "unknown"
    anchor: Anchor | None = None
    least_temperature: Temperature | None = None
    greatest_temperature: Temperature | None = None


class Wind(Table):
    """``[wind]``: what the wind is taken to be."""

    standard: str
    speed: Speed | None = None
    pressure: Pressure | None = None
    exposure: Literal["B", "C", "D"] | None = None
    ground: str = ""
    K_z: Number | None = Field(default=None, gt=0, lt=3)
    K_d: Number | None = Field(default=None, gt=0, le=1)
    G: Number | None = Field(default=None, gt=0, lt=2)
    C_f: Number | None = Field(default=None, gt=0, lt=3)
    solidity: Number | None = Field(default=None, gt=0, le=1)


class Power(Table):
    """``[power]``: what the outlet on site gives."""

    volts: Number = Field(gt=0, le=1000)
    breaker_amps: Number = Field(gt=0, le=400)
    cord: str | None = None
    cord_length: Size | None = None


class Welding(Table):
    """``[weld]``: by what process the seams are welded, where, and with what."""

    process: Literal["GMAW", "FCAW-G", "FCAW-S", "SMAW", "GTAW"] = "GMAW"
    place: Literal["site", "shop"] = "site"
    diameter: Size | None = None
    feed: Speed | None = None
    amps: Number | None = Field(default=None, gt=0, le=600)
    volts: Number | None = Field(default=None, gt=0, le=60)
    gas_flow: Flow | None = None
    input_amps: Number | None = Field(default=None, gt=0, le=400)


class Answer(Table):
    """``[[answer]]``: an answer to a question that a check asked, and who gave it."""

    about: str
    says: str = Field(min_length=1, max_length=400)
    by: str = Field(min_length=1, max_length=80)
    document: str = Field(min_length=1, max_length=120)
    on: Day
    until: Day | None = None


class Job(Table):
    """A whole job, as its maker wrote it."""

    leafwright: Whole
    job: Header
    basis: Basis = Basis()
    opening: OpeningTable = OpeningTable()
    mark: tuple[Mark, ...] = Field(default=(), max_length=500)
    reading: tuple[Reading, ...] = Field(min_length=1, max_length=2000)
    obstacle: tuple[Obstacle, ...] = Field(default=(), max_length=100)
    doorway: DoorwayTable
    leaf: tuple[LeafTable, ...] = Field(min_length=1, max_length=2)
    section: tuple[SectionTable, ...] = Field(default=(), max_length=200)
    grade: tuple[GradeTable, ...] = Field(default=(), max_length=200)
    loads: Loads = Loads()
    limits: Limits = Limits()
    stock: StockTable = StockTable()
    stick: tuple[StickTable, ...] = Field(default=(), max_length=200)
    offcut: tuple[Offcut, ...] = Field(default=(), max_length=500)
    saw: Saw = Saw()
    cut_with: tuple[CutWith, ...] = Field(default=(), max_length=20)
    building: Building = Building()
    post: Post | None = None
    wind: Wind | None = None
    power: Power | None = None
    weld: Welding = Welding()
    site: Site = Site()
    fit_up: tuple[FitUp, ...] = Field(default=(), max_length=1000)
    hung: tuple[Hung, ...] = Field(default=(), max_length=1000)
    price: dict[str, Price] = Field(default_factory=dict)
    answer: tuple[Answer, ...] = Field(default=(), max_length=500)
