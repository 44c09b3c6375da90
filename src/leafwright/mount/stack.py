"""The vertical stack at a floor pivot: its loops checked, the floating sleeve, and unseating."""

from __future__ import annotations

from leafwright.chain import Quantity
from leafwright.job.defaults import chosen
from leafwright.mount.closing import STACK, asked_of, at_least, small
from leafwright.mount.envelope import floor_pivot
from leafwright.mount.loops import Stack, StackLoop, stack_of
from leafwright.mount.records import Mounting, Proved
from leafwright.mount.sleeve import sleeve
from leafwright.mount.unseat import unseat
from leafwright.records import Check, Verdict
from leafwright.units import show_length

ASSUMPTIONS = (
    "tolerances are taken as 95 % bands; parts go wrong independently of one another",
    "the slug's top is flush with the top of its sleeve; a pin's length is from its plate's face",
    "the top plate is under what the room over the leaf was measured to, so that its thickness "
    "comes off that; the top sleeve is flush with the leaf's top",
)


def stack(m: Mounting) -> Proved:
    """Return the proof of a floor pivot's vertical stack, loop by loop.

    Args:
        m: the leaf as it hangs, on a floor pivot; TypeError on hinges.
    """
    found, system = stack_of(m), m.job.job.system
    kept = chosen(None, "pin kept in", "site/pin kept in", "pin kept in", system=system)
    running = chosen(
        m.job.doorway.running_clearance,
        "running clearance",
        "doorway/running clearance",
        "running clearance",
        system=system,
    )
    below = sleeve(m, found, kept, running)
    off = unseat(m, found, kept)
    used = (*found.defaults, kept, running, *below.defaults, *off.defaults)
    return Proved(
        checks=(
            *_loop_checks(m, found, running, kept),
            *below.checks,
            *off.checks,
            *_ask_sizes(m, found),
        ),
        defaults=tuple({q.key: q for q in used if q.kind == "default"}.values()),
        words=(*_loop_words(m, found), *below.words, *off.words),
        cautions=(*below.cautions, *off.cautions),
        assumptions=(*ASSUMPTIONS, *below.assumptions, *off.assumptions),
    )


def _loop_checks(m: Mounting, found: Stack, running: Quantity, kept: Quantity) -> list[Check]:
    checks = [
        at_least(
            m,
            "over the floor",
            f"the bottom of {m.who}",
            "does it clear the highest floor with packing, plate and spacer as they are made",
            found.over_floor,
            running.value,
            change="pack the leaves higher, or take a thicker spacer",
            rule="floor at the pivot + packing + plate + spacer − sag, less the highest floor, "
            "against the running clearance",
        ),
        at_least(
            m,
            "over the plate",
            f"the bottom of {m.who}",
            "does it clear its own plate once the spacer is out",
            found.over_plate,
            running.value,
            change="take a thicker spacer",
            rule="the spacer's thickness, against the running clearance",
        ),
    ]
    if found.ball_in is not None:
        checks.append(
            at_least(
                m,
                "ball in the leaf",
                f"the ball of {m.who}",
                "does it sit inside the leaf, clear of its bottom and the spacer",
                found.ball_in,
                kept.value,
                change="make the bottom pin longer",
                rule="bottom pin − spacer, against the least that a pin stays in",
            )
        )
    if found.gap is None:
        checks.append(
            Check(
                key=f"{m.key}/stack/nothing over it",
                subject=f"the top pin of {m.who}",
                question="what holds it",
                verdict=Verdict.ASK,
                source=STACK,
                change="a floor pivot needs a pin in something over the leaf: say head = true in "
                "[opening], or hang it on barrel hinges",
                basis="unknown",
            )
        )
    return checks


def _ask_sizes(m: Mounting, found: Stack) -> tuple[Check, ...]:
    """Return the question for sizes that are not given, naming the keys to write."""
    who = asked_of(m)
    if not (found.missing and who):
        return ()
    mount = floor_pivot(m)
    change = f"write {_listed(found.missing)} in the mount"
    parts = (mount.bottom_pin_length, mount.ball_diameter, mount.slug_length)
    if mount.sleeve_length is None and None not in parts and found.ball_in is not None:
        flush = found.ball_in.value + sum(p.si for p in parts[1:] if p is not None)
        change += f"; a sleeve of {show_length(flush, m.tape)} ends flush with the leaf's bottom"
    return (
        Check(
            key=f"{m.key}/stack/sizes",
            subject=f"the pivot parts of {who}",
            question="how long and how large are they",
            verdict=Verdict.ASK,
            source=STACK,
            change=change,
            basis="unknown",
            rule="what hangs on a size that is not given is left out, never assumed",
        ),
    )


def _listed(names: tuple[str, ...]) -> str:
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def _loop_words(m: Mounting, found: Stack) -> tuple[str, ...]:
    """Return each loop in a sentence, part by part."""
    return tuple(
        _loop_line(m, one) for one in (found.floor, found.ball, found.head) if one is not None
    )


def _loop_line(m: Mounting, one: StackLoop) -> str:
    steps = []
    for part in one.parts:
        size = part.times * part.size.value
        if abs(size) >= float(m.tape.step) / 2.0:
            down = " down" if size < 0.0 else ""
            steps.append(f"{part.name} {show_length(abs(size), m.tape)}{down}")
    leaves = "; ".join(
        f"{c.size.name} {small(m, c.value)} ± {small(m, c.either_way)}" for c in one.closing
    )
    name = f"{one.name[0].upper()}{one.name[1:]}"
    return f"{name}, from {one.start}: {', '.join(steps)}. Leaves: {leaves}."
