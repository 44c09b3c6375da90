"""What the holes stage hands on: every hole of every part, and the plates with their outlines.

Each part has its own datum: an end that the tape hooks on and an edge to measure from. A hole is
told from these two and from nothing else, so that it can be marked on the loose part. A part
belongs to one leaf, by its hand: no part is ever told as the opposite hand of another.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from leafwright.chain import Quantity
from leafwright.records import Check, Metres, Point2

Hand = Literal["left", "right", "leaf", ""]

HoleKind = Literal[
    "clearance",
    "tapped",
    "plug weld",
    "access",
    "vent",
    "drain",
    "weep",
    "weld vent",
    "grease vent",
    "match-drill",
    "pilot",
]

Through = Literal["one wall", "all the way"]

When = Literal["before welding", "after welding", "once the leaf hangs", "when it is fitted"]

#: A face of a tube: toward or away from whoever sees the leaf, or one of its edges in the leaf.
FaceKey = Literal["face", "back", "hinge", "nose", "lower", "upper", "round", "plate"]


@dataclass(frozen=True, slots=True)
class HoleTool:
    """One tool that a hole takes, as it is asked for at the rack: ``kind`` and ``size``."""

    kind: Literal["annular cutter", "step drill", "twist drill", "hole saw", "tap", "masonry bit"]
    size: str

    @property
    def words(self) -> str:
        """Return the tool as the rack names it: ``9/16 in annular cutter``, ``1/4-28 tap``."""
        return f"{self.size} {self.kind}"


@dataclass(frozen=True, slots=True)
class Hole:
    """One hole.

    ``key`` is its place (``left/hanging stile/access hole``) and ``part`` the key of what it is
    in. ``along`` is from the part's datum end and ``across`` from the datum edge of ``face`` to
    its middle. ``diameter`` is that of a round hole, or a slot's width; ``slot`` is a slot's
    length over all, along the part (0 for a round hole). ``side`` tells the face in the maker's
    words. ``tools`` are in the order of their use and ``tool`` is all of them in words;
    ``tap_drill`` is its name, "" where nothing is tapped. ``depth`` is how deep [m], 0 for right
    through what ``through`` says. ``template`` is the key of the part through which it is
    drilled, "" where it is marked out. ``refused`` says why it must not be drilled so, else "".
    """

    key: str
    part: str
    hand: Hand
    label: str
    use: str
    kind: HoleKind
    face: FaceKey
    side: str
    along: Quantity
    across: Quantity
    diameter: Quantity
    slot: Metres
    through: Through
    depth: Metres
    tools: tuple[HoleTool, ...]
    tap_drill: str
    when: When
    template: str
    why: str
    refused: str = ""

    @property
    def tool(self) -> str:
        """Return the tools in words, in the order of their use."""
        return ", then ".join(tool.words for tool in self.tools)


@dataclass(frozen=True, slots=True)
class FaceOf:
    """One face of a part laid flat, looked at square with the datum end down.

    ``datum`` is the edge from which across is measured; ``datum_left`` whether it is then on the
    left.
    """

    key: FaceKey
    name: str
    width: Metres
    datum: str
    datum_left: bool


@dataclass(frozen=True, slots=True)
class HoledPart:
    """A long part with holes: a tube of a leaf, or a sleeve.

    ``datum_end`` is where the tape hooks; ``length`` is over all. ``wall`` is what is drilled
    through. ``faces`` are those that hold holes, in the order in which they are laid out.
    """

    key: str
    mark: str
    name: str
    hand: Hand
    section: str
    length: Quantity
    wall: Metres
    datum_end: str
    faces: tuple[FaceOf, ...]
    holes: tuple[Hole, ...]


@dataclass(frozen=True, slots=True)
class Plate:
    """A plate that is cut and drilled.

    ``outline`` is from its own lower left corner, x along its length [m], as seen with its pin
    toward the viewer; holes are told from the left and the lower edge. ``edges`` says where the
    left, lower, right and upper edge face as it is fitted. ``pin`` is the diameter of what is
    welded on in the middle and ``weld`` the leg round it [m]; 0 where not known.
    """

    key: str
    mark: str
    name: str
    hand: Hand
    outline: tuple[Point2, ...]
    length: Quantity
    width: Quantity
    thickness: Quantity
    grade: str
    count: int
    edges: tuple[str, str, str, str]
    seen: str
    pin: Metres
    weld: Metres
    holes: tuple[Hole, ...]


@dataclass(frozen=True, slots=True)
class InPlace:
    """Holes drilled in what is not ours to lay out: slab, beam, transom.

    They are drilled through ``template``, the key of a part, or marked from what comes down on
    them where it is "". ``count`` is how many and ``depth`` how deep [m], 0 for right through.
    """

    key: str
    hand: Hand
    use: str
    into: str
    count: int
    diameter: Quantity
    depth: Metres
    tools: tuple[HoleTool, ...]
    template: str
    when: When
    why: str
    refused: str = ""

    @property
    def tool(self) -> str:
        """Return the tools in words, in the order of their use."""
        return ", then ".join(tool.words for tool in self.tools)


@dataclass(frozen=True, slots=True)
class ScrewRow:
    """A straight row of screws that hold a piece of infill to one tube.

    ``part`` is the tube and ``face`` its face; ``first`` is from the tube's datum end and
    ``pitch`` from screw to screw. ``across`` is from the datum edge of that face. ``pilot`` is the
    hole in the tube, ``clearance`` that in the infill (a slot's width) and ``slot`` the length of
    the longest slot over all [m], 0 where round holes do. ``fixed`` is the number of the one
    screw that holds the piece fast, counted from the datum end, 0 where the row has none.
    """

    key: str
    piece: str
    part: str
    mark: str
    hand: Hand
    face: FaceKey
    side: str
    first: Quantity
    pitch: Quantity
    count: int
    across: Quantity
    screw: Quantity
    pilot: Quantity
    clearance: Quantity
    slot: Metres
    fixed: int
    tool: str
    sheet_tool: str
    why: str


@dataclass(frozen=True, slots=True)
class Holes:
    """Every hole of a job, part by part.

    ``in_place`` are those drilled on site in what is not ours to lay out. ``order`` says in which
    order things are drilled, ``asks`` what is not known, ``cautions`` what can hurt.
    """

    parts: tuple[HoledPart, ...]
    plates: tuple[Plate, ...]
    in_place: tuple[InPlace, ...]
    screws: tuple[ScrewRow, ...]
    order: tuple[str, ...]
    words: tuple[str, ...]
    asks: tuple[str, ...]
    cautions: tuple[str, ...]
    checks: tuple[Check, ...]
    defaults: tuple[Quantity, ...]

    @property
    def every(self) -> tuple[Hole, ...]:
        """Return every hole of every tube, sleeve and plate."""
        of_parts = (hole for part in self.parts for hole in part.holes)
        return (*of_parts, *(hole for plate in self.plates for hole in plate.holes))
