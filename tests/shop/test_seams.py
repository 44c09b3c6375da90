"""The seams: every contact line has one or a reason, numbers follow the place, ticks the key."""

from __future__ import annotations

import itertools
import math
import random
from collections import Counter
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from shapely.geometry import LineString, MultiPolygon, Point, Polygon
from shapely.ops import linemerge

from leafwright import load_job, plan
from leafwright.handbook.sections import ROUND_BAR, ROUND_TUBE
from leafwright.job.store.records import LogEntry
from leafwright.leaf import Leaf, Member
from leafwright.pipeline import Plan
from leafwright.proof.seam_sizes import welding_of
from leafwright.shop.seams import (
    LeafSeams,
    NumberedSeam,
    Seams,
    left_of,
    seam_hash,
    ticked,
    weld_volume,
)
from leafwright.shop.seams.frame_seams import FrameSeams
from leafwright.units import Tape
from tests.leaves import random_kinds, random_wishes
from tests.proof.proofs import job, proved
from tests.sizes import cases

EXAMPLES = Path(__file__).parents[2] / "examples"
#: Contact lines are found to within this, shorter ones are points [m].
NEAR, POINT = 2e-6, 1e-4


def planned(name: str) -> Plan:
    return plan(load_job(EXAMPLES / f"{name}.toml").job, upto="shop")


@pytest.fixture(scope="module")
def boathouse() -> Plan:
    return planned("boathouse")


def seams_of(made: Plan, number: int = 0) -> LeafSeams:
    assert isinstance(made.seams, Seams)
    return made.seams.leaves[number]


# ------------------------------------------------- every contact line, found from the outlines


def contact(end: Member, wall: Member, gap: float) -> list[LineString]:
    """Return the straight pieces of a member's outline that lie on another's, a root gap off."""
    body = Polygon(wall.bar.outline)
    outline = (*end.bar.outline, end.bar.outline[0])
    found = []
    for a, b in itertools.pairwise(outline):
        common = LineString([a, b]).intersection(
            body.buffer(gap + NEAR).difference(body.buffer(-NEAR))
        )
        if not isinstance(common, LineString) or common.length < POINT:
            continue
        if all(abs(body.distance(Point(at)) - gap) < 2.0 * NEAR for at in common.coords):
            found.append(common)
    return found


def in_the_cut(member: Member, at: tuple[float, ...]) -> bool:
    """Return whether a point of a cut is inside the bar's two long edges: beside its nose."""
    (fx, fy), (dx, dy) = member.foot, member.direction
    across = (at[1] - fy) * dx - (at[0] - fx) * dy
    return abs(across) < member.section.width / 2 - 1e-5


def edges_of(leaf: Leaf, why: list[str]) -> list[tuple[str, LineString, float | None]]:
    """Return every joint edge: whose it is, in elevation, and its z (None: across the tubes).

    Where a cut end lies on a wall there is an edge on the face and one on the back, and across
    the tubes at either end of all it lies on. Of two that lie on one another along a mitre, the
    rail's are taken. Beside a nose that is cut back, which must be stated, none is across.
    """
    found: list[tuple[str, LineString, float | None]] = []
    steel = [m for m in leaf.members if m.role != "rod"]
    outer = ("rail", "stile")
    for member in steel:
        ends: list[LineString] = []
        for other in steel:
            if other is member:
                continue
            for line in contact(member, other, leaf.root_gap.value):
                # A wall runs along its member, a cut end does not.
                (x0, y0), (x1, y1) = line.coords[0], line.coords[-1]
                dx, dy = member.direction
                sine = abs((x1 - x0) * dy - (y1 - y0) * dx) / line.length
                both = member.role.endswith(outer) and other.role.endswith(outer)
                mitred = 0.001 < sine < 0.999 and both
                if sine >= 0.001 and not (mitred and not member.role.endswith("rail")):
                    ends.append(line)
        half = member.section.height / 2
        for line in ends:
            found += [(member.key, line, half), (member.key, line, -half)]
        merged = linemerge([snapped(line) for line in ends])
        chains = [merged] if isinstance(merged, LineString) else list(merged.geoms)
        noses = sum(key.startswith(f"{member.key}/") and key.endswith("/cut back") for key in why)
        inner = 0
        for chain in chains if ends else []:
            for at in (chain.coords[0], chain.coords[-1]):
                if in_the_cut(member, at):
                    inner += 1
                else:
                    found.append((member.key, LineString([at, at]), None))
        assert inner == 2 * noses, member.key
    return found + lap_edges(leaf)


def lap_edges(leaf: Leaf) -> list[tuple[str, LineString, float | None]]:
    """Return the joint edges of half-lapped bars, as `edges_of`: of the solid left on either side.

    Each bar, less what the other takes of it on its notched side, lies on the other in two lines;
    at the ends of those of the one are the four corners between the bars, through their depth.
    """
    found: list[tuple[str, LineString, float | None]] = []
    gap = leaf.root_gap.value
    for member in leaf.members:
        if member.notch is None:
            continue
        stem = member.key.rpartition("/")[0]
        other = next(
            m for m in leaf.members if m.key.rpartition("/")[0] == stem and m is not member
        )
        z = member.section.height / 2 * (1.0 if member.notch.face == "face" else -1.0)
        taken = Polygon(other.bar.outline).buffer(gap, join_style="mitre", mitre_limit=50.0)
        left = Polygon(member.bar.outline).difference(taken)
        assert isinstance(left, MultiPolygon)
        for part in left.geoms:
            bar = replace(member.bar, outline=tuple((x, y) for x, y in part.exterior.coords[:-1]))
            for line in contact(replace(member, bar=bar), other, gap):
                (x0, y0), (x1, y1) = line.coords[0], line.coords[-1]
                dx, dy = other.direction
                # Along the other bar: a cut, not one of the bar's own long edges.
                if abs((x1 - x0) * dy - (y1 - y0) * dx) / line.length > 1e-6:
                    continue
                found.append((member.key, line, z))
                if member.key.endswith("/across"):
                    found += [(member.key, LineString([at, at]), None) for at in line.coords]
    return found


def snapped(line: LineString) -> LineString:
    """Return a line with its ends rounded, so that two that meet have one point in common."""
    return LineString([(round(x, 5), round(y, 5)) for x, y in (line.coords[0], line.coords[-1])])


def covers(seam: NumberedSeam, line: LineString, z: float | None) -> bool:
    """Return whether a seam runs along an edge."""
    flat = [(x, y) for x, y, _ in seam.path]
    if z is None:
        across = abs(seam.path[0][2] - seam.path[-1][2]) > POINT
        return across and LineString(flat).distance(line) < 2e-5
    if any(abs(at[2] - z) > 1e-6 for at in seam.path):
        return False
    return bool(LineString(flat).buffer(2e-5).covers(line))


def unwelded_edges(leaf: Leaf, seams: list[NumberedSeam], why: list[str]) -> list[str]:
    """Return each joint edge with neither a seam nor a reason."""
    bare = []
    by_member: dict[str, list[NumberedSeam]] = {}
    for seam in seams:
        key = next(m.key for m in leaf.members if seam.key.startswith(f"{m.key}/"))
        by_member.setdefault(key, []).append(seam)
    for key, line, z in edges_of(leaf, why):
        member = next(m for m in leaf.members if m.key == key)
        if member.section.shape in (ROUND_BAR, ROUND_TUBE):
            continue
        if any(covers(seam, line, z) for seam in by_member.get(key, [])):
            continue
        side = "" if z is None else "face" if z > 0.0 else "back"
        if side and any(each.startswith(f"{key}/") and f"/{side}" in each for each in why):
            continue
        bare.append(f"{key} {side} {line.wkt}")
    return bare


def numbered(seed: int) -> tuple[Leaf, list[NumberedSeam], list[str]]:
    wishes = (random_kinds if seed % 2 else random_wishes)(random.Random(seed))
    leaf, proof = proved(**wishes)
    made, bare = FrameSeams(
        leaf, proof.seams, welding_of(job()), Tape("feet-inch", 16), "A-"
    ).made()
    return leaf, made, [each.key for each in bare]


@pytest.mark.parametrize("seed", range(cases(25, 300)))
def test_no_joint_edge_without_a_seam_or_a_reason(seed: int) -> None:
    leaf, made, why = numbered(seed)
    assert unwelded_edges(leaf, made, why) == []
    # And nothing is numbered that lies on no edge, or twice.
    stands_proud = sum("/face" in key or "/back" in key for key in why)
    assert len(made) == len(edges_of(leaf, why)) - stands_proud
    assert [seam.number for seam in made] == list(range(1, len(made) + 1))
    assert len({seam.key for seam in made}) == len(made)
    # The walk finds any one that is taken out.
    missing = random.Random(seed).randrange(len(made))
    assert unwelded_edges(leaf, made[:missing] + made[missing + 1 :], why)


# ------------------------------------------------------------------- the examples, by hand


def test_boathouse_counted_by_hand(boathouse: Plan) -> None:
    """Four corners and two tees of 4, four wedged ends of 6.

    Stiles run through, so that each end of bottom, mid and top rail (3 × 2) has a face, a back and
    two edges: 24. Two braces, each end wedged on two walls: two on the face, two on the back, and
    its two edges: 4 × 6 = 24. Of the mount: both pins, the slug, four plugs a sleeve: 11.
    """
    for number in (0, 1):
        leaf = seams_of(boathouse, number)
        assert len(leaf.frame) == 3 * 2 * 4 + 4 * 6 == 48
        assert len(leaf.mount) == 2 + 1 + 2 * 4 == 11
        at = Counter(seam.place for seam in leaf.frame)
        assert at["bottom hinge corner"] == at["top nose corner"] == 4 + 6
        assert at["mid rail 1, hinge end"] == at["mid rail 1, nose end"] == 4 + 6
        assert at["bottom nose corner"] == at["top hinge corner"] == 4


def test_kiln_shed_counted_by_hand() -> None:
    """As the boathouse: 3 rails × 2 ends × 4, 2 braces × 2 ends × 6; pins, slug, 2 × 4 plugs."""
    leaf = seams_of(planned("kiln-shed"))
    assert (len(leaf.frame), len(leaf.mount)) == (24 + 24, 11)
    assert leaf.symbols == "ISO 2553:2019, system A"


def test_yard_gate_counted_by_hand() -> None:
    """3 rails × 2 ends × 4, and a rod's two tabs; two hinges, two halves each, two fillets each."""
    leaf = seams_of(planned("yard-gate"))
    assert (len(leaf.frame), len(leaf.mount)) == (24 + 2, 2 * 2 * 2)
    tabs = [seam for seam in leaf.frame if seam.face == "tab"]
    assert all(seam.length is None and "not given" in seam.unknown for seam in tabs)
    assert sum(seam.done_at == "field" for seam in leaf.every) == 4


# ---------------------------------------------------------------- where, how, in what position


def test_numbers_run_bottom_to_top_and_hinge_to_nose(boathouse: Plan) -> None:
    for leaf in boathouse.seams.leaves if isinstance(boathouse.seams, Seams) else ():
        places = list(dict.fromkeys(seam.place for seam in leaf.frame))
        assert places == [
            "bottom hinge corner",
            "bottom nose corner",
            "mid rail 1, hinge end",
            "mid rail 1, nose end",
            "top hinge corner",
            "top nose corner",
        ]
        assert leaf.frame[0].mark == f"{leaf.letter}-1"
        assert leaf.mount[-1].mark == f"{leaf.letter}-M11"


def test_right_leaf_mirrors_the_left(boathouse: Plan) -> None:
    left, right = seams_of(boathouse, 0), seams_of(boathouse, 1)
    for a, b in zip(left.every, right.every, strict=True):
        assert a.key.split("/", 1)[1] == b.key.split("/", 1)[1]
        assert (a.where.replace("A-", "B-"), a.positions, a.flush) == (
            b.where,
            b.positions,
            b.flush,
        )


def test_positions_as_it_lies_and_hangs(boathouse: Plan) -> None:
    seams = {seam.key: seam for seam in seams_of(boathouse).frame}
    face = seams["left/bottom rail/hinge/face"].positions
    assert (face.face_up, face.face_down, face.hung) == (("flat",), ("overhead",), ("vertical",))
    edge = seams["left/bottom rail/hinge/upper"].positions
    assert (edge.face_up, edge.face_down, edge.hung) == (
        ("vertical",),
        ("vertical",),
        ("horizontal",),
    )
    under = seams["left/bottom rail/hinge/lower"].positions
    assert under.hung == ("overhead",)


def test_what_is_covered_is_said(boathouse: Plan) -> None:
    """Boards hang on the back: what is welded there is ground flush; the rail's seam lies behind
    the point of the brace that is wedged into its corner.
    """
    seams = {seam.key: seam for seam in seams_of(boathouse).frame}
    back = seams["left/bottom rail/hinge/back"]
    assert back.flush and back.covered_by == "boards on the back"
    assert "takes" in back.notes[0] or "no lower" in back.notes[0]
    assert not any(s.flush for s in seams.values() if not s.key.split("/")[-1].startswith("back"))
    assert seams["left/bottom rail/hinge/upper"].before == "A-B1"
    assert seams["left/bottom rail/nose/upper"].before == ""
    # The brace leans by atan(45.93/77.46) of the panel's clear sizes: 34° to the stile.
    assert "34°" in seams["left/brace-1/lower/upper"].notes[0]
    assert "no full fillet" in seams["left/brace-1/lower/upper"].notes[0]


def test_an_edit_moves_numbers_but_no_keys(boathouse: Plan) -> None:
    """Another rail adds seams below: those above get other numbers and keep key and tick."""
    read = load_job(EXAMPLES / "boathouse.toml").job
    rails = read.leaf[0].model_copy(update={"brace": ()})
    other = plan(
        read.model_copy(update={"leaf": (rails, *read.leaf[1:])}), upto="shop", previous=boathouse
    )
    before = {seam.key: seam for seam in seams_of(boathouse).every}
    after = {seam.key: seam for seam in seams_of(other).every}
    assert set(after) < set(before)
    assert after["left/top rail/nose/face"].number != before["left/top rail/nose/face"].number
    moved = after["left/top rail/nose/face"]
    assert seam_hash(moved) == seam_hash(replace(moved, number=7, mark="A-7"))


# ------------------------------------------------------------------------------------ ticks


def tick(seam: NumberedSeam, number: int, *, done: bool = True, of: str = "") -> LogEntry:
    data: dict[str, Any] = {"done": done, "hash": of or seam_hash(seam)}
    return LogEntry(f"t{number}", "2026-03-21T09:30:00Z", "tick", seam.about, data, "bench")


def test_what_is_left_counts_down_and_sees_a_change(boathouse: Plan) -> None:
    leaf = seams_of(boathouse)
    first, second, third = leaf.frame[:3]
    log = [tick(first, 1), tick(second, 2), tick(second, 3, done=False), tick(third, 4, of="old")]
    states = {each.key: each.state for each in ticked(leaf.every, log)}
    assert [states[s.key] for s in (first, second, third)] == ["done", "left", "changed"]
    found = left_of(leaf, log)
    assert len(found.shop) + len(found.field) == found.of - 1
    assert found.changed == (third.mark,)
    assert {seam.done_at for seam in found.field} == {"field"}
    done = left_of(leaf, [tick(seam, i) for i, seam in enumerate(leaf.every)])
    assert not done.shop and not done.field


# -------------------------------------------------------------------------- lengths and metal


def test_lengths_add_up_and_metal_by_hand(boathouse: Plan) -> None:
    """3/16 in fillets: 3 rails' 8 edges square (2 1/2 in each), 8 brace edges in their corners."""
    leaf = seams_of(boathouse)
    assert sum(row.seams for row in leaf.lengths) == len(leaf.every)
    total = sum(seam.length or 0.0 for seam in leaf.every)
    assert sum(row.length for row in leaf.lengths) == pytest.approx(total)
    row = next(r for r in leaf.lengths if r.kind == "fillet" and abs(r.size or 0) < 0.005)
    assert row.seams == 16
    assert row.length == pytest.approx(16 * 2.5 * 0.0254)
    square = next(s for s in leaf.frame if s.key == "left/bottom rail/hinge/upper")
    assert weld_volume(square) == pytest.approx(0.5 * (3 / 16) ** 2 * 2.5 * 0.0254**3)
    plug = next(s for s in leaf.mount if s.kind == "plug")
    assert weld_volume(plug) == pytest.approx(0.2485 * 0.1875 * 0.0254**3, rel=1e-3)
    assert not [row for row in leaf.lengths if row.unknown]
    # A bevel at 45° and 3/16 in deep round a bore of 1.5015 in.
    slug = next(s for s in leaf.mount if s.kind == "bevel groove")
    assert weld_volume(slug) == pytest.approx(
        0.5 * (3 / 16) ** 2 * math.pi * 1.5015 * 0.0254**3, rel=1e-9
    )


# ------------------------------------------------------------------------- laps and splices


def test_a_lap_has_eight_seams_and_none_is_counted_on() -> None:
    """Two across on the face, two on the back, four corners: bars at 2 α and 180° - 2 α."""
    leaf, proof = proved(
        58 * 0.0254,
        165 * 0.0254,
        frame="HSS 2-1/2 x 2-1/2 x 3/16",
        brace=[{"pattern": "X", "crossing": "half lapped"}],
    )
    made, _ = FrameSeams(leaf, proof.seams, welding_of(job()), Tape("feet-inch", 16), "A-").made()
    lap = [seam for seam in made if "/lap/" in seam.key]
    assert Counter(seam.kind for seam in lap) == {"fillet": 4, "flare-bevel": 4}
    assert all(seam.counted == 0.0 and seam.used is None for seam in lap)
    assert all("the proof counts nothing of it" in seam.notes[-1] for seam in lap)
    (ax, ay), (bx, by) = (m.direction for m in leaf.members if m.notch is not None)
    crossing = math.acos(abs(ax * bx + ay * by))
    corners = sorted(seam.angle for seam in lap if seam.kind == "fillet")
    assert corners == pytest.approx(
        [crossing, crossing, math.pi - crossing, math.pi - crossing], abs=1e-9
    )
    assert all(s.length == pytest.approx(2.5 * 0.0254) for s in lap if s.kind == "fillet")
    across = [s.length or 0.0 for s in lap if s.kind == "flare-bevel"]
    assert across == pytest.approx([2.5 * 0.0254 / math.sin(crossing)] * 4)


@pytest.mark.parametrize("by", ["inner sleeve", "plates"])
def test_every_edge_of_a_splice_has_a_seam(by: str) -> None:
    """The ends of its two pieces face each other along face, back and both edges."""
    places = [("brace 1", "30 in"), ("hanging stile", "48 in"), ("top rail", "20 in")]
    leaf, proof = proved(
        58 * 0.0254,
        165 * 0.0254,
        frame="HSS 2-1/2 x 2-1/2 x 3/16",
        mid_rail=[{"at": "half"}],
        brace=[{"pattern": "one diagonal"}],
        splice=[{"member": name, "at": at, "by": by} for name, at in places],
        root_gap="1/16 in",
    )
    made, _ = FrameSeams(
        leaf, proof.seams, welding_of(job()), Tape("feet-inch", 16), "A-", proof.checks
    ).made()
    plain = [seam for seam in made if "/splice/" not in seam.key]
    assert len(made) - len(plain) == (3 if by == "inner sleeve" else 9)
    for splice in leaf.splices:
        own = [seam for seam in made if seam.key.startswith(f"{splice.key}/")]
        member = next(m for m in leaf.members if m.key == splice.member)
        parts = [replace(member, bar=piece.bar) for piece in splice.pieces]
        (line,) = contact(parts[0], parts[1], splice.root.value)
        half, (c, s) = member.section.height / 2, member.direction
        middle = [
            (x + c * splice.root.value / 2, y + s * splice.root.value / 2) for x, y in line.coords
        ]
        wanted = [(*at, z) for at in middle for z in (half, -half)]
        # One closed way over all four corners of the root: face, back and both edges.
        loop = own[0].path
        assert loop[0] == loop[-1]
        assert all(min(math.dist(at, p) for p in loop) < 1e-9 for at in wanted)
        assert len(loop) == 5
        # On the outside of the tube, round its corners: 4 · 2.5 - (8 - 2π) · 2 · 0.93 · 3/16.
        assert own[0].length == pytest.approx(
            (10 - (8 - 2 * math.pi) * 2 * 0.93 * 3 / 16) * 0.0254, rel=1e-6
        )
        if by == "plates":
            assert all("not given" in seam.unknown for seam in own)
            assert [seam.view for seam in own] == ["face", "face", "back"]
            continue
        # Open by the wall and filled through it: 3/16 x 3/16.
        assert weld_volume(own[0]) == pytest.approx((3 / 16 * 0.0254) ** 2 * (own[0].length or 0))
        assert own[0].used is not None and not own[0].unknown
