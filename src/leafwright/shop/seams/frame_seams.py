"""The seams of a leaf's own members: where each is, what it is made like, what to mind."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from leafwright.handbook.weld_shapes import BLUNTEST_FILLET, SHARPEST_FILLET, SHARPEST_WELD
from leafwright.leaf import Joint, Leaf, Member
from leafwright.proof.seam_lines import SAME, cut_middle, ends_of
from leafwright.proof.seam_parts import Piece, WeldedEnd, is_coped, thickness
from leafwright.proof.seam_records import Seam
from leafwright.proof.seam_sizes import Welding, joined, leg_for, thinner
from leafwright.records import Check, Metres, Point2
from leafwright.shop.seams.cut_seams import lap_seams, splice_seams
from leafwright.shop.seams.lie import face_of, positions_of
from leafwright.shop.seams.records import Kind, NumberedSeam, Positions, Unwelded, View
from leafwright.units import Tape, show_length
from leafwright.units.typed import mixed

#: Square to within this counts as a right angle [rad].
_RIGHT = math.radians(0.05)


def joint_words(key: str) -> str:
    """Return what the maker calls a joint of a leaf, from its key."""
    name = key.split("/", 1)[1]
    if name.endswith(" crossing"):
        return f"{name.replace('-', ' ').replace(' crossing', '')}, crossing"
    row, side = name.rsplit(" ", 1)
    if row.startswith("mid rail"):
        return f"{row.replace('-', ' ')}, {side} end"
    return f"{row} {side} corner"


def face_words(face: str) -> str:
    """Return which side of a member's end a seam is on, in words."""
    side = face.partition(" on ")[0]
    if side in ("face", "back"):
        return f"{side} side"
    return "all round" if side == "round" else f"{side} edge"


def in_order(leaf: Leaf) -> dict[str, int]:
    """Return the place of each joint and splice in the order of numbers: up, and to the nose."""
    hinge = 0.0 if leaf.hand == "left" else leaf.width
    places = [
        *((joint.key, joint.at) for joint in leaf.joints),
        *((splice.key, splice.place) for splice in leaf.splices),
    ]

    def place(one: tuple[str, Point2]) -> tuple[float, float]:
        (x, y) = one[1]
        return (round(y, 6), round(abs(x - hinge), 6))

    return {key: i for i, (key, _) in enumerate(sorted(places, key=place))}


class FrameSeams:
    """Makes the seams of one leaf's members; ``before`` stands before their numbers."""

    def __init__(
        self,
        leaf: Leaf,
        proved: Sequence[Seam],
        how: Welding,
        tape: Tape,
        before: str,
        checks: Sequence[Check] = (),
    ) -> None:
        self.leaf, self.how, self.tape, self.before = leaf, how, tape, before
        self.proved = {seam.key: seam for seam in proved}
        self.checks = {check.key: check for check in checks}
        self.ends = ends_of(leaf)
        self.points = _brace_points(self.ends)
        self.members = {member.key: i for i, member in enumerate(leaf.members)}

    def made(self) -> tuple[list[NumberedSeam], list[Unwelded]]:
        """Return every seam, numbered, and each end or side of one without any."""
        order = in_order(self.leaf)
        found: list[tuple[tuple[int, ...], WeldedEnd, tuple[Piece, ...], Joint | Seam]] = []
        bare: list[Unwelded] = []
        for end in self.ends:
            here = (self.members[end.member.key], int(end.at_end))
            if end.member.role == "rod":
                joint = self._joint(end)
                found.append(((order[joint.key], *here, 0), end, (), joint))
                continue
            if end.reason:
                bare.append(Unwelded(end.key, end.subject, end.reason))
            if end.bare:
                bare.append(Unwelded(f"{end.key}/cut back", end.subject, end.bare))
            faces: dict[str, list[Piece]] = {}
            for piece in end.pieces:
                faces.setdefault(piece.face, []).append(piece)
            for number, (face, pieces) in enumerate(sorted(faces.items(), key=_face_order)):
                seam = self.proved[f"{end.key}/{face}"]
                if all(piece.kind == "none" for piece in pieces):
                    why = "it stands over the side of the tube: there is nothing to weld it to"
                    where = f"{end.subject}, {face_words(face)}"
                    bare.append(Unwelded(seam.key, where, why))
                    continue
                found.append(((order[seam.joint], *here, number), end, tuple(pieces), seam))
        made = [
            (at, self._tab(end, what) if isinstance(what, Joint) else self._seam(end, what, of_it))
            for at, end, of_it, what in found
        ]
        made += self._of_cuts(order)
        made.sort(key=lambda each: each[0])
        return [
            replace(seam, number=number, mark=f"{self.before}{number}")
            for number, (_, seam) in enumerate(made, start=1)
        ], bare

    def _of_cuts(self, order: Mapping[str, int]) -> list[tuple[tuple[int, ...], NumberedSeam]]:
        """Return the seams of laps and splices, with their place in the order of numbers."""
        found: list[tuple[tuple[int, ...], NumberedSeam]] = []
        last = len(self.leaf.members)
        for number, one in enumerate(lap_seams(self.leaf, self.how)):
            seam = self._seam(one.end, one.seam, (one.piece,))
            where = f"{seam.member} on {seam.onto}: {one.words}"
            notes = (*seam.notes, one.note)
            told = replace(seam, end="", face=one.words, where=where, notes=notes)
            found.append(((order[seam.joint], last, 0, number), told))
        for splice in self.leaf.splices:
            own = splice_seams(self.leaf, splice, self.checks.get(splice.key), self.how)
            here = (order[splice.key], self.members[splice.member], 0)
            found += [((*here, number), seam) for number, seam in enumerate(own)]
        return found

    def _seam(self, end: WeldedEnd, seam: Seam, pieces: Sequence[Piece]) -> NumberedSeam:
        first = next(piece for piece in pieces if piece.kind != "none")
        kind: Kind = first.kind if first.kind != "none" else "fillet"
        other = joined(end, first.landing)[1]
        coped = is_coped(end)
        lying = [(_along(p), face_of(end, p)) for p in pieces]
        faces = lying[0][1]
        all_round = seam.face.startswith("round") and " on " not in seam.face
        side: View = "back" if faces[2] < -0.1 and not all_round else "face"
        over = self._over(first, seam, kind)
        before = "" if not first.across else self._before(end, first)
        return NumberedSeam(
            key=seam.key,
            leaf=self.leaf.key,
            number=0,
            mark="",
            joint=seam.joint,
            place=joint_words(seam.joint),
            member=end.member.mark,
            onto=other.mark,
            end=end.name,
            face=seam.face,
            where=_where(end, other, seam.face),
            kind=kind,
            leg=seam.leg if kind == "fillet" else None,
            size=seam.leg if kind == "fillet" else seam.throat,
            throat=seam.throat,
            length=seam.length,
            counted=seam.counted,
            angle=min(piece.angle for piece in pieces) if coped else first.angle,
            radius=other.section.design_radii()[0] if kind == "flare-bevel" else 0.0,
            wall=thinner(end, first.landing),
            path=seam.path,
            view=side,
            faces=faces,
            all_round=all_round,
            done_at="shop",
            positions=positions_of(lying, fillet=kind == "fillet"),
            flush=bool(over),
            covered_by=over,
            before=before,
            used=seam.used,
            case=seam.case,
            on_trial=seam.rests_on_trial,
            notes=(
                *(self._saddle(pieces, seam) if coped else self._sharp(first, seam, kind)),
                *self._flush(seam, kind, over),
            ),
            unknown="",
        )

    def _over(self, piece: Piece, seam: Seam, kind: Kind) -> str:
        """Return what is hung over a seam so that it may not stand proud, or ''."""
        if piece.across or (kind == "fillet" and piece.shelf >= (seam.leg or 0.0) - SAME):
            return ""
        z = piece.start[2]
        if not z:
            return ""
        side = "face" if z > 0.0 else "back"
        x, y = ((a + b) / 2 for a, b in zip(piece.start[:2], piece.end[:2], strict=True))
        for cover in self.leaf.infill:
            inside = cover.left <= x <= cover.right and cover.bottom <= y <= cover.top
            if cover.face == side and inside:
                return f"{cover.kind} on the {side}"
        return ""

    def _flush(self, seam: Seam, kind: Kind, over: str) -> list[str]:
        if not over:
            return []
        if kind == "fillet":
            told = (
                f"grind flush before the {over}: grinding a fillet takes its throat away, and the "
                f"proof counts {self.size(seam.throat)} of it, not ground"
            )
        else:
            told = (
                f"grind flush before the {over}, to the tube's own face and no lower: the proof "
                f"counts {self.size(seam.throat)} of throat, of a groove filled to that face and "
                "not ground; have it on the trial joint, ground the same way"
            )
        return [told]

    def _sharp(self, piece: Piece, seam: Seam, kind: Kind) -> list[str]:
        if kind != "fillet" or abs(piece.angle - math.pi / 2) < _RIGHT:
            return []
        corner = f"a corner of {math.degrees(piece.angle):.0f}°"
        counted = (
            f"{self.size(seam.throat)} of throat is left in it"
            if seam.throat > 0.0
            else "nothing of it is left"
        )
        if piece.angle < SHARPEST_WELD:
            return [f"{corner}, sharper than 30°: no full fillet, nothing of it counts; it seals"]
        if piece.angle < SHARPEST_FILLET:
            return [
                f"{corner}, sharper than 60°: no full fillet; {counted} by AWS D1.1's loss at the "
                "root, and the proof does not count on it"
            ]
        if piece.angle > BLUNTEST_FILLET:
            return [f"{corner}, blunter than 135°: no fillet, and nothing of it counts"]
        return [f"{corner}, not square: {counted}"]

    def _saddle(self, pieces: Sequence[Piece], seam: Seam) -> list[str]:
        """Return what to mind of the seam round a coped end."""
        angles = [piece.angle for piece in pieces]
        ends = sorted((angles[0], angles[len(angles) // 2]))
        heel, toe = (f"{math.degrees(angle):.0f}°" for angle in ends)
        return [
            f"round a saddle: a fillet from {heel} at its heel to {toe} at its toe; on the flanks, "
            "blunter than 135°, the two tubes lie flush: fill them level, all round and tight. Of "
            f"{self.length(seam.length)} the proof counts {self.length(seam.counted)}"
        ]

    def length(self, metres: Metres) -> str:
        """Return a length of weld as the tape has it."""
        return show_length(metres, self.tape).replace(" ", "\u00a0")

    def _before(self, end: WeldedEnd, piece: Piece) -> str:
        at = piece.start[:2]
        for brace, point in self.points:
            near = SAME + 3.0 * end.gap
            if brace.key != end.member.key and math.dist(at, point) < near:
                return brace.mark
        return ""

    def _joint(self, end: WeldedEnd) -> Joint:
        """Return the joint of the leaf that an end is part of."""
        at = cut_middle(end)
        mine = [joint for joint in self.leaf.joints if end.member.key in joint.members]
        return min(mine, key=lambda joint: math.dist(joint.at, at))

    def _tab(self, end: WeldedEnd, joint: Joint) -> NumberedSeam:
        """Return the seam of a rod's tab, of which the job gives no size."""
        member, frame = end.member, self.leaf.members[0]
        at = cut_middle(end)
        others = [m.mark for m in self.leaf.members if m.key in joint.members and m is not member]
        leg = leg_for(thickness(frame, design=False), self.how.leg.value, metric=self.how.metric)
        reach = _toward(at, joint.at, 0.5)
        return NumberedSeam(
            key=f"{end.key}/tab",
            leaf=self.leaf.key,
            number=0,
            mark="",
            joint=joint.key,
            place=joint_words(joint.key),
            member=member.mark,
            onto=" and ".join(others),
            end=end.name,
            face="tab",
            where=f"{member.mark} {member.role}, {end.name} end, in the corner of "
            f"{' and '.join(others)}: its tab",
            kind="fillet",
            leg=leg,
            size=leg,
            throat=0.0,
            length=None,
            counted=0.0,
            angle=math.pi / 2,
            radius=0.0,
            wall=thickness(frame, design=False),
            path=((*at, 0.0), (*reach, 0.0)),
            view="face",
            faces=(0.0, 0.0, 1.0),
            all_round=False,
            done_at="shop",
            positions=Positions(),
            flush=False,
            covered_by="",
            before="",
            used=None,
            case="",
            on_trial=False,
            notes=("two fillets, one along each side of the tab",),
            unknown="the tab's size is not given: how long its fillets must be is asked with the "
            "rod, in the proof",
        )

    def size(self, metres: Metres) -> str:
        """Return a weld's size as the tape has it, to a 64th or a tenth of a millimetre."""
        return size_words(metres, self.tape)


def size_words(metres: Metres, tape: Tape) -> str:
    """Return a weld's size; no line breaks inside it.

    As a fraction of an inch where it is one to within half a thousandth, else to a thousandth; or
    to a tenth of a millimetre.
    """
    if tape.system == "mm":
        return f"{1000.0 * metres:.1f}".removesuffix(".0") + "\u00a0mm"
    inches = metres / 0.0254
    parts = round(inches * 64.0)
    if abs(inches - parts / 64.0) < 0.0005 and parts > 0:
        return f"{mixed(Fraction(parts, 64))} in".replace(" ", "\u00a0")
    return f"{inches:.3f}\u00a0in"


_SIDES = ("face", "back", "lower", "upper", "outer", "inner", "round")


def _face_order(named: tuple[str, object]) -> tuple[int, str]:
    """Return the place of a side among those of an end, the same on either hand."""
    side, _, onto = named[0].partition(" on ")
    return (_SIDES.index(side), onto)


def _along(piece: Piece) -> tuple[float, float, float]:
    a, b = piece.start, piece.end
    return (b[0] - a[0], b[1] - a[1], b[2] - a[2])


def _toward(a: Point2, b: Point2, share: float) -> Point2:
    return (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))


def _where(end: WeldedEnd, other: Member, face: str) -> str:
    member = end.member
    on = f"mitred with {other.mark}" if end.mate is not None else f"on {other.mark} {other.role}"
    return f"{member.mark} {member.role}, {end.name} end, {on}: {face_words(face)}"


def _brace_points(ends: Sequence[WeldedEnd]) -> list[tuple[Member, Point2]]:
    """Return the corner that each brace is wedged into, with the brace: where both walls meet."""
    points = []
    for end in ends:
        if len(end.landings) < 2 or not end.pieces:
            continue
        (a, b), (c, d) = (landing.normal for landing in end.landings[:2])
        p, q = (
            sum(n * x for n, x in zip(landing.normal, landing.centre, strict=True))
            for landing in end.landings[:2]
        )
        turn = a * d - b * c
        points.append((end.member, ((p * d - b * q) / turn, (a * q - p * c) / turn)))
    return points
