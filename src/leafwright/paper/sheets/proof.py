"""The proof on paper: braces compared, movements, reactions, and every check with its clause."""

from __future__ import annotations

from leafwright.frame.load_cases import NAMES
from leafwright.leaf import Leaf
from leafwright.paper.drawing import Drawing, DrawingItem
from leafwright.paper.layout import Caution, Column, Table
from leafwright.paper.scene import Fill, Line, Point, Text
from leafwright.paper.sheet import Sheet
from leafwright.paper.sheets.common import Desk, blank, table_sheets, title_of_leaf
from leafwright.paper.sheets.elevation import hinge_edge, leaf_items
from leafwright.paper.sheets.flow import Listed, Rows, Says, Title, drawn
from leafwright.proof import BraceForce, LeafProof
from leafwright.records import Held, Verdict
from leafwright.say import (
    VERDICTS,
    brace_words,
    check_source,
    count_of,
    place_words,
    sentence,
)
from leafwright.say_loads import loads_words

NOT_A_STAMP = Caution(
    "What this proof is not",
    "It is arithmetic by published rules, not a stamp of approval. Where it says ASK, a licensed "
    "engineer, an official or a maker's data sheet has to answer. Local codes rule.",
)


def _bracing_table(at: Desk, proof: LeafProof) -> Table:
    words = at.words
    rows = []
    for way in proof.bracings:
        for i, situation in enumerate(("standing", "person")):
            forces = [f for f in way.forces if f.situation == situation]
            drop = way.nose_drop_standing if situation == "standing" else way.nose_drop_person
            each = ", ".join(f"{f.mark} {brace_words(f, words)}" for f in forces) or "no brace"
            rows.append(
                (
                    way.name if i == 0 else "",
                    words.mass(way.lift_mass) if i == 0 else "",
                    "standing" if situation == "standing" else "with a person on the nose",
                    words.small(drop),
                    each,
                )
            )
    return Table(
        (
            Column("Braces", 24.0, bold=True),
            Column("Bare frame", 18.0, align="right"),
            Column("Loaded by", 34.0),
            Column("Nose drops", 20.0, align="right"),
            Column("Force at mid length", 90.0),
        ),
        tuple(rows),
    )


def _movement_table(at: Desk, proof: LeafProof) -> Table:
    words = at.words
    return Table(
        (
            Column("Leaf", 60.0),
            Column("Nose drops", 22.0, align="right"),
            Column("Nose leans away", 22.0, align="right"),
            Column("Diagonals part", 22.0, align="right"),
            Column("Handle moves out", 22.0, align="right"),
        ),
        tuple(
            (
                NAMES[m.situation],
                words.small(m.nose_drop),
                words.small(m.nose_shift),
                words.small(m.diagonals),
                words.small(m.handle),
            )
            for m in proof.movements
        ),
    )


def _reaction_table(at: Desk) -> Table:
    words = at.words
    rows = []
    for proof in at.plan.proofs:
        if isinstance(proof, Held):
            continue
        places = [r.place for r in proof.reactions]
        for r in proof.reactions:
            rows.append(
                (
                    proof.leaf,
                    NAMES[r.situation],
                    place_words(r.place, places),
                    words.force(r.x),
                    words.force(r.y),
                    words.force(r.z),
                )
            )
    return Table(
        (
            Column("Leaf", 20.0, bold=True),
            Column("Situation", 80.0),
            Column("Held at", 50.0),
            Column("To the right", 26.0, align="right"),
            Column("Up", 26.0, align="right"),
            Column("Toward you", 26.0, align="right"),
        ),
        tuple(rows),
    )


def _push_pull(leaf: Leaf, forces: list[BraceForce], at: Desk) -> Drawing:
    """Return the leaf with its braces marked pressed or pulled by arrowheads and words."""
    items: list[DrawingItem] = [*hinge_edge(leaf), *leaf_items(leaf)]
    by_key = {m.key: m for m in leaf.members}
    for force in forces:
        member = by_key[force.member]
        x0, y0 = member.bar.centroid
        d = member.direction
        reach = 0.30 * member.bar.long
        pulled = force.middle > 0
        for sign in (1.0, -1.0):
            tip_s, tail_s = (reach, 0.62 * reach) if pulled else (0.62 * reach, reach)
            tip = (x0 + sign * tip_s * d[0], y0 + sign * tip_s * d[1])
            tail = (x0 + sign * tail_s * d[0], y0 + sign * tail_s * d[1])
            items += _arrow(tip, tail, 0.022 * leaf.height / 2)
        text = f"{force.mark}: {brace_words(force, at.words)}"
        items.append(
            Text((x0, y0), text, height_mm=2.6, anchor="centre-middle", bold=True, knockout=True)
        )
    return Drawing(tuple(items))


def _arrow(tip: Point, tail: Point, size: float) -> list[DrawingItem]:
    dx, dy = tip[0] - tail[0], tip[1] - tail[1]
    length = (dx * dx + dy * dy) ** 0.5 or 1.0
    ux, uy = dx / length, dy / length
    back = (tip[0] - 2 * size * ux, tip[1] - 2 * size * uy)
    head = (
        tip,
        (back[0] - size * uy, back[1] + size * ux),
        (back[0] + size * uy, back[1] - size * ux),
    )
    return [Line(tail, tip, "note"), Fill(head, "black", layer="note")]


def _brace_sheets(at: Desk, leaf: Leaf, proof: LeafProof) -> tuple[Sheet, ...]:
    title = f"{title_of_leaf(leaf.key)}: how it is loaded"
    sheet = blank(at, title, cautions=(NOT_A_STAMP,), drawing=True)
    standing = [f for f in proof.brace_forces if f.situation == "standing"]
    basis = (
        f"basis: {proof.basis}; a person of {at.words.mass(proof.wishes.person.value)} on the "
        f"nose, a push of {at.words.force(proof.wishes.push.value)} at the handle"
    )
    return drawn(
        sheet,
        _push_pull(leaf, standing, at),
        at.scales,
        lambda: blank(at, title),
        (
            Title("The braces as drawn, left out, and turned round"),
            Says("Arrows out of a brace: it is pulled. Arrows in: it is pressed."),
            Rows(_bracing_table(at, proof)),
            Title("How the leaf moves, loads as they are"),
            Rows(_movement_table(at, proof)),
            Title("Taken for granted"),
            Listed((basis, *proof.assumptions)),
        ),
        caption="STANDING",
        share=0.32,
        bar=False,
    )


_USES = (
    ("axial", "Along it"),
    ("bending in", "Bending in plane"),
    ("bending out", "Bending out of plane"),
    ("shear", "Shear"),
    ("torsion", "Twisting"),
    ("together", "All together"),
)


def _member_table(at: Desk) -> Table:
    """Return one line a member: how much of each strength is used, and what governs."""
    by_key = {c.key: c for c in at.plan.checks}
    rows = []
    for leaf in at.plan.leaves:
        if not isinstance(leaf, Leaf):
            continue
        for member in leaf.members:
            checks = [by_key.get(f"{member.key}/{tail}") for tail, _ in _USES]
            together, slender = checks[-1], by_key.get(f"{member.key}/slenderness")
            axial = checks[0]
            force = "–"
            if axial is not None and axial.demand is not None and axial.available is not None:
                way = "pressed" if axial.question.endswith("pressed") else "pulled"
                force = f"{way} {at.words.force(axial.demand)} of {at.words.force(axial.available)}"
            rows.append(
                (
                    member.mark,
                    member.role,
                    *("–" if c is None or c.ratio is None else f"{c.ratio:.3f}" for c in checks),
                    "–" if slender is None or slender.demand is None else f"{slender.demand:.0f}",
                    force,
                    "–" if together is None else together.case,
                )
            )
    return Table(
        (
            Column("Mark", 18.0, bold=True),
            Column("Piece", 28.0),
            *(Column(name, 22.0, align="right") for _, name in _USES),
            Column("L / r", 14.0, align="right"),
            Column("Greatest force along it", 52.0),
            Column("All together governed by", 66.0),
        ),
        tuple(rows),
        height_mm=2.8,
        title_height_mm=2.4,
    )


def _clauses(at: Desk) -> str:
    """Return the clauses that the members were checked by, each named once."""
    keys = {m.key for leaf in at.plan.leaves if isinstance(leaf, Leaf) for m in leaf.members}
    found: dict[str, dict[str, None]] = {}
    for check in at.plan.checks:
        if check.key.rsplit("/", 1)[0] in keys and check.source.document.startswith("ANSI"):
            found.setdefault(check.source.document, {})[check.source.clause] = None
    told = [f"{document}: {'; '.join(clauses)}" for document, clauses in found.items()]
    return (
        "Share of each available strength that is used, 1 being all of it; the worst of all cases "
        "and of all places along the member. " + ". ".join(told)
    )


def _check_table(at: Desk) -> Table:
    """Return every check that needs the maker, or somebody else's answer, and those answered."""
    words = at.words
    rows = []
    for check in at.plan.checks:
        if check.verdict is Verdict.OK and check.basis != "answered":
            continue
        needs = "–" if check.demand is None else words.amount(check.demand, check.unit)
        has = "–" if check.available is None else words.amount(check.available, check.unit)
        rows.append(
            (
                VERDICTS[check.verdict],
                sentence(check.subject),
                check.question + (f" ({check.case})" if check.case else ""),
                needs,
                has,
                "–" if check.ratio is None else f"{check.ratio:.2f}",
                check_source(check),
                sentence(check.change),
            )
        )
    return Table(
        (
            Column("", 13.0, bold=True),
            Column("What", 40.0),
            Column("Asked", 74.0),
            Column("Needs", 25.0, align="right"),
            Column("Has", 25.0, align="right"),
            Column("Ratio", 14.0, align="right"),
            Column("By", 72.0),
            Column("To change, or who answers", 72.0),
        ),
        tuple(rows),
        height_mm=2.6,
        title_height_mm=2.4,
    )


def proof_sheets(at: Desk) -> tuple[Sheet, ...]:
    """Return the checks, those that need the maker first, then how each leaf is loaded."""
    first = blank(at, "Checks", cautions=(NOT_A_STAMP,), seen=False)
    later = blank(at, "Checks", seen=False)
    sheets = [
        *table_sheets(
            first,
            later,
            _check_table(at),
            name=count_of(at.plan.checks),
            note="What is plainly ok stands with all the rest on the sheets Calculation. "
            f"{loads_words(at.plan)}",
        )
    ]
    leaves = {leaf.key: leaf for leaf in at.plan.leaves if isinstance(leaf, Leaf)}
    proved = [p for p in at.plan.proofs if isinstance(p, LeafProof)]
    if not proved:
        return tuple(sheets)
    sheet = blank(at, "Members", seen=False)
    sheets += table_sheets(sheet, sheet, _member_table(at), note=_clauses(at))
    for proof in proved:
        sheets += _brace_sheets(at, leaves[proof.leaf], proof)
    sheet = blank(at, "What holds the leaves")
    sheets += table_sheets(
        sheet,
        sheet,
        _reaction_table(at),
        note="What each place that holds the leaf gives to it, loads as they are: an engineer "
        "takes the opposite of these to floor, beam and posts. The directions turn with the leaf: "
        "opened to 90°, what pushes sideways shut pushes in and out. A place "
        "that would have to hold the leaf down shows a negative figure under Up, or on trestles "
        "under Toward you. Trestles stand a fifth of the height in from either end of the lying "
        "leaf, lifting points a quarter of the width in from either side.",
    )
    return tuple(sheets)
