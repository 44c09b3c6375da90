"""What the survey and site commands tell: parts of a plan, each gathered in one record.

The commands' text and their JSON are both made from these, so that they tell the same. Each has a
JSON schema of its own. `of_plan` makes them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from leafwright.documents.report import ShownQuantity, as_json, schema_for
from leafwright.doorway.budget import GapBudget
from leafwright.doorway.records import Side
from leafwright.doorway.swing import Swing
from leafwright.records import Check, Held, Metres, Number, Point3, Stop
from leafwright.shop.cut_list import CutList
from leafwright.shop.cut_order import CutOrder
from leafwright.shop.holes.records import Holes
from leafwright.shop.pack import Pack
from leafwright.shop.seams import Left, Seams, SeamTick
from leafwright.shop.stock import Stock
from leafwright.shop.weld_order import WeldOrder
from leafwright.shop.what_if import WhatIf
from leafwright.site.as_built import AsBuilt, Resplit
from leafwright.site.drift import Drift
from leafwright.site.fit_up import FitUp
from leafwright.site.hung import Hung
from leafwright.site.method import Hanging
from leafwright.site.packers import Packing
from leafwright.site.stand_up import StandUp
from leafwright.site.tilt_in import TiltIn
from leafwright.survey import FloorUnder, HeadOver, Survey
from leafwright.survey.examine import Examined


@dataclass(frozen=True, slots=True)
class Heading:
    """Whose document it is."""

    version: str
    job: str
    seen_from: str
    revision: str


@dataclass(frozen=True, slots=True)
class Group:
    """Checks that belong together: of a stage, or of one link of a leaf's load path.

    ``leaf`` is the leaf's key, or "" for the doorway as a whole; ``link`` names the link of its
    mount, or is ""; ``words`` says what came out, ``assumptions`` what is taken for granted,
    ``cautions`` what can hurt.
    """

    title: str
    leaf: str
    link: str
    checks: tuple[Check, ...]
    words: tuple[str, ...] = ()
    assumptions: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class CalculationDocument:
    """What ``leafwright prove --json`` prints: every check, with the formulas behind it."""

    heading: Heading
    basis: str
    for_cutting: bool
    groups: tuple[Group, ...]
    defaults: tuple[ShownQuantity, ...]


@dataclass(frozen=True, slots=True)
class CutsDocument:
    """What ``leafwright cuts --json`` prints: every piece, and how each of its cuts is made."""

    heading: Heading
    for_cutting: bool
    cuts: CutList | Held
    order: CutOrder | Held
    idle: tuple[str, ...]
    checks: tuple[Check, ...]
    stops: tuple[Stop, ...]
    quantities: tuple[ShownQuantity, ...]


@dataclass(frozen=True, slots=True)
class HolesDocument:
    """What ``leafwright holes --json`` prints: every hole of every part, and the plates."""

    heading: Heading
    for_cutting: bool
    holes: Holes | Held
    checks: tuple[Check, ...]
    stops: tuple[Stop, ...]
    quantities: tuple[ShownQuantity, ...]


@dataclass(frozen=True, slots=True)
class NestDocument:
    """What ``leafwright nest --json`` prints: the sticks to buy, and what is cut from each.

    ``cost`` is what all of it costs in ``currency``, None where some stick has no price.
    ``what_if`` answers the question that was asked, None without one.
    """

    heading: Heading
    currency: str
    cost: Number | None
    stock: Stock | Held
    what_if: WhatIf | None
    straight_rule: str
    checks: tuple[Check, ...]
    stops: tuple[Stop, ...]
    defaults: tuple[ShownQuantity, ...]


@dataclass(frozen=True, slots=True)
class FloorOfLeaf:
    """The floor under one leaf's swing, from its axis at x = ``axis`` [m].

    ``along_swing`` is whether it was read by the distance from there alone: a place is then the
    whole arc at that distance.
    """

    key: str
    hand: Side
    axis: Metres
    along_swing: bool
    under: FloorUnder


@dataclass(frozen=True, slots=True)
class SurveyDocument:
    """What ``leafwright survey --json`` prints: the opening as found, and how sure that is.

    ``head`` is None for an opening that is open above. Quantities stand by key: see
    ``quantities``.
    """

    heading: Heading
    survey: Survey | Held
    examined: Examined | Held
    floors: tuple[FloorOfLeaf, ...] | Held
    head: HeadOver | Held | None
    checks: tuple[Check, ...]
    stops: tuple[Stop, ...]
    defaults: tuple[str, ...]
    quantities: tuple[ShownQuantity, ...]


@dataclass(frozen=True, slots=True)
class SwingDocument:
    """What ``leafwright site swing --json`` prints: how the leaves clear what is round them."""

    heading: Heading
    swing: Swing | Held
    budgets: tuple[GapBudget, ...] | Held
    checks: tuple[Check, ...]
    stops: tuple[Stop, ...]
    quantities: tuple[ShownQuantity, ...]


@dataclass(frozen=True, slots=True)
class LeafStood:
    """How one leaf is brought in and stood up, and by how many people."""

    key: str
    hand: Side
    crew: int
    hanging: Hanging | Held
    tilt_in: TiltIn | Held
    stand_up: StandUp


@dataclass(frozen=True, slots=True)
class StandDocument:
    """What ``leafwright site stand --json`` prints: getting each leaf onto its pins."""

    heading: Heading
    leaves: tuple[LeafStood, ...] | Held
    checks: tuple[Check, ...]
    stops: tuple[Stop, ...]
    defaults: tuple[ShownQuantity, ...]


@dataclass(frozen=True, slots=True)
class LeafDrift:
    """Whether one leaf swings by itself; ``lean_read`` is whether its axis was read for plumb."""

    key: str
    hand: Side
    drift: Drift | Held
    lean_read: bool
    let_go: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class DriftDocument:
    """What ``leafwright site drift --json`` prints: whether the leaves stay where they are left."""

    heading: Heading
    leaves: tuple[LeafDrift, ...] | Held
    checks: tuple[Check, ...]
    stops: tuple[Stop, ...]


@dataclass(frozen=True, slots=True)
class LeafFitUp:
    """One leaf on the pad.

    ``width`` and ``height`` are as on its sheet [m]. Where nothing was read of it yet ``to_take``
    are the readings to take first, and ``untold`` what nothing tells so far.
    """

    key: str
    hand: Side
    width: Metres
    height: Metres
    tacked: FitUp | Held | None
    welded: FitUp | Held | None
    as_built: AsBuilt | None
    packing: Packing | Held | None
    to_take: tuple[str, ...]
    untold: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FitUpDocument:
    """What ``leafwright site fit-up --json`` prints: each leaf's shape, and what to push."""

    heading: Heading
    leaves: tuple[LeafFitUp, ...] | Held
    checks: tuple[Check, ...]
    stops: tuple[Stop, ...]


@dataclass(frozen=True, slots=True)
class LeafHung:
    """One leaf as it hangs: None where nothing was read; ``untold`` is what nothing tells then.

    ``heel_gap`` is the gap planned at its heel [m], and ``height`` the leaf's [m].
    """

    key: str
    hand: Side
    heel_gap: Metres
    height: Metres
    hung: Hung | Held | None
    untold: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class AlignDocument:
    """What ``leafwright site align --json`` prints: how the leaves hang, and what to move.

    ``resplit`` is the width of the second leaf once the first is made.
    """

    heading: Heading
    leaves: tuple[LeafHung, ...] | Held
    resplit: Resplit | Held | None
    checks: tuple[Check, ...]
    stops: tuple[Stop, ...]


@dataclass(frozen=True, slots=True)
class SiteDocument:
    """What ``leafwright site --json`` prints: all of the site stage."""

    heading: Heading
    swing: SwingDocument
    stand: StandDocument
    drift: DriftDocument
    fit_up: FitUpDocument
    align: AlignDocument
    checks: tuple[Check, ...]
    stops: tuple[Stop, ...]


@dataclass(frozen=True, slots=True)
class ToDo:
    """One step of welding a leaf, in words.

    ``kind`` is ``bench``, ``tack``, ``check``, ``lap``, ``weld``, ``cool``, ``fit`` or ``turn``;
    ``up`` the side of the leaf that is up. A weld has the ``seam``'s key, the ``mark`` that it has
    on the map of the seams, and its ``number`` in this order, 0 for that of a splice or a lap;
    ``at`` is its middle in leaf axes [m].
    """

    kind: str
    up: str
    number: int
    seam: str
    mark: str
    at: Point3
    words: str


@dataclass(frozen=True, slots=True)
class LeafWelded:
    """The order of welding of one leaf: what was found, and what to do, step by step.

    ``tacks`` says joint by joint how it is tacked; ``found`` how good the order is and what is not
    known of it; ``left`` what it leaves.
    """

    key: str
    hand: Side
    order: WeldOrder | Held
    tacks: tuple[str, ...]
    steps: tuple[ToDo, ...]
    found: tuple[str, ...]
    left: tuple[str, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WeldOrderDocument:
    """What ``leafwright seams --order --json`` prints: in what order each leaf is welded.

    Shares are of what the plain order leaves, corner by corner round the leaf. No length is given.
    """

    heading: Heading
    leaves: tuple[LeafWelded, ...] | Held
    stops: tuple[Stop, ...]


@dataclass(frozen=True, slots=True)
class SeamsDocument:
    """What ``leafwright seams --json`` prints: every seam, numbered, and what is not welded yet.

    ``ticks`` are the states by the job's log, None for a bare job file, which has none; ``left``
    stands in the order of the leaves.
    """

    heading: Heading
    seams: Seams | Held
    ticks: tuple[SeamTick, ...] | None
    left: tuple[Left, ...] | None
    hold: str
    checks: tuple[Check, ...]
    stops: tuple[Stop, ...]


@dataclass(frozen=True, slots=True)
class PackDocument:
    """What ``leafwright pack --json`` prints: what to buy and what to take along."""

    heading: Heading
    pack: Pack | Held
    checks: tuple[Check, ...]
    stops: tuple[Stop, ...]
    defaults: tuple[ShownQuantity, ...]


Document = (
    CalculationDocument
    | CutsDocument
    | WeldOrderDocument
    | HolesDocument
    | SeamsDocument
    | NestDocument
    | SurveyDocument
    | SwingDocument
    | StandDocument
    | DriftDocument
    | FitUpDocument
    | AlignDocument
    | SiteDocument
    | PackDocument
)


# ---------------------------------------------------------------- JSON

#: Every document by the name that the command line knows it by, with its title.
DOCUMENTS: dict[str, tuple[type, str]] = {
    "prove": (CalculationDocument, "The calculation"),
    "holes": (HolesDocument, "The holes and plates"),
    "cuts": (CutsDocument, "The cut list and how each cut is made"),
    "nest": (NestDocument, "The sticks to buy and cut"),
    "pack": (PackDocument, "What to buy and pack"),
    "survey": (SurveyDocument, "The opening as found"),
    "site": (SiteDocument, "The leaves on site"),
    "swing": (SwingDocument, "How the leaves swing"),
    "stand": (StandDocument, "How the leaves are stood up"),
    "drift": (DriftDocument, "Whether the leaves stay where they are left"),
    "fit-up": (FitUpDocument, "The leaves on the pad"),
    "weld-order": (WeldOrderDocument, "The order of welding"),
    "align": (AlignDocument, "The leaves as they hang"),
    "seams": (SeamsDocument, "The seams"),
}


def document_json(document: Document) -> Any:
    """Return a document as plain JSON data, by the schema of `document_schema`."""
    return as_json(document)


def document_schema(name: str) -> dict[str, Any]:
    """Return the JSON schema (draft 2020-12) of the document of a name in `DOCUMENTS`."""
    kind, title = DOCUMENTS[name]
    return schema_for(kind, title)
