"""The seams of a leaf: what each carries, whether it holds, and whether the walls beside it do.

Every end of every member is a joint of its own: the seams round it are one weld group, loaded by
the member's internal forces where they lie, in every case for strength.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from leafwright.chain import Quantity
from leafwright.frame.element import Floats
from leafwright.frame.load_cases import NAMES, LeafCase
from leafwright.frame.model import FrameModel
from leafwright.frame.solve import FrameResult
from leafwright.handbook.weld_space import force_in_space
from leafwright.job.model import Job
from leafwright.leaf import Leaf
from leafwright.proof.capacity import DOCUMENT
from leafwright.proof.round_walls import round_wall_check
from leafwright.proof.seam_checks import (
    rod_check,
    size_check,
    taken_words,
    trial_check,
)
from leafwright.proof.seam_forces import Place, SeamForces
from leafwright.proof.seam_group import Bead, Carried, Group, carried, group_of, landed, on_the_wall
from leafwright.proof.seam_lines import cut_middle, ends_of
from leafwright.proof.seam_parts import Piece, WeldedEnd, is_coped
from leafwright.proof.seam_records import Seam
from leafwright.proof.seam_sizes import Welding, effective_across, joined, welding_of
from leafwright.proof.seam_words import SeamWords
from leafwright.proof.tube_joints import (
    WALL_QUESTION,
    AtWall,
    SharpEnd,
    mitre_check,
    not_known,
    sharp_check,
    wall_check,
)
from leafwright.proof.working import Lines
from leafwright.records import (
    Check,
    NewtonsPerMetre,
    Number,
    Point3,
    Source,
    Verdict,
    graded,
)

_QUESTION = "do its seams hold"


@dataclass(frozen=True, slots=True)
class SeamProof:
    """The seams of a leaf with their checks, the defaults they rest on, and what is assumed."""

    checks: tuple[Check, ...]
    seams: tuple[Seam, ...]
    taken: tuple[Quantity, ...]
    assumptions: tuple[str, ...]


def seam_proof(
    job: Job,
    leaf: Leaf,
    model: FrameModel,
    result: FrameResult,
    cases: Sequence[LeafCase],
    *,
    welding: Welding | None = None,
) -> SeamProof:
    """Return the proof of every seam of a leaf and of the tube walls beside it.

    Args:
        job: basis, unit system, and defaults.
        leaf: its members.
        model: its frame, with the cases in it.
        result: of the frame.
        cases: of the proof; those for strength are used.
        welding: how seams are made; None takes the job's.
    """
    how = welding or welding_of(job)
    words = SeamWords(job, how)
    ends = ends_of(leaf)
    forces = SeamForces(model, result, cases)
    groups = [group_of(end, how) for end in ends if end.pieces]
    asked = _places(ends, groups, forces)
    internal = forces.at([place for places in asked.values() for place in places])
    at: dict[str, Floats] = {}
    first = 0
    for key, places in asked.items():
        at[key] = internal[:, first : first + len(places)]
        first += len(places)
    checks: list[Check] = []
    seams: list[Seam] = []
    sharp: list[SharpEnd] = []
    for group in groups:
        own = at[group.end.key][:, 0]
        found = _Found(group, carried(group, own) if group.beads else None, forces.cases)
        checks.append(_weld_check(found, own, how, words))
        seams += _seams(leaf, found)
        check, outside = _wall_check(found, own, at, how)
        checks.append(check)
        sharp += [outside] if outside else []
    for end in ends:
        if end.member.role == "rod":
            pull = float(np.maximum(at[end.key][:, 0, 0], 0.0).max())
            case = forces.cases[int(np.argmax(at[end.key][:, 0, 0]))]
            checks.append(rod_check(leaf, end, pull, NAMES[case.situation], how, words))
        elif end.mate is not None and not end.pieces:
            checks.append(mitre_check(end, at[end.key][:, 0], forces.cases, how.method))
    checks += size_check(leaf, groups, how, words)
    checks += trial_check(leaf, groups, seams, words)
    checks += sharp_check(leaf, sharp)
    return SeamProof(tuple(checks), tuple(seams), how.taken, taken_words(how, words))


@dataclass(frozen=True, slots=True, eq=False)
class _Found:
    """The seams round one end with what they carry; None where none of them counts."""

    group: Group
    carried: Carried | None
    cases: tuple[LeafCase, ...]

    @property
    def end(self) -> WeldedEnd:
        return self.group.end


def _places(
    ends: Sequence[WeldedEnd], groups: Sequence[Group], forces: SeamForces
) -> dict[str, tuple[Place, ...]]:
    """Return where forces are wanted, by key: at each end, and in what it stands on."""
    places: dict[str, tuple[Place, ...]] = {}
    origins = {group.end.key: group.origin for group in groups}
    for end in ends:
        near = origins.get(end.key) or cut_middle(end)
        if end.pieces or end.mate is not None or end.member.role == "rod":
            places[end.key] = forces.places(end.member, near)[:1]
        for number, landing in enumerate(end.landings):
            places[f"{end.key}/{number}"] = forces.places(landing.onto, landing.centre)
    return places


def _wall_check(
    found: _Found, own: Floats, at: dict[str, Floats], how: Welding
) -> tuple[Check, SharpEnd | None]:
    """Return the check of the walls that an end stands on."""
    end = found.end
    if end.mate is not None:
        return mitre_check(end, own, found.cases, how.method), None
    if found.carried is None or not found.carried.held:
        return not_known(end), None
    if is_coped(end):
        brought = landed(found.group, found.carried.per_length, 0)
        chord = at[f"{end.key}/0"]
        return round_wall_check(end, brought, chord, found.cases, how.method, WALL_QUESTION), None
    walls = [
        AtWall(
            number,
            landed(found.group, found.carried.per_length, number),
            own,
            at[f"{end.key}/{number}"],
        )
        for number in range(len(end.landings))
    ]
    return wall_check(end, walls, found.cases, how.method)


def _weld_check(found: _Found, own: Floats, how: Welding, words: SeamWords) -> Check:
    """Return whether the seams round an end hold, by the place and case that use them most."""
    end, key = found.end, f"{found.end.key}/weld"
    source = Source(DOCUMENT, _clause(end, words))
    if found.carried is None or not found.carried.held:
        return Check(
            key=key,
            subject=end.subject,
            question=_QUESTION,
            verdict=Verdict.ASK,
            source=source,
            change="what counts of its seams cannot hold it in every direction: "
            f"{words.uncounted(found.group) or 'weld another side'}; have an engineer answer",
        )
    used = found.carried.used
    case, number, side = (int(i) for i in np.unravel_index(int(np.argmax(used)), used.shape))
    ratio = float(used[case, number, side])
    bead = found.group.beads[number]
    piece, size = end.pieces[bead.piece], found.group.sizes[bead.piece]
    lines = Lines()
    _work(found.group, bead, side, own[case], lines)
    verdict = graded(ratio)
    return Check(
        key=key,
        subject=end.subject,
        question=_QUESTION,
        verdict=verdict,
        source=source,
        unit="N/m",
        demand=ratio * bead.holds,
        available=bead.holds,
        ratio=ratio,
        case=NAMES[found.cases[case].situation],
        change=words.would(piece, size, ratio) if verdict is not Verdict.OK else "",
        basis=how.method.value,
        rule=words.rule(found.group, bead.piece),
        working=(*size.working, *lines.kept()),
    )


def _clause(end: WeldedEnd, words: SeamWords) -> str:
    clause = "J2.4, Eq. J2-3, Table J2.5; J4.2"
    if any(effective_across(end, landing) is not None for landing in end.landings):
        clause += "; K5, Table K5.1"
    return clause + words.sheet(end)


def _work(group: Group, bead: Bead, side: int, internal: Floats, lines: Lines) -> None:
    """Keep the force at one place of a weld group in one case."""
    force, moment = on_the_wall(group.end, internal)
    lines.work(
        force_in_space,
        lines=tuple(b.line for b in group.beads),
        place=bead.line[side],
        force=(float(force[0]), float(force[1]), float(force[2])),
        at=(0.0, 0.0, 0.0),
        moment=(float(moment[0]), float(moment[1]), float(moment[2])),
    )


@dataclass(frozen=True, slots=True)
class _Most:
    """What one bead carries where it is used most: at both ends [N/m], and in which case."""

    used: Number
    case: int
    start: NewtonsPerMetre
    end: NewtonsPerMetre


def _most(found: _Found) -> list[_Most]:
    """Return what each bead of a group carries where it is used most."""
    if found.carried is None or not found.carried.held:
        return []
    used = found.carried.used.max(axis=2)
    rows = used.argmax(axis=0)
    number = np.arange(used.shape[1])
    each = np.sqrt((found.carried.per_length[rows, number] ** 2).sum(axis=-1))
    return [
        _Most(*values)
        for values in zip(used[rows, number].tolist(), rows.tolist(), *each.T.tolist(), strict=True)
    ]


def _seams(leaf: Leaf, found: _Found) -> list[Seam]:
    """Return the seams round an end, each with its greatest force in any case."""
    faces = tuple(dict.fromkeys(piece.face for piece in found.end.pieces))
    most = _most(found)
    joint = _joint(leaf, found.end)
    return [_seam(found, face, most, joint) for face in faces]


def _seam(found: _Found, face: str, most: Sequence[_Most], joint: str) -> Seam:
    end = found.end
    mine = [number for number, piece in enumerate(end.pieces) if piece.face == face]
    pieces = [end.pieces[number] for number in mine]
    sizes = [found.group.sizes[number] for number in mine]
    first = pieces[0]
    beads = [i for i, bead in enumerate(found.group.beads) if bead.piece in mine]
    worst = max((i for i in beads if most), key=lambda i: most[i].used, default=None)
    carries = None if worst is None else most[worst]
    return Seam(
        key=f"{end.key}/{face}",
        joint=joint,
        member=end.member.key,
        mark=end.member.mark,
        end=end.name,
        onto=joined(end, first.landing)[1].key,
        face=face,
        kind=first.kind,
        path=_path(pieces),
        angle=first.angle,
        leg=next((size.leg for size in sizes if size.leg is not None), None),
        # Round a coped end what lies flush counts for nothing, and has no throat to tell.
        throat=min((size.throat for size in sizes if size.counts or not first.whole), default=0.0),
        length=sum(piece.length for piece in pieces),
        counted=sum(math.dist(*found.group.beads[i].line) for i in beads),
        at_start=carries.start if carries else 0.0,
        at_end=carries.end if carries else 0.0,
        holds=0.0 if worst is None else found.group.beads[worst].holds,
        used=carries.used if carries else None,
        case=NAMES[found.cases[carries.case].situation] if carries else "",
        rests_on_trial=any(size.trial for size in sizes),
    )


def _path(pieces: Sequence[Piece]) -> tuple[Point3, ...]:
    """Return the points along a seam."""
    return (pieces[0].start, *(piece.end for piece in pieces))


def _joint(leaf: Leaf, end: WeldedEnd) -> str:
    """Return the key of the leaf's joint that an end is part of."""
    at = end.pieces[0].start
    mine = [joint for joint in leaf.joints if end.member.key in joint.members]
    return min(mine, key=lambda joint: math.dist(joint.at, at[:2])).key
