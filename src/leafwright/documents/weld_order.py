"""The order of welding of a plan's leaves, in the maker's words: a study, run when it is asked for.

The command, the page and the sheet all tell it from here.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Literal

from leafwright.documents.records import Heading, LeafWelded, ToDo, WeldOrderDocument
from leafwright.documents.report import VERSION
from leafwright.doorway import LeafPlace
from leafwright.leaf import Leaf
from leafwright.pipeline import Plan
from leafwright.proof import LeafProof
from leafwright.proof.seam_records import Seam
from leafwright.records import Held
from leafwright.say import Words, sentence, words_of
from leafwright.shop.seams import NumberedSeam
from leafwright.shop.weld_order import Left, Step, Tacks, WeldOrder, mirrored, weld_order
from leafwright.shop.weld_order.study import BACK_STEP
from leafwright.site.records import Site
from leafwright.site.wished import wished_of

#: How far a leaf is when it is read: tacked, its frame open, between two beads, or welded.
Stage = Literal["tacked", "open", "between", "welded"]

_TURNS = {1: "once", 2: "twice", 3: "three times"}

HOT_WORK = (
    "Hot work: clear what burns, keep an extinguisher and a fire watch as the local rules say, and "
    "take coatings off before welding: fumes can poison."
)
PROCEDURE = (
    "A welding procedure, a welder's own knowledge of the joint and the engineer's drawing come "
    "before this order."
)


def weld_order_document(made: Plan) -> WeldOrderDocument:
    """Return in what order each leaf of a plan is welded; the search is run here."""
    job = made.job.job
    heading = Heading(VERSION, job.name, job.seen_from, job.revision)
    return WeldOrderDocument(heading, _leaves(made), made.stops)


def _leaves(made: Plan) -> tuple[LeafWelded, ...] | Held:
    if isinstance(made.doorway, Held):
        return made.doorway
    found: list[LeafWelded] = []
    for place, leaf, proof in zip(made.doorway.leaves, made.leaves, made.proofs, strict=False):
        held = next((one for one in (leaf, proof) if isinstance(one, Held)), None)
        if held is not None or not isinstance(leaf, Leaf) or not isinstance(proof, LeafProof):
            why = held or Held("the leaf is not there")
            found.append(LeafWelded(place.key, place.hand, why, (), (), (), (), ()))
            continue
        numbered = _numbered(made, leaf.key)
        if isinstance(numbered, Held):
            found.append(LeafWelded(place.key, place.hand, numbered, (), (), (), (), ()))
            continue
        covered = {key: seam.before for key, seam in numbered.items() if seam.before}
        order = _order(leaf, proof.seams, covered, [one.order for one in found])
        found.append(_told(made, place, leaf, numbered, order))
    return tuple(found)


def _order(
    leaf: Leaf,
    seams: Sequence[Seam],
    covered: Mapping[str, str],
    before: Sequence[WeldOrder | Held],
) -> WeldOrder | Held:
    """Return a leaf's order: that of one before it where it is its mirror image."""
    for other in before:
        if isinstance(other, WeldOrder):
            like = mirrored(other, leaf, seams, covered)
            if like is not None:
                return like
    return weld_order(leaf, seams, covered)


def _told(
    made: Plan,
    place: LeafPlace,
    leaf: Leaf,
    numbered: Mapping[str, NumberedSeam],
    order: WeldOrder | Held,
) -> LeafWelded:
    if isinstance(order, Held):
        return LeafWelded(leaf.key, place.hand, order, (), (), (), (), ())
    words = words_of(made.job)
    return LeafWelded(
        key=leaf.key,
        hand=place.hand,
        order=order,
        tacks=tuple(_tack_words(leaf, one, words) for one in order.tacks),
        steps=with_cut_members(_steps(made, leaf, order, numbered, words), numbered),
        found=_found_words(leaf, order, words),
        left=_left_words(made, leaf, order),
        cautions=(_turning(made, leaf, words), HOT_WORK, PROCEDURE),
    )


def _numbered(made: Plan, leaf: str) -> dict[str, NumberedSeam] | Held:
    """Return the seams of a leaf as they are numbered, by key."""
    if isinstance(made.seams, Held):
        return made.seams
    mine = next(one for one in made.seams.leaves if one.leaf == leaf)
    return {seam.key: seam for seam in mine.frame}


# ---------------------------------------------------------------- steps


def _steps(
    made: Plan, leaf: Leaf, order: WeldOrder, seams: Mapping[str, NumberedSeam], words: Words
) -> tuple[ToDo, ...]:
    found = []
    last = len(order.steps) - 1
    for i, step in enumerate(order.steps):
        now: Stage = "tacked" if i < 2 else "welded" if i == last else "between"
        if i < last and order.steps[i + 1].kind == "fit":
            now = "open"
        said = _step_words(made, leaf, order, step, seams, words, now)
        found.append(
            ToDo(
                kind=step.kind,
                up=step.up,
                number=step.number,
                seam=step.seam,
                mark=seams[step.seam].mark if step.seam else "",
                at=step.at,
                words=said,
            )
        )
    return tuple(found)


def with_cut_members(steps: Sequence[ToDo], seams: Mapping[str, NumberedSeam]) -> tuple[ToDo, ...]:
    """Return the steps with the seams of splices before them, and those of laps between them.

    Neither is in what the order was searched by: a splice is welded on the bench, before there is
    a frame; a lap is welded before any other seam with that side up, while its bars' ends are
    only tacked and can still give (common practice, no source).
    """
    spliced = [seam for key, seam in seams.items() if "/splice/" in key]
    lapped = [seam for key, seam in seams.items() if "/lap/" in key]
    found: list[ToDo] = [
        _cut_step(
            "bench",
            "face",
            seam,
            f"On the bench, before the frame is laid out: {seam.where}; sides in turn, cold and "
            "straight before it goes on",
        )
        for seam in spliced
    ]
    # Braces that are put in later have no lap to weld before.
    after = next((i for i, step in enumerate(steps) if step.kind == "fit"), 0)
    told: set[str] = set()
    for place, step in enumerate(steps):
        if step.kind == "weld" and place > after and step.up not in told:
            told.add(step.up)
            found += _lap_steps(lapped, step.up)
        found.append(step)
    return tuple(found)


def _lap_steps(lapped: Sequence[NumberedSeam], up: str) -> list[ToDo]:
    """Return the step of welding a leaf's laps with one side up; the corners with the first."""
    mine = [
        seam
        for seam in lapped
        if (seam.view == up and seam.kind != "fillet") or (up == "face" and seam.kind == "fillet")
    ]
    return [
        _cut_step(
            "lap",
            up,
            seam,
            "The lap, before any other seam with this side up, opposite seams in turn: "
            f"{seam.where}",
        )
        for seam in mine
    ]


def _cut_step(kind: str, up: str, seam: NumberedSeam, words: str) -> ToDo:
    return ToDo(kind, up, 0, seam.key, seam.mark, seam.middle, words)


def _step_words(
    made: Plan,
    leaf: Leaf,
    order: WeldOrder,
    step: Step,
    seams: Mapping[str, NumberedSeam],
    words: Words,
    now: Stage,
) -> str:
    later = sum(one.later for one in order.tacks)
    if step.kind == "tack":
        count = sum(one.count for one in order.tacks) - later
        what = "Tack the frame without its braces" if later else "Tack every joint"
        return (
            f"{what}, {made.job.job.seen_from} up, each seam in reach once in its middle: "
            f"{count} tacks"
        )
    if step.kind == "fit":
        return (
            "Put the braces in, fitted without force, and tack each seam in reach once in its "
            f"middle: {later} tacks"
        )
    if step.kind == "check":
        return _check_words(made, words, now)
    if step.kind == "cool":
        return "Let it cool until a bare hand can rest on any joint"
    if step.kind == "turn":
        up = made.job.job.seen_from if step.up == "face" else "back"
        return f"Turn the leaf over, {up} up ({words.mass(leaf.lift_mass)})"
    seam = seams[step.seam]
    part = f", its {step.part}" if step.part else ""
    first = f", before {seam.before} is put in" if seam.before else ""
    lies = seam.positions.face_up if step.up == "face" else seam.positions.face_down
    how = f"{words.length(step.length)}, {' and '.join(lies)}"
    return f"{seam.where}{part}; {how}{_back_step(step)}{first}"


def _back_step(step: Step) -> str:
    if step.length <= BACK_STEP:
        return ""
    return ", in short lengths, each laid back toward the one before"


def _check_words(made: Plan, words: Words, now: Stage) -> str:
    most = words.length(wished_of(made.job).limits().diagonals)
    if now == "tacked":
        return (
            f"HOLD. Read it as tacked: diagonals within {most}, or push it right before you go on"
        )
    if now == "open":
        return f"HOLD. Push the frame square again, diagonals within {most}, before a brace goes in"
    if now == "welded":
        return f"HOLD. Cold: read it as welded and write it down; diagonals within {most}"
    return f"HOLD. Read diagonals and strings: moved over {most} since tacked? Stop and think"


# ---------------------------------------------------------------- how good it is


def _of_100(share: float) -> str:
    return f"{100 * share:.0f}"


def _found_words(leaf: Leaf, order: WeldOrder, words: Words) -> tuple[str, ...]:
    if order.like:
        return (f"The {order.like} leaf's order, mirrored: the two leaves are alike.",)
    low, high = _of_100(order.least), _of_100(order.most)
    span = f"{low} to {high}" if low != high else low
    said = [
        f"Against going round corner by corner, taken as 100, it leaves the leaf {span} out of "
        "shape, over all that was tried of what is not known. It is the best found of "
        f"{order.worked} orders; that none is better is not claimed."
    ]
    if order.most > 1.0 - 0.1:
        said.append(
            "On this leaf the order matters little: what it leaves depends more on tacks and fit."
        )
    others = [one for one in order.tried if one.turns > order.turns]
    mine = next(one for one in order.tried if one.turns == order.turns)
    for one in others:
        if one.share < 0.99 * mine.share:
            said.append(
                f"Turned over {_TURNS[one.turns]} it would be {_of_100(one.share)} at worst, not "
                f"{_of_100(mine.share)}: not worth turning {words.mass(leaf.lift_mass)} once more."
            )
        else:
            said.append(f"Turned over {_TURNS[one.turns]} it would be no better.")
    if order.dogged < 0.9 * order.share:
        said.append(
            f"Dogged down flat until it is cold it comes to {_of_100(order.dogged)} instead of "
            f"{_of_100(order.share)}: dog it down."
        )
    else:
        said.append(
            "Dogged down flat until it is cold it comes out about the same: dogs keep the fit-up, "
            "and take out little of this."
        )
    if order.longest <= BACK_STEP:
        said.append(
            f"No seam is longer than {words.length(order.longest)}: none needs back-stepping."
        )
    said.append(f"{sentence(order.no_length)}.")
    return tuple(said)


def _left_words(made: Plan, leaf: Leaf, order: WeldOrder) -> tuple[str, ...]:
    marks = {member.key: f"{member.mark} {member.role}" for member in leaf.members}
    return tuple(sentence(_way_words(one, marks, made.job.job.seen_from)) for one in order.left)


def _way_words(one: Left, marks: Mapping[str, str], face: str) -> str:
    ends = {
        "rising": "bottom hinge corner to the top closing corner",
        "falling": "top hinge corner to the bottom closing corner",
    }
    if one.kind == "square":
        return f"out of square: the diagonal from the {ends[one.way]} comes out shorter"
    if one.kind == "twist":
        pair = ends[one.way].replace(" to the ", " and the ")
        return f"twist: with the {face} up, the {pair} stand up"
    who = marks.get(one.member, one.member)
    if one.kind == "flat":
        return f"{who} bows toward the {face if one.way == 'face' else 'back'}"
    ways = {"out": "outward", "in": "inward", "up": "upward", "down": "downward"}
    return f"{who} bows {ways[one.way]}"


def _tack_words(leaf: Leaf, one: Tacks, words: Words) -> str:
    joint = one.joint.removeprefix(f"{leaf.key}/").replace("-", " ")
    return f"{joint} {one.count} of {words.length(one.length)}"


def _turning(made: Plan, leaf: Leaf, words: Words) -> str:
    """Return the caution of turning a leaf over a long edge, with the people that it takes."""
    people = ""
    if isinstance(made.site, Site):
        found = next((one for one in made.site.leaves if one.key == leaf.key), None)
        if found is not None:
            count = found.stand_up.to_lift_the_edge
            people = (
                f"; the lifting yardstick asks for {count} people"
                if count is not None
                else "; by the lifting yardstick no number of people may lift it"
            )
    half = words.mass(leaf.lift_mass / 2)
    return (
        f"Turning it over: it weighs {words.mass(leaf.lift_mass)}, and lifting a long edge begins "
        f"with half of it, {half}{people}. It can crush and it is hot: "
        "enough people or a hoist rated for it, gloves, nobody under it, one who calls."
    )
