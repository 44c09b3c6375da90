"""Tilt-in: how a leaf gets from flat on the floor to where it hangs, under the real head.

Seen from the side, in the vertical plane through the wall. The way is a chain of poses, each piece
of which is proven clear; or it is proven that there is none; or neither, and then it says so. In
the plane of the wall, turning the leaf up on its bottom corner needs its whole diagonal. The
closed forms of the simplest case are in `turned_up`.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from leafwright.chain import Quantity
from leafwright.doorway.records import LeafPlace
from leafwright.leaf.records import Leaf
from leafwright.records import Metres, Point2, Radians
from leafwright.site.poses import Box, Part, Pose, Shapes, bounds, rooms, shapes
from leafwright.site.way import Field, Room, Way, begun, poses_of, search

Side = Literal["toward", "away"]
UPRIGHT = math.pi / 2

# Steps into which the foot's reach is divided, to find the least kick-out.
_KICKS = 64
# How finely the best room is looked for [m], and the most that is told apart [m].
_ROOM_STEP = 2.5e-4
_MOST_ROOM = 0.1


class TiltInError(ValueError):
    """A leaf, a building or wishes that no search can be made for."""


@dataclass(frozen=True, slots=True)
class SideSection:
    """A leaf seen from its side: height without pins [m], and all its rectangles."""

    key: str
    height: Metres
    parts: tuple[Part, ...]

    def __post_init__(self) -> None:
        if not self.parts:
            raise ValueError(f"{self.key} has no parts; give at least its frame")


@dataclass(frozen=True, slots=True)
class Head:
    """What the leaf passes under: its underside y, and how far it reaches back and front [m]."""

    underside: Metres
    back: Metres
    front: Metres
    name: str = "the head"


@dataclass(frozen=True, slots=True)
class Floor:
    """The floor: its lowest level y [m], and where it is higher, as points (z, y) from back to
    front. Between two points the higher of them counts."""

    level: Metres
    profile: tuple[Point2, ...] = ()

    def __post_init__(self) -> None:
        low = [y for _, y in self.profile if y < self.level]
        if low:
            raise ValueError(
                f"the floor's level {self.level!r} m is not its lowest: the profile has "
                f"{low[0]!r}; give the lowest"
            )
        across = [z for z, _ in self.profile]
        if across != sorted(across):
            raise ValueError("the floor's profile must run from back to front; sort it by z")


@dataclass(frozen=True, slots=True)
class Building:
    """What stands in the way of one leaf: floor, head, and boxes of everything else."""

    floor: Floor
    head: Head
    boxes: tuple[Box, ...] = ()


@dataclass(frozen=True, slots=True)
class Hang:
    """Where the leaf hangs, and how far it is raised over that before its last lowering [m].

    ``bottom`` is the y of its bottom edge as it hangs; ``raised`` is nothing for a leaf that is
    set down where it is slid in.
    """

    bottom: Metres
    raised: Metres = 0.0


@dataclass(frozen=True, slots=True)
class Wishes:
    """What may be done with the leaf [m].

    ``margin``: least distance to the building; ``lift``: most that the leaf's lowest point may be
    over the floor, as much as it takes if None; ``leaning_lift``: the same while the leaf still
    leans, tried first; ``reach``: how far the foot may stand from the middle of the wall;
    ``boxes_of_poses``: the work allowed. All but the first are common practice, no source.
    """

    margin: Metres
    lift: Metres | None = None
    leaning_lift: Metres = 0.03
    reach: Metres = 0.9
    boxes_of_poses: int = 8_000


@dataclass(frozen=True, slots=True)
class Tight:
    """The tightest place of a way: its pose, the room there [m], and what is near."""

    pose: Pose
    room: Metres
    what: str


@dataclass(frozen=True, slots=True)
class PosePath:
    """A way in; between two poses lift, foot and tilt change evenly, and every pose is clear.

    ``side`` is the side of the wall on which the leaf lies. The last pose is the hung one; the
    one before it is the raised one. ``kick_out`` is the most that the foot stands off the middle
    of the wall on this way, and ``kick_out_at_least`` what every such way needs [m]. ``headroom``
    is the room of the roomiest such way, not less and not more than the two numbers [m].
    ``lifted_while_leaning`` is False for ways that lift the foot by the wished ``leaning_lift`` at
    most until the leaf is nearly upright; True where none such was found and the foot comes up
    sooner.
    """

    side: Side
    poses: tuple[Pose, ...]
    tight: Tight
    kick_out: Metres
    kick_out_at_least: Metres
    headroom: tuple[Metres, Metres]
    lifted_while_leaning: bool
    boxes_of_poses: int


@dataclass(frozen=True, slots=True)
class Obstructed:
    """Proof that there is no way in that keeps the margin.

    ``blocks`` names what bars it, the worst first. ``room_at_most`` is more than any way leaves:
    nothing or less where the leaf does not go in even touching [m]. The proof covers every pose;
    ``finest`` is the smallest change of tilt it needed to look at [rad].
    """

    side: Side
    why: str
    blocks: tuple[str, ...]
    room_at_most: Metres
    finest: Radians
    boxes_of_poses: int


@dataclass(frozen=True, slots=True)
class NotDecided:
    """Neither a way nor a proof: the work allowed ran out, or the margin is met too exactly."""

    side: Side
    why: str
    finest: Radians
    boxes_of_poses: int


Answer = PosePath | Obstructed | NotDecided


@dataclass(frozen=True, slots=True)
class InPlane:
    """Turning the leaf up in the plane of the wall: what it needs and has over the floor [m]."""

    diagonal: Metres
    headroom: Metres
    fits: bool


@dataclass(frozen=True, slots=True)
class TiltIn:
    """How a leaf goes in: the answer of each side tried, and the best of them."""

    key: str
    best: Answer
    sides: tuple[Answer, ...]
    in_plane: InPlane


def side_section(place: LeafPlace, leaf: Leaf, extra: tuple[Part, ...] = ()) -> SideSection:
    """Return the side of a leaf: frame, infill where it is, and what else sticks out.

    extra: plates, pins, handles, as rectangles [m].
    """
    half = max(member.section.height for member in leaf.members) / 2.0
    parts = [Part("the frame", 0.0, leaf.height, -half, half)]
    for piece in leaf.infill:
        if piece.thickness > 0.0:
            back, front = half, half + piece.thickness
            if piece.face == "back":
                back, front = -front, -back
            part = Part(f"the {piece.kind}", piece.bottom, piece.top, back, front)
            if part not in parts:
                parts.append(part)
    return SideSection(place.key, leaf.height, (*parts, *extra))


def lowest_head(underside: Quantity, back: float, front: float, name: str = "the head") -> Head:
    """Return the head as low as it may be with 95 % confidence.

    underside: its y as measured [m]; back, front: how far it reaches through the wall [m].
    """
    return Head(underside.value - underside.band, back, front, name)


def standing_pivot(
    floor: float,
    plate_length: float,
    plate_thickness: float,
    pin_diameter: float,
    pin_height: float,
) -> tuple[Box, ...]:
    """Return plate and pin of a pivot that is on the floor before the leaf comes [m].

    floor: y under the plate; plate_length: across the wall; pin_height: over the plate, nothing
    where the pin is on the leaf.
    """
    top = floor + plate_thickness
    plate = Box(
        "the pivot plate", -plate_length / 2, plate_length / 2, floor - 1e-3, top, "may touch"
    )
    if pin_height <= 0.0:
        return (plate,)
    half = pin_diameter / 2
    return (plate, Box("the pivot pin", -half, half, top, top + pin_height, "enters the leaf"))


def building_boxes(building: Building) -> tuple[Box, ...]:
    """Return everything in the way as boxes: head, objects, and the floor where it is higher."""
    head, floor = building.head, building.floor
    boxes = [Box(head.name, head.back, head.front, head.underside, head.underside + 10.0)]
    boxes += building.boxes
    for (z0, y0), (z1, y1) in itertools.pairwise(floor.profile):
        if max(y0, y1) > floor.level and z1 > z0:
            top = max(y0, y1)
            boxes.append(Box("the floor", z0, z1, floor.level - 1.0, top, "may touch"))
    return tuple(boxes)


def in_plane(width: float, section: SideSection, building: Building, margin: float) -> InPlane:
    """Return whether a leaf can be turned up in the plane of the wall.

    width: of the leaf [m]; margin: to keep from the head [m].
    """
    diagonal = math.hypot(width, section.height)
    headroom = building.head.underside - building.floor.level
    return InPlane(diagonal, headroom, diagonal + margin <= headroom)


def tilt_in(
    section: SideSection,
    width: float,
    building: Building,
    hang: Hang,
    wishes: Wishes,
    side: Side | None = None,
) -> TiltIn:
    """Return how a leaf goes in: a way, the proof that there is none, or neither.

    width: of the leaf [m]; side: where it lies, both tried if None. The best is the way with the
    least kick-out; else what is not decided; else the obstruction that is nearest to going in.
    Raises TiltInError where the leaf hangs below the floor or a wish is not a length.
    """
    _refuse(section, building, hang, wishes)
    tried: tuple[Side, ...] = (side,) if side else ("toward", "away")
    answers = tuple(_one_side(section, building, hang, wishes, one) for one in tried)

    def rank(answer: Answer) -> tuple[int, bool, float]:
        if isinstance(answer, PosePath):
            return (0, answer.lifted_while_leaning, answer.kick_out)
        if isinstance(answer, NotDecided):
            return (1, False, 0.0)
        return (2, False, -answer.room_at_most)

    best = min(answers, key=rank)
    return TiltIn(section.key, best, answers, in_plane(width, section, building, wishes.margin))


def _refuse(section: SideSection, building: Building, hang: Hang, wishes: Wishes) -> None:
    lowest = hang.bottom + min(part.low for part in section.parts) - building.floor.level
    if lowest < 0.0:
        raise TiltInError(
            f"{section.key} would hang {-lowest!r} m below the floor; "
            "give the height of its bottom edge, and the floor, from the same level"
        )
    for name, value in (
        ("margin", wishes.margin),
        ("lift while leaning", wishes.leaning_lift),
        ("height it is raised before lowering", hang.raised),
    ):
        if not value >= 0.0:
            raise TiltInError(f"the {name} is {value!r} m; give nothing or more")
    if not wishes.reach > 0.0:
        raise TiltInError(f"the foot's reach is {wishes.reach!r} m; give more than nothing")


@dataclass(frozen=True, slots=True)
class _Task:
    """One side's question: leaf and building leaning toward the viewer, poses, names."""

    side: Side
    of: Shapes
    hung: Pose
    raised: Pose
    names: tuple[str, ...]
    wishes: Wishes


def _one_side(
    section: SideSection, building: Building, hang: Hang, wishes: Wishes, side: Side
) -> Answer:
    boxes = building_boxes(building)
    level = building.floor.level
    lowest = hang.bottom + min(part.low for part in section.parts) - level
    task = _Task(
        side,
        shapes(section.parts, boxes, level, side == "toward"),
        Pose(lowest, 0.0, UPRIGHT),
        Pose(lowest + hang.raised, 0.0, UPRIGHT),
        tuple(box.name for box in boxes),
        wishes,
    )
    lift = task.raised.lift if wishes.lift is None else wishes.lift
    if lift < task.raised.lift:
        return Obstructed(
            side, "the leaf may not be lifted as far as it must be", ("the lift",), 0.0, 0.0, 0
        )
    lowering = _lowering(task, boxes)
    if lowering is not None:
        return lowering
    start = min(max((y - level for _, y in building.floor.profile), default=0.0), lift)
    step = wishes.reach / _KICKS
    leaning = min(max(wishes.leaning_lift, start), lift)
    at_goal = float(rooms(task.of, np.array([[task.raised.lift, 0.0, UPRIGHT]]))[0][0])
    cap = max(min(at_goal, _MOST_ROOM), wishes.margin) + 2 * _ROOM_STEP
    work = 0
    for most in sorted({leaning, lift}):
        room = Room(lift, most, wishes.reach, start, step)
        made = begun(task.of, room, task.raised, cap, wishes.boxes_of_poses, wishes.margin)
        # Near the wall's middle first: there are fewer poses to look at.
        steps = _KICKS // 8
        way = search(made, wishes.margin, _kick(room, steps))
        if way.answer != "free":
            steps = _KICKS
            way = search(made, wishes.margin, wishes.reach)
        work += len(made.cells)
        if way.answer == "free":
            return _path(task, made, way, steps, min(at_goal, _MOST_ROOM), most > leaning)
    if way.answer == "open":
        return NotDecided(
            side,
            "no way found, and none ruled out; allow more work, or a margin a little different",
            _finest(made),
            work,
        )
    return Obstructed(
        side,
        f"no way keeps the margin: {task.names[way.blocks[0]]} bars it"
        if way.blocks
        else "no way keeps the margin",
        _named(task, way),
        _room_at_most(made, wishes.margin, at_goal),
        _finest(made),
        len(made.cells),
    )


def _named(task: _Task, way: Way) -> tuple[str, ...]:
    return tuple(dict.fromkeys(task.names[number] for number in way.blocks))


def _finest(made: Field) -> float:
    return min(cell[5] - cell[4] for cell in made.cells)


def _lowering(task: _Task, boxes: tuple[Box, ...]) -> Obstructed | None:
    """Return what bars the last straight lowering, pins that enter the leaf left out."""
    left = [number for number, box in enumerate(boxes) if box.kind != "enters the leaf"]
    of = Shapes(task.of.parts, task.of.boxes[left], task.of.rest[left])
    line = [task.hung.lift, task.raised.lift, 0.0, 0.0, UPRIGHT, UPRIGHT]
    # A part that stands on its plate as it hangs touches it: no more than rounding counts.
    line[0] = min(line[0] + 1e-7, line[1])
    found = bounds(of, np.array([line]), max(task.wishes.margin, 1e-3))
    if found.low[0] >= min(task.wishes.margin, 1e-3) or found.high[0] >= task.wishes.margin:
        return None
    name = task.names[left[int(found.box[0])]]
    return Obstructed(
        task.side,
        f"the leaf does not hang where it should: {name} is in the way",
        (name,),
        float(found.high[0]),
        0.0,
        1,
    )


def _most_room(made: Field, known: tuple[float, float], at_goal: float) -> tuple[float, float]:
    """Return the room of the roomiest way: not less than the first, not more than the second [m].

    known: a room that some way has, and one that is not passed; at_goal: the room of the raised
    pose, which every way ends in [m].
    """
    low, high = known[0], min(known[1], at_goal)
    trial = high - _ROOM_STEP
    for _ in range(6):
        if trial <= low or high - low <= 2 * _ROOM_STEP:
            break
        way = search(made, trial, made.room.foot)
        if way.answer == "free":
            low = trial
        elif way.answer == "blocked":
            high = trial
        else:
            break
        trial = 0.5 * (low + high)
    return low, high


def _room_at_most(made: Field, margin: float, at_goal: float) -> float:
    """Return more room than any way leaves, once the margin is proven too much [m]."""
    if at_goal <= 0.0 or search(made, 0.0, made.room.foot).answer == "blocked":
        return min(at_goal, 0.0)
    return _most_room(made, (0.0, margin), at_goal)[1]


def _as_seen(side: Side, pose: list[float]) -> Pose:
    """Return a pose with its z toward the viewer, from one that leans that way."""
    foot = pose[1] if side == "toward" or pose[1] == 0.0 else -pose[1]
    return Pose(pose[0], foot, pose[2])


def _kick(room: Room, steps: int) -> float:
    """Return a kick-out of so many steps from the least that is told apart to all the reach [m]."""
    return room.step + steps * (room.foot - room.step) / _KICKS


def _path(
    task: _Task, made: Field, way: Way, steps: int, at_goal: float, leaning: bool
) -> PosePath:
    """Return the way with the least kick-out, and what is known about it.

    steps: how many steps of kick-out the way given has at most.
    """
    margin = task.wishes.margin
    # ``low`` steps are too few for the foot (as far as is known), ``high`` are enough.
    low, high, proven = -1, steps, 0.0
    while high - low > 1:
        middle = (low + high) // 2 if low >= 0 else 0
        kick = _kick(made.room, middle)
        found = search(made, margin, kick)
        if found.answer == "free":
            high, way = middle, found
        else:
            low = middle
            if found.answer == "blocked":
                proven = kick
    headroom = _most_room(made, (margin, at_goal), at_goal)
    poses = poses_of(way, task.raised)
    pieces = [np.linspace(a, b, 12, endpoint=False) for a, b in itertools.pairwise(poses)]
    every = np.vstack([*pieces, poses[-1:]])
    room, what = rooms(task.of, every)
    worst = int(room.argmin())
    shown = [_as_seen(task.side, pose) for pose in poses.tolist()]
    tight = _as_seen(task.side, every[worst].tolist())
    hung = (task.hung,) if task.hung != task.raised else ()
    return PosePath(
        side=task.side,
        poses=(*shown, *hung),
        tight=Tight(tight, float(room[worst]), task.names[int(what[worst])]),
        kick_out=float(np.abs(poses[:, 1]).max()),
        kick_out_at_least=proven,
        headroom=headroom,
        lifted_while_leaning=leaning,
        boxes_of_poses=len(made.cells),
    )
