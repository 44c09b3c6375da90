"""What is asked of a leaf's seams as a whole: their size, their round corners, a rod's tabs."""

from __future__ import annotations

from collections.abc import Sequence

from leafwright.doorway.heel import leaf_words
from leafwright.handbook import aws
from leafwright.handbook.aisc360 import welds
from leafwright.leaf import Leaf
from leafwright.proof.capacity import DOCUMENT
from leafwright.proof.seam_group import Group
from leafwright.proof.seam_parts import WeldedEnd, thickness
from leafwright.proof.seam_records import Seam
from leafwright.proof.seam_sizes import Welding, fillet_strength, joined, leg_for, thinner
from leafwright.proof.seam_words import SeamWords
from leafwright.proof.working import Lines
from leafwright.records import Check, Newtons, Source, Verdict

_PLACES = {"flare-bevel": "in round corners", "square groove": "along flush edges"}


def taken_words(how: Welding, words: SeamWords) -> tuple[str, ...]:
    """Return what is taken for granted of every seam."""
    filler = (
        "; filler of class 42 (EN ISO 2560-A, 14341-A) has 500 MPa at least (from memory)"
        if how.metric
        else ""
    )
    return (
        "seams: every end is welded all round, by a procedure that fits and with sound starts and "
        f"stops, in metal of {words.metal}{filler}; each group is loaded by its "
        "member's forces where it lies, and its lines give way alike in every direction",
        "no seam is ground: grinding one flush takes its throat away, and what is to be flush "
        "under cladding must be bevelled and proved again; the point of a wedged brace is clipped "
        "to clear the seam behind it, for which nothing is taken off",
        "fatigue of seams is not worked: a leaf opened by hand moves some tens of times a day",
    )


def size_check(
    leaf: Leaf, groups: Sequence[Group], how: Welding, words: SeamWords
) -> tuple[Check, ...]:
    """Return whether the fillets are as large as the thickness of their walls asks for."""
    pairs = {
        tuple(sorted(thickness(m, design=False) for m in joined(group.end, piece.landing)))
        for group in groups
        for piece in group.end.pieces
        if piece.kind == "fillet"
    }
    if not pairs:
        return ()

    def wanted(pair: tuple[float, ...]) -> float:
        least = aws.minimum_fillet(pair[0], pair[1])
        return least / leg_for(pair[0], how.leg.value, metric=how.metric)

    pair = max(sorted(pairs), key=wanted)
    lines = Lines()
    least = float(lines.work(aws.minimum_fillet, thinner=pair[0], thicker=pair[1]))
    greatest = float(lines.work(welds.maximum_fillet, edge=pair[0], metric=how.metric))
    leg = leg_for(pair[0], how.leg.value, metric=how.metric)
    small = least > leg * (1.0 + 1e-9)
    thin = pair[0] < aws.LEAST_PLATE * (1.0 - 1e-9)
    return (
        Check(
            key=f"{leaf.key}/seams/size",
            subject=f"the fillets of {leaf_words(leaf.key)}",
            question="are they as large as walls so thick ask for",
            verdict=Verdict.SHORT if small else Verdict.OK,
            source=Source(
                "AWS D1.1:2020",
                "7.13 and Table 7.7" + ("; D1.3 has sheet under 1/8 in" if thin else ""),
            ),
            unit="m",
            demand=least,
            available=leg,
            ratio=least / leg,
            change=f"fillets of {words.next_size(least)} or more" if small else "",
            rule=f"least leg by the thinner wall, {words.size(pair[0])}; they are made "
            f"{words.size(leg)}, and along so thin an edge may be {words.size(greatest)} (AISC "
            "360-22, J2.2b)",
            working=lines.kept(),
        ),
    )


def trial_check(
    leaf: Leaf, groups: Sequence[Group], seams: Sequence[Seam], words: SeamWords
) -> tuple[Check, ...]:
    """Return the question whether seams that no table counts have the throat they are given."""
    resting = [seam for seam in seams if seam.rests_on_trial and seam.used is not None]
    if not resting:
        return ()
    kinds = {
        "flare-bevel": f"in round corners of under {words.size(welds.LEAST_FLARE_BEVEL_RADIUS)} "
        "radius, for which Table J2.2 counts none: 5/16 of the radius is counted, which it grants "
        "larger ones",
        "square groove": "along edges that end flush, not bevelled: D1.1 has such grooves for "
        "butt joints",
    }
    told, counted = [], []
    for kind, where in kinds.items():
        mine = [seam for seam in resting if seam.kind == kind]
        if mine:
            told.append(f"{len(mine)} {where}")
            counted.append(f"{words.size(min(seam.throat for seam in mine))} {_PLACES[kind]}")
    worst = max(resting, key=lambda seam: seam.throat * (seam.used or 0.0))
    wall = min(
        thinner(group.end, piece.landing)
        for group in groups
        for piece, size in zip(group.end.pieces, group.sizes, strict=True)
        if size.trial
    )
    lines = Lines()
    least = float(lines.work(welds.minimum_groove_throat, thinner=wall, metric=words.metric))
    return (
        Check(
            key=f"{leaf.key}/seams/trial joints",
            subject=f"the seams of {leaf_words(leaf.key)} that no table counts",
            question="do they have the throat they are counted with",
            verdict=Verdict.ASK,
            source=Source(
                DOCUMENT, "Table J2.2, note [a]; J2.1a; Table J2.3; AWS D1.1:2020, Figure 5.2"
            ),
            change="weld a trial joint of each kind, cut it across, etch it and measure: counted "
            f"are {' and '.join(counted)}; the most that is needed is about "
            f"{words.size(worst.throat * (worst.used or 0.0))} ({worst.mark}, {worst.end} end); or "
            "have a welding inspector answer",
            rule=f"{'; '.join(told)}; by Table J2.3 a groove weld should have {words.size(least)}, "
            "or go through a thinner wall",
            working=lines.kept(),
        ),
    )


def rod_check(
    leaf: Leaf, end: WeldedEnd, pull: Newtons, case: str, how: Welding, words: SeamWords
) -> Check:
    """Return the question how a rod's end is held, with the pull it has to hold."""
    frame = leaf.members[0]
    leg = leg_for(thickness(frame, design=False), how.leg.value, metric=how.metric)
    holds = fillet_strength(leg, frame, how)
    each = max(pull / holds.value / 2.0, 4.0 * leg)
    return Check(
        key=f"{end.key}/weld",
        subject=f"{end.subject}, its tab",
        question="does the tab hold, its seams, and the tube wall behind it",
        verdict=Verdict.ASK,
        source=Source(DOCUMENT, "J2.4, Eq. J2-3; J4; K2"),
        unit="N",
        demand=pull,
        case=case,
        change=f"it pulls with {words.force(pull)}, and the tab's size is not given: two fillets "
        f"of {words.size(leg)}, {words.next_size(each)} long each, hold that on the frame, in line "
        "with a side wall of the tube and not on the middle of its face; have the tab, its pin or "
        "thread and the wall answered for",
        rule="two equal fillets along the pull; no shorter than 4 legs (AISC 360-22, J2.2b(c))",
        basis=how.method.value,
        working=holds.working,
    )
