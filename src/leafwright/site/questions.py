"""What the site stage asks, what it had to leave out, and what keeps steel from being cut."""

from __future__ import annotations

from leafwright.doorway.heel import leaf_words
from leafwright.doorway.swing import Swing
from leafwright.records import Check, Held, Source, Stop, Verdict
from leafwright.site.records import LeafOnSite
from leafwright.site.tilt_in import NotDecided, Obstructed, TiltIn


def asked_once(leaves: tuple[LeafOnSite, ...]) -> list[Check]:
    """Return what is asked of standing the leaves up: once each, of the leaf that needs most."""
    worst: dict[str, Check] = {}
    for one in leaves:
        for check in one.stand_up.checks:
            if check.verdict is Verdict.ASK:
                question = check.key.rpartition("/")[2]
                before = worst.get(question)
                if before is None or (check.ratio or 0.0) > (before.ratio or 0.0):
                    worst[question] = check
    return list(worst.values())


def not_looked_at(leaves: tuple[LeafOnSite, ...]) -> list[Check]:
    """Return an open question for everything that this stage had to leave out."""
    found = []
    for one in leaves:
        who = leaf_words(one.key)
        if isinstance(one.hanging, Held):
            found.append(
                _open_question(
                    f"{one.key}/hanging", who, "can it be got onto its pins", one.hanging
                )
            )
        elif isinstance(one.tilt_in, Held) and one.tilt_in.needs:
            question = "can it be stood up under the head"
            found.append(_open_question(f"{one.key}/tilt in", who, question, one.tilt_in))
    return found


def _open_question(key: str, subject: str, question: str, held: Held) -> Check:
    needs = f"; it needs {', '.join(held.needs)}" if held.needs else ""
    return Check(
        key=key,
        subject=subject,
        question=question,
        verdict=Verdict.ASK,
        source=Source("not worked out"),
        change=f"{held.why}{needs}",
    )


def hand_stops(one: LeafOnSite) -> tuple[Stop, ...]:
    """Return why a leaf may not be stood up by hand; the saw does not wait for it."""
    who = leaf_words(one.key)
    return tuple(
        Stop(
            check.key,
            f"{who} is NOT to be stood up by hand with this crew: {check.question}? No",
            f'{check.change}, and say lift = "hoist" or "lift truck" in [site]',
        )
        for check in one.stand_up.checks
        if check.verdict is Verdict.SHORT
    )


def site_stops(swings: Swing, leaves: tuple[LeafOnSite, ...]) -> tuple[Stop, ...]:
    """Return what keeps steel from being cut: a leaf that does not turn or cannot be got in."""
    stops = []
    for check in swings.checks:
        if check.verdict is Verdict.SHORT:
            why = f"{check.subject}: {check.question}? No, it is short"
            stops.append(Stop(check.key, why, check.change))
    for one in leaves:
        who = leaf_words(one.key)
        if isinstance(one.tilt_in, TiltIn) and isinstance(one.tilt_in.best, Obstructed):
            stops.append(
                Stop(
                    f"{one.key}/tilt in",
                    f"{who} cannot be stood up under the head: {one.tilt_in.best.why}",
                    "make the leaf lower or thinner, give it more room over its top, or hang it "
                    "before what bars it is put in",
                )
            )
        if isinstance(one.tilt_in, TiltIn) and isinstance(one.tilt_in.best, NotDecided):
            stops.append(
                Stop(
                    f"{one.key}/tilt in",
                    f"whether {who} can be stood up under the head is not decided: "
                    f"{one.tilt_in.best.why}",
                    "give it a little more room over its top, or try a batten of its height",
                )
            )
        if not isinstance(one.hanging, Held) and one.hanging.best is None:
            reasons = "; ".join(
                dict.fromkeys(reason for m in one.hanging.methods for reason in m.reasons)
            )
            stops.append(
                Stop(
                    f"{one.key}/hanging",
                    f"{who} cannot be got onto its pins in any of the usual ways: {reasons}",
                    "shorten the bottom pin, let the top pin draw back, or leave more room over "
                    "the leaf",
                )
            )
    return tuple(stops)
