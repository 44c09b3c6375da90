"""The proof on the page: forces and movements drawn, checks sorted by what needs the maker."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, cast

from markupsafe import Markup

from leafwright.frame.load_cases import NAMES, Situation
from leafwright.leaf import Leaf
from leafwright.paper.drawing import Drawing, DrawingItem
from leafwright.paper.scene import Line, Point, Polyline, Text
from leafwright.paper.sheets.elevation import hinge_edge
from leafwright.pipeline import Plan
from leafwright.proof import BraceForce, LeafProof
from leafwright.records import Check, Verdict
from leafwright.say import (
    VERDICTS,
    Words,
    brace_words,
    check_line,
    check_source,
    place_words,
    sentence,
    words_of,
)
from leafwright.web.in_fields import in_fields, written_at
from leafwright.web.pictures import arrow, picture, touchable

#: The largest movement is drawn about as large as this share of the leaf's height.
SHOWN_MOVED = 0.05
ORDER = (Verdict.SHORT, Verdict.TIGHT, Verdict.ASK, Verdict.OK)
GROUPS = {
    Verdict.SHORT: "Short: change something",
    Verdict.TIGHT: "Tight: little to spare, or more than is good",
    Verdict.ASK: "Ask: somebody else has to answer",
    Verdict.OK: "Ok",
}


@dataclass(frozen=True, slots=True)
class CheckRow:
    """A check as the page shows it; ``asked`` is open or answered where it is a question."""

    key: str
    verdict: str
    word: str
    line: str
    ratio: str
    change: str
    source: str
    asked: str
    rule: str
    formulas: int
    #: Where what it asks for is typed: address below the job, and words.
    at: tuple[tuple[str, str], ...] = ()


def check_row(check: Check, words: Words, data: Mapping[str, Any] | None = None) -> CheckRow:
    """Return a check in the maker's words; ``data`` is the job's, for the fields it asks for."""
    return CheckRow(
        check.key,
        check.verdict.value,
        VERDICTS[check.verdict],
        sentence(check_line(check, words)),
        "" if check.ratio is None else f"{check.ratio:.2f}",
        sentence(in_fields(check.change)),
        check_source(check),
        {"unknown": "open", "answered": "answered"}.get(check.basis, ""),
        sentence(check.rule),
        len(check.working),
        () if data is None else written_at(check.change, check.key, data),
    )


def check_groups(made: Plan, data: Mapping[str, Any]) -> list[tuple[str, str, list[CheckRow]]]:
    """Return the checks by verdict, those that need the maker first; empty groups left out."""
    words = words_of(made.job)
    groups = []
    for verdict in ORDER:
        rows = [check_row(c, words, data) for c in made.checks if c.verdict is verdict]
        if rows:
            groups.append((verdict.value, GROUPS[verdict], rows))
    return groups


@dataclass(frozen=True, slots=True)
class BraceRow:
    """The force in one brace: its sign, in words, and how the drawing shows it."""

    mark: str
    sign: str
    told: str


@dataclass(frozen=True, slots=True)
class LoadedLeaf:
    """One leaf in one situation: the picture, and what it says in words."""

    leaf: str
    situation: str
    picture: Markup
    factor: str
    braces: tuple[BraceRow, ...]
    movements: tuple[tuple[str, str], ...]
    reactions: tuple[tuple[str, str, str, str], ...]


def situations(made: Plan) -> tuple[tuple[str, str], ...]:
    """Return the situations that leaves are shown moved in, by key, with their names."""
    shown = {
        case.situation
        for proof in made.proofs
        if isinstance(proof, LeafProof)
        for case in proof.cases
        if case.for_movement
    }
    return tuple((key, name) for key, name in NAMES.items() if key in shown)


def loaded_leaf(made: Plan, leaf_key: str, situation: str, page: str) -> LoadedLeaf | None:
    """Return how a leaf is loaded in a situation, or None where it was not proved."""
    words = words_of(made.job)
    leaf = next((x for x in made.leaves if isinstance(x, Leaf) and x.key == leaf_key), None)
    proof = next((p for p in made.proofs if isinstance(p, LeafProof) and p.leaf == leaf_key), None)
    if leaf is None or proof is None:
        return None
    forces = [f for f in proof.brace_forces if f.situation == situation]
    factor, moved_lines = _moved_shape(leaf, proof, situation)
    items: list[DrawingItem] = [*hinge_edge(leaf)]
    names: dict[str, str] = {}
    for member in leaf.members:
        if member.role not in ("brace", "rod"):
            items.append(Polyline(member.bar.outline, "thin", closed=True, key=member.key))
            names[member.key] = f"{member.mark}, {member.role}"
    items += moved_lines
    for force in forces:
        items += _brace_items(leaf, force, words)
        names[force.member] = f"{force.mark}, {brace_words(force, words)}"
    svg = picture(
        Drawing(tuple(items)),
        title=f"The leaf, {NAMES.get(cast(Situation, situation), situation)}",
        description="Solid braces with arrows in are pressed; dashed ones with arrows out are "
        "pulled. The dashed outline is how it moves, enlarged.",
    )
    movement = next((m for m in proof.movements if m.situation == situation), None)
    told: tuple[tuple[str, str], ...] = ()
    if movement is not None:
        told = (
            ("nose drops", words.small(movement.nose_drop)),
            ("nose leans away", words.small(movement.nose_shift)),
            ("diagonals part", words.small(movement.diagonals)),
            ("handle moves out", words.small(movement.handle)),
        )
    places = [r.place for r in proof.reactions]
    return LoadedLeaf(
        leaf_key,
        situation,
        touchable(svg, names, "", page),
        f"{factor:,.0f}" if factor else "",
        tuple(BraceRow(f.mark, _sign(f), brace_words(f, words)) for f in forces),
        told,
        tuple(
            (
                sentence(place_words(r.place, places)),
                words.force(r.x),
                words.force(r.y),
                words.force(r.z),
            )
            for r in proof.reactions
            if r.situation == situation
        ),
    )


def _sign(force: BraceForce) -> str:
    if force.slack or abs(force.middle) < 0.5:
        return "0"
    return "+" if force.middle > 0 else "−"


def _moved_shape(leaf: Leaf, proof: LeafProof, situation: str) -> tuple[float, list[DrawingItem]]:
    """Return the factor of enlargement, 0 where nothing moves in plane, and the moved frame."""
    case = next((c.key for c in proof.cases if c.situation == situation and c.for_movement), None)
    if case is None or case not in proof.result.cases:
        return 0.0, []
    moves = proof.result.displacements[proof.result.cases.index(case)]
    number = {key: i for i, key in enumerate(proof.result.nodes)}
    greatest = max((float(abs(moves[:, :2]).max()), 0.0))
    if greatest < 1e-7:
        return 0.0, []
    factor = _round_factor(SHOWN_MOVED * leaf.height / greatest)
    at: dict[str, Point] = {}
    for node in proof.model.nodes:
        dx, dy = moves[number[node.key], :2]
        at[node.key] = (node.at[0] + factor * float(dx), node.at[1] + factor * float(dy))
    own = {m.key for m in leaf.members}
    return factor, [
        Line(at[e.start], at[e.end], "hidden") for e in proof.model.elements if e.member in own
    ]


def _round_factor(wanted: float) -> float:
    """Return the largest of 1, 2, 5, 10, 20, 50 … that is not above what is wanted."""
    size = 1.0
    while size * 10 <= wanted:
        size *= 10
    return next((f * size for f in (5, 2) if f * size <= wanted), size)


def _brace_items(leaf: Leaf, force: BraceForce, words: Words) -> list[DrawingItem]:
    """Return a brace: solid where it is pressed, dashed where it is pulled, with its arrows."""
    member = next(m for m in leaf.members if m.key == force.member)
    pulled, idle = force.middle > 0, _sign(force) == "0"
    layer = "thin" if idle else "mark" if pulled else "cut"
    x, y = member.bar.centroid
    d = member.direction
    reach = 0.32 * member.bar.long
    if layer == "mark":
        outline = Polyline(member.bar.outline, "mark", closed=True, key=member.key)
    elif layer == "cut":
        outline = Polyline(member.bar.outline, "cut", closed=True, key=member.key)
    else:
        outline = Polyline(member.bar.outline, "thin", closed=True, key=member.key)
    items: list[DrawingItem] = [outline]
    if not idle:
        for side in (1.0, -1.0):
            tip, tail = (reach, 0.6 * reach) if pulled else (0.6 * reach, reach)
            items += arrow(
                (x + side * tip * d[0], y + side * tip * d[1]),
                (x + side * tail * d[0], y + side * tail * d[1]),
                0.012 * leaf.height,
            )
    text = f"{force.mark} {_sign(force)} {brace_words(force, words)}"
    items.append(Text((x, y), text, height_mm=2.5, anchor="centre-middle", knockout=True))
    return items


@dataclass(frozen=True, slots=True)
class BracingRow:
    """One way of bracing beside the others."""

    name: str
    mass: str
    standing: str
    person: str
    forces: tuple[BraceRow, ...]


def bracing_rows(made: Plan, leaf_key: str) -> tuple[BracingRow, ...]:
    """Return the leaf as drawn, without braces, and with them turned round."""
    words = words_of(made.job)
    proof = next((p for p in made.proofs if isinstance(p, LeafProof) and p.leaf == leaf_key), None)
    if proof is None:
        return ()
    return tuple(
        BracingRow(
            way.name,
            words.mass(way.lift_mass),
            words.small(way.nose_drop_standing),
            words.small(way.nose_drop_person),
            tuple(
                BraceRow(f.mark, _sign(f), brace_words(f, words))
                for f in way.forces
                if f.situation == "standing"
            ),
        )
        for way in proof.bracings
    )
