"""How far a shut leaf bows out of its plane: in wind, and with the sun on one face."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from leafwright.chain import Quantity
from leafwright.doorway.heel import leaf_words
from leafwright.frame.load_cases import NAMES, LeafCase, Situation, is_wind
from leafwright.frame.model import FrameModel
from leafwright.frame.solve import FrameResult
from leafwright.handbook import thermal
from leafwright.leaf import Leaf
from leafwright.proof.compared import compared, leaf_subject
from leafwright.proof.movement import ANALYSIS
from leafwright.proof.working import Lines
from leafwright.records import Check, Metres, Source, Working

#: Stations along each element at which its bow is looked at.
STATIONS = 9


@dataclass(frozen=True, slots=True)
class Bow:
    """The greatest movement out of the leaf's plane in wind [m], and where it is."""

    greatest: Metres
    situation: Situation
    member: str
    share: float


def greatest_bow(model: FrameModel, result: FrameResult, cases: Sequence[LeafCase]) -> Bow | None:
    """Return how far any point of a tube or bar goes out of the leaf's plane in wind.

    Between the nodes it is the elastic line: that of the ends' movements and turns, and of the
    element's own load, whose shear bow is left out. Rods hang between their ends and are not
    looked at.
    """
    rows = np.array(
        [i for i, e in enumerate(model.elements) if not e.tension_only and e.member != "link"],
        dtype=np.intp,
    )
    windy = np.array(
        [i for i, c in enumerate(cases) if is_wind(c.situation) and c.for_movement],
        dtype=np.intp,
    )
    if not windy.size or not rows.size:
        return None
    index = {key: i for i, key in enumerate(result.nodes)}
    elements = [model.elements[i] for i in rows]
    sections = {s.key: s for s in model.sections}
    ends = np.array([[index[e.start], index[e.end]] for e in elements])
    L = result.lengths[rows]
    axes = result.axes[rows]
    moved = result.displacements[windy][:, ends]
    across, along = moved[..., 2], axes[:, 0]
    # A turn moves what lies ahead of it: the z part of turn × direction.
    slope = (moved[..., 3] * along[None, :, None, 1] - moved[..., 4] * along[None, :, None, 0]) * L[
        None, :, None
    ]
    q = result.line_loads[windy][:, rows, 2] * axes[:, 2, 2]
    stiffness = np.array(
        [sections[e.section].elastic_modulus * sections[e.section].inertia_y for e in elements]
    )
    t = np.linspace(0.0, 1.0, STATIONS)[None, None, :]
    start, end = across[..., 0, None], across[..., 1, None]
    line = (
        start * (1 - 3 * t**2 + 2 * t**3)
        + end * (3 * t**2 - 2 * t**3)
        + slope[..., 0, None] * (t - 2 * t**2 + t**3)
        + slope[..., 1, None] * (t**3 - t**2)
        + (q * L**4 / (24.0 * stiffness))[..., None] * (t * (1 - t)) ** 2
    )
    at = np.unravel_index(int(np.argmax(np.abs(line))), line.shape)
    case, row, station = (int(i) for i in at)
    member = elements[row].member
    chain = [i for i, e in enumerate(elements) if e.member == member]
    before = float(sum(L[i] for i in chain if i < row))
    share = (before + float(t[0, 0, station]) * float(L[row])) / float(sum(L[i] for i in chain))
    return Bow(float(np.abs(line[at])), cases[windy[case]].situation, member, share)


def _where(leaf: Leaf, bow: Bow) -> str:
    member = next((m for m in leaf.members if m.key == bow.member), None)
    if member is None:
        return ""
    upright = abs(member.direction[1]) > abs(member.direction[0])
    low, high = ("bottom", "top") if upright else ("left", "right")
    if (member.direction[1] if upright else member.direction[0]) < 0.0:
        low, high = high, low
    place = (
        "near the middle"
        if 0.2 < bow.share < 0.8
        else f"at the {low if bow.share <= 0.2 else high} end"
    )
    return f"{place} of the {member.role}"


def bow_check(
    leaf: Leaf,
    bow: Bow | None,
    *,
    limit: Quantity,
    nose: Sequence[str],
    before: tuple[Working, ...] = (),
) -> tuple[Check, ...]:
    """Return whether the leaf stays straight enough in wind [m].

    ``limit`` is a length, or how many times its bow the leaf's longer side must be. No code asks
    for the latter of a leaf, so past it is advice; past the maker's own length is short. ``before``
    is how the wind came about.
    """
    if bow is None:
        return ()
    longer = max(leaf.width, leaf.height)
    most, told = limit.value, "the limit given in [limits]"
    if limit.unit != "m":
        most, told = longer / limit.value, f"its longer side over {limit.value:g}"
    held = " and ".join(nose)
    other = "top" if "top" not in nose else "bottom"
    change = "deeper stiles and rails, or set the bow that it may have in [limits]"
    if len(nose) == 1:
        change = f"hold the nose at its {other} too, or {change}"
    return (
        compared(
            f"{leaf.key}/wind bow",
            leaf_subject(leaf.key),
            "does it stay flat enough in the wind",
            bow.greatest,
            most,
            source=ANALYSIS,
            rule=(
                f"greatest way out of its plane, {_where(leaf, bow)}, pins free, its nose held at "
                f"the {held}; {told}"
            ),
            change=change,
            unit="m",
            case=NAMES[bow.situation],
            before=before,
            advice=limit.unit != "m",
        ),
    )


def sun_check(
    leaf: Leaf,
    *,
    depth: float,
    difference: Quantity,
    limit: Quantity,
) -> Check:
    """Return how far a leaf bows with the sun on one face, against a gap or limit [m].

    ``depth`` is the frame's from face to face [m], ``difference`` between its faces [K]. The two
    ends of its longer side are taken as held in line.
    """
    lines = Lines()
    bow = lines.work(
        thermal.thermal_bow,
        length=max(leaf.width, leaf.height),
        depth=depth,
        alpha=thermal.STEEL,
        difference=difference.value,
    )
    return compared(
        f"{leaf.key}/sun bow",
        leaf_subject(leaf.key),
        "does it stay in line with the sun on one face",
        float(bow),
        limit.value,
        source=Source("EN 1993-1-1:2005", "3.2.6(1), α of steel; a beam warmer on one face"),
        rule=(
            f"α ΔT L² / (8 depth) against the {limit.name}: so far {leaf_words(leaf.key)} stands "
            "out of line at mid length beside what is straight"
        ),
        change=(
            "a deeper frame, a pale paint or a shaded face; set its stop and latch where the leaf "
            "then stands"
        ),
        unit="m",
        case="sun on one face",
        lines=lines,
        advice=True,
    )
