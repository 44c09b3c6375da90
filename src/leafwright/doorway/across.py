"""Across the opening: shim, post, heel gap, leaf, meeting gap, and their mirror.

Whichever size the maker has not wished is solved for. Wishes that leave nothing to solve are
compared with the opening: what they miss it by is reported, with what could be relaxed.
"""

from __future__ import annotations

from dataclasses import dataclass

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.doorway.gaps import GEOMETRY, gap_check
from leafwright.doorway.heel import Heel, heel_gap_needed, nose_growth, open_leaf_takes
from leafwright.doorway.records import Allowances, FillerPiece, Side
from leafwright.job.defaults import chosen
from leafwright.job.model import BarrelHinge, Job
from leafwright.job.steel import Steel
from leafwright.records import Check, Held, Verdict
from leafwright.survey import Survey, coordinate, side_marks

SIDES: tuple[Side, Side] = ("left", "right")


@dataclass(frozen=True, slots=True)
class Across:
    """What the across stage found; dictionaries are by side, leaf sizes by the side it hangs on."""

    width: Quantity
    lines: dict[Side, Quantity]
    heel_gaps: dict[Side, Quantity]
    nose_gap: Quantity
    widths: dict[Side, Quantity]
    hinge_edges: dict[Side, Quantity]
    posts: tuple[FillerPiece, ...]
    clear_opening: Quantity
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
    key, name = f"{heel.key}/heel gap", f"heel gap, {heel.key}"
    mount = heel.table.mount
    if isinstance(mount, BarrelHinge):
        return chain.base("wish", key, name, mount.standoff.si, note=mount.standoff.text)
    wish = job.doorway.heel_gap
    if wish is not None:
        return chain.base("wish", key, name, wish.si, note=wish.text)
    return chain.renamed(needed, key, name)


def _nose_gap(job: Job, allow: Allowances, running: Quantity) -> tuple[Quantity, Quantity]:
    """Return the gap at the nose, and the least it may be before the nose's growth [m]."""
    count = len(job.leaf)
    word = "meeting gap" if count == 2 else "closing gap"
    wish = job.doorway.meeting_gap if count == 2 else job.doorway.closing_gap
    needed = chain.total(
        f"doorway/{word} needed",
        f"{word} needed",
        [(1.0, running), (float(count), allow.nose_shift)],
    )
    usual = chosen(wish, word, f"doorway/{word}", word, system=job.job.system)
    if wish is None and needed.value > usual.value:
        return chain.renamed(needed, f"doorway/{word}", word), needed
    return usual, needed


def _leaf_widths(
    job: Job, heels: dict[Side, Heel], left_for_leaves: Quantity
) -> tuple[dict[Side, Quantity], Quantity | None]:
    """Return each leaf's width, and what the wishes leave over where nothing is left to solve."""
    wished = {
        hand: chain.base(
            "wish",
            f"{h.key}/width",
            f"width, {h.key} leaf",
            h.table.width.si,
            note=h.table.width.text,
        )
        for hand, h in heels.items()
        if h.table.width is not None
    }
    free = [hand for hand in heels if hand not in wished]
    if not free:
        parts = [(1.0, left_for_leaves), *((-1.0, w) for w in wished.values())]
        return wished, chain.total("doorway/left over", "left over across", parts)
    rest_parts = [(1.0, left_for_leaves), *((-1.0, w) for w in wished.values())]
    widths = dict(wished)
    for hand in free:
        key = heels[hand].key
        parts = [(by / len(free), q) for by, q in rest_parts]
        name = f"width, {key} leaf" if len(heels) == 2 else "width of the leaf"
        widths[hand] = chain.total(f"{key}/width", name, parts)
    return widths, None


def _left_over_check(left_over: Quantity, widths: dict[Side, Quantity], has: Quantity) -> Check:
    """Return whether wishes that fix everything agree with the opening, within its 95 % band."""
    wished = sum(w.value for w in widths.values())
    verdict, change = Verdict.OK, ""
    if left_over.value < -left_over.band:
        verdict = Verdict.SHORT
        change = "the wishes do not fit: relax a leaf width, the jamb, the standoff or a gap"
    elif left_over.value > left_over.band:
        verdict = Verdict.ASK
        change = "the wishes leave a space: say which of leaf width, jamb or gap may grow"
    return Check(
        key="doorway/left over",
        subject="the wishes across the opening",
        question="leaf widths wished against what the opening leaves for them",
        verdict=verdict,
        source=GEOMETRY,
        unit="m",
        demand=wished,
        available=has.value,
        ratio=wished / has.value if has.value > 0 else None,
        change=change,
    )


def _posts(
    found: Survey, jamb: _Jamb, edges: dict[Side, Quantity], lines: dict[Side, Quantity], job: Job
) -> tuple[FillerPiece, ...]:
    """Return the post of each side, with what is left behind it at each mark that was measured."""
    if jamb.post is None:
        return ()
    fit = chosen(None, "post fit", "doorway/post fit", "post fit", system=job.job.system)
    posts = []
    for side, bottom, top, sign in (("left", "BL", "TL", 1.0), ("right", "BR", "TR", -1.0)):
        line = lines[side]  # type: ignore[index]
        far = chain.total(
            f"{side}/post back", f"back of the {side} post", [(1.0, line), (-sign, jamb.post)]
        )
        behind = tuple(
            chain.total(
                f"{side}/behind post at {m.name}",
                f"shim behind the {side} post at {m.name}",
                [(sign, far), (-sign, coordinate(found, m.name, "x"))],
            )
            for m in side_marks(found, side)  # type: ignore[arg-type]
        )
        length = chain.total(
            f"{side}/post length",
            f"length, {side} post",
            [
                (1.0, coordinate(found, top, "y")),
                (-1.0, coordinate(found, bottom, "y")),
                (-1.0, fit),
            ],
        )
        posts.append(
            FillerPiece(
                f"{side}/jamb post", f"{side} jamb post", jamb.section, length, line, far, behind
            )
        )
    return tuple(posts)


def across(
    job: Job, found: Survey, steel: Steel, heels: dict[Side, Heel], allow: Allowances
) -> Across | Held:
    """Return everything across the opening [m], or why nothing fits."""
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
    needed = {hand: heel_gap_needed(h, running) for hand, h in heels.items()}
    heel_gaps = {hand: _heel_gap(job, h, needed[hand]) for hand, h in heels.items()}
    nose_gap, nose_needed = _nose_gap(job, allow, running)
    taken = [(-2.0, q) for q in jamb.parts()]
    taken += [(-1.0, q) for q in (*heel_gaps.values(), nose_gap)]
    left_for_leaves = chain.total(
        "doorway/left for leaves", "left for the leaves", [(1.0, width), *taken]
    )
    if left_for_leaves.value <= 0:
        return Held(
            "the opening is too narrow for its posts and gaps",
            ("a wider opening, thinner posts or smaller gaps",),
        )
    widths, left_over = _leaf_widths(job, heels, left_for_leaves)
    for hand, leaf_width in widths.items():
        stile = steel.section(heels[hand].table.frame).width
        if leaf_width.value <= 2 * stile:
            return Held(
                f"the {hand} leaf would be no wider than its two stiles",
                ("a wider opening, or a smaller width for the other leaf",),
            )
    checks = []
    lines = _lines(edges, jamb, left_over if not job.doorway.jamb else None)
    if left_over is not None and (job.doorway.jamb or left_over.value < 0 or _barrel(heels)):
        lines = _lines(edges, jamb, None)
        checks.append(_left_over_check(left_over, widths, left_for_leaves))
    hinge_edges = {
        hand: chain.total(
            f"{heels[hand].key}/hinge edge",
            f"hinge edge, {heels[hand].key}",
            [(1.0, lines[hand]), (1.0 if hand == "left" else -1.0, heel_gaps[hand])],
        )
        for hand in heels
    }
    for hand, heel in heels.items():
        checks += _sweep_checks(heel, heel_gaps[hand], needed[hand])
    checks.append(_nose_check(job, heels, widths, nose_gap, nose_needed))
    return Across(
        width=width,
        lines=lines,
        heel_gaps=heel_gaps,
        nose_gap=nose_gap,
        widths=widths,
        hinge_edges=hinge_edges,
        posts=_posts(found, jamb, edges, lines, job),
        clear_opening=_clear_opening(heels, heel_gaps, lines),
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


def _sweep_checks(heel: Heel, gap: Quantity, needed: Quantity) -> list[Check]:
    if isinstance(heel.table.mount, BarrelHinge):
        return []
    return [
        gap_check(
            f"{heel.key}/heel sweep",
            f"heel of the {heel.key} leaf",
            "does the heel corner clear the jamb as it turns",
            needed=needed,
            has=gap,
            change="widen the heel gap, or keep the infill back from the heel",
        )
    ]


def _nose_check(
    job: Job,
    heels: dict[Side, Heel],
    widths: dict[Side, Quantity],
    gap: Quantity,
    needed: Quantity,
) -> Check:
    hand = max(heels, key=lambda h: max(heels[h].half_face.value, heels[h].half_back.value))
    growth = nose_growth(heels[hand], widths[hand])
    word = "meeting edges" if len(heels) == 2 else "closing edge"
    return gap_check(
        "doorway/nose gap",
        word,
        "does the nose pass as it turns, with its lean",
        needed=chain.total(
            "doorway/nose gap needed", "nose gap needed", [(1.0, needed), (1.0, growth)]
        ),
        has=gap,
        change="widen the gap, or accept less running clearance",
    )


def _clear_opening(
    heels: dict[Side, Heel], gaps: dict[Side, Quantity], lines: dict[Side, Quantity]
) -> Quantity:
    """Return the clear width between what stands in it with every leaf open to 90° [m]."""
    takes = [(-1.0, open_leaf_takes(heel, gaps[hand])) for hand, heel in heels.items()]
    parts = [(1.0, lines["right"]), (-1.0, lines["left"]), *takes]
    return chain.total("doorway/clear opening", "clear opening at 90°", parts)
