"""What a page shows of a plan: the maker's day, and the part that was touched."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from markupsafe import Markup

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.doorway import Doorway
from leafwright.job.readings import NOT_READ
from leafwright.leaf import Leaf, Member
from leafwright.pipeline import Plan, plan_quantities
from leafwright.records import Held, Verdict
from leafwright.say import Words, count_of, edge_words, end_words, sentence, words_of
from leafwright.shop.cut_list import CutList
from leafwright.shop.nest import Nest
from leafwright.shop.stock import Stock
from leafwright.survey import Survey
from leafwright.survey.examine import Examined
from leafwright.units import show_angle
from leafwright.web.built import build_state
from leafwright.web.fields import GAP_OF_KEY, Field, Sheet
from leafwright.web.handed import hand_state
from leafwright.web.left import Tally
from leafwright.web.pictures import walk
from leafwright.web.planned import Planned, leaf_name
from leafwright.web.proven import CheckRow, check_row
from leafwright.web.stood import hang_state

#: The maker's day, in order.
STAGES = (
    ("measure", "Measure"),
    ("shape", "Shape"),
    ("prove", "Prove"),
    ("buy", "Buy and cut"),
    ("build", "Build"),
    ("hang", "Hang"),
    ("hand-over", "Hand over"),
)

#: Which of the plan's missing parts belong to which stage of the day.
MISSING = {
    "prove": ("give", "sliders"),
    "buy": ("price",),
}


@dataclass(frozen=True, slots=True)
class DayLine:
    """One line of the day's list; ``state`` is todo, look, ok or none."""

    key: str
    name: str
    state: str
    told: str


def day(planned: Planned, made: Plan, tally: Mapping[str, Tally]) -> tuple[DayLine, ...]:
    """Return the day's list with how each part of it stands."""
    follows = ("look", "being worked out again")
    told = {
        "measure": _measure(made),
        "shape": _shape(made),
        "prove": _prove(made) if planned.proved else follows,
        "buy": _buy(made, tally) if planned.proved else follows,
        "build": _build(made, tally["seam"]) if planned.whole else follows,
        "hang": hang_state(made) if planned.whole else follows,
        "hand-over": hand_state(made) if planned.whole else follows,
    }
    return tuple(DayLine(key, name, *told[key]) for key, name in STAGES)


def _measure(made: Plan) -> tuple[str, str]:
    left = sum(one.set_aside == NOT_READ for one in made.job.reading)
    if isinstance(made.survey, Held):
        count = len(made.job.reading)
        so_far = f"{count - left} of {count} read" if left else ""
        return "todo", so_far or "the opening cannot be found yet"
    used = [a for a in made.survey.adjusted if not a.observation.assumed]
    count = sum(1 for a in used if a.standardised is not None)
    alone = f", {len(used) - count} unchecked" if len(used) > count else ""
    alone += f", {left} still to read" if left else ""
    if isinstance(made.examined, Examined) and made.examined.doubts.groups:
        wrong = sum(group.wrong for group in made.examined.doubts.groups)
        return "todo", f"{'one reading' if wrong == 1 else f'{wrong} readings'} in doubt"
    told = {
        "agrees": ("ok", f"{count} readings agree{alone}"),
        "does not agree": ("todo", "the readings do not agree"),
        "unverified": ("look", "nothing checks the readings"),
    }
    return told[made.survey.agreement]


def _shape(made: Plan) -> tuple[str, str]:
    if isinstance(made.doorway, Held):
        return "todo", "no leaf fits yet"
    words = words_of(made.job)
    sizes = dict.fromkeys(
        f"{words.length(p.width)} × {words.length(p.height)}" for p in made.doorway.leaves
    )
    count = len(made.doorway.leaves)
    return "ok", f"{'one leaf' if count == 1 else f'{count} leaves'}, {' and '.join(sizes)}"


def _prove(made: Plan) -> tuple[str, str]:
    verdicts = {c.verdict for c in made.checks}
    if Verdict.SHORT in verdicts or any(isinstance(p, Held) for p in made.proofs):
        state = "todo"
    else:
        state = "look" if verdicts & {Verdict.TIGHT, Verdict.ASK} else "ok"
    return state, count_of(made.checks)


def _buy(made: Plan, tally: Mapping[str, Tally]) -> tuple[str, str]:
    if isinstance(made.cuts, Held):
        return "todo", "no cut list yet"
    sticks = 0
    if isinstance(made.stock, Stock):
        for one in made.stock.sections:
            sticks += len(one.nest.layouts) if isinstance(one.nest, Nest) else 0
    cut, holes, pack = tally["cut"], tally["hole"], tally["pack"]
    said = [f"{_counted(sticks, 'stick')}, {cut.of - cut.left} of {cut.of} pieces cut"]
    said += [f"{_counted(holes.left, 'hole')} to drill"] if holes.left else []
    said += [f"{_counted(pack.left, 'thing')} to pack"] if pack.left else []
    changed = cut.changed + holes.changed + pack.changed
    if changed:
        return "todo", ", ".join([*said, f"{changed} changed since ticked: look again"])
    left = cut.left + holes.left + pack.left
    return ("look" if left else "ok"), ", ".join(said)


def _build(made: Plan, seams: Tally) -> tuple[str, str]:
    state, told = build_state(made)
    if not seams.left:
        return state, told
    told += f"; {_counted(seams.left, 'seam')} of {seams.of} left to weld"
    if seams.changed:
        return "todo", f"{told}, {seams.changed} changed since ticked: look again"
    begun = state == "ok" or (state == "none" and seams.left < seams.of)
    return ("look" if begun else state), told


def _counted(count: int, what: str) -> str:
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def missing(made: Plan, stage: str) -> list[tuple[str, str]]:
    """Return what this version leaves out of a stage, and what to go by instead."""
    named = MISSING.get(stage, ())
    return [(held.why, "; ".join(held.needs)) for name, held in made.not_yet if name in named]


# ---------------------------------------------------------------- the part that was touched


@dataclass(frozen=True, slots=True)
class Part:
    """What is shown beside a part: its numbers, why, its checks, and what may be changed."""

    key: str
    title: str
    numbers: tuple[tuple[str, str], ...]
    why: Markup
    readings: tuple[tuple[str, str], ...]
    checks: tuple[CheckRow, ...]
    fields: tuple[Field, ...]
    links: tuple[tuple[str, str], ...] = ()

    @property
    def changes_both(self) -> bool:
        """Whether what is changed here is shared by the leaves."""
        return any(f.name.startswith("f.each_leaf.") for f in self.fields)


def value_words(quantity: Quantity, words: Words) -> str:
    """Return a quantity of any unit as the maker reads it, with its 95 % band where it has one."""
    if quantity.unit == "m":
        if abs(quantity.value) < 0.003 and quantity.value != 0.0:
            return words.small(quantity)
        return words.sure(quantity)
    if quantity.unit == "kg":
        return words.mass(quantity.value)
    if quantity.unit == "N":
        return words.force(quantity.value)
    if quantity.unit == "rad":
        return show_angle(quantity.value)
    if quantity.unit != "1":
        return words.amount(quantity.value, quantity.unit)
    return f"{quantity.value:.4g}"


def why_of(quantity: Quantity, words: Words) -> Markup:
    """Return the chain of a quantity as nested lists, down to the readings."""

    def tell(q: Quantity) -> str:
        told = f"{q.name}: {value_words(q, words)}"
        kind = {"reading": "read", "wish": "wished", "default": "by default", "table": "table"}
        if q.kind in kind:
            told += f" – {kind[q.kind]}" + (f", {q.note}" if q.note else "")
        return told

    return Markup('<ul class="why">{}</ul>').format(walk(quantity, tell, set(), 0))


def _weighty(quantity: Quantity, words: Words) -> tuple[tuple[str, str], ...]:
    """Return the bases that make a quantity unsure, the weightiest first."""
    names = {q.key: q.name for q in chain.walked(quantity)}
    shares = sorted(quantity.slopes, key=lambda s: -abs(s.by * s.sd))
    return tuple(
        (names.get(s.base, s.base), f"± {words.small(chain.BAND_95 * abs(s.by) * s.sd)}")
        for s in shares[:5]
        if abs(s.by) * s.sd > 1e-6
    )


def part_of(made: Plan, key: str, sheet: Sheet) -> Part | None:
    """Return what is shown of a part, by its key, its mark, or the key of any size."""
    words = words_of(made.job)
    for leaf in made.leaves:
        if isinstance(leaf, Leaf):
            for member in leaf.members:
                if key in (member.key, member.mark):
                    return _member_part(made, leaf, member, words, sheet)
    if isinstance(made.doorway, Doorway):
        room = made.doorway
        marks: dict[str, str] = {}
        if isinstance(made.cuts, CutList):
            for item in made.cuts.items:
                marks |= dict(zip(item.marks, item.keys, strict=True))
        for filler in (*room.posts, *((room.transom,) if room.transom else ())):
            if filler.key in (key, marks.get(key)):
                which = "transom" if "transom" in filler.key else "jamb"
                numbers = [("Section", filler.section or "a size to be filled")]
                numbers.append(("Length", words.sure(filler.length)))
                numbers += [(sentence(q.name), words.sure(q)) for q in filler.behind]
                return _part(
                    made,
                    filler.key,
                    filler.name,
                    numbers,
                    filler.length,
                    words,
                    sheet.filler(which),
                )
    quantity = next((q for q in plan_quantities(made) if q.key == key), None)
    if quantity is None:
        return None
    fields: list[Field] = []
    gap = GAP_OF_KEY.get(key.rpartition("/")[2])
    if gap is not None:
        fields = [sheet.gap(gap)]
        if gap == "heel":
            fields.append(sheet.gap("running"))
    elif key.endswith("leaf height"):
        fields = [sheet.field(("doorway", "leaf_height"), "Leaf height", empty="as high as fits")]
    where = key.rpartition("/")[0]
    title = quantity.name + (f", {where}" if where in ("left", "right") else "")
    numbers = [("Is", value_words(quantity, words))]
    return _part(made, key, title, numbers, quantity, words, fields)


def _part(
    made: Plan,
    key: str,
    title: str,
    numbers: list[tuple[str, str]],
    quantity: Quantity,
    words: Words,
    fields: list[Field],
    links: tuple[tuple[str, str], ...] = (),
) -> Part:
    checks = [c for c in made.checks if c.key == key or c.key.rpartition("/")[0] == key]
    return Part(
        key,
        sentence(title),
        tuple(numbers),
        why_of(quantity, words),
        _weighty(quantity, words),
        tuple(check_row(c, words) for c in checks),
        tuple(fields),
        links,
    )


def _member_part(made: Plan, leaf: Leaf, member: Member, words: Words, sheet: Sheet) -> Part:
    numbers = [
        ("Section", f"{member.section.designation}, {member.section.grade.name}"),
        ("Long point to long point", words.sure(member.length)),
        ("Weighs", words.mass(member.mass)),
    ]
    if isinstance(made.cuts, CutList):
        item = next((i for i in made.cuts.items if member.key in i.keys), None)
        if item is not None:
            numbers.insert(2, ("Along its edges", edge_words(item, words)))
            ends = [end_words(e) for e in (item.start, item.end)]
            told = f"both {ends[0]}" if ends[0] == ends[1] else " and ".join(ends)
            numbers.insert(3, ("Ends", told))
    if member.role in ("brace", "rod"):
        fields = sheet.bracing(leaf.hand)
    elif member.role == "mid rail":
        fields = [sheet.mid_rails(leaf.hand), sheet.frame(leaf.hand)[0]]
    else:
        fields = sheet.frame(leaf.hand)[:2]
    title = f"{member.mark}: {member.role}, {leaf_name(leaf.key)}"
    where = f"shape/leaf/{leaf.hand}"
    told = "All of the leaf" if leaf.key == "leaf" else f"Make the {leaf.key} leaf different"
    links = ((where, told),)
    return _part(made, member.key, title, numbers, member.length, words, fields, links)


@dataclass(frozen=True, slots=True)
class Size:
    """One size in the shape list; ``key`` leads to why."""

    key: str
    name: str
    value: str


def sizes(made: Plan) -> tuple[Size, ...]:
    """Return the doorway's sizes, each with the key of its chain."""
    if not isinstance(made.doorway, Doorway):
        return ()
    words = words_of(made.job)
    room = made.doorway
    found: list[Quantity] = [room.width]
    for place in room.leaves:
        found.append(place.width)
    found.append(room.leaves[0].height)
    found += [*room.gaps, room.clear_opening]
    rows = []
    for q in found:
        where = q.key.partition("/")[0]
        name = f"{where} {q.name}" if where in ("left", "right") and where not in q.name else q.name
        rows.append(Size(q.key, sentence(name), words.sure(q)))
    return tuple(rows)


def weights(made: Plan) -> tuple[tuple[str, str, str], ...]:
    """Return each leaf's bare and hung weight."""
    words = words_of(made.job)
    return tuple(
        (sentence(leaf_name(x.key)), words.mass(x.lift_mass), words.mass(x.hung_mass))
        for x in made.leaves
        if isinstance(x, Leaf)
    )


def survey_line(made: Plan) -> str:
    """Return how the readings stand, in one sentence."""
    found = made.survey
    if isinstance(found, Held):
        return f"The opening cannot be found: {found.why}. It needs {'; '.join(found.needs)}."
    assert isinstance(found, Survey)
    if found.agreement == "unverified":
        return "Nothing checks these readings; read a diagonal or a second width."
    told = {
        "agrees": "The readings agree with one another.",
        "does not agree": "The readings do not agree: at least one is wrong.",
    }
    return told[found.agreement]


def survey_test(made: Plan) -> str:
    """Return the numbers behind whether the readings agree, as the paper has them."""
    found = made.survey
    if not isinstance(found, Survey) or found.freedom <= 0:
        return ""
    return (
        f"Sum of the squared misfits, each over its sd: {found.weighted_sum:.2f}; up to "
        f"{found.critical:.2f} is chance (95 %, {found.freedom} readings more than needed)."
    )
