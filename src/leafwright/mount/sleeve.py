"""The floating sleeve: brought down on the ball, then welded through holes in the stile.

The leaf stands on its spacer while the sleeve finds its own height, so where the sleeve ends in
the stile follows from pin, ball, slug and spacer, each as it was made. The holes are drilled
before that: the access hole must still reach the grease fitting, and every plug hole must land on
the sleeve, wherever between its two ends it comes to rest.
"""

from __future__ import annotations

from dataclasses import dataclass

from leafwright.chain import Quantity
from leafwright.job.defaults import chosen
from leafwright.mount.closing import STACK, Closing, at_least, small
from leafwright.mount.envelope import floor_pivot
from leafwright.mount.loops import Stack
from leafwright.mount.records import Mounting, Proved
from leafwright.records import COMMON_PRACTICE, Check, Metres, Source, Verdict, graded
from leafwright.units import show_length

#: Plug holes are drilled in so many faces of the stile, evenly (common practice, no source).
PLUG_FACES = 2

#: Least distance of plug welds, middle to middle, in their hole's diameter [-].
PLUG_PITCH = 4.0

#: The same where holes only must not run into one another: a diameter of wall between them [-]
#: (common practice, no source).
PLUG_LEAST = 2.0

#: What the bead along the inside of a welded tube may take of its room [m] (from memory; common
#: practice, no source).
SEAM = 0.0015

_PLUGS = Source("ANSI/AISC 360-22", "J2.3b: plug welds at least four diameters apart (from memory)")


@dataclass(frozen=True, slots=True)
class SleeveFloat:
    """Where a floating sleeve may come to rest in its stile, from the leaf's bottom up [m].

    ``rest`` is its lower end at its lowest, as drawn and at its highest (negative where it
    sticks out below); ``length`` its own. ``travel`` is how far the grease fitting may be off
    the middle of its access hole either way, ``spare`` what is left of that for a leaf that is
    set off its spacer (negative where nothing is); None where the hole is not known. ``engaged``
    is how far the pin is in the sleeve, least and most, which does not hang on where the sleeve
    rests. ``plug_rows`` are the heights for the rows asked for, as far as they land on the sleeve
    from either end, clear of the ball, and ``rows_apart`` whether those are as far apart as plug
    welds should be.
    """

    rest: tuple[Metres, Metres, Metres]
    length: Metres
    travel: Metres | None
    spare: Metres | None
    engaged: tuple[Metres, Metres]
    plug_rows: tuple[Metres, ...]
    rows_asked: int | None
    rows_apart: bool


def sleeve_float(m: Mounting, stack: Stack) -> SleeveFloat | None:
    """Return where the sleeve may come to rest; None where its parts are not known."""
    mount = floor_pivot(m)
    hang, pin, ball_in = stack.hang, stack.bottom_pin, stack.ball_in
    if hang is None or pin is None or ball_in is None or mount.ball_diameter is None:
        return None
    assert mount.sleeve_length is not None
    length = mount.sleeve_length.si
    travel = _travel(m)
    off = None if stack.fitting is None else _off(stack.fitting)
    bands: tuple[tuple[float, float], ...] = ()
    rows: tuple[float, ...] = ()
    asked, apart = None, True
    if mount.plug_hole is not None:
        d = mount.plug_hole.si
        # All of a hole lands on the sleeve at either end of its range, and none of it by the ball.
        r = d / 2.0
        low, high = max(hang.worst[1], 0.0) + r, hang.worst[0] + length - r
        under = (low, min(ball_in.worst[0] - r, high))
        over = (max(ball_in.worst[1] + mount.ball_diameter.si + r, low), high)
        bands = tuple(band for band in (under, over) if band[1] >= band[0])
        if mount.plug_holes is not None:
            asked = -(-mount.plug_holes // PLUG_FACES)
            rows = plug_rows(bands, asked, PLUG_PITCH * d)
            if len(rows) < asked:
                rows, apart = plug_rows(bands, asked, PLUG_LEAST * d), False
    return SleeveFloat(
        rest=(hang.worst[0], hang.value, hang.worst[1]),
        length=length,
        travel=None if travel is None else travel[0],
        spare=None if travel is None or off is None else travel[0] - off,
        engaged=pin.likely,
        plug_rows=rows,
        rows_asked=asked,
        rows_apart=apart,
    )


def plug_rows(
    bands: tuple[tuple[float, float], ...], asked: int, pitch: float
) -> tuple[float, ...]:
    """Return the heights of rows of plug holes, as many of those asked for as fit [m].

    Rows are spread as far apart as the lowest band lets them where that takes them all; otherwise
    each is half way between the lowest and the highest that it can be. Geometry.

    Args:
        bands: where a hole's middle may be, from below up [m].
        asked: how many rows.
        pitch: least distance between two rows [m].
    """
    if bands and asked > 1 and bands[0][1] - bands[0][0] >= (asked - 1) * pitch:
        low, high = bands[0]
        return tuple(low + (high - low) * i / (asked - 1) for i in range(asked))
    lowest = _filled(bands, asked, pitch)
    upside_down = tuple((-high, -low) for low, high in reversed(bands))
    highest = [-at for at in reversed(_filled(upside_down, len(lowest), pitch))]
    found = []
    for first, last in zip(lowest, highest, strict=True):
        one_band = any(low <= first and last <= high for low, high in bands)
        found.append((first + last) / 2.0 if one_band else first)
    return tuple(found)


def _filled(bands: tuple[tuple[float, float], ...], asked: int, pitch: float) -> list[float]:
    """Return rows at their pitch from below, each as low as it can be [m]."""
    found: list[float] = []
    for low, high in bands:
        at = max(low, found[-1] + pitch) if found else low
        while at <= high and len(found) < asked:
            found.append(at)
            at += pitch
    return found


def _off(fitting: Closing) -> Metres:
    """Return how far the fitting may be off its place at worst, either way [m]."""
    return max(fitting.worst[1] - fitting.value, fitting.value - fitting.worst[0])


def _coupler(m: Mounting) -> Quantity:
    return chosen(
        None, "grease coupler", "stack/grease coupler", "grease coupler", system=m.job.job.system
    )


def _travel(m: Mounting) -> tuple[Metres, Quantity] | None:
    """Return how far the fitting may be off the middle of its hole: half of hole less coupler."""
    hole = floor_pivot(m).access_hole
    if hole is None:
        return None
    across = _coupler(m)
    return (hole.si - across.value) / 2.0, across


def sleeve(m: Mounting, stack: Stack, kept: Quantity, running: Quantity) -> Proved:
    """Return the checks of the floating sleeve, as far as its sizes are known.

    Args:
        m: the leaf as it hangs.
        stack: its loops.
        kept: least that a pin stays in [m].
        running: what turning parts keep from one another [m].
    """
    mount = floor_pivot(m)
    floats = sleeve_float(m, stack)
    checks = [*_goes_in(m), *_access(m, stack)]
    words: list[str] = []
    defaults = [] if mount.access_hole is None else [_coupler(m)]
    if floats is not None and stack.sleeve is not None and stack.bottom_pin is not None:
        weld = mount.pin_weld.si if mount.pin_weld is not None else 0.0
        checks += [
            at_least(
                m,
                "sleeve over the plate",
                f"the sleeve of {m.who}",
                "does its lower end clear the plate and the weld round the pin",
                stack.sleeve,
                max(running.value, weld),
                change="make the sleeve shorter, or the pin longer",
                rule="pin + ball + slug − sleeve, against the running clearance or the pin's "
                "weld, whichever is more",
            ),
            at_least(
                m,
                "bottom pin",
                f"the bottom pin of {m.who}",
                "is it far enough in its sleeve",
                stack.bottom_pin,
                kept.value,
                change="make the sleeve longer",
                rule="sleeve − slug − ball, wherever the sleeve comes to rest",
            ),
            *_plugs(m, floats),
        ]
        words += _words(m, floats)
    cautions = (
        "Do not tack the sleeve before the leaf stands on its spacer and the sleeve is down on its "
        "ball. Weld before greasing, and leave the cavity open: a sealed one bursts. Clamp the "
        "weld return to the stile, so that no current runs through ball or pin.",
    )
    return Proved(tuple(checks), tuple(defaults), tuple(words), cautions)


def _goes_in(m: Mounting) -> tuple[Check, ...]:
    """Return whether ball goes into sleeve and sleeve into stile, as far as they are known."""
    mount = floor_pivot(m)
    stile = next(member for member in m.leaf.members if member.role == "hanging stile").section
    inside = min(stile.width, stile.height) - 2.0 * stile.nominal_wall
    pairs = (
        (
            "ball in its sleeve",
            f"the ball of {m.who}",
            "does it go into its sleeve",
            mount.ball_diameter,
            mount.sleeve_bore.si if mount.sleeve_bore else None,
            "take a ball that is no larger than the bore, or bore the sleeve out over the ball",
        ),
        (
            "sleeve in its stile",
            f"the sleeve of {m.who}",
            "does it go into the stile",
            mount.sleeve_outside,
            inside if stile.nominal_wall > 0.0 else None,
            "take a smaller sleeve, or a stile with more room",
        ),
    )
    found = []
    for key, subject, question, small_one, room, change in pairs:
        if small_one is None or room is None:
            continue
        ratio = small_one.si / room
        verdict = graded(ratio, tight_from=1.0)
        words = "" if verdict is Verdict.OK else change
        if key.startswith("sleeve") and verdict is Verdict.OK and room - small_one.si < SEAM:
            verdict = Verdict.TIGHT
            words = "file down the seam inside the stile, and try the sleeve in the very stick"
        found.append(
            Check(
                key=f"{m.key}/stack/{key}",
                subject=subject,
                question=question,
                verdict=verdict,
                source=STACK if key.startswith("ball") else COMMON_PRACTICE,
                unit="m",
                demand=small_one.si,
                available=room,
                ratio=ratio,
                change=words,
                rule="outside against inside, as measured or as listed; a welded tube has a bead "
                f"along its seam, taken as {small(m, SEAM)}"
                if key.startswith("sleeve")
                else "ball against bore, as measured",
            )
        )
    return tuple(found)


def _access(m: Mounting, stack: Stack) -> tuple[Check, ...]:
    """Return whether the access hole reaches the fitting wherever the sleeve comes to rest."""
    mount, travel = floor_pivot(m), _travel(m)
    if travel is None or stack.fitting is None or mount.access_hole is None:
        return ()
    free, across = travel
    likely = max(
        stack.fitting.likely[1] - stack.fitting.value, stack.fitting.value - stack.fitting.likely[0]
    )
    worst = _off(stack.fitting)
    ratio = likely / free if free > 0.0 else None
    verdict = Verdict.SHORT if ratio is None else graded(ratio)
    change = "make the access hole larger, or drill it once the sleeve is in its place"
    if verdict is Verdict.OK and worst > free:
        verdict = Verdict.TIGHT
    return (
        Check(
            key=f"{m.key}/stack/access hole",
            subject=f"the access hole of {m.who}",
            question="does it reach the grease fitting wherever the sleeve comes to rest",
            verdict=verdict,
            source=STACK,
            unit="m",
            demand=likely,
            available=free,
            ratio=ratio,
            change="" if verdict is Verdict.OK else change,
            rule=f"how far the fitting may be off its place, {small(m, likely)} by root sum of "
            f"squares and {small(m, worst)} at worst, against half of hole less what goes over "
            f"the fitting, ({small(m, mount.access_hole.si)} − {small(m, across.value)})/2",
        ),
    )


def _plugs(m: Mounting, floats: SleeveFloat) -> tuple[Check, ...]:
    """Return whether the plug holes land on the sleeve at both ends of its range."""
    if floats.rows_asked is None:
        return ()
    asked, fit = floats.rows_asked, len(floats.plug_rows)
    ratio = asked / fit if fit else None
    verdict = Verdict.SHORT if ratio is None else graded(ratio, tight_from=1.01)
    change = "" if verdict is Verdict.OK else "make the sleeve longer, or the plug holes smaller"
    if verdict is Verdict.OK and not floats.rows_apart:
        verdict = Verdict.TIGHT
        change = "they land, but nearer one another than four diameters: fewer or smaller holes, "
        change += "or a longer sleeve"
    return (
        Check(
            key=f"{m.key}/stack/plug holes",
            subject=f"the plug holes of {m.who}",
            question="does every row land on the sleeve wherever it comes to rest, clear of the "
            "ball",
            verdict=verdict,
            source=_PLUGS,
            unit="1",
            demand=float(asked),
            available=float(fit),
            ratio=ratio,
            change=change,
            rule=f"rows asked for, {PLUG_FACES} holes in each, against rows that fit: every hole "
            "all on the sleeve at its lowest and its highest, and clear of the ball",
        ),
    )


def _words(m: Mounting, floats: SleeveFloat) -> list[str]:
    low, drawn, high = floats.rest
    at = f"{small(m, abs(drawn))} {'up in the stile' if drawn >= 0.0 else 'under the stile'}"
    if abs(drawn) < 1e-5:
        at = "flush with the stile"
    words = [
        f"The sleeve's lower end comes to rest {at}, and at worst "
        f"{small(m, max(high - drawn, drawn - low))} off that; the pin goes "
        f"{small(m, floats.engaged[0])} to {small(m, floats.engaged[1])} into it, wherever it "
        "rests."
    ]
    if floats.spare is not None and floats.travel is not None:
        room = (
            f"the leaf may stand {small(m, floats.spare)} higher or lower than its spacer and the "
            "fitting is still reached"
            if floats.spare > 0.0
            else "that leaves nothing for a leaf that is set higher or lower than its spacer"
        )
        words.append(f"The fitting has {small(m, floats.travel)} either way in its hole: {room}.")
    if floats.plug_rows and floats.rows_asked == len(floats.plug_rows):
        rows = " and ".join(show_length(row, m.tape) for row in floats.plug_rows)
        words.append(
            f"Drill the plug holes {rows} over the leaf's bottom, in the faces that the hole "
            "schedule names: there they land on the sleeve and not by the ball."
        )
    return words
