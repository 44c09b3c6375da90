"""The vertical stack at a floor pivot as closed loops: each part with its ±, and what closes it.

Three runs of parts, never summed as one. On the floor side, floor to leaf: floor, packing, plate,
spacer, leaf bottom. Beside it, plate to sleeve: pin, ball, slug, and down again by the sleeve.
On the head side, leaf to head: gap, top plate, and down again by the top pin. What closes a loop
is a sum of its parts, so that its limits follow from theirs exactly.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.job.defaults import chosen
from leafwright.job.model import FloorPivot
from leafwright.mount.closing import Closing, closed
from leafwright.mount.envelope import floor_pivot
from leafwright.mount.records import Mounting
from leafwright.records import Metres, Number
from leafwright.units import Typed


@dataclass(frozen=True, slots=True)
class StackPart:
    """One part of a loop: ``times`` is 1 where it leads up and −1 where it leads down.

    ``upto`` is the running sum with it [m].
    """

    name: str
    size: Quantity
    times: Number
    upto: Metres


@dataclass(frozen=True, slots=True)
class StackLoop:
    """One loop: where it starts, its parts in order, and what it leaves."""

    key: str
    name: str
    start: str
    parts: tuple[StackPart, ...]
    closing: tuple[Closing, ...]


@dataclass(frozen=True, slots=True)
class Stack:
    """A floor pivot's loops; a part that is not known leaves its loop out, with the keys to write.

    ``over_floor`` and ``over_plate`` are the leaf's bottom over each; ``sleeve`` is the sleeve's
    lower end over the plate, ``hang`` that over the leaf's bottom (negative where it sticks out);
    ``ball_in`` the pin's end over the leaf's bottom; ``fitting`` the grease fitting against its
    hole; ``gap`` the leaf's top under its top plate; ``bottom_pin`` and ``top_pin`` how far each
    pin is in its sleeve. None where a size is not known.
    """

    floor: StackLoop
    ball: StackLoop | None
    head: StackLoop | None
    over_floor: Closing
    over_plate: Closing
    ball_in: Closing | None
    sleeve: Closing | None
    hang: Closing | None
    fitting: Closing | None
    bottom_pin: Closing | None
    gap: Closing | None
    top_pin: Closing | None
    missing: tuple[str, ...]
    defaults: tuple[Quantity, ...]


def loop(
    key: str,
    name: str,
    start: str,
    parts: Sequence[tuple[float, str, Quantity]],
    closing: Sequence[Closing],
) -> StackLoop:
    """Return a loop with its running sums, from parts that lead up (1) or down (−1)."""
    found, upto = [], 0.0
    for times, what, size in parts:
        upto += times * size.value
        found.append(StackPart(what, size, times, upto))
    return StackLoop(key, name, start, tuple(found), tuple(closing))


@dataclass(slots=True)
class _Parts:
    """A leaf's parts while its loops are put together."""

    m: Mounting
    mount: FloorPivot
    defaults: dict[str, Quantity]

    def usual(self, name: str, key: str = "") -> Quantity:
        """Return a default, and note that it was used."""
        found = chosen(None, name, key or f"stack/{name}", name, system=self.m.job.job.system)
        self.defaults[found.key] = found
        return found

    def key(self, name: str) -> str:
        return f"{self.m.key}/stack/{name}"

    def wished(self, typed: Typed | None, name: str, tolerance: str) -> Quantity | None:
        """Return a part of a typed size, with its tolerance; None where it is not given [m]."""
        if typed is None:
            return None
        t = self.usual(tolerance).value
        return chain.base(
            "wish", self.key(name), name, typed.si, low=-t, high=t, note=f"{typed.text} ± {t:g} m"
        )

    def made(self, size: Quantity, name: str, low: float, high: float) -> Quantity:
        """Return a size that steel is made or set to, with its tolerance [m]."""
        off = chain.base(
            "table",
            self.key(f"{name}, off"),
            f"{name}, off its size",
            0.0,
            low=low,
            high=high,
            note="nothing, with its tolerance",
        )
        as_made = chain.as_made(size, self.key(f"{name} as drawn"), f"{name} as drawn")
        return chain.total(self.key(name), name, [(1.0, as_made), (1.0, off)])

    def plate(self, size: Quantity, name: str) -> Quantity:
        under, over = self.usual("plate under").value, self.usual("plate over").value
        return self.made(size, name, -under, over)

    def set(self, size: Quantity, name: str, tolerance: str) -> Quantity:
        t = self.usual(tolerance).value
        return self.made(size, name, -t, t)

    def off(self, name: str, tolerance: str) -> Quantity:
        """Return what something is out of its place, nothing with a tolerance [m]."""
        t = self.usual(tolerance).value
        return chain.base(
            "table", self.key(name), name, 0.0, low=-t, high=t, note="nothing, with its tolerance"
        )

    def sum(self, name: str, parts: Sequence[tuple[float, Quantity]]) -> Closing:
        return closed(chain.total(self.key(name), name, list(parts)))


def stack_of(m: Mounting) -> Stack:
    """Return a floor pivot's stack, as far as its sizes are known; TypeError for hinges.

    Args:
        m: the leaf as it hangs.
    """
    mount = floor_pivot(m)
    p = _Parts(m, mount, {})
    system = m.job.job.system
    typed = mount.plate.thickness if mount.plate else None
    drawn = chosen(typed, "pivot plate", f"{m.key}/plate", "pivot plate", system=system)
    spaced = chosen(mount.spacer, "spacer", f"{m.key}/spacer", "spacer", system=system)
    plate = p.plate(drawn, "plate")
    spacer = p.set(spaced, "spacer", "setting tolerance")
    floor, over_floor, over_plate = _floor(p, plate, spacer)
    missing = [
        name
        for name, size in (
            ("bottom_pin_length", mount.bottom_pin_length),
            ("ball_diameter", mount.ball_diameter),
            ("slug_length", mount.slug_length),
            ("sleeve_length", mount.sleeve_length),
            ("plug_hole", mount.plug_hole),
            ("plug_holes", mount.plug_holes),
            ("access_hole", mount.access_hole),
            ("top_plate", mount.top_plate),
            ("top_pin_length", mount.top_pin_length),
        )
        if size is None
    ]
    ball = _ball(p, spacer)
    head, gap, top_pin = _head(p)
    return Stack(
        floor=floor,
        ball=ball.loop,
        head=head,
        over_floor=over_floor,
        over_plate=over_plate,
        ball_in=ball.ball_in,
        sleeve=ball.sleeve,
        hang=ball.hang,
        fitting=ball.fitting,
        bottom_pin=ball.bottom_pin,
        gap=gap,
        top_pin=top_pin,
        missing=tuple(missing),
        defaults=tuple(q for q in (*p.defaults.values(), drawn, spaced) if q.kind == "default"),
    )


def _floor(p: _Parts, plate: Quantity, spacer: Quantity) -> tuple[StackLoop, Closing, Closing]:
    """Return the loop from the highest floor to the leaf's bottom, and what it leaves."""
    place = p.m.place
    held = {q.key: q for gap in p.m.room.gaps for q in chain.walked(gap)}
    held |= {q.key: q for q in chain.walked(place.packing)} if place.packing else {}
    nothing = chain.base("table", p.key("nothing"), "level floor, no packing", 0.0)
    stands = held.get(f"{p.m.key}/stands at")
    foot = stands.inputs[0] if stands is not None and stands.inputs else nothing
    highest = held.get("doorway/highest floor", foot)
    sag = held.get("allowance/nose drop", nothing)
    packed = p.set(place.packing or nothing, "packing", "packing tolerance")
    fall = chain.total(
        p.key("floor at the pivot"),
        "floor at the pivot, over the highest",
        [(1.0, foot), (-1.0, highest)],
    )
    over_plate = p.sum("leaf over its plate", [(1.0, spacer)])
    parts = [
        (1.0, "floor at the pivot", fall),
        (1.0, "packing", packed),
        (1.0, "plate", plate),
        (1.0, "spacer", spacer),
        (-1.0, "sag of the nose", sag),
    ]
    over_floor = p.sum("leaf over the highest floor", [(t, size) for t, _, size in parts])
    found = loop(
        p.key("floor"),
        "floor to leaf",
        "the highest floor",
        parts,
        (over_floor, over_plate),
    )
    return found, over_floor, over_plate


@dataclass(frozen=True, slots=True)
class _Ball:
    """What the run from the plate over pin, ball and slug leaves, as far as its sizes are known."""

    loop: StackLoop | None = None
    ball_in: Closing | None = None
    sleeve: Closing | None = None
    hang: Closing | None = None
    fitting: Closing | None = None
    bottom_pin: Closing | None = None


def _ball(p: _Parts, spacer: Quantity) -> _Ball:
    """Return the loop from the plate over pin, ball and slug, and what it leaves."""
    mount = p.mount
    pin = p.wished(mount.bottom_pin_length, "bottom pin", "cut tolerance")
    ball = p.wished(mount.ball_diameter, "ball", "ball tolerance")
    slug = p.wished(mount.slug_length, "slug", "cut tolerance")
    sleeve = p.wished(mount.sleeve_length, "sleeve", "cut tolerance")
    if pin is None:
        return _Ball()
    ball_in = p.sum("end of the bottom pin over the leaf's bottom", [(1.0, pin), (-1.0, spacer)])
    if ball is None:
        return _Ball(ball_in=ball_in)
    # The fitting is by the ball, set out from the slug's face; its hole from the leaf's bottom.
    fitting = p.sum(
        "grease fitting over the leaf's bottom",
        [
            (1.0, pin),
            (1.0, ball),
            (-1.0, spacer),
            (1.0, p.off("fitting in the sleeve", "hole tolerance")),
            (1.0, p.off("access hole in the stile", "hole tolerance")),
        ],
    )
    if slug is None or sleeve is None:
        return _Ball(ball_in=ball_in, fitting=fitting)
    parts = [(1.0, "pin", pin), (1.0, "ball", ball), (1.0, "slug", slug), (-1.0, "sleeve", sleeve)]
    summed = [(t, size) for t, _, size in parts]
    seat = p.sum("lower end of the sleeve over the plate", summed)
    hang = p.sum("lower end of the sleeve over the leaf's bottom", [*summed, (-1.0, spacer)])
    bottom_pin = p.sum("bottom pin in its sleeve", [(1.0, sleeve), (-1.0, slug), (-1.0, ball)])
    found = loop(
        p.key("ball"),
        "plate to sleeve",
        "the plate's top",
        parts,
        (seat, hang, bottom_pin, ball_in, fitting),
    )
    return _Ball(found, ball_in, seat, hang, fitting, bottom_pin)


def _head(p: _Parts) -> tuple[StackLoop | None, Closing | None, Closing | None]:
    """Return the loop from the leaf's top to what is over it, and what it leaves."""
    named = {gap.key: gap for gap in p.m.room.gaps}
    hung = named.get("doorway/top gap as hung")
    room = hung or named.get("doorway/top gap")
    if room is None:
        return None, None, None
    parts = [(1.0, "room over the leaf", room)]
    if hung is None:
        # What is over the leaf is set from its top, by the gap that was chosen.
        parts = [
            (1.0, "room over the leaf", p.set(room, "room over the leaf", "setting tolerance"))
        ]
    else:
        parts.append((-1.0, "leaf set high or low", p.off("leaf set", "setting tolerance")))
        parts.append((-1.0, "leaf tall or short", p.off("leaf's height", "shape limit")))
    # The doorway has taken the plate out of the gap; here it is made, and may come out thicker.
    under = p.m.room.over(p.m.key)
    held = {q.key: q for q in chain.walked(under)} if under is not None else {}
    if (drawn := held.get(f"{p.m.key}/top plate")) is not None:
        parts.append((-1.0, "top plate", p.plate(drawn, "top plate")))
    gap = p.sum("leaf under its top plate", [(t, size) for t, _, size in parts])
    pin = p.wished(p.mount.top_pin_length, "top pin", "cut tolerance")
    top_pin = None
    closing = [gap]
    if pin is not None:
        top_pin = p.sum("top pin in its sleeve", [(1.0, pin), (-1.0, gap.size)])
        closing.append(top_pin)
    found = loop(p.key("head"), "leaf to head", "the leaf's top", parts, closing)
    return found, gap, top_pin
