"""A plan told on a terminal, and the exit code that says how it stands."""

from __future__ import annotations

from pathlib import Path

from leafwright.doorway import Doorway
from leafwright.leaf import Leaf
from leafwright.pipeline import Plan
from leafwright.proof import LeafProof
from leafwright.records import Held, Verdict
from leafwright.say import (
    VERDICTS,
    Words,
    brace_words,
    check_line,
    check_source,
    count_of,
    default_line,
    words_of,
)
from leafwright.say_cutting import order_told
from leafwright.say_loads import loads_words
from leafwright.shop.cut_order import CutOrder
from leafwright.shop.nest import Nest
from leafwright.survey import Survey
from leafwright.survey.examine import Examined
from leafwright.told.lines import changed_lines, exit_code_of, held_lines, leaf_name
from leafwright.told.site import site_lines
from leafwright.told.survey import doubt_lines, largest_lines
from leafwright.told.swing import budget_brief


def exit_code(made: Plan) -> int:
    """Return 0 where all checks are ok or tight, 3 where one is short, 4 where one must be asked.

    A stop, or a stage that was held, must be decided: 4 too.
    """
    stages = (made.survey, made.doorway, made.cuts, *made.leaves, *made.proofs)
    held = any(isinstance(stage, Held) for stage in stages)
    return exit_code_of(made.checks, made.stops, held=held)


def _survey_lines(found: Survey | Held, looked: Examined | Held, words: Words) -> list[str]:
    if isinstance(found, Held):
        return held_lines("Opening", found)
    told = {
        "agrees": "the readings agree with one another",
        "does not agree": "THE READINGS DO NOT AGREE: at least one is wrong",
        "unverified": "nothing checks the readings (unverified)",
    }
    lines = [f"Opening: {told[found.agreement]}", *doubt_lines(looked)]
    for a in found.set_aside:
        lines.append(
            f"  set aside: {a.observation.words}, read {words.length(a.read)} "
            f"({a.observation.set_aside})"
        )
    if isinstance(looked, Examined):
        lines += largest_lines(looked.largest, words, brief=True)
    return lines


def _doorway_lines(doorway: Doorway | Held, words: Words) -> list[str]:
    if isinstance(doorway, Held):
        return held_lines("Doorway", doorway)
    lines = [f"Doorway: least clear width {words.sure(doorway.width)}"]
    for place in doorway.leaves:
        name = "leaf" if place.key == "leaf" else f"{place.key} leaf"
        lines.append(
            f"  {name}: {words.sure(place.width)} wide, {words.sure(place.height)} high, "
            f"hung {place.hand}"
        )
    for gap in doorway.gaps:
        lines.append(f"  {gap.name}: {words.sure(gap)}")
    lines.append(f"  clear opening at 90°: {words.sure(doorway.clear_opening)}")
    lines.append("Where the gaps go (site swing tells it share by share):")
    return [*lines, *budget_brief(doorway.budgets, words)]


def _leaf_lines(made: Plan, words: Words) -> list[str]:
    lines: list[str] = []
    for leaf in made.leaves:
        if isinstance(leaf, Leaf):
            lines.append(
                f"{leaf_name(leaf.key)}: {len(leaf.members)} pieces, "
                f"bare {words.mass(leaf.lift_mass)}, hung {words.mass(leaf.hung_mass)}"
            )
    for proof in made.proofs:
        if isinstance(proof, LeafProof):
            lines += _bracing_lines(proof, words)
            break
    return lines


def _bracing_lines(proof: LeafProof, words: Words) -> list[str]:
    lines = ["Braces, standing under its own weight:"]
    for way in proof.bracings:
        forces = [f for f in way.forces if f.situation == "standing"]
        told = ", ".join(f"{f.mark} {brace_words(f, words)}" for f in forces) or "–"
        lines.append(f"  {way.name}: nose drops {words.small(way.nose_drop_standing)}; {told}")
    return lines


def _shop_lines(made: Plan, words: Words) -> list[str]:
    if isinstance(made.cuts, Held):
        return held_lines("Cut list", made.cuts)
    pieces = sum(len(item.marks) for item in made.cuts.items)
    lines = [f"Cut list: {pieces} pieces, {words.mass(made.cuts.mass)}"]
    if isinstance(made.order, CutOrder):
        leaves = [leaf for leaf in made.leaves if isinstance(leaf, Leaf)]
        lines += [f"  {line}" for line in order_told(leaves, made.order, words).closes]
    if isinstance(made.stock, Held):
        return lines + held_lines("Stock", made.stock)
    for one in made.stock.sections:
        name = f"{one.section.designation}, {one.section.grade.name}"
        if isinstance(one.nest, Nest):
            sticks: dict[str, int] = {}
            for layout in one.nest.layouts:
                label = f"{words.length(layout.stick.length)} {layout.stick.kind}"
                sticks[label] = sticks.get(label, 0) + 1
            buy = ", ".join(f"{n} × {label}" for label, n in sticks.items())
            how = "proven least" if one.nest.proven else "not proven least"
            lines.append(f"  {name}: {buy} ({how})")
        else:
            lines += [f"  {line}" for line in held_lines(name, one.nest)]
    return lines


def plan_text(made: Plan) -> str:
    """Return a plan for a person at a terminal, what needs them before what does not."""
    words = words_of(made.job)
    job = made.job.job
    lines = [f"{job.name}, revision {job.revision}, seen from the {job.seen_from}", ""]
    lines += changed_lines(made)
    for stop in made.stops:
        lines += [
            f"STOP: {stop.why}.",
            f"  To do: {stop.decide}.",
            "  Until then nothing of this plan is for cutting.",
            "",
        ]
    lines += _survey_lines(made.survey, made.examined, words)
    lines += _doorway_lines(made.doorway, words)
    lines += _leaf_lines(made, words)
    lines += _shop_lines(made, words)
    lines += site_lines(made)
    lines += ["", f"Checks: {count_of(made.checks)}"]
    lines += [f"  {said}" for said in [loads_words(made)] if said]
    for check in made.checks:
        if check.verdict is Verdict.OK:
            continue
        lines.append(f"  {VERDICTS[check.verdict]:5} {check_line(check, words)}")
        lines.append(f"        {check.change} [{check_source(check)}]")
    lines += ["", "Taken by default (nothing in the job file changes what has no key here):"]
    lines += [f"  {default_line(q, words)}" for q in made.defaults]
    lines += ["", "Not worked out yet:"]
    lines += [f"  {name}: {held.why}; go by {'; '.join(held.needs)}" for name, held in made.not_yet]
    return "\n".join(lines)


def packet_text(made: Plan, folder: Path, count: int) -> str:
    """Return what a packet's folder holds and its main figures."""
    from leafwright.paper.sheets import cover_figures, desk

    lines = [f"{made.job.job.name}: {count} files in {folder}; open {folder / 'packet.pdf'}"]
    if not made.for_cutting:
        why = made.stops[0].why if made.stops else "a part of the plan is held"
        lines.append(f"NOT FOR CUTTING: {why}")
    lines += [f"  {caption}: {value}" for caption, value in cover_figures(desk(made))]
    return "\n".join(lines)
