"""Whether every cut can be made by the saws there are, as checks, and what each saw is for."""

from __future__ import annotations

from collections.abc import Sequence

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.records import Check, Source, Verdict
from leafwright.shop.saws import SawCut, Tool

SETTINGS = Source("the saws of the job, each cut against what they take", "arithmetic")

#: An end: the key of its first piece, the marks of all, which side as drawn, and its cuts.
End = tuple[str, tuple[str, ...], str, tuple[SawCut, ...]]


def saw_checks(ends: Sequence[End]) -> tuple[Check, ...]:
    """Return the checks of the saws: every end that none makes, or that all are made.

    Args:
        ends: every end of the cut list.
    """
    checks = []
    unmade = [end for end in ends if any(cut.way == "none" for cut in end[3])]
    for key, marks, side, cuts in unmade:
        worst = next(cut for cut in cuts if cut.way == "none")
        checks.append(
            Check(
                key=f"shop/saws/{key}/{side}",
                subject=f"the {side} end of {', '.join(marks)}",
                question=f"by what is it cut; no saw of yours makes it ({worst.why})",
                verdict=Verdict.ASK,
                source=SETTINGS,
                change="mark it by its offsets on both faces and cut it by hand: list a grinder or "
                "a hacksaw under [[cut_with]], or a saw that takes it; or have it cut elsewhere",
            )
        )
    if not unmade:
        checks.append(
            Check(
                key="shop/saws",
                subject="the saws",
                question="how many ends can be made by none of them, nor by hand to their marks",
                verdict=Verdict.OK,
                source=SETTINGS,
                demand=0.0,
                available=float(len(ends)),
                ratio=0.0,
            )
        )
    return tuple(checks)


def laid_kerf(
    given: Quantity, ends: Sequence[tuple[SawCut, ...]], tools: Sequence[Tool]
) -> Quantity:
    """Return what the sticks are laid out by for each cut, so that nothing ends up short [m].

    What the job gives, or more where a saw that parts a piece from its stick takes more: an end's
    first cut does that, the others only take away from the piece.

    Args:
        given: what the job gives for a cut.
        ends: the cuts of every end.
        tools: the saws.
    """
    parting = {cuts[0].tool for cuts in ends if cuts and cuts[0].way != "none"}
    more = [
        chain.base(
            "wish",
            f"shop/kerf/{tool.name}",
            f"the {tool.name}'s cut",
            tool.kerf,
            note="[[cut_with]]",
        )
        for tool in tools
        if tool.name in parting and tool.kerf > given.value + 1e-9
    ]
    if not more:
        return given
    return chain.largest("shop/kerf laid", "what each cut takes of a stick", [given, *more])


def idle(ends: Sequence[tuple[SawCut, ...]], tools: Sequence[Tool]) -> tuple[Tool, ...]:
    """Return the saws that cut nothing of a job."""
    used = {cut.tool for cuts in ends for cut in cuts}
    return tuple(tool for tool in tools if tool.listed and tool.name not in used)
