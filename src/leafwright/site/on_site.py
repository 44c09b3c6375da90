"""The site stage: leaves brought in, stood up, hung, read on site and put right."""

from __future__ import annotations

import math
from dataclasses import replace

from leafwright.doorway import Doorway, LeafPlace
from leafwright.doorway.heel import leaf_words
from leafwright.doorway.swing import Swing
from leafwright.handbook.contact import sphere_on_plane
from leafwright.handbook.friction import (
    ball_friction_radius,
    collar_friction_radius,
    flat_friction_radius,
)
from leafwright.job.model import BarrelHinge, Job, LeafTable
from leafwright.job.steel import Steel
from leafwright.job.tape import tape_of
from leafwright.leaf import Leaf
from leafwright.records import Check, Held, Verdict
from leafwright.site import taken
from leafwright.site.as_built import OpeningWidth, PairGaps, Resplit, resplit
from leafwright.site.brought_in import hanging_of
from leafwright.site.drift import Drift, drift, swinging_leaf
from leafwright.site.fit_up import FitUp, fit_up_of
from leafwright.site.hung import Hung
from leafwright.site.hung_job import hinges_of, hung_of_job
from leafwright.site.in_doorway import table_of
from leafwright.site.made import built_of, height_words
from leafwright.site.packers import Packing, packers
from leafwright.site.pad import PadReading
from leafwright.site.pose import planned_gap
from leafwright.site.questions import asked_once, not_looked_at, site_stops
from leafwright.site.records import LeafOnSite, Site
from leafwright.site.stand_up import Crew, StandUp, stand_up, standing
from leafwright.site.swinging import (
    AxisLean,
    Bearings,
    Stay,
    SwingingLeaf,
    gravity_torque,
)
from leafwright.site.tilt_in import TiltIn
from leafwright.site.wished import Wished, defaults_used, wished_of
from leafwright.survey import Survey
from leafwright.units import Tape, show_angle, show_length

#: Thicknesses of packers that lie on the bench [m], in inch and in metric jobs (common practice,
#: no source).
PACKERS = {
    "feet-inch": tuple(n * 0.0254 / 16 for n in (1, 2, 4, 8, 16)),
    "metric": (0.001, 0.002, 0.003, 0.005, 0.010, 0.020),
}


def on_site(
    job: Job,
    found: Survey,
    room: Doorway,
    leaves: tuple[Leaf | Held, ...],
    material: Steel,
    *,
    tape: Tape,
    swings: Swing,
    tilts: tuple[TiltIn | Held, ...],
) -> Site:
    """Return everything of the leaves on site.

    Args:
        job: the maker's wishes and the readings taken on site.
        found: the adjusted opening.
        room: where the leaves stand.
        leaves: the leaves as designed, as many as the doorway has.
        material: sections of the job.
        tape: the maker's tape, for the words.
        swings: what `swing_of` returned.
        tilts: of each leaf, what `tilt_in_of` returned.
    """
    wished = wished_of(job)
    hangs = hung_of_job(job, found, room, wished, swings, tape=tape)
    on = tuple(
        _leaf_on_site(job, room, place, leaf, wished, tape, hangs[place.key], tilt)
        for place, leaf, tilt in zip(room.leaves, leaves, tilts, strict=True)
        if isinstance(leaf, Leaf)
    )
    checks: list[Check] = [*swings.checks]
    checks += asked_once(on)
    checks += not_looked_at(on)
    for one in on:
        own = [c for c in one.stand_up.checks if c.verdict is not Verdict.ASK]
        for part in (one.drift, one.packing, one.tacked, one.welded, one.hung):
            if isinstance(part, Drift | Packing | FitUp | Hung):
                # What was not read yet is listed with the readings, and is no question to others.
                own += [c for c in part.checks if c.demand is not None]
        # Two leaves have the same questions asked of them.
        who = "" if len(on) == 1 else f"{leaf_words(one.key)}: "
        checks += [replace(check, subject=f"{who}{check.subject}") for check in own]
    split = _resplit(room, on, tape)
    if isinstance(split, Resplit):
        checks += split.checks
    return Site(
        swing=swings,
        leaves=on,
        resplit=split,
        checks=tuple(checks),
        stops=site_stops(swings, on),
        wished=wished,
        defaults=(*defaults_used(job, wished), *taken.defaults(job)),
    )


def _leaf_on_site(
    job: Job,
    room: Doorway,
    place: LeafPlace,
    leaf: Leaf,
    wished: Wished,
    tape: Tape,
    hangs: Hung | Held | None,
    tilt: TiltIn | Held,
) -> LeafOnSite:
    table = table_of(job, place)
    swinging = _swinging(place, table, leaf)
    drifts = _drift(job, place, table, swinging, wished, tape)
    tacked = taken.fit_up_of(job, place.hand, "tacked")
    welded = taken.fit_up_of(job, place.hand, "welded")
    points = taken.floor_points(job, (*tacked, *welded))
    made: Packing | Held | None = None
    if points:
        try:
            made = packers(
                points,
                PACKERS[job.job.system],
                tape=tape,
                near_enough=wished.off_plane.value,
            )
        except ValueError as error:
            made = Held(str(error), ("floor points that can be packed",))
    return LeafOnSite(
        key=place.key,
        hand=place.hand,
        hanging=hanging_of(job, room, place, table, wished),
        tilt_in=tilt,
        stand_up=_stand_up(job, leaf, tilt, wished),
        drift=drifts,
        let_go=_let_go(job, place, swinging, drifts),
        packing=made,
        tacked=_fit_up(place, taken.pad_readings(job, tacked), wished, tape),
        welded=_fit_up(place, taken.pad_readings(job, welded), wished, tape),
        as_built=built_of(job, place),
        hung=hangs,
    )


def _fit_up(
    place: LeafPlace, readings: tuple[PadReading, ...], wished: Wished, tape: Tape
) -> FitUp | Held | None:
    if not readings:
        return None
    try:
        return fit_up_of(place, readings, tape=tape, limits=wished.limits())
    except ValueError as error:
        return Held(str(error), ("the reading taken again",))


def _swinging(place: LeafPlace, table: LeafTable, leaf: Leaf) -> SwingingLeaf:
    hinges = hinges_of(table)
    spacing = None if hinges is None else hinges[1] - hinges[0]
    return swinging_leaf(place, leaf, pin_spacing=spacing)


def _bearings(table: LeafTable, weight: float) -> Bearings | Held:
    """Return where a leaf rubs, or which size of its mount is not known."""
    mount = table.mount
    if mount.pin_diameter is None:
        return Held("how hard its pins rub is not known", ("pin_diameter of the mount",))
    radius = mount.pin_diameter.si / 2
    if isinstance(mount, BarrelHinge):
        # The barrel's end is taken as wide as twice the pin (common practice, no source).
        return Bearings(radius, radius, collar_friction_radius(2 * radius, radius))
    if mount.ball_diameter is None:
        return Bearings(radius, radius, flat_friction_radius(radius))
    seated = sphere_on_plane(weight, mount.ball_diameter.si / 2)
    return Bearings(radius, radius, ball_friction_radius(seated.radius))


def _drift(
    job: Job,
    place: LeafPlace,
    table: LeafTable,
    leaf: SwingingLeaf,
    wished: Wished,
    tape: Tape,
) -> Drift | Held:
    bearings = _bearings(table, leaf.weight)
    if isinstance(bearings, Held):
        return bearings
    lean = taken.read_lean(job, place.hand, leaf.pin_spacing) or AxisLean(0.0, 0.0)
    friction = (wished.least_friction.value, wished.most_friction.value)
    found = drift(leaf, lean, bearings, tape=tape, friction=friction)
    unread = taken.unread_plumbs(job, place.hand)
    if not unread:
        return found
    # What nobody has read is not plumb: only a lean that was read may fail, none may pass.
    failed = (
        tuple(c for c in found.checks if c.verdict is not Verdict.OK) if lean.x or lean.z else ()
    )
    said = f"Not read yet: how far its axis is off plumb {' and '.join(unread)}."
    return replace(found, checks=failed, words=(said, *found.words))


def _let_go(
    job: Job, place: LeafPlace, leaf: SwingingLeaf, drifts: Drift | Held
) -> tuple[str, ...]:
    """Return what was tried, beside what the lean that was read foretells, and which way."""
    said = []
    lean = taken.read_lean(job, place.hand, leaf.pin_spacing) or AxisLean(0.0, 0.0)
    for tried in taken.let_go(job, place.hand, place.swing):
        at = show_angle(abs(tried.opening), decimals=0)
        seen = (
            f"let go at {at} it stayed"
            if tried.rests is None
            else f"let go at {at} it came to rest at {show_angle(abs(tried.rests), decimals=0)}"
        )
        if isinstance(drifts, Drift):
            seen += f"; {_beside(drifts, leaf, lean, tried)}"
        said.append(seen)
    return tuple(said)


def _beside(drifts: Drift, leaf: SwingingLeaf, lean: AxisLean, tried: taken.LetGo) -> str:
    """Return what the lean that was read foretells of a trial, and what to do where it differs."""
    easy = _stays(drifts.stays_easy, tried.opening)
    stiff = _stays(drifts.stays_stiff, tried.opening)
    toward = float(gravity_torque(leaf, lean, tried.opening)) > 0.0
    way = _way(toward, tried.opening)
    foretold = (
        "it stays there"
        if easy
        else f"it moves {way}"
        if not stiff
        else f"it may stay or move {way}"
    )
    told = f"by the lean that was read {foretold}"
    if tried.rests is None:
        return told if stiff else f"{told}: plumb the axis again, or look what binds it"
    if easy:
        return f"{told}: plumb the axis again, or look what pushes it"
    if (tried.rests > tried.opening) is not toward:
        return (
            f"{told}, and it went the other way: the plumb line may be written to the wrong side. "
            "Read it again, and which way the upper pin is off"
        )
    if not _stays(drifts.stays_stiff, tried.rests):
        return f"{told}, and on past where it came to rest: look what binds it there"
    return told


def _way(toward: bool, opening: float) -> str:
    """Return which way a leaf moves from an opening, in words."""
    if abs(opening) < math.radians(0.5):
        return "toward you" if toward else "away from you"
    return "open" if toward is (opening > 0.0) else "shut"


def _stays(stays: tuple[Stay, ...], opening: float) -> bool:
    return any(s.from_ - 1e-9 <= opening <= s.to + 1e-9 for s in stays)


def _stand_up(job: Job, leaf: Leaf, tilt: TiltIn | Held, wished: Wished) -> StandUp:
    """Return what standing the leaf up asks of the crew; a hoist takes the hands' part of it."""
    side = tilt.best.side if isinstance(tilt, TiltIn) else "toward"
    crew = Crew(
        people=job.site.people or job.job.crew,
        reach=wished.hand_height.value,
        friction=wished.floor_friction.value,
        system="metric" if job.job.system == "metric" else "US",
    )
    found = stand_up(standing(leaf, side == "toward"), crew, keep_out=wished.keep_out.value)
    kept = [_as_asked(job, c) for c in found.checks if _kept(job, c)]
    if found.slides:
        slides = (
            f"Unless its foot is chocked it slides: it needs a friction of {found.friction:.2f}, "
            f"and this floor gives {crew.friction:.2f}."
        )
        found = replace(found, cautions=(slides, *found.cautions))
    if job.site.lift in ("hoist", "lift truck"):
        found = replace(found, cautions=(*found.cautions, _pick_words(job, leaf)))
    # One question, how it is lifted, and not one for each way in which hands fail.
    told = tuple(
        c
        for c in kept
        if c.verdict is not Verdict.ASK or c.key.rpartition("/")[2] in ("walk up", "foot")
    )
    return replace(found, checks=told)


def _pick_words(job: Job, leaf: Leaf) -> str:
    """Return where a leaf is picked up, and the cautions of any lift."""
    tape = tape_of(job)
    inset = leaf.centre[0] if leaf.hand == "left" else leaf.width - leaf.centre[0]
    return (
        "Pick it where the hook hangs plumb over its centre of gravity: at its top edge, "
        f"{show_length(inset, tape)} in from its hinge edge (the centre is "
        f"{show_length(leaf.centre[1], tape)} up; a lift that holds it lower than that lets it tip "
        "over). Rigging that is rated and cannot slide, ropes to steady it, a trial lift of an "
        "inch, nobody under it, and a lift plan by whoever is qualified to make one."
    )


def _kept(job: Job, check: Check) -> bool:
    """Return whether a check of the hands counts: not where a hoist or a truck takes the leaf."""
    return job.site.lift in ("by hand", "unknown") or check.key.endswith("/foot")


def _as_asked(job: Job, check: Check) -> Check:
    """Return a check of standing up with its verdict as the maker has to take it.

    A foot that slides is asked to be chocked. Until it is said how the leaf is lifted, what hands
    cannot do is asked.
    """
    if check.verdict is not Verdict.SHORT:
        return check
    if check.key.endswith("/foot"):
        return replace(check, verdict=Verdict.ASK)
    if job.site.lift == "by hand":
        return check
    change = f'{check.change}; or say lift = "hoist" in [site]'
    return replace(check, verdict=Verdict.ASK, change=change)


def _resplit(room: Doorway, leaves: tuple[LeafOnSite, ...], tape: Tape) -> Resplit | Held | None:
    """Return the width of the leaf of a pair that is not made yet, once the other one is."""
    if len(room.leaves) != 2 or len(leaves) != 2:
        return None
    made = [one for one in leaves if one.as_built is not None]
    if len(made) != 1 or made[0].as_built is None or room.as_made is None:
        return None
    first, sizes = made[0], made[0].as_built
    places = {place.key: place for place in room.leaves}
    other = next(place for place in room.leaves if place.key != first.key)
    own = places[first.key]
    hung_gap = next(gap for gap in room.gaps if gap.key.endswith("as hung"))
    least = next(
        (sum(s.amount for s in b.shares) for b in room.budgets if b.gap.key.endswith("as hung")),
        0.0,
    )
    meeting = planned_gap(room, own, "closing")
    width = abs(other.hinge_edge.value - own.hinge_edge.value)
    width += own.heel_gap.value + other.heel_gap.value
    height = own.height_on_sheet.value
    opening = [OpeningWidth(share * height, width, hung_gap.sd) for share in (0.0, 0.5, 1.0)]
    gaps = PairGaps(own.heel_gap.value, meeting or 0.0, other.heel_gap.value)
    split = resplit(
        opening,
        sizes,
        gaps,
        tape=tape,
        least_meeting=least,
        planned=dict(room.as_made.before)[other.hand].value,
        now=other.width.value,
        second=leaf_words(other.key),
    )
    if isinstance(split, Held):
        return split
    high = tuple(f"{w[0].upper()}{w[1:]}." for w in height_words(room, other, tape=tape))
    return replace(split, words=(*split.words, *high))
