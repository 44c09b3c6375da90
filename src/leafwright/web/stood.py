"""Hanging on the page: cautions, the way onto the pins, the way in pose by pose, hands, drift."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from leafwright.doorway import LeafPlace
from leafwright.leaf import Leaf
from leafwright.paper.sheets.common import desk
from leafwright.paper.sheets.side_view import shown_poses
from leafwright.pipeline import Plan
from leafwright.records import Check, Held, Verdict
from leafwright.say import Words, sentence, words_of
from leafwright.say_site import people, push_rows
from leafwright.site.drift import Drift
from leafwright.site.method import Hanging
from leafwright.site.pose import planned_gap
from leafwright.site.records import LeafOnSite, Site
from leafwright.site.stand_up import StandUp
from leafwright.site.tilt_in import NotDecided, Obstructed, PosePath, TiltIn
from leafwright.site.wished import wished_of
from leafwright.site.wording import is_a_mark
from leafwright.units import show_angle
from leafwright.web.built import hands_of, parts_of, room_of
from leafwright.web.entries import leaf_of
from leafwright.web.proven import CheckRow, check_row
from leafwright.web.turning_pictures import pose_picture, push_graph, walk_up_picture

#: More headroom than this is told as enough: nothing is over the leaf [m].
ENOUGH = 5.0

NOTHING = 1e-9

HELD = {
    "stays": "It stays where it is left.",
    "may drift": "It may drift by itself.",
    "drifts": "It drifts by itself.",
}


@dataclass(frozen=True, slots=True)
class PoseRow:
    """One pose of the way in."""

    number: int
    name: str
    tilt: str
    foot: str
    lift: str


@dataclass(frozen=True, slots=True)
class HangPage:
    """What hanging one leaf shows, cautions first."""

    hand: str
    hands: tuple[tuple[str, str], ...]
    weight: str
    stops: tuple[str, ...]
    cautions: tuple[str, ...]
    method: str
    steps: tuple[str, ...]
    other_ways: tuple[str, ...]
    pins: str
    way_in: tuple[str, ...]
    poses: tuple[PoseRow, ...]
    pose: int
    by_hand: bool
    hands_rows: tuple[tuple[str, str, str, str], ...]
    hands_told: tuple[str, ...]
    people: tuple[tuple[str, str], ...]
    push: Markup | None
    drift: tuple[str, ...]
    drift_head: str
    checks: tuple[CheckRow, ...]


def hang_page(made: Plan, asked: Mapping[str, str]) -> HangPage | str:
    """Return what hanging the leaf that is asked for shows, or why it shows nothing."""
    hand = leaf_of(made, asked.get("leaf", ""))
    parts = parts_of(made, hand)
    if isinstance(parts, str):
        return parts
    _, _, one = parts
    words, up = words_of(made.job), one.stand_up
    method, steps, others, pins = _method(one.hanging, words)
    by_hand = made.job.site.lift in ("by hand", "unknown")
    head, drift = _drift(one.drift)
    poses = _pose_rows(one.tilt_in, words)
    checks = [*up.checks]
    if isinstance(one.drift, Drift):
        checks += one.drift.checks
    asked_of = [c for c in checks if c.verdict is not Verdict.OK]
    return HangPage(
        hand=hand,
        hands=hands_of(made),
        weight=words.force(up.weight),
        stops=tuple(_stops(one)),
        cautions=tuple(_cautions(one, words, by_hand=by_hand)),
        method=method,
        steps=steps,
        other_ways=others,
        pins=pins,
        way_in=tuple(_way_in(one.tilt_in, words)),
        poses=poses,
        pose=_pose_number(asked.get("pose", ""), len(poses)),
        by_hand=by_hand,
        hands_rows=tuple(push_rows(up, words)),
        hands_told=tuple(_hand_words(up, words)),
        people=_people_rows(made, up, words),
        push=push_graph(desk(made), up) if by_hand else None,
        drift=(*drift, *(f"{sentence(said)}." for said in one.let_go)),
        drift_head=head,
        checks=tuple(check_row(c, words) for c in _asked_once(asked_of)),
    )


def _asked_once(checks: list[Check]) -> list[Check]:
    order = (Verdict.SHORT, Verdict.TIGHT, Verdict.ASK, Verdict.OK)
    return sorted(checks, key=lambda check: order.index(check.verdict))


def _needing(held: Held) -> str:
    needs = f" It needs {'; '.join(held.needs)}." if held.needs else ""
    return f"{sentence(held.why)}.{needs}"


def _stops(one: LeafOnSite) -> list[str]:
    """Return what keeps the leaf from being stood up or hung at all."""
    tilt, hanging, said = one.tilt_in, one.hanging, []
    if isinstance(tilt, TiltIn) and isinstance(tilt.best, Obstructed):
        said.append(f"It cannot be stood up under what is over it: {tilt.best.why}.")
    if isinstance(tilt, TiltIn) and isinstance(tilt.best, NotDecided):
        said.append(
            f"Whether it goes in is not decided: {tilt.best.why}. Do not try with the leaf."
        )
    if isinstance(hanging, Hanging) and hanging.best is None:
        reasons = dict.fromkeys(r for m in hanging.methods for r in m.reasons)
        said.append(f"It cannot be got onto its pins: {'; '.join(reasons)}.")
    for check in one.stand_up.checks:
        if check.verdict is Verdict.SHORT:
            said.append(f"{check.question} No: {check.change}.")
    return said


def _cautions(one: LeafOnSite, words: Words, *, by_hand: bool) -> list[str]:
    out = words.length(one.stand_up.keep_out)
    said = [f"Keep everybody {out} from its foot, on both sides, but those who push."]
    said += [c for c in one.stand_up.cautions if not c.startswith("Nobody within")]
    if not by_hand:
        said = [c for c in said if not c.startswith("needs a hoist")]
    if isinstance(one.hanging, Hanging):
        said += one.hanging.best.cautions if one.hanging.best else ()
        said += one.hanging.unseating.cautions
    return [f"{sentence(c)}{'' if c.endswith('.') else '.'}" for c in dict.fromkeys(said)]


def _room(spare: float, words: Words) -> str:
    if spare < -NOTHING:
        return f"{words.length(-spare)} too little"
    return "room enough" if spare > ENOUGH else f"{words.length(spare)} to spare"


def _method(
    found: Hanging | Held, words: Words
) -> tuple[str, tuple[str, ...], tuple[str, ...], str]:
    """Return the way onto the pins and why, its steps, the others, and what is left of the pins."""
    if isinstance(found, Held):
        return f"How it gets onto its pins is not known: {_needing(found)}", (), (), ""
    best = found.best
    steps: tuple[str, ...] = ()
    if best is None:
        told = "None of the usual ways works."
    else:
        needs, room = words.length(best.needs), _room(best.spare, words)
        told = f"{sentence(best.key)}. It needs {needs} over the leaf: {room}."
        steps = (*best.before, *best.steps)
    others = []
    for one in found.methods:
        if one is best:
            continue
        why = "this would do too" if one.feasible else f"not {'; '.join(one.reasons)}"
        why = why.replace("not ", "no: ", 1)
        others.append(f"{sentence(one.key)} – {why}; {_room(one.spare, words)}.")
    off = found.unseating
    lifted = (
        "lifted as far as it goes, it comes off its bottom pin"
        if off.needs_lift_stop
        else f"lifted as far as it goes, {words.length(off.at_full_lift)} of its pin stays in"
    )
    drop = words.length(max(off.at_full_drop, 0.0))
    pins = f"Once it hangs: {lifted}; {drop} of the upper pin is in, less what the beam may rise."
    return told, steps, tuple(others), pins


# ---------------------------------------------------------------- the way in


def _way_in(tilt: TiltIn | Held, words: Words) -> list[str]:
    """Return how the leaf goes in under the head, or the proof that it does not."""
    if isinstance(tilt, Held):
        return [_needing(tilt)]
    best, told = tilt.best, []
    if isinstance(best, PosePath):
        low, high = best.headroom
        foot = "stays in the middle of the wall"
        if is_a_mark(best.kick_out, words.tape):
            foot = (
                f"comes out {words.length(best.kick_out)} at most (no way needs less than "
                f"{words.length(best.kick_out_at_least)})"
            )
        told.append(
            f"It goes in from {'your' if best.side == 'toward' else 'the other'} side; every pose "
            f"on the way is clear. Its foot {foot}."
        )
        room = words.length(low)
        if words.length(high) != room:
            room += f" to {words.length(high)}"
        told.append(
            f"The roomiest way leaves {room} of headroom. "
            f"Tightest: {words.length(best.tight.room)} to {best.tight.what}, at "
            f"{show_angle(best.tight.pose.tilt, decimals=0)}. "
            + (
                "Its foot must come up while it still leans."
                if best.lifted_while_leaning
                else "Its foot stays down until it is nearly upright."
            )
        )
    elif isinstance(best, Obstructed):
        told.append(
            f"It does not go in. {sentence(best.why)}. Proven for every position and tilt, down to "
            f"steps of {show_angle(best.finest)}."
        )
        if best.blocks:
            told.append(f"In the way, the worst first: {', '.join(best.blocks)}.")
        touching = best.room_at_most <= NOTHING
        told.append(
            "It does not go in even touching."
            if touching
            else f"No way leaves more room than {words.length(best.room_at_most)}."
        )
    else:
        told.append(f"Not decided, looked down to steps of {show_angle(best.finest)}: {best.why}.")
    for other in tilt.sides:
        if other is not best:
            side = "your side" if other.side == "toward" else "the other side"
            why = "it goes in too" if isinstance(other, PosePath) else other.why
            told.append(f"From {side}: {why}.")
    flat = tilt.in_plane
    fits = "it would fit" if flat.fits else "it does not fit"
    told.append(
        f"Turned up in the plane of the wall {fits}: its diagonal is "
        f"{words.length(flat.diagonal)}, the head is {words.length(flat.headroom)} up."
    )
    return told


def _pose_rows(tilt: TiltIn | Held, words: Words) -> tuple[PoseRow, ...]:
    if isinstance(tilt, Held) or not isinstance(tilt.best, PosePath):
        return ()
    shown = shown_poses(tilt.best)
    last = len(shown)
    rows = []
    for number, pose in enumerate(shown, start=1):
        up = pose.tilt > math.radians(89.95)
        angle = "upright" if up else f"{show_angle(pose.tilt, decimals=0)} up"
        name = "hung" if number == last else "flat" if number == 1 and pose.tilt < 0.01 else angle
        foot = words.length(abs(pose.foot))
        in_place = abs(pose.foot) < float(words.tape.step) / 2
        rows.append(
            PoseRow(
                number,
                name,
                angle,
                "in place" if in_place else f"out {foot}",
                words.length(pose.lift),
            )
        )
    return tuple(rows)


def _pose_number(asked: str, most: int) -> int:
    """Return the pose that is shown, 1 to the last; the first where none was asked for."""
    if not most:
        return 0
    number = int(asked) if asked.isdecimal() and len(asked) < 5 else 1
    return max(1, min(number, most))


def _drawing(made: Plan, place: LeafPlace, leaf: Leaf, one: LeafOnSite, pose: int) -> Markup | None:
    at, room = desk(made), room_of(made)
    if room is None:
        return None
    if isinstance(one.tilt_in, TiltIn) and isinstance(one.tilt_in.best, PosePath):
        path = one.tilt_in.best
        over = planned_gap(room, place, "top") or 0.0
        depth = wished_of(made.job).reveal.value
        shown = shown_poses(path)[pose - 1]
        return pose_picture(at, place, leaf, path, shown, over, depth)
    return walk_up_picture(place, leaf, one.stand_up)


# ---------------------------------------------------------------- hands and drift


def _hand_words(up: StandUp, words: Words) -> list[str]:
    foot = "it slides: chock it" if up.slides else "it holds on this floor"
    return [
        f"Hardest {words.force(up.peak)}, at {show_angle(up.peak_tilt, decimals=0)}. Past "
        f"{show_angle(up.balance)} it goes on by itself: hold it back.",
        f"Its foot needs a grip of {up.friction:.2f}, most at "
        f"{show_angle(up.friction_tilt, decimals=0)}: {foot}.",
        f"Upright, {words.force(up.tips_with)} at the height of the hands tips it over; "
        f"{show_angle(up.tips_at)} past upright it goes by itself.",
    ]


def _people_rows(made: Plan, up: StandUp, words: Words) -> tuple[tuple[str, str], ...]:
    crew = made.job.site.people or made.job.job.crew
    return (
        ("To carry it flat", people(up.to_carry)),
        ("To lift its top edge", f"{people(up.to_lift_the_edge)} ({words.force(up.start)})"),
        ("To walk it up", people(up.to_walk_up)),
        ("The crew is", people(crew)),
        ("One may lift, this way", words.mass(up.limit.weight)),
    )


def _drift(found: Drift | Held) -> tuple[str, tuple[str, ...]]:
    if isinstance(found, Held):
        return "Whether it drifts is not known", (_needing(found),)
    told = list(found.words)
    if found.lean > 1e-6:
        told.insert(0, f"Its axis leans {show_angle(found.lean, decimals=2)}, as it was read.")
    else:
        told.insert(0, "Its axis is taken as plumb; read it once it hangs, under Hand over.")
    if found.stop_energy > NOTHING:
        told.append(
            f"Left to itself it meets its stop at {found.stop_speed:.1f} m/s at the nose: fit a "
            "stop that takes it, or plumb the axis."
        )
    return HELD[found.held], tuple(told)


def hang_values(made: Plan, asked: Mapping[str, str]) -> dict[str, Any]:
    """Return hanging as a template's values, its drawing among them."""
    found = hang_page(made, asked)
    if isinstance(found, str):
        return {"hang": None, "held": found}
    parts = parts_of(made, found.hand)
    values: dict[str, Any] = {"hang": found, "held": ""}
    if not isinstance(parts, str):
        svg = _drawing(made, *parts, found.pose)
        if svg is not None:
            values["drawing"] = svg
            row = found.poses[found.pose - 1] if found.poses else None
            values["caption"] = (
                "Walked up, seen from its side. What is over it is not drawn."
                if row is None
                else f"Pose {row.number} of {len(found.poses)}: {row.name}, foot {row.foot}, its "
                f"lowest point {row.lift} up. Dashed: hung."
            )
    return values


def hang_state(made: Plan) -> tuple[str, str]:
    """Return whether the leaves can be hung, for the day's list."""
    if not isinstance(made.site, Site):
        return "none", "not worked out yet"
    told: list[str] = []
    state = "ok"
    for one in made.site.leaves:
        if _stops(one):
            return "todo", f"{_short(one)}: {_stops(one)[0].rstrip('.').lower()}"
        if isinstance(one.hanging, Held) or (isinstance(one.tilt_in, Held) and one.tilt_in.needs):
            held = one.hanging if isinstance(one.hanging, Held) else one.tilt_in
            assert isinstance(held, Held)
            told.append(held.why)
            state = "look"
            continue
        if isinstance(one.hanging, Hanging) and one.hanging.best is not None:
            told.append(one.hanging.best.key)
        if any(c.verdict is not Verdict.OK for c in one.stand_up.checks):
            state = "look"
    return state, "; ".join(dict.fromkeys(told)) or "nothing to hang yet"


def _short(one: LeafOnSite) -> str:
    return "the leaf" if one.key == "leaf" else f"{one.key} leaf"
