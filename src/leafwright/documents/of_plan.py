"""A plan's survey and site, gathered into the documents that the commands tell."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from leafwright.chain import Quantity
from leafwright.documents.records import (
    AlignDocument,
    CutsDocument,
    DriftDocument,
    FitUpDocument,
    FloorOfLeaf,
    Heading,
    HolesDocument,
    LeafDrift,
    LeafFitUp,
    LeafHung,
    LeafStood,
    PackDocument,
    SeamsDocument,
    SiteDocument,
    StandDocument,
    SurveyDocument,
    SwingDocument,
)
from leafwright.documents.report import VERSION, shown_of
from leafwright.doorway import Doorway, LeafPlace
from leafwright.doorway.heel import heel_of
from leafwright.doorway.records import Side
from leafwright.doorway.swing import Swing
from leafwright.doorway.up import opens_to, sweep_of
from leafwright.gathered import quantities
from leafwright.job.model import Job
from leafwright.job.on_site import HungPlumb
from leafwright.job.steel import steel
from leafwright.job.store.records import LogEntry
from leafwright.job.tape import tape_of
from leafwright.pipeline import Plan
from leafwright.records import Check, Held, Stop
from leafwright.shop.cut_list import CutList
from leafwright.shop.pack import Pack
from leafwright.shop.sawn import idle
from leafwright.shop.seams import left, ticked
from leafwright.shop.seams.words import HOLD
from leafwright.site.as_built import Resplit
from leafwright.site.drift import Drift
from leafwright.site.fit_up import FitUp, fit_up_of
from leafwright.site.hung import Hung, hung
from leafwright.site.packers import Packing
from leafwright.site.pad_missing import IN_PLANE
from leafwright.site.pose import hung_leaf
from leafwright.site.questions import hand_stops
from leafwright.site.records import LeafOnSite, Site
from leafwright.site.stand_up import StandUp
from leafwright.survey import (
    HeadOver,
    Survey,
    at,
    floor_of,
    head_of,
    head_points,
    highest_floor,
    lowest_head,
)

#: Of what a maker would read of a leaf on the pad, so many tell its shape in its plane: four
#: sides, two diagonals, a string along either stile.
FIRST_READINGS = 8


def _heading(made: Plan) -> Heading:
    job = made.job.job
    return Heading(VERSION, job.name, job.seen_from, job.revision)


# ---------------------------------------------------------------- the survey


def survey_document(made: Plan) -> SurveyDocument:
    """Return what the readings of a plan say of the opening; of any plan, run up to anything."""
    found = made.survey
    floors, head = _floors(made), _head(made)
    defaults: dict[str, Quantity] = {}
    checks: tuple[Check, ...] = ()
    stops: tuple[Stop, ...] = tuple(s for s in made.stops if s.key == "held/opening")
    if isinstance(found, Survey):
        checks = found.checks
        stops = tuple(s for s in made.stops if s.key.startswith("survey/"))
        defaults = {q.key: q for q in found.defaults}
    for quantity in (*quantities(floors), *quantities(head)):
        if quantity.kind == "default" and not quantity.key.startswith(("assumed/", "survey/")):
            defaults.setdefault(quantity.key, quantity)
    return SurveyDocument(
        heading=_heading(made),
        survey=found,
        examined=made.examined,
        floors=floors,
        head=head,
        checks=checks,
        stops=stops,
        defaults=tuple(defaults),
        quantities=shown_of(tuple(defaults.values()), found, made.examined, floors, head),
    )


def survey_defaults(document: SurveyDocument) -> tuple[Quantity, ...]:
    """Return the defaults that a survey document names by key."""
    held: dict[str, Quantity] = {}
    if isinstance(document.survey, Survey):
        held = {q.key: q for q in document.survey.defaults}
    for quantity in (*quantities(document.floors), *quantities(document.head)):
        held.setdefault(quantity.key, quantity)
    return tuple(held[key] for key in document.defaults)


def _floors(made: Plan) -> tuple[FloorOfLeaf, ...] | Held:
    found, room, job = made.survey, made.doorway, made.job
    if not isinstance(found, Survey):
        return found
    if not isinstance(room, Doorway):
        return Held(
            f"where the leaves swing is not known, because {room.why}",
            room.needs or ("the doorway",),
        )
    material = steel(job)
    floors = []
    for place in room.leaves:
        table = next(table for table in job.leaf if table.hand == place.hand)
        heel = heel_of(material, table, place.key)
        sweep = sweep_of(
            heel, place.hand, place.hinge_edge.value, place.width.value, opens_to(job).value
        )
        arcs = floor_of(job, found, sweep).axis is not None
        under = highest_floor(job, found, sweep)
        floors.append(FloorOfLeaf(place.key, place.hand, sweep.axis, arcs, under))
    return tuple(floors)


def _head(made: Plan) -> HeadOver | Held | None:
    found, job = made.survey, made.job
    if not isinstance(found, Survey):
        return found
    if not job.opening.head:
        return None
    known = {mark.name for mark in found.marks}
    if not {"TL", "TR"} <= known:
        return Held("no reading reaches both top corners", ("a reading to TL and one to TR",))
    profile = head_of(found, system=job.job.system)
    across = [at(found, name).at[0] for name in head_points(found)]
    return lowest_head(profile, min(across), max(across))


# ---------------------------------------------------------------- the shop


def holes_document(made: Plan) -> HolesDocument:
    """Return every hole of a plan, with its checks and what stops the work."""
    found = made.holes
    keys = set() if isinstance(found, Held) else {check.key for check in found.checks}
    return HolesDocument(
        heading=_heading(made),
        for_cutting=made.for_cutting,
        holes=found,
        checks=tuple(check for check in made.checks if check.key in keys),
        stops=tuple(s for s in made.stops if s.key in keys or s.key.startswith("held/")),
        quantities=shown_of((), found),
    )


def cuts_document(made: Plan) -> CutsDocument:
    """Return the pieces of a plan and how each is cut, with what keeps them from being cut."""
    cuts = made.cuts
    checks: tuple[Check, ...] = ()
    unused: tuple[str, ...] = ()
    if isinstance(cuts, CutList):
        checks = cuts.checks
        ends = [end.cuts for item in cuts.items for end in (item.start, item.end)]
        unused = tuple(tool.name for tool in idle(ends, cuts.tools))
    return CutsDocument(
        heading=_heading(made),
        for_cutting=made.for_cutting,
        cuts=cuts,
        order=made.order,
        idle=unused,
        checks=checks,
        stops=made.stops,
        quantities=shown_of((), cuts, made.order),
    )


# ---------------------------------------------------------------- what to buy and pack


def pack_document(made: Plan) -> PackDocument:
    """Return what to buy and what to take along for a plan, with the checks of its power."""
    keys = {check.key for check in made.pack.checks} if isinstance(made.pack, Pack) else set()
    return PackDocument(
        heading=_heading(made),
        pack=made.pack,
        checks=tuple(check for check in made.checks if check.key in keys),
        stops=_begins(made),
        defaults=shown_of(made.pack.defaults) if isinstance(made.pack, Pack) else (),
    )


# ---------------------------------------------------------------- the site


def _there(made: Plan) -> tuple[tuple[LeafPlace, LeafOnSite], ...] | Held:
    """Return the leaves on site in their places, or why they are not worked out."""
    if not isinstance(made.site, Site):
        return made.site
    if not isinstance(made.doorway, Doorway):
        return made.doorway
    places = {place.key: place for place in made.doorway.leaves}
    if not made.site.leaves:
        held = next((leaf for leaf in made.leaves if isinstance(leaf, Held)), None)
        return held or Held("no leaf is designed", ("a leaf that can be built",))
    return tuple((places[one.key], one) for one in made.site.leaves)


def _checks_of(parts: Iterable[object]) -> tuple[Check, ...]:
    found: list[Check] = []
    for part in parts:
        if isinstance(part, Swing | StandUp | Drift | FitUp | Packing | Hung | Resplit):
            found += part.checks
    return tuple(found)


def _begins(made: Plan, *endings: str) -> tuple[Stop, ...]:
    """Return the stops of a plan that all work on site rests on, and some others.

    Args:
        made: the plan.
        endings: how the keys of others end.
    """
    first = ("held/", "survey/")
    return tuple(s for s in made.stops if s.key.startswith(first) or s.key.endswith(endings))


def swing_document(made: Plan) -> SwingDocument:
    """Return how the leaves of a plan swing, and where their gaps go."""
    swing: Swing | Held = made.site.swing if isinstance(made.site, Site) else made.site
    room = made.doorway
    budgets = room.budgets if isinstance(room, Doorway) else room
    keys = {check.key for check in swing.checks} if isinstance(swing, Swing) else set()
    return SwingDocument(
        heading=_heading(made),
        swing=swing,
        budgets=budgets,
        checks=_checks_of((swing,)),
        stops=(*_begins(made), *(s for s in made.stops if s.key in keys)),
        quantities=shown_of((), budgets),
    )


def stand_document(made: Plan) -> StandDocument:
    """Return how the leaves of a plan are got onto their pins."""
    there = _there(made)
    crew = made.job.site.people or made.job.job.crew
    leaves: tuple[LeafStood, ...] | Held = (
        there
        if isinstance(there, Held)
        else tuple(
            LeafStood(one.key, one.hand, crew, one.hanging, one.tilt_in, one.stand_up)
            for _, one in there
        )
    )
    parts = () if isinstance(leaves, Held) else tuple(leaf.stand_up for leaf in leaves)
    stops = _begins(made, "/tilt in", "/hanging")
    if not isinstance(there, Held):
        stops = (*stops, *(stop for _, one in there for stop in hand_stops(one)))
    usual = shown_of(made.site.defaults) if isinstance(made.site, Site) else ()
    return StandDocument(_heading(made), leaves, _checks_of(parts), stops, usual)


def drift_document(made: Plan) -> DriftDocument:
    """Return whether the leaves of a plan stay where they are left, and how hard they push."""
    there = _there(made)
    leaves: tuple[LeafDrift, ...] | Held = (
        there
        if isinstance(there, Held)
        else tuple(
            LeafDrift(one.key, one.hand, one.drift, _lean_read(made.job, one.hand), one.let_go)
            for _, one in there
        )
    )
    parts = () if isinstance(leaves, Held) else tuple(leaf.drift for leaf in leaves)
    return DriftDocument(_heading(made), leaves, _checks_of(parts), _begins(made))


def _lean_read(job: Job, hand: Side) -> bool:
    """Return whether a plumb line was read at a leaf's axis."""
    of_leaf = hand if len(job.leaf) == 2 else None
    return any(
        isinstance(reading, HungPlumb) and not reading.set_aside and reading.leaf in (hand, of_leaf)
        for reading in job.hung
    )


def fit_up_document(made: Plan) -> FitUpDocument:
    """Return the shapes of the leaves of a plan on the pad, or what to read of them."""
    there = _there(made)
    if isinstance(there, Held):
        return FitUpDocument(_heading(made), there, (), _begins(made))
    leaves = []
    for place, one in there:
        nothing = one.tacked is None and one.welded is None
        leaves.append(
            LeafFitUp(
                key=one.key,
                hand=one.hand,
                width=place.on_sheet.value,
                height=place.height_on_sheet.value,
                tacked=one.tacked,
                welded=one.welded,
                as_built=one.as_built,
                packing=one.packing,
                to_take=tuple(r.words for r in IN_PLANE[:FIRST_READINGS]) if nothing else (),
                untold=fit_up_of(place, (), tape=tape_of(made.job)).missing if nothing else (),
            )
        )
    parts = [part for leaf in leaves for part in (leaf.packing, leaf.tacked, leaf.welded)]
    stops = _begins(made, "/as made")
    return FitUpDocument(_heading(made), tuple(leaves), _checks_of(parts), stops)


def align_document(made: Plan) -> AlignDocument:
    """Return how the leaves of a plan hang and what to move, or what to read of them."""
    there = _there(made)
    if isinstance(there, Held):
        return AlignDocument(_heading(made), there, None, (), _begins(made))
    tape = tape_of(made.job)
    leaves = tuple(
        LeafHung(
            key=one.key,
            hand=one.hand,
            heel_gap=place.heel_gap.value,
            height=place.height.value,
            hung=one.hung,
            untold=hung(hung_leaf(place), (), tape=tape).missing if one.hung is None else (),
        )
        for place, one in there
    )
    split = made.site.resplit if isinstance(made.site, Site) else None
    own = [s for leaf in leaves if isinstance(leaf.hung, Hung) for s in leaf.hung.stops]
    return AlignDocument(
        heading=_heading(made),
        leaves=leaves,
        resplit=split,
        checks=_checks_of((*(leaf.hung for leaf in leaves), split)),
        stops=(*_begins(made, "/as made"), *own),
    )


def site_document(made: Plan) -> SiteDocument:
    """Return all of the site stage of a plan."""
    parts = (
        swing_document(made),
        stand_document(made),
        drift_document(made),
        fit_up_document(made),
        align_document(made),
    )
    swing, stand, drift, fit_up, align = parts
    stops = {stop: None for part in parts for stop in part.stops}
    return SiteDocument(
        heading=_heading(made),
        swing=swing,
        stand=stand,
        drift=drift,
        fit_up=fit_up,
        align=align,
        checks=tuple(check for part in parts for check in part.checks),
        stops=tuple(stops),
    )


def seams_document(made: Plan, log: Sequence[LogEntry] | None = None) -> SeamsDocument:
    """Return every seam of a plan, numbered, and what is not welded yet by a job's log.

    Args:
        made: the plan.
        log: the job's log; None where the job is a bare file.
    """
    seams, ticks, open_now = made.seams, None, None
    if not isinstance(seams, Held) and log is not None:
        ticks = ticked([seam for leaf in seams.leaves for seam in leaf.every], log)
        open_now = left(seams, log)
    return SeamsDocument(
        heading=_heading(made),
        seams=seams,
        ticks=ticks,
        left=open_now,
        hold=HOLD,
        checks=tuple(check for check in made.checks if _of_welds(check)),
        stops=made.stops,
    )


def _of_welds(check: Check) -> bool:
    """Return whether a check asks about a weld."""
    asked = f"{check.key} {check.question}"
    return any(word in asked for word in ("weld", "seam", "fillet", "plug"))
