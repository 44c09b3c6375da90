"""The calculation as a terminal shows it: every check with its formulas, numbers and sources."""

from __future__ import annotations

from leafwright.documents.calculation import Line, calculation, lines_of
from leafwright.documents.records import Group
from leafwright.pipeline import Plan
from leafwright.records import Check, Held, Verdict
from leafwright.say import VERDICTS, Words, check_source, count_of, sentence, words_of
from leafwright.say_loads import loads_words
from leafwright.told.lines import cautions, exit_code_of, heading_lines, stop_lines, wrapped


def prove_text(made: Plan, *, whole: bool) -> str:
    """Return the calculation of a plan.

    Args:
        made: the plan.
        whole: with every check's formulas; else only those of checks that are not plainly ok.
    """
    words = words_of(made.job)
    found = calculation(made)
    lines = heading_lines(made, "calculation")
    lines += stop_lines(made.stops)
    lines.append(f"By {found.basis}. Checks: {count_of(made.checks)}")
    lines += [*wrapped(loads_words(made), "  ", first=""), ""]
    for held in (*made.proofs, *made.mounts):
        if isinstance(held, Held):
            lines += wrapped(f"Held, because {held.why}.", "  ", first="")
    for group in found.groups:
        lines += _group_lines(group, words, whole=whole)
    if not whole:
        lines += wrapped("With every formula: leafwright prove --whole JOB", "  ", first="")
    return "\n".join(lines)


def _group_lines(group: Group, words: Words, *, whole: bool) -> list[str]:
    lines = [group.title.upper()]
    for said in group.words:
        lines += wrapped(sentence(said), "    ", first="  ")
    if whole:
        for assumed in group.assumptions:
            lines += wrapped(f"Taken: {assumed}.", "    ", first="  ")
    lines += cautions(group.cautions)
    for check in group.checks:
        lines += _check_lines(check, words, whole=whole)
    return [*lines, ""]


def _check_lines(check: Check, words: Words, *, whole: bool) -> list[str]:
    head = f"{VERDICTS[check.verdict]:5} {check.subject}: {check.question}"
    lines = wrapped(head, "        ", first="  ")
    amounts = amounts_of(check, words)
    if amounts:
        lines += wrapped(amounts, "          ", first="        ")
    plain = check.verdict is Verdict.OK and not whole
    if plain:
        return lines
    if check.rule:
        lines += wrapped(sentence(check.rule), "          ", first="        ")
    lines += wrapped(f"[{check_source(check)}]", "          ", first="        ")
    for line in lines_of(check, words.system):
        lines += _working_lines(line)
    if check.change:
        lines += wrapped(f"To do: {check.change}", "          ", first="        ")
    return lines


def amounts_of(check: Check, words: Words) -> str:
    """Return demand, what is available, and their ratio, in one line; "" without them."""
    if check.demand is None or check.available is None:
        return ""
    text = (
        f"{words.amount(check.demand, check.unit)} of {words.amount(check.available, check.unit)}"
    )
    if check.ratio is not None:
        text += f" = {check.ratio:.2f}"
    return f"{text} ({check.case})" if check.case else text


def _working_lines(line: Line) -> list[str]:
    said = f"{line.quantity}: {line.result}  [{line.source}]"
    lines = wrapped(said, " " * 12, first=" " * 10)
    for step in line.steps:
        lines += wrapped(step, " " * 16, first=" " * 12)
    if not line.steps and line.put_in:
        lines += wrapped(f"with {', '.join(line.put_in)}", " " * 16, first=" " * 12)
    return lines


def prove_exit_code(made: Plan) -> int:
    """Return the exit code of the command: as that of `plan`."""
    held = any(isinstance(one, Held) for one in (*made.proofs, *made.mounts))
    return exit_code_of(made.checks, made.stops, held=held)
