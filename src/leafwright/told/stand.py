"""Getting each leaf onto its pins, and whether it stays where it is left, told on a terminal."""

from __future__ import annotations

from leafwright.documents.records import DriftDocument, LeafDrift, LeafStood, StandDocument
from leafwright.pipeline import Plan
from leafwright.records import Held
from leafwright.say import Words, default_line, sentence, words_of
from leafwright.say_site import people, push_rows
from leafwright.site.drift import Drift
from leafwright.site.method import Hanging
from leafwright.site.records import Site
from leafwright.site.stand_up import StandUp
from leafwright.site.tilt_in import NotDecided, Obstructed, PosePath, TiltIn
from leafwright.told.lines import (
    NOTHING,
    cautions,
    check_lines,
    heading_lines,
    held_lines,
    leaf_name,
    steps,
    stop_lines,
    table,
    wrapped,
)
from leafwright.units import show_angle

#: Most poses of a way in that are told; all of them are in the JSON.
POSES = 12


# ---------------------------------------------------------------- standing up


def stand_text(made: Plan, document: StandDocument) -> str:
    """Return how each leaf is got onto its pins, for a maker at a terminal."""
    words = words_of(made.job)
    lines = heading_lines(made, "getting the leaves onto their pins")
    lines += stop_lines(document.stops)
    if isinstance(document.leaves, Held):
        return "\n".join([*lines, *held_lines("Standing up", document.leaves)])
    for leaf in document.leaves:
        lines += [*_stood_lines(leaf, words), ""]
    if isinstance(made.site, Site) and made.site.defaults:
        lines.append("Taken by default (nothing in the job file changes what has no key here):")
        lines += [f"  {default_line(q, words)}" for q in made.site.defaults]
    return "\n".join(lines).rstrip()


def stand_brief(leaf: LeafStood, words: Words) -> list[str]:
    """Return how a leaf is got onto its pins, in a few lines."""
    found = leaf.stand_up
    lines = []
    if isinstance(leaf.hanging, Hanging):
        best = leaf.hanging.best
        how = best.key if best else "NO WAY onto its pins in any of the usual ways"
        lines += wrapped(
            f"{leaf_name(leaf.key)}: {how}; {_in_brief(leaf.tilt_in)}", "    ", first="  "
        )
    else:
        lines += held_lines(f"  {leaf_name(leaf.key)}, onto its pins", leaf.hanging)
    lines.append(
        f"    by hand: {people(found.to_walk_up)} to walk it up, the crew is {leaf.crew}; "
        f"greatest push {words.force(found.peak)} at {show_angle(found.peak_tilt, decimals=0)}"
    )
    return lines


def _in_brief(tilt: TiltIn | Held) -> str:
    if isinstance(tilt, Held):
        return f"the way in is not looked for, because {tilt.why}"
    if isinstance(tilt.best, PosePath):
        return f"it goes in from the {tilt.best.side} side"
    if isinstance(tilt.best, Obstructed):
        return "it DOES NOT GO IN under the head"
    return "whether it goes in is NOT DECIDED"


def _stood_lines(leaf: LeafStood, words: Words) -> list[str]:
    said = list(leaf.stand_up.cautions)
    if isinstance(leaf.hanging, Hanging):
        if leaf.hanging.best is not None:
            said += leaf.hanging.best.cautions
        said += leaf.hanging.unseating.cautions
    return [
        f"{leaf_name(leaf.key)}, {words.force(leaf.stand_up.weight)} as it hangs",
        *cautions(list(dict.fromkeys(said))),
        *_hanging_lines(leaf.hanging, words),
        *_way_in_lines(leaf.tilt_in, words),
        *_hand_lines(leaf.stand_up, leaf.crew, words),
        *check_lines(leaf.stand_up.checks, words),
    ]


def _room(spare: float, words: Words) -> str:
    if spare < -NOTHING:
        return f"{words.length(-spare)} too little"
    # Where nothing is over the leaf the room is as high as the wall is taken to be.
    return "room enough" if spare > 5.0 else f"{words.length(spare)} to spare"


def _hanging_lines(hanging: Hanging | Held, words: Words) -> list[str]:
    if isinstance(hanging, Held):
        return held_lines("  Onto its pins", hanging)
    best = hanging.best
    if best is None:
        lines = ["  Onto its pins: NONE of the usual ways works"]
    else:
        lines = wrapped(
            f"Onto its pins: {best.key}. It needs {words.length(best.needs)} over the leaf, with "
            f"{_room(best.spare, words)}.",
            "    ",
            first="  ",
        )
        lines += steps((*best.before, *best.steps), "    ")
    others = [m for m in hanging.methods if m is not best]
    works = [m.key for m in others if m.feasible]
    if works:
        lines += wrapped(f"These would do too: {'; '.join(works)}.", "    ", first="  ")
    for method in others:
        if method.feasible:
            continue
        lines += wrapped(
            f"Not {method.key}: {'; '.join(method.reasons)} (needs {words.length(method.needs)}; "
            f"{_room(method.spare, words)}).",
            "    ",
            first="  ",
        )
    off = hanging.unseating
    if off.needs_lift_stop:
        kept = "lifted as far as it goes, it comes off its pin"
    else:
        kept = f"lifted as far as it goes, {words.length(off.at_full_lift)} of its pin stays in"
    lines += wrapped(
        f"Once it hangs: {kept}; {words.length(max(off.at_full_drop, 0.0))} of the upper pin is "
        "in, less what the beam may rise.",
        "    ",
        first="  ",
    )
    return lines


def _way_in_lines(tilt: TiltIn | Held, words: Words) -> list[str]:
    if isinstance(tilt, Held):
        needs = f" It needs {'; '.join(tilt.needs)}." if tilt.needs else ""
        return wrapped(f"Way in: not looked for, because {tilt.why}.{needs}", "    ", first="  ")
    lines: list[str] = []
    best = tilt.best
    if isinstance(best, PosePath):
        lines += _path_lines(best, words)
    elif isinstance(best, Obstructed):
        lines += wrapped(
            f"Way in: IT DOES NOT GO IN. {sentence(best.why)}. This is proven for every position "
            f"and tilt, from the {best.side} side, down to steps of {show_angle(best.finest)}.",
            "    ",
            first="  ",
        )
        if best.blocks:
            lines += wrapped(f"In the way, the worst first: {', '.join(best.blocks)}.", "    ")
        if best.room_at_most <= NOTHING:
            lines += wrapped("It does not go in even touching.", "    ")
        else:
            lines += wrapped(
                f"No way leaves more room than {words.length(best.room_at_most)}.", "    "
            )
    else:
        lines += wrapped(
            f"Way in: NOT DECIDED, looked down to steps of {show_angle(best.finest)}: {best.why}.",
            "    ",
            first="  ",
        )
    for other in tilt.sides:
        if other is not best:
            lines += wrapped(f"From the {other.side} side: {_other(other, words)}.", "    ")
    flat = tilt.in_plane
    fits = "would fit" if flat.fits else "does not fit"
    lines += wrapped(
        f"Turned up in the plane of the wall it {fits}: its diagonal is "
        f"{words.length(flat.diagonal)}, the head is {words.length(flat.headroom)} up.",
        "    ",
    )
    return lines


def _other(answer: PosePath | Obstructed | NotDecided, words: Words) -> str:
    if isinstance(answer, PosePath):
        return f"it goes in too; {_kicked(answer, words)}"
    return answer.why


def _kicked(best: PosePath, words: Words) -> str:
    if best.kick_out < float(words.tape.step) / 2:
        return "its foot stays under the place where it hangs"
    return (
        f"its foot is kicked out {words.length(best.kick_out)} at most from the middle of the wall "
        f"(no way needs less than {words.length(best.kick_out_at_least)})"
    )


def _path_lines(best: PosePath, words: Words) -> list[str]:
    low, high = (words.length(room) for room in best.headroom)
    room = low if low == high else f"{low} to {high}"
    lines = wrapped(
        f"Way in: it goes in from the {best.side} side. {sentence(_kicked(best, words))}. The best "
        f"such way leaves {room} of room.",
        "    ",
        first="  ",
    )
    poses = best.poses
    if len(poses) > POSES:
        picked = sorted({round(k * (len(poses) - 1) / (POSES - 1)) for k in range(POSES)})
        poses = tuple(poses[k] for k in picked)
    rows = []
    for number, pose in enumerate(poses, start=1):
        off = words.length(abs(pose.foot))
        rows.append(
            (
                str(number),
                show_angle(pose.tilt, decimals=0),
                off if abs(pose.foot) > float(words.tape.step) / 2 else "in place",
                words.length(pose.lift),
            )
        )
    lines += table(("step", "tilt", "foot off the wall's middle", "lowest point up"), rows, "    ")
    lines += wrapped(
        f"Tightest at {show_angle(best.tight.pose.tilt, decimals=0)}: "
        f"{words.length(best.tight.room)} to {best.tight.what}. "
        + (
            "Its foot must come up while it still leans."
            if best.lifted_while_leaning
            else "Its foot stays down until it is nearly upright."
        ),
        "    ",
    )
    return lines


def _hand_lines(found: StandUp, crew: int, words: Words) -> list[str]:
    lines = ["  By hand, walked up from its foot:"]
    lines += table(
        ("tilt", "hands", "hands up the leaf", "foot pushes out"), push_rows(found, words), "    "
    )
    lines += wrapped(
        f"Greatest push {words.force(found.peak)}, at {show_angle(found.peak_tilt, decimals=0)}; "
        f"{words.force(found.start)} lifts its top edge off the floor. Past "
        f"{show_angle(found.balance)} it goes on by itself.",
        "    ",
    )
    lines += wrapped(
        f"To carry it flat: {people(found.to_carry)}. To lift its edge: "
        f"{people(found.to_lift_the_edge)}. To walk it up: {people(found.to_walk_up)}. The crew "
        f"is {crew}. One may lift {words.mass(found.limit.weight)} this way.",
        "    ",
    )
    stays = "it SLIDES: chock it" if found.slides else "it holds on this floor"
    lines += wrapped(
        f"Its foot needs a friction of {found.friction:.2f}, most at "
        f"{show_angle(found.friction_tilt, decimals=0)}: {stays}. Upright, "
        f"{words.force(found.tips_with)} at the height of the hands tips it, and "
        f"{show_angle(found.tips_at)} past upright it goes over. Keep "
        f"{words.length(found.keep_out)} away from its foot.",
        "    ",
    )
    return lines


# ---------------------------------------------------------------- drift


def drift_text(made: Plan, document: DriftDocument) -> str:
    """Return whether the leaves stay where they are left, for a maker at a terminal."""
    words = words_of(made.job)
    lines = [
        *heading_lines(made, "whether the leaves stay where they are left"),
        *stop_lines(document.stops),
    ]
    if isinstance(document.leaves, Held):
        return "\n".join([*lines, *held_lines("Drift", document.leaves)])
    for leaf in document.leaves:
        lines += [*_drift_lines(leaf, words), ""]
    if not all(leaf.lean_read for leaf in document.leaves):
        lines += _plumb_example(document.leaves, words)
    return "\n".join(lines).rstrip()


HELD = {
    "stays": "it stays where it is left",
    "may drift": "it MAY DRIFT by itself",
    "drifts": "it DRIFTS by itself",
}


def drift_brief(leaf: LeafDrift, words: Words) -> list[str]:
    """Return whether a leaf stays where it is left, in a line."""
    if isinstance(leaf.drift, Held):
        return held_lines(f"  {leaf_name(leaf.key)}", leaf.drift)
    read = "as read" if leaf.lean_read else "taken as plumb"
    return wrapped(
        f"{leaf_name(leaf.key)}: {HELD[leaf.drift.held]}, axis {read}; it stays while its pins "
        f"are plumb within {_size(leaf.drift.lean_held[0], words)}",
        "    ",
        first="  ",
    )


def _size(length: float, words: Words) -> str:
    """Return a length, as a movement where the tape does not show it."""
    return words.length(length) if length >= float(words.tape.step) / 2 else words.small(length)


def _drift_lines(leaf: LeafDrift, words: Words) -> list[str]:
    if isinstance(leaf.drift, Held):
        return held_lines(leaf_name(leaf.key), leaf.drift)
    found: Drift = leaf.drift
    lines = [f"{leaf_name(leaf.key)}: {HELD[found.held]}"]
    if leaf.lean_read:
        lines.append(f"  Its axis leans {show_angle(found.lean, decimals=2)}, as it was read.")
    else:
        lines.append("  Its axis is taken as plumb: no plumb line at its pins was read yet.")
    for said in found.words:
        lines += wrapped(said, "    ", first="  ")
    if found.stop_energy > NOTHING:
        lines += wrapped(
            f"Left to itself it meets its stop at {found.stop_speed:.1f} m/s at the nose: fit a "
            "stop that takes it, or plumb the axis.",
            "    ",
            first="  ",
        )
    for said in leaf.let_go:
        lines += wrapped(f"{sentence(said)}.", "    ", first="  ")
    return [*lines, *check_lines(found.checks, words)]


def _plumb_example(leaves: tuple[LeafDrift, ...], words: Words) -> list[str]:
    unread = next(leaf for leaf in leaves if not leaf.lean_read)
    inch = words.system == "feet-inch"
    over, off = ("5 ft", "1/8 in") if inch else ("1500 mm", "3 mm")
    own = [f'  leaf = "{unread.hand}"'] if len(leaves) == 2 else []
    return [
        "Once it hangs, read its axis with a plumb line and write it in the job file:",
        "  [[hung]]",
        '  kind = "plumb"',
        *own,
        '  direction = "in the wall"  # and once more "through the wall"',
        f'  over = "{over}"  # how far apart the two places are',
        f'  is = "{off}"',
        '  toward = "right"  # or "left"; through the wall: "viewer" or "away"',
    ]
