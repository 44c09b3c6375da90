"""Where the members of a leaf meet, as seen from the face side."""

from __future__ import annotations

from collections.abc import Sequence

from leafwright.doorway import LeafPlace
from leafwright.leaf.brace import Bay
from leafwright.leaf.outer import Frame
from leafwright.leaf.records import Joint, Member


def as_seen(place: LeafPlace, x: float) -> float:
    """Return a place along a leaf from its left as seen, from that from its hinge edge [m]."""
    return x if place.hand == "left" else place.width.value - x


def _level_at(member: Member, x: float) -> float:
    """Return the y of a member's centre line over a place as seen [m]."""
    return member.foot[1] + (x - member.foot[0]) * member.direction[1] / member.direction[0]


def _alone(place: LeafPlace, members: Sequence[Member], brace: Member, name: str) -> Joint:
    """Return the joint of a brace's end that stands on a stile or a rail alone."""
    panel, end, side, on = name.split(" ")
    if on == "stile":
        onto = members[0] if side == "hinge" else members[1]
        at = (onto.foot[0], _level_at(brace, onto.foot[0]))
    else:
        rails = sorted((m for m in members if m.role.endswith("rail")), key=lambda m: m.foot[1])
        onto = rails[int(panel.removeprefix("panel-")) - (1 if end == "bottom" else 0)]
        (x, y), (dx, dy) = brace.foot, brace.direction
        at = (x + (onto.foot[1] - y) * dx / dy, onto.foot[1])
    return Joint(f"{place.key}/{name}", "tee", at, (onto.key, brace.key))


def joints_of(
    place: LeafPlace, f: Frame, members: Sequence[Member], bays: Sequence[Bay]
) -> tuple[Joint, ...]:
    """Return every place where members meet; braces share the corner they are wedged into."""
    b, w = f.tube.value, f.width.value
    found: list[Joint] = []

    def named(which: str) -> tuple[str, ...]:
        return tuple(m.key for m in members if which in (m.start_joint, m.end_joint))

    near, far = as_seen(place, b / 2), as_seen(place, w - b / 2)
    rows = [("bottom", f.rails[0], 0), ("top", f.rails[-1], len(f.rails) - 1)]
    rows += [(f"mid rail-{i}", y, i) for i, y in enumerate(f.rails[1:-1], start=1)]
    for name, y, i in rows:
        for side, x in (("hinge", near), ("nose", far)):
            keys = list(named(f"{name} {side}"))
            keys += [
                k
                for n in (i, i + 1)
                for k in named(f"panel-{n} {'top' if n == i else 'bottom'} {side}")
            ]
            if name.startswith("mid"):
                stile = members[0] if side == "hinge" else members[1]
                keys.append(stile.key)
            joint_key, tee = f"{place.key}/{name} {side}", name.startswith("mid")
            middle = (x, y.value)
            found.append(Joint(joint_key, "tee" if tee else "corner", middle, tuple(keys)))
    by_key = {m.key: m for m in members}
    for bay in bays:
        keys_at = named(f"panel-{bay.number} crossing")
        across = f"{place.key}/brace-{bay.number}/across"
        if across in by_key:
            keys_at = (across,)
        if keys_at:
            through = by_key[f"{place.key}/brace-{bay.number}/through"]
            halfway = as_seen(place, (bay.near + bay.far) / 2)
            at = (halfway, _level_at(through, halfway))
            name = f"{place.key}/panel-{bay.number} crossing"
            found.append(Joint(name, "crossing", at, (through.key, *keys_at)))
    for member in members:
        for name in (member.start_joint, member.end_joint):
            if name.endswith((" stile", " rail")):
                found.append(_alone(place, members, member, name))
    return tuple(found)
