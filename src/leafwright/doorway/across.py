"""Across the opening: shim, post, heel gap, leaf, meeting gap, and their mirror.

Whichever size the maker has not wished is solved for. Where leaf widths are wished and no jamb,
the space left at the sides is. Wishes that leave nothing to solve are compared with the opening:
what they miss it by is reported, with what could be relaxed.
"""

from __future__ import annotations

from dataclasses import dataclass

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.doorway.allow import heat_growth, pin_play, warmer
from leafwright.doorway.budget import GapBudget, budget
from leafwright.doorway.gaps import gap_check
from leafwright.doorway.heel import (
    Heel,
    heel_gap_needed,
    heel_gap_parts,
    leaf_words,
    nose_growth,
    open_leaf_takes,
    standoff,
    swept_side,
)
from leafwright.doorway.left_over import left_over_check
from leafwright.doorway.records import Allowances, AsMade, FillerPiece, Side
from leafwright.job.defaults import chosen
from leafwright.job.model import BarrelHinge, Job
from leafwright.job.steel import Steel
from leafwright.records import Check, Held
from leafwright.survey import Survey, coordinate, side_marks

SIDES: tuple[Side, Side] = ("left", "right")

#: Where infill lies that the heel corner sweeps with, by the leaf's swing.
SWEPT = {
    "toward": ("face", "both"),
    "away": ("back", "both"),
    "both": ("face", "back", "both"),
}


@dataclass(frozen=True, slots=True)
class Across:
    """What the across stage found; dictionaries are by side, leaf sizes by the side it hangs on."""

    width: Quantity
    lines: dict[Side, Quantity]
    heel_gaps: dict[Side, Quantity]
    nose_gap: Quantity
    nose_gap_as_hung: Quantity
    widths: dict[Side, Quantity]
    hinge_edges: dict[Side, Quantity]
    posts: tuple[FillerPiece, ...]
    clear_opening: Quantity
    budgets: tuple[GapBudget, ...]
    checks: tuple[Check, ...]


@dataclass(frozen=True, slots=True)
class _Jamb:
    """Post and shim wished for each side, where there are any."""

    section: str | None
    post: Quantity | None
    shim: Quantity | None

    def parts(self) -> list[Quantity]:
        return [q for q in (self.shim, self.post) if q is not None]


def _edges(found: Survey) -> dict[Side, Quantity]:
    """Return the x of the innermost point of each side [m]."""
    at = {side: [coordinate(found, m.name, "x") for m in side_marks(found, side)] for side in SIDES}
    return {
        "left": chain.largest("doorway/left edge", "left side at its innermost", at["left"]),
        "right": chain.least("doorway/right edge", "right side at its innermost", at["right"]),
    }


def _jamb(job: Job, steel: Steel) -> _Jamb:
    wish = job.doorway.jamb
    if wish is None:
        return _Jamb(None, None, None)
    post = None
    if wish.section is not None:
        width = steel.section(wish.section).width
        post = chain.base("table", "table/jamb post", "jamb post", width, note=wish.section)
    shim = chosen(wish.shim, "jamb shim", "doorway/jamb shim", "jamb shim", system=job.job.system)
    return _Jamb(wish.section, post, shim)


def _heel_gap(job: Job, heel: Heel, needed: Quantity) -> Quantity:
    mount = heel.table.mount
    wish = job.doorway.heel_gap
    if isinstance(mount, BarrelHinge):
        gap = standoff(heel.key, mount)
    elif wish is not None:
        gap = chain.base("wish", "doorway/heel gap", "heel gap wished", wish.si, note=wish.text)
    else:
        gap = needed
    return chain.renamed(gap, f"{heel.key}/heel gap", f"heel gap of {leaf_words(heel.key)}")


@dataclass(frozen=True, slots=True)
class _Nose:
    """The gap at the nose, what it must be [m], and what that is the sum of."""

    gap: Quantity
    needed: Quantity
    parts: list[tuple[float, Quantity]]


def _nose(
    job: Job,
    heels: dict[Side, Heel],
    allow: Allowances,
    running: Quantity,
    plays: dict[Side, Quantity],
    room: Quantity,
    made: AsMade | None,
) -> _Nose:
    """Return the gap at the nose: the one wished, the usual one, or what is needed if larger.

    Each leaf leans, grows by heat and has play on its pins, and each nose reaches farther in
    turning. One that turns while the other stands keeps the running clearance; the two of a pair
    that turn at once may use it up, but not touch.

    Args:
        job: its wishes.
        heels: the leaves.
        allow: the lean known from an earlier pass.
        running: running clearance.
        plays: how far each leaf may sit off the middle of its pins.
        room: what leaves and nose gap share across.
        made: leaves that are made.
    """
    pair = len(heels) == 2
    word = "meeting gap" if pair else "closing gap"
    wish = job.doorway.meeting_gap if pair else job.doorway.closing_gap
    name = word if wish is not None else f"usual {word}"
    usual = chosen(wish, word, f"doorway/{name}", name, system=job.job.system)
    # The nose's growth follows a leaf's width so little that the width before the gap is widened
    # will do: widening it by 6 mm changes the growth of a metre wide leaf by a few micrometres.
    first = chain.total("doorway/first room", "room at first", [(1.0, room), (-1.0, usual)])
    widths, _ = _leaf_widths(heels, first, made, "first width")
    growths = [nose_growth(heels[hand], widths[hand]) for hand in heels]
    heat = warmer(job)
    always = [(float(len(heels)), allow.nose_shift)]
    for hand, heel in heels.items():
        key, name = f"{heel.key}/heat", f"growth of {leaf_words(heel.key)} by heat"
        always += [(1.0, heat_growth(key, name, widths[hand], heat)), (1.0, plays[hand])]
    turning = chain.largest("doorway/growth", "growth of the nose that grows most", growths)
    parts = [(1.0, running), *always, (1.0, turning)]
    needed = chain.total(f"doorway/{word} needed", f"{word} needed", parts)
    if pair:
        at_once = [*always, *((1.0, g) for g in growths)]
        both = chain.total("doorway/both noses", "both noses at once", at_once)
        parts = at_once if both.value > needed.value else parts
        needed = chain.largest(
            "doorway/nose gap needed", f"{word} needed, at worst", [needed, both]
        )
    if wish is not None:
        return _Nose(usual, needed, parts)
    gap = needed if needed.value > usual.value else usual
    return _Nose(chain.renamed(gap, f"doorway/{word}", word), needed, parts)


def _as_it_comes_out(heels: dict[Side, Heel], nose: _Nose, left_over: Quantity) -> _Nose:
    """Return the gap at the nose with what the wishes leave over in it; it may be an overlap."""
    word = "meeting gap" if len(heels) == 2 else "closing gap"
    gap = chain.total(
        f"doorway/{word} left", f"{word} as it comes out", [(1.0, nose.gap), (1.0, left_over)]
    )
    return _Nose(gap, nose.needed, nose.parts)


def _as_hung(
    heels: dict[Side, Heel],
    nose: _Nose,
    widths: dict[Side, Quantity],
    shared: Quantity,
    made: AsMade | None,
) -> Quantity:
    """Return the gap at the nose between leaves that are cut: as unsure as the opening is."""
    cut = [
        width
        if made is not None and made.of(hand) is not None
        else chain.as_made(width, f"{heels[hand].key}/width as cut", f"{width.name}, as cut")
        for hand, width in widths.items()
    ]
    left = chain.total(
        "doorway/between cut leaves",
        "left between the cut leaves",
        [(1.0, shared), *((-1.0, width) for width in cut)],
    )
    parts = [(1.0, left)]
    filled = left.value - nose.gap.value
    if abs(filled) > 1e-9:
        # Side fillers take up what is left over, so that the gap chosen remains.
        space = chain.base(
            "table",
            "doorway/side space",
            "side fillers",
            filled,
            note="what the wishes leave over, filled at the sides",
        )
        parts.append((-1.0, space))
    return chain.total(f"{nose.gap.key} as hung", f"{nose.gap.name}, as hung", parts)


def _leaf_widths(
    heels: dict[Side, Heel], room: Quantity, made: AsMade | None, word: str = "width"
) -> tuple[dict[Side, Quantity], Quantity | None]:
    """Return each leaf's width, and what the wishes leave over where nothing is left to solve.

    A leaf that is made is as wide as it came out, whatever was wished.
    """
    widths: dict[Side, Quantity] = {}
    for hand, heel in heels.items():
        typed = heel.table.width
        cut = made.of(hand) if made is not None else None
        if cut is not None:
            widths[hand] = cut.width
        elif typed is not None:
            name = f"width of {leaf_words(heel.key)}"
            widths[hand] = chain.base("wish", f"{heel.key}/width", name, typed.si, note=typed.text)
    free = [hand for hand in heels if hand not in widths]
    rest = [(1.0, room), *((-1.0, w) for w in widths.values())]
    if not free:
        return widths, chain.total("doorway/left over", "left over across", rest)
    for hand in free:
        key = heels[hand].key
        parts = [(by / len(free), q) for by, q in rest]
        widths[hand] = chain.total(f"{key}/{word}", f"{word} of {leaf_words(key)}", parts)
    return {hand: widths[hand] for hand in heels}, None


def _fillers(
    found: Survey, jamb: _Jamb, edges: dict[Side, Quantity], lines: dict[Side, Quantity], job: Job
) -> tuple[FillerPiece, ...]:
    """Return what fills each side, with the space left behind it at each mark there.

    That is the jamb post; or, where there is a space and no post, a filler without a section.
    """
    width = lines["left"].value - edges["left"].value
    if jamb.post is None and width < 1e-9:
        return ()
    pieces = []
    for side in SIDES:
        sign, bottom, top = (1.0, "BL", "TL") if side == "left" else (-1.0, "BR", "TR")
        near = lines[side]
        height = [(1.0, coordinate(found, top, "y")), (-1.0, coordinate(found, bottom, "y"))]
        if jamb.post is not None:
            key, name, what = f"{side}/post", f"{side} jamb post", "shim"
            far = chain.total(
                f"{side}/post back", f"back of the {side} post", [(1.0, near), (-sign, jamb.post)]
            )
            fit = chosen(None, "post fit", "doorway/post fit", "post fit", system=job.job.system)
            height.append((-1.0, fit))
        else:
            key, name, what, far = f"{side}/filler", f"{side} side filler", "space", near
        behind = tuple(
            chain.total(
                f"{side}/behind {key.partition('/')[2]} at {m.name}",
                f"{what} behind the {name} at {m.name}",
                [(sign, far), (-sign, coordinate(found, m.name, "x"))],
            )
            for m in side_marks(found, side)
        )
        length = chain.total(f"{key} length", f"length of the {name}", height)
        place = "jamb post" if jamb.post is not None else "side filler"
        pieces.append(FillerPiece(f"{side}/{place}", name, jamb.section, length, near, far, behind))
    return tuple(pieces)


def across(
    job: Job,
    found: Survey,
    steel: Steel,
    heels: dict[Side, Heel],
    allow: Allowances,
    made: AsMade | None = None,
) -> Across | Held:
    """Return everything across the opening [m], or why nothing fits.

    Leaves that are ``made`` take up what they came out as.
    """
    running = chosen(
        job.doorway.running_clearance,
        "running clearance",
        "doorway/running clearance",
        "running clearance",
        system=job.job.system,
    )
    edges = _edges(found)
    width = chain.total(
        "doorway/width", "least clear width", [(1.0, edges["right"]), (-1.0, edges["left"])]
    )
    jamb = _jamb(job, steel)
    plays = {hand: pin_play(job, heel) for hand, heel in heels.items()}
    parts = {hand: heel_gap_parts(h, running, plays[hand]) for hand, h in heels.items()}
    needed = {hand: heel_gap_needed(h, parts[hand]) for hand, h in heels.items()}
    heel_gaps = {hand: _heel_gap(job, h, needed[hand]) for hand, h in heels.items()}
    taken = [(-2.0, q) for q in jamb.parts()]
    taken += [(-1.0, q) for q in heel_gaps.values()]
    shared = chain.total("doorway/between heels", "between the hinge edges", [(1.0, width), *taken])
    nose = _nose(job, heels, allow, running, plays, shared, made)
    room = chain.total(
        "doorway/left for leaves", "left for the leaves", [(1.0, shared), (-1.0, nose.gap)]
    )
    if room.value <= 0:
        return Held(
            "the opening is too narrow for its posts and gaps",
            ("a wider opening, thinner posts or smaller gaps",),
        )
    widths, left_over = _leaf_widths(heels, room, made)
    for hand, leaf_width in widths.items():
        stile = steel.section(heels[hand].table.frame).width
        if leaf_width.value <= 2 * stile:
            return Held(
                f"{leaf_words(heels[hand].key)} would be no wider than its two stiles",
                ("a wider opening, or a smaller width for the other leaf",)
                if len(heels) == 2
                else ("a wider opening, thinner posts or smaller gaps",),
            )
    checks = []
    filled = job.doorway.jamb is None and not _barrel(heels)
    lines = _lines(edges, jamb, left_over if filled else None)
    if left_over is not None:
        checks.append(left_over_check(left_over, widths, room, filled, made))
    hinge_edges = {
        hand: chain.total(
            f"{heels[hand].key}/hinge edge",
            f"hinge edge of {leaf_words(heels[hand].key)}",
            [(1.0, lines[hand]), (1.0 if hand == "left" else -1.0, heel_gaps[hand])],
        )
        for hand in heels
    }
    for hand, heel in heels.items():
        # A gap that is solved for is what it needs: there is nothing to check.
        if job.doorway.heel_gap is not None or isinstance(heel.table.mount, BarrelHinge):
            checks.append(_heel_check(heel, heel_gaps[hand], needed[hand], running))
    if left_over is not None and (not filled or left_over.value < 0):
        nose = _as_it_comes_out(heels, nose, left_over)
    hung = _as_hung(heels, nose, widths, shared, made)
    checks.append(_nose_check(heels, hung, nose.needed, shimmed=jamb.shim is not None))
    return Across(
        width=width,
        lines=lines,
        heel_gaps=heel_gaps,
        nose_gap=nose.gap,
        nose_gap_as_hung=hung,
        widths=widths,
        hinge_edges=hinge_edges,
        posts=_fillers(found, jamb, edges, lines, job),
        clear_opening=_clear_opening(heels, heel_gaps, lines),
        budgets=(
            *(
                budget(heel_gaps[hand], parts[hand])
                for hand, heel in heels.items()
                if not isinstance(heel.table.mount, BarrelHinge)
            ),
            budget(hung, nose.parts),
        ),
        checks=tuple(checks),
    )


def _barrel(heels: dict[Side, Heel]) -> bool:
    return any(isinstance(h.table.mount, BarrelHinge) for h in heels.values())


def _lines(
    edges: dict[Side, Quantity], jamb: _Jamb, left_over: Quantity | None
) -> dict[Side, Quantity]:
    """Return the x of what each side's leaf hangs from: post face, or the building itself [m]."""
    parts = [(1.0, q) for q in jamb.parts()]
    if left_over is not None and left_over.value > 0:
        parts.append((0.5, left_over))
    return {
        "left": chain.total(
            "doorway/left line", "left hanging line", [(1.0, edges["left"]), *parts]
        ),
        "right": chain.total(
            "doorway/right line",
            "right hanging line",
            [(1.0, edges["right"]), *((-by, q) for by, q in parts)],
        ),
    }


def _heel_check(heel: Heel, gap: Quantity, needed: Quantity, running: Quantity) -> Check:
    """Return whether the heel clears the jamb; on barrel hinges, the post when open to 90°."""
    subject = f"heel of {leaf_words(heel.key)}"
    if isinstance(heel.table.mount, BarrelHinge):
        half = swept_side(heel)
        return gap_check(
            f"{heel.key}/post clearance",
            subject,
            "does the leaf clear its post when open to 90°",
            needed=chain.total(
                f"{heel.key}/post clearance needed",
                "half thickness and running clearance",
                [(1.0, half), (1.0, running)],
            ),
            has=chain.total(f"{heel.key}/axis off post", "post to axis", [(-1.0, heel.axis)]),
            change="make the standoff larger, or keep the infill back from the heel",
        )
    other = "set the axis farther in"
    if any(i.on in SWEPT[heel.table.swing] for i in heel.table.infill):
        other = "keep the infill back from the heel"
    return gap_check(
        f"{heel.key}/heel sweep",
        subject,
        "does the heel corner clear the jamb as it turns",
        needed=needed,
        has=gap,
        change=f"widen the heel gap, or {other}",
    )


def _nose_check(
    heels: dict[Side, Heel], gap: Quantity, needed: Quantity, *, shimmed: bool
) -> Check:
    pair = len(heels) == 2
    change = "no shim takes it up: measure more, or widen the gap"
    # A gap of nothing is no overlap: the arithmetic may miss by an ulp.
    if gap.value < -1e-9:
        change = "the leaves overlap: make one narrower"
    elif shimmed:
        change = "set the gap with the shims behind the posts when the leaves hang"
    return gap_check(
        "doorway/nose gap",
        "meeting edges" if pair else "closing edge",
        "does a nose pass as it turns, with its lean",
        needed=needed,
        has=gap,
        change=change,
    )


def _clear_opening(
    heels: dict[Side, Heel], gaps: dict[Side, Quantity], lines: dict[Side, Quantity]
) -> Quantity:
    """Return the clear width between what stands in it with every leaf open to 90° [m]."""
    takes = [(-1.0, open_leaf_takes(heel, gaps[hand])) for hand, heel in heels.items()]
    parts = [(1.0, lines["right"]), (-1.0, lines["left"]), *takes]
    return chain.total("doorway/clear opening", "clear opening at 90°", parts)
