"""A whole job on site, played through: a true opening, true leaves, and a maker who does as told.

The maker reads the opening with errors such as a tape has and one reading that is wrong, takes
again what is named, cuts and welds two leaves that come out a little otherwise, pushes on the pad
what is told, hangs them a little off, reads the gaps and moves what is told, and reads again.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from pathlib import Path

import numpy as np

from leafwright.doorway import Doorway, LeafPlace
from leafwright.job.file import read_job
from leafwright.job.model import Job
from leafwright.job.steel import steel
from leafwright.job.tape import tape_of
from leafwright.pipeline import Plan, plan
from leafwright.records import Held
from leafwright.site import taken
from leafwright.site.fit_up import fit_up_of
from leafwright.site.hung import Hung
from leafwright.site.hung_job import hung_of_job
from leafwright.site.in_doorway import swing_of
from leafwright.site.moves import motion_of
from leafwright.site.pose import MOTIONS, hung_leaf
from leafwright.site.wished import wished_of
from leafwright.survey import Survey
from tests.site.test_hung import Stand, in_space

INCH = 0.0254
MARK = INCH / 16
BOATHOUSE = (Path(__file__).parents[2] / "examples" / "boathouse.toml").read_text(encoding="utf-8")
HEAD = BOATHOUSE[: BOATHOUSE.index("[[reading]]")]
REST = BOATHOUSE[BOATHOUSE.index("[opening]") :]

#: Errors of a tape, a long tape, a level and a plumb line, as the job's defaults have them; and
#: of a gap read with a rule [m].
TAPE, LONG, LEVEL, LINE, RULE = 0.0015, 0.003, 0.0015, 0.0015, 0.0008


def inches(metres: float, mark: float = MARK) -> str:
    """Return a length as the maker's tape shows it."""
    return f"{round(metres / mark) * mark / INCH:.6f} in"


def table(name: str, **fields: str) -> str:
    lines = [f'{key.rstrip("_")} = "{value}"' for key, value in fields.items()]
    return "\n".join(["", f"[[{name}]]", *lines, ""])


@dataclass
class Reading:
    """One reading of the opening: its table, what it truly is, how sure, and what was read [m]."""

    fields: dict[str, str]
    true: float
    sd: float
    read: float = 0.0
    aside: list[float] = field(default_factory=list)

    def taken(self, rng: np.random.Generator, off: float = 0.0) -> None:
        self.read = self.true + float(rng.normal(0.0, self.sd)) + off

    def text(self) -> str:
        said = ""
        for value in self.aside:
            said += table("reading", **self._fields(value), set_aside="read again")
        return said + table("reading", **self._fields(self.read))

    def _fields(self, value: float) -> dict[str, str]:
        if self.fields["kind"] == "plumb":
            ways = ("right", "left")
            return {**self.fields, "is": inches(abs(value)), "toward": ways[value < 0.0]}
        return {**self.fields, "is": inches(value)}


@dataclass
class Opening:
    """The true opening, its corners as seen from the face side [m]."""

    corners: dict[str, tuple[float, float]]

    def floor(self, x: float) -> float:
        (x0, y0), (x1, y1) = self.corners["BL"], self.corners["BR"]
        return y0 + (y1 - y0) * (x - x0) / (x1 - x0)

    def side(self, name: str, up: float) -> tuple[float, float]:
        foot, head = (self.corners[f"B{name}"], self.corners[f"T{name}"])
        share = up / math.dist(foot, head)
        return (foot[0] + share * (head[0] - foot[0]), foot[1] + share * (head[1] - foot[1]))


def opening_of(rng: np.random.Generator) -> Opening:
    """Return a crooked opening about as large as the boathouse's."""
    wide, high = float(rng.uniform(3.0, 3.4)), float(rng.uniform(4.33, 4.42))
    off = [float(v) for v in rng.uniform(-0.012, 0.012, 6)]
    return Opening(
        {
            "BL": (0.0, 0.0),
            "BR": (wide, off[0]),
            "TL": (off[1], high + off[2]),
            "TR": (wide + off[3], high + off[4]),
        }
    )


def readings_of(opening: Opening) -> list[Reading]:
    """Return what a careful maker reads of an opening."""
    at = dict(opening.corners)
    for up in (42, 84, 126):
        at |= {f"{side}@{up}in": opening.side(side, up * INCH) for side in "LR"}
    pairs = [("BL", "BR", TAPE), ("TL", "TR", TAPE), ("BL", "TL", LONG), ("BR", "TR", LONG)]
    pairs += [("BL", "TR", LONG), ("BR", "TL", LONG)]
    pairs += [(f"L@{up}in", f"R@{up}in", TAPE) for up in (42, 84, 126)]
    pairs += [("BL", "R@84in", LONG), ("BR", "L@84in", LONG)]
    pairs += [("TL", "R@84in", LONG), ("TR", "L@84in", LONG)]
    found = []
    for a, b, sd in pairs:
        by = "tape" if sd == TAPE else "long tape"
        fields = {"kind": "distance", "from": a, "to": b, "by": by}
        found.append(Reading(fields, math.dist(at[a], at[b]), sd))
    for a, b in (("BL", "BR"), ("TL", "TR")):
        found.append(Reading({"kind": "rise", "from": a, "to": b}, at[b][1] - at[a][1], LEVEL))
    for a, b in (("BL", "TL"), ("BR", "TR")):
        found.append(Reading({"kind": "plumb", "from": a, "to": b}, at[b][0] - at[a][0], LINE))
    for name in ("BL", "BR", "TL", "TR"):
        found.append(Reading({"kind": "level", "at": name}, at[name][1] - 1.0, LEVEL))
    return found


@dataclass
class World:
    """A job as it is truly, beside the job file that the maker writes."""

    rng: np.random.Generator
    opening: Opening
    readings: list[Reading]
    more: str = ""
    said: list[str] = field(default_factory=list)

    def text(self) -> str:
        return HEAD + "".join(r.text() for r in self.readings) + "\n" + REST + self.more

    def job(self) -> Job:
        return read_job(self.text())

    def plan(self) -> Plan:
        return plan(self.job(), upto="doorway")


def surveyed(world: World) -> bool:
    """Return whether the readings agree, once what is named was read again, three times at most."""
    for _ in range(4):
        made = world.plan()
        assert isinstance(made.survey, Survey)
        assert not isinstance(made.examined, Held)
        if not any(stop.key.startswith("survey/") for stop in made.stops):
            return True
        doubted = made.examined.doubts
        named = sorted({s.words for s in doubted.suspects} or {of(key) for key in doubted.first})
        world.said.append(f"survey: {named}")
        again = [r for r in world.readings if any(names(words, r) for words in named)]
        if not again:
            return False
        for one in again:
            one.aside.append(one.read)
            one.taken(world.rng)
    return False


def of(key: str) -> str:
    """Return what a reading is called, from its key."""
    return key.partition("/")[2]


def names(words: str, reading: Reading) -> bool:
    """Return whether a suspect is a reading: what it is, whichever time it was read."""
    said, of = words.partition(" (reading")[0], reading.fields
    if of["kind"] == "level":
        return said == f"{of['at']} from the laser line"
    if of["kind"] == "rise":
        return said == f"{of['to']} above {of['from']}"
    if of["kind"] == "plumb":
        return said.startswith(of["to"]) and said.endswith(f"of plumb from {of['from']}")
    return said == f"{of['from']} to {of['to']}"


@dataclass
class TrueLeaf:
    """A leaf as it truly is: widths at bottom and top, heights, rack, how it hangs [m]."""

    bottom: float
    top: float
    high: float
    racked: float
    stand: Stand = field(default_factory=Stand)


def welded(world: World, hand: str, made: Plan) -> TrueLeaf:
    """Return a leaf fitted up as told, welded and read; its readings are in the job file."""
    place = place_of(made, hand)
    rng = world.rng
    wide, high = place.on_sheet.value, place.height_on_sheet.value
    cut = [float(v) for v in rng.normal(0.0, 0.0005, 3)]
    leaf = TrueLeaf(wide + cut[0], wide + cut[1], high + cut[2], float(rng.normal(0.0, 0.004)))
    # Tacked: read, and pushed as told, until it is square.
    for _ in range(3):
        world_text = world.text() + pad_readings(world, hand, leaf, "tacked")
        job = read_job(world_text)
        read = taken.pad_readings(job, taken.fit_up_of(job, place.hand, "tacked"))
        told = fit_up_of(place, read, tape=tape_of(job), limits=wished_of(job).limits())
        pushes = [push for push in told.pushes if push.key == "rack"]
        if not pushes:
            break
        # The diagonal is brought to what is told, within a mark.
        way = -1.0 if pushes[0].place == "top closing corner" else 1.0
        by = pushes[0].by + float(rng.normal(0.0, 0.0005))
        leaf.racked += way * by * math.hypot(wide, high) / wide
    # Welding draws the rails a little shorter, one more than the other, and racks the leaf.
    drawn = rng.normal([-0.001, -0.001, -0.0005, 0.0], [0.0007, 0.0007, 0.0005, 0.0007])
    leaf.bottom, leaf.top = leaf.bottom + float(drawn[0]), leaf.top + float(drawn[1])
    leaf.high, leaf.racked = leaf.high + float(drawn[2]), leaf.racked + float(drawn[3])
    world.more += pad_readings(world, hand, leaf, "welded")
    return leaf


def pad_readings(world: World, hand: str, leaf: TrueLeaf, stage: str) -> str:
    """Return sides and diagonals of a leaf on the pad, its top leaning by its rack."""
    half = (leaf.top - leaf.bottom) / 2.0
    lean = leaf.racked
    corners = {
        "bottom hinge": (0.0, 0.0),
        "bottom closing": (leaf.bottom, 0.0),
        "top hinge": (lean - half, leaf.high),
        "top closing": (lean + leaf.bottom + half, leaf.high),
    }
    pairs = [("bottom hinge", "bottom closing", TAPE), ("top hinge", "top closing", TAPE)]
    pairs += [("bottom hinge", "top hinge", TAPE), ("bottom closing", "top closing", TAPE)]
    pairs += [("bottom hinge", "top closing", TAPE), ("bottom closing", "top hinge", TAPE)]
    said = ""
    for a, b, sd in pairs:
        read = math.dist(corners[a], corners[b]) + float(world.rng.normal(0.0, 0.6 * sd))
        fields = {"from": a, "to": b, "is": inches(read, INCH / 32)}
        said += table("fit_up", kind="distance", leaf=hand, stage=stage, **fields)
    return said


def place_of(made: Plan, hand: str) -> LeafPlace:
    assert isinstance(made.doorway, Doorway), made.doorway
    return next(p for p in made.doorway.leaves if p.hand == hand)


@dataclass
class Hanging:
    """The doorway as built, and its two leaves hung in it."""

    world: World
    room: Doorway
    leaves: dict[str, TrueLeaf]
    posts: dict[str, Callable[[float], float]]
    head: float

    def point(self, hand: str, u: float, v: float, opening: float) -> tuple[float, float, float]:
        """Return where a place of a leaf truly is; u and v are shares of its width and height."""
        place = next(p for p in self.room.leaves if p.hand == hand)
        leaf, side = self.leaves[hand], 1.0 if hand == "left" else -1.0
        body = replace(hung_leaf(place), width=leaf.bottom, height=leaf.high, top_pin=leaf.high)
        out = u * (leaf.bottom + (leaf.top - leaf.bottom) * v)
        at = in_space(body, leaf.stand, out, v * leaf.high, opening)
        axis = place.hinge_edge.value + side * place.axis.value
        return (axis + float(at[0]), place.bottom.value + float(at[1]), float(at[2]))

    def gap(self, hand: str, where: str, share: float, opening: float = 0.0) -> float:
        """Return a true gap [m]."""
        side = 1.0 if hand == "left" else -1.0
        if where == "heel":
            x, y, _ = self.point(hand, 0.0, share, opening)
            return side * (x - self.posts[hand](y))
        if where == "closing":
            x, _, _ = self.point(hand, 1.0, share, 0.0)
            other, _, _ = self.point("right" if hand == "left" else "left", 1.0, share, 0.0)
            return side * (other - x)
        x, y, _ = self.point(hand, share, 1.0 if where == "top" else 0.0, opening)
        return self.head - y if where == "top" else y - self.world.opening.floor(x)

    def tops_differ(self) -> float:
        return self.point("left", 1.0, 1.0, 0.0)[1] - self.point("right", 1.0, 1.0, 0.0)[1]


def hung_in(world: World, made: Plan, leaves: dict[str, TrueLeaf]) -> Hanging:
    """Return the leaves hung a little off: plates, sleeves and posts as near as they are set."""
    assert isinstance(made.doorway, Doorway)
    rng, room = world.rng, made.doorway
    assert room.transom is not None
    posts: dict[str, Callable[[float], float]] = {}
    for place in room.leaves:
        side = 1.0 if place.hand == "left" else -1.0
        line = place.hinge_edge.value - side * place.heel_gap.value + float(rng.normal(0.0, 0.0005))
        lean = float(rng.normal(0.0, 0.0005)) / place.height.value
        posts[place.hand] = lambda y, line=line, lean=lean: line + lean * y  # type: ignore[misc]
        leaf = leaves[place.hand]
        off = rng.normal(0.0, [0.003, 0.002, 0.0007, 0.003, 0.003])
        x, y, square, lean_x, lean_z = (float(v) for v in off)
        # Racked by so much over its height, its closing edge stands up by as much over its width.
        racked = leaf.racked * leaf.bottom / leaf.high
        leaf.stand = Stand(x, y, square - side * 0.0, lean_x, lean_z, 0.0, racked)
    return Hanging(world, room, leaves, posts, room.transom.near_edge.value)


#: What is read of a hung leaf: which gap, the share along its edge, how far it stands open.
GAPS = [("heel", 0.05, 0.0), ("heel", 0.95, 0.0), ("floor", 0.05, 0.0), ("floor", 0.95, 0.0)]
GAPS += [("top", 0.05, 0.0), ("top", 0.95, 0.0), ("floor", 0.95, 90.0)]
MEETING = [("closing", 0.05, 0.0), ("closing", 0.95, 0.0)]


def hung_readings(hanging: Hanging) -> str:
    said, rng = "", hanging.world.rng
    for place in hanging.room.leaves:
        hand = place.hand
        for where, share, angle in (*GAPS, *(MEETING if hand == "left" else [])):
            long = place.height.value if where in ("heel", "closing") else place.width.value
            true = hanging.gap(hand, where, share, math.radians(angle))
            read = true + float(rng.normal(0.0, 0.6 * RULE))
            if read < 0.0:
                # Where they overlap nothing can be read.
                continue
            fields = {"at": inches(share * long), "is": inches(read, INCH / 32)}
            more = {"angle": f"{angle:g} deg", "swing": "toward"} if angle else {}
            said += table("hung", kind="gap", leaf=hand, where=where, **fields, **more)
        stand = hanging.leaves[hand].stand
        ways = (("in the wall", "right", "left"), ("through the wall", "viewer", "away"))
        for (way, more_, less), true in zip(ways, (stand.lean_x, stand.lean_z), strict=True):
            read = true + float(rng.normal(0.0, 0.6 * LINE))
            fields = {"is": inches(abs(read), INCH / 32), "toward": more_ if read > 0.0 else less}
            over = inches(place.height.value)
            said += table("hung", kind="plumb", leaf=hand, direction=way, over=over, **fields)
    return said


def moved(hanging: Hanging) -> tuple[bool, list[Hung]]:
    """Read, move what is told, and return whether anything was held back, and what was told."""
    world = hanging.world
    job = read_job(world.text() + hung_readings(hanging))
    made = plan(job, upto="doorway")
    assert isinstance(made.doorway, Doorway) and isinstance(made.survey, Survey)
    wished = wished_of(job)
    swings = swing_of(job, made.survey, made.doorway, steel(job), wished)
    told = hung_of_job(job, made.survey, made.doorway, wished, swings, tape=tape_of(job))
    found = []
    for place in made.doorway.leaves:
        hangs = told[place.key]
        assert isinstance(hangs, Hung), hangs
        found.append(hangs)
        if hangs.stops:
            # What closes a gap too far is not moved.
            continue
        by = dict(zip(MOTIONS, motion_of(hangs.moves), strict=True))
        leaf = hanging.leaves[place.hand]
        s = leaf.stand
        leaf.stand = replace(
            s,
            x=s.x + by["shift x"],
            y=s.y + by["shift y"],
            lean_x=s.lean_x + by["lean x"],
            lean_z=s.lean_z + by["lean z"],
        )
    return any(one.doubt.holds for one in found), found


@dataclass(frozen=True)
class Outcome:
    """How a job came out: what was wrong with it, and every true gap at the end [m]."""

    wrong: tuple[str, ...]
    said: tuple[str, ...]


def whole_job(seed: int, *, rounds: int = 2) -> Outcome:
    """Return how a job came out that a maker did as told."""
    rng = np.random.default_rng(seed)
    opening = opening_of(rng)
    world = World(rng, opening, readings_of(opening))
    for one in world.readings:
        one.taken(rng)
    blunder = world.readings[int(rng.integers(len(world.readings)))]
    off = float(rng.choice([INCH, -INCH, 2 * INCH, 12 * INCH, -12 * INCH, 0.5 * INCH]))
    blunder.taken(rng, off)
    world.said.append(f"blunder: {blunder.fields} by {off / INCH:g} in")
    if not surveyed(world):
        return Outcome(("the survey was not settled",), tuple(world.said))
    leaves = {"left": welded(world, "left", world.plan())}
    leaves["right"] = welded(world, "right", world.plan())
    made = world.plan()
    hanging = hung_in(world, made, leaves)
    for number in range(rounds):
        held, told = moved(hanging)
        for hangs in told:
            words = [m.words for m in hangs.moves] + [
                *hangs.suspects,
                *(s.why for s in hangs.stops),
            ]
            world.said.append(f"round {number + 1} {hangs.key}: {'; '.join(words)}")
    wrong = list(judged(hanging))
    if held:
        wrong.append("nothing could be moved in the last round")
    return Outcome(tuple(wrong), tuple(world.said))


#: How near to plan every gap of one leaf is to come, two marks of the tape, and one that two leaves
#: make, each as near by itself [m].
NEAR = INCH / 8
NEAR_OF_TWO = math.sqrt(2.0) * NEAR


def left_by_plates(hanging: Hanging, hand: str, share: float) -> float:
    """Return how much wider a heel gap is at a place than at the bottom with the axis plumb [m].

    A post off plumb and a leaf out of square on its sleeve leave that: no plate takes it out.
    """
    leaf = hanging.leaves[hand]
    as_hung = leaf.stand
    leaf.stand = Stand(square=as_hung.square, racked=as_hung.racked)
    differs = hanging.gap(hand, "heel", share) - hanging.gap(hand, "heel", 0.0)
    leaf.stand = as_hung
    return differs


def judged(hanging: Hanging) -> list[str]:
    """Return what is wrong with the gaps as they truly are; nothing where all are good."""
    wrong = []
    room = hanging.room
    meeting = next(g for g in room.gaps if g.key.startswith("doorway/meeting gap")).value
    running = 3 / 16 * INCH
    spent = {b.gap.key: sum(s.amount for s in b.shares) for b in room.budgets}

    def near(what: str, gap: float, planned: float, within: float = NEAR) -> None:
        if abs(gap - planned) > within:
            wrong.append(f"{what}: {gap / INCH:.3f} in, planned {planned / INCH:.3f}")

    for place in room.leaves:
        for share in (0.0, 1.0):
            at = f"{place.hand} {share:g}"
            due = place.heel_gap.value + left_by_plates(hanging, place.hand, share)
            near(f"heel {at}", hanging.gap(place.hand, "heel", share), due)
            top = hanging.gap(place.hand, "top", share)
            if top < spent["doorway/top gap"] - NEAR:
                wrong.append(f"top {at}: {top / INCH:.3f} in")
            if hanging.gap(place.hand, "floor", share) < running:
                wrong.append(f"floor {at}: {hanging.gap(place.hand, 'floor', share) / INCH:.3f} in")
        stand = hanging.leaves[place.hand].stand
        near(f"plumb {place.hand} in the wall", stand.lean_x, 0.0)
        near(f"plumb {place.hand} through the wall", stand.lean_z, 0.0)
    for share in (0.0, 1.0):
        # What posts and leaves leave between them once the heel gaps are right: no move changes it.
        high = {p.hand: p.bottom.value + share * p.height.value for p in room.leaves}
        free = hanging.posts["right"](high["right"]) - hanging.posts["left"](high["left"])
        free -= sum(place.heel_gap.value for place in room.leaves)
        free -= sum(leaf.top if share else leaf.bottom for leaf in hanging.leaves.values())
        near(f"meeting {share:g}", hanging.gap("left", "closing", share), free, NEAR_OF_TWO)
        if hanging.gap("left", "closing", share) < min(running, meeting) - NEAR:
            wrong.append(f"meeting {share:g}: the noses do not pass")
    near("tops", hanging.tops_differ(), 0.0, NEAR_OF_TWO)
    return wrong
