"""The erector's sheet: cautions first, what the leaf weighs and asks, and how it goes up and in."""

from __future__ import annotations

import math
from collections.abc import Sequence

from leafwright.doorway import Doorway, LeafPlace
from leafwright.leaf import Leaf
from leafwright.paper.graph import Axis, Curve, Level, graph
from leafwright.paper.layout import Caution, Column, Table
from leafwright.paper.scene import Box, Primitive
from leafwright.paper.sheet import Sheet
from leafwright.paper.sheets.common import Desk, as_noted, blank, title_of_leaf
from leafwright.paper.sheets.flow import (
    Block,
    Boxed,
    Drawn,
    Figures,
    Listed,
    Picture,
    Rows,
    Says,
    Title,
    in_columns,
)
from leafwright.paper.sheets.leaf import leaf_parts
from leafwright.paper.sheets.side_view import path_drawing, shown_poses, walk_up_drawing
from leafwright.records import Held, Verdict
from leafwright.say import Words, sentence
from leafwright.site.pose import planned_gap
from leafwright.site.records import LeafOnSite, Site
from leafwright.site.stand_up import StandUp
from leafwright.site.tilt_in import NotDecided, Obstructed, PosePath, TiltIn
from leafwright.site.wished import wished_of
from leafwright.site.wording import is_a_mark
from leafwright.units import show_angle
from leafwright.units.constants import POUND_FORCE

VIEW_MM = 106.0
CURVE_MM = 44.0


def _degrees(angle: float) -> str:
    return show_angle(angle, decimals=0)


def _by_hand(at: Desk) -> bool:
    """Return whether hands may have to do it: no hoist or truck is said to take the leaf."""
    return at.plan.job.site.lift in ("by hand", "unknown")


def _hands_will_do(at: Desk, up: StandUp) -> bool:
    """Return whether the crew is enough to walk the leaf up."""
    job = at.plan.job
    return up.to_walk_up is not None and up.to_walk_up <= (job.site.people or job.job.crew)


def _needing(held: Held) -> str:
    needs = f" It needs {'; '.join(held.needs)}." if held.needs else ""
    return f"{sentence(held.why)}.{needs}"


def _refusals(one: LeafOnSite) -> list[Block]:
    """Return a stop for everything that keeps this leaf from being stood up or hung."""
    said: list[tuple[str, str]] = []
    tilt, hanging = one.tilt_in, one.hanging
    if isinstance(tilt, TiltIn) and isinstance(tilt.best, Obstructed):
        bars = ", ".join(tilt.best.blocks)
        why = f"{sentence(tilt.best.why)}. In the way: {bars}."
        said.append(("STOP: it CANNOT be stood up under what is over it", why))
    if isinstance(tilt, TiltIn) and isinstance(tilt.best, NotDecided):
        why = f"{sentence(tilt.best.why)}. Do not try it with the leaf itself."
        said.append(("STOP: NOT DECIDED whether it goes in under the head", why))
    if isinstance(tilt, Held) and tilt.needs:
        said.append(("STOP: the way in is NOT WORKED OUT", _needing(tilt)))
    if isinstance(hanging, Held) and not (isinstance(tilt, Held) and tilt.why == hanging.why):
        said.append(("STOP: how it gets onto its pins is NOT WORKED OUT", _needing(hanging)))
    if not isinstance(hanging, Held) and hanging.best is None:
        reasons = dict.fromkeys(r for m in hanging.methods for r in m.reasons)
        why = sentence("; ".join(reasons)) + "."
        said.append(("STOP: it CANNOT be got onto its pins", why))
    no = [
        f"– {sentence(check.question.rstrip('?'))}? No: {check.change}."
        for check in one.stand_up.checks
        if check.verdict is Verdict.SHORT
    ]
    if no:
        said.append(("STOP: NOT BY HAND, with this crew", "\n".join(no)))
    return [Boxed(Caution(title, text, kind="stop"), 3.8) for title, text in said]


def _cautions(at: Desk, one: LeafOnSite) -> list[Block]:
    keep_out = (
        f"Keep everybody {at.words.length(one.stand_up.keep_out)} from its foot, on both sides, "
        "but those who push."
    )
    # Its own first words say the same without the figure, and what hands cannot do has its stop.
    stopped = {c.change for c in one.stand_up.checks if c.verdict is Verdict.SHORT}
    told = [
        c for c in one.stand_up.cautions if not c.startswith("Nobody within") and c not in stopped
    ]
    if not _by_hand(at):
        told = [c for c in told if not c.startswith("needs a hoist")]
    if not isinstance(one.hanging, Held):
        told += list(one.hanging.best.cautions) if one.hanging.best is not None else []
        told += list(one.hanging.unseating.cautions)
    lines = "\n".join(f"– {sentence(text)}{'' if text.endswith('.') else '.'}" for text in told)
    return [Boxed(Caution(keep_out, lines), 3.6)]


def _figures(at: Desk, one: LeafOnSite, leaf: Leaf) -> list[Block]:
    words, up = at.words, one.stand_up
    inset = leaf.centre[0] if leaf.hand == "left" else leaf.width - leaf.centre[0]
    pairs = [
        ("Weighs, with infill, no pivot parts", words.mass(leaf.hung_mass)),
        ("Centre of gravity, up from its bottom", words.length(leaf.centre[1])),
        ("and in from its hinge edge", words.length(inset)),
    ]
    if _by_hand(at):
        job = at.plan.job
        reach = wished_of(at.plan.job).hand_height
        pairs += [
            ("Hands at, over the floor", words.length(reach)),
            ("To lift its top edge", words.force(up.start)),
            ("Hardest push", f"{words.force(up.peak)} at {_degrees(up.peak_tilt)}"),
            ("People to carry it flat", _people(up.to_carry)),
            ("People to walk it up", _people(up.to_walk_up)),
            ("The crew is", f"{job.site.people or job.job.crew}"),
        ]
    pairs += [
        ("Goes on by itself past", _degrees(up.balance)),
        ("Upright, a push of this tips it over", words.force(up.tips_with)),
    ]
    return [Figures(tuple(pairs), 3, 5.0)]


def _people(count: int | None) -> str:
    return "by no number" if count is None else str(count)


def _step_words(at: Desk, one: LeafOnSite) -> list[str]:
    """Return the steps from flat on the floor to hung."""
    words, tilt, up = at.words, one.tilt_in, one.stand_up
    steps = ["Clear the floor and the keep-out. Say who says go. Ropes on the top, both ways."]
    if isinstance(tilt, TiltIn) and isinstance(tilt.best, PosePath):
        path = tilt.best
        face = at.plan.job.job.seen_from
        side = f"on the {face}" if path.side == "toward" else f"on the side away from the {face}"
        down = "its face down" if path.side == "toward" else "its back down"
        first = path.poses[0]
        out = f"{words.length(abs(first.foot))} from" if is_a_mark(first.foot, words.tape) else "in"
        if path.side == "toward":
            steps.append(
                "It was built face up: turn it over, flat, with as many hands as carry it, or "
                "with the hoist."
            )
        steps.append(
            f"Lay it flat {side}, {down}, bottom edge toward the opening, the middle of its bottom "
            f"edge {out} the middle of the wall. Check that its hinge edge is at the {one.hand}."
        )
    else:
        steps.append(
            f"Lay it flat, bottom edge toward the opening. Check that its hinge edge is at the "
            f"{one.hand}."
        )
    best = None if isinstance(one.hanging, Held) else one.hanging.best
    if best is not None:
        steps += best.before
    steps.append("Chock the foot, so that it can slide neither way.")
    if _by_hand(at) and not _hands_will_do(at, up):
        steps.append(
            "Raise it with a hoist or lift, as a lift plan says: this crew cannot walk it up. Past "
            f"{_degrees(up.balance)} hold it back."
        )
    elif _by_hand(at):
        steps.append(
            f"Raise the top edge, and walk it up. It is hardest at {_degrees(up.peak_tilt)}; past "
            f"{_degrees(up.balance)} hold it back."
        )
    else:
        steps.append(
            "Raise it with the hoist or truck, as its lift plan says. "
            f"Past {_degrees(up.balance)} hold it back."
        )
    if isinstance(tilt, TiltIn) and isinstance(tilt.best, PosePath):
        steps.append("Go from pose to pose as the table says: foot, then tilt.")
        if tilt.best.lifted_while_leaning:
            steps.append("Its foot comes off the floor while it still leans: hold it there too.")
    if best is not None:
        steps += best.steps
    return steps


def _pose_table(at: Desk, path: PosePath) -> Table:
    words = at.words
    rows = []
    for number, pose in enumerate(shown_poses(path), start=1):
        rows.append(
            (
                str(number),
                _degrees(pose.tilt) if pose.tilt < math.radians(89.95) else "upright",
                words.length(abs(pose.foot)),
                words.length(pose.lift),
            )
        )
    rows[-1] = ("hung", *rows[-1][1:])
    return Table(
        (
            Column("Pose", 16.0, bold=True),
            Column("Leans, from flat", 26.0, align="right"),
            Column("Foot out from the middle of the wall", 40.0, align="right", bold=True),
            Column("Lowest corner over the floor", 40.0, align="right", bold=True),
        ),
        tuple(rows),
        height_mm=3.3,
    )


def _room_words(at: Desk, path: PosePath) -> str:
    words, tight = at.words, path.tight
    foot = "Its foot stays in the middle of the wall. "
    if is_a_mark(path.kick_out, words.tape):
        foot = (
            f"Its foot comes out {words.length(path.kick_out)} (no way needs less than "
            f"{words.length(path.kick_out_at_least)}). "
        )
    return (
        f"Every pose on this way is clear. {foot}The roomiest way leaves "
        f"{words.length(path.headroom[0])} over it. Tightest: {words.length(tight.room)} to "
        f"{tight.what}, at {_degrees(tight.pose.tilt)}. Plates and pins are not drawn."
    )


def _force_axis(words: Words, top: float) -> Axis:
    unit = float(POUND_FORCE) if words.system == "feet-inch" else 1.0
    step = 10.0 * unit
    factors = (2.0, 2.5, 2.0)
    turn = 0
    while top / step > 6.0:
        step *= factors[turn % 3]
        turn += 1
    count = math.ceil(top / step)
    ticks = tuple((i * step, words.force(i * step).replace(".0 ", " ")) for i in range(count + 1))
    return Axis("How hard it is to push, at right angles to the leaf", 0.0, count * step, ticks)


def curve_of_force(at: Desk, up: StandUp) -> Picture:
    """Return the push against the tilt, drawn."""
    words = at.words
    points = tuple(zip(up.push.tilt.tolist(), up.push.force.tolist(), strict=True))

    def draw(box: Box) -> Sequence[Primitive]:
        return graph(
            box,
            Axis(
                "How far it is up, from flat",
                0.0,
                math.radians(90.0),
                tuple((math.radians(d), f"{d}°") for d in range(0, 91, 15)),
            ),
            _force_axis(words, 1.15 * up.peak),
            [Curve(points, "note", mark="!", at=(up.peak_tilt, up.peak))],
            [Level("x", up.balance, "balance")],
        )

    return Picture(CURVE_MM, draw)


def _view(at: Desk, one: LeafOnSite, place: LeafPlace, leaf: Leaf, room: Doorway) -> list[Block]:
    tilt = one.tilt_in
    if isinstance(tilt, TiltIn) and isinstance(tilt.best, PosePath):
        path = tilt.best
        over = planned_gap(room, place, "top") or 0.0
        depth = wished_of(at.plan.job).reveal.value
        drawing = path_drawing(at, place, leaf, path, over, depth)
        return [
            Drawn(drawing, VIEW_MM, at.scales, "THE WAY IN, SEEN FROM THE SIDE"),
            Says(_room_words(at, path), 3.0),
            Rows(_pose_table(at, path)),
        ]
    drawing = walk_up_drawing(place, leaf, one.stand_up)
    words = "What is over it is not drawn: how it goes in under it is not worked out."
    if isinstance(tilt, Held) and not tilt.needs:
        words = f"{sentence(tilt.why)}."
    return [
        Drawn(drawing, VIEW_MM, at.scales, "WALKED UP, SEEN FROM THE SIDE"),
        Says(words, 3.0),
    ]


def _sheets_of(at: Desk, one: LeafOnSite, place: LeafPlace, leaf: Leaf) -> tuple[Sheet, ...]:
    room = at.plan.doorway
    if not isinstance(room, Doorway):
        return ()
    title = f"{title_of_leaf(one.key)}: standing it up"
    blocks: list[Block] = [
        *_refusals(one),
        *_cautions(at, one),
        *_figures(at, one, leaf),
        Title("Steps", 4.0),
        Listed(tuple(_step_words(at, one)), 3.6, 1),
        *_view(at, one, place, leaf, room),
    ]
    if _by_hand(at):
        blocks += [curve_of_force(at, one.stand_up), Says(_basis(one.stand_up, at.words), 2.6)]
    sheets = in_columns(
        blank(at, title, drawing=True), lambda: blank(at, f"{title}, on", drawing=True), blocks
    )
    return as_noted(sheets)


def _basis(up: StandUp, words: Words) -> str:
    return (
        "Computed, moments about its foot, moved slowly. People are counted by the NIOSH lifting "
        f"equation, {words.mass(up.limit.weight)} each here. It is for lifting: for pushing a leaf "
        "up it is a yardstick only. When in doubt, more people or a lift."
    )


def standing_sheets(at: Desk) -> tuple[Sheet, ...]:
    """Return a sheet for whoever stands each leaf up; nothing where that was not worked out."""
    there = at.plan.site
    if not isinstance(there, Site):
        return ()
    parts = {leaf.key: (place, leaf) for place, _, leaf in leaf_parts(at)}
    return tuple(
        sheet
        for one in there.leaves
        if one.key in parts
        for sheet in _sheets_of(at, one, *parts[one.key])
    )
