"""Figures in plain text: the list by subject, the card of one, and one that was worked."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable

from leafwright.figures.records import Argument, Figure, PutIn, Result, Step, Worked
from leafwright.figures.subjects import ORDER

_WIDTH = 100
_NAME = 40


def list_text(known: Iterable[Figure]) -> str:
    """Return every figure under its subject: name, and what it gives."""
    shown = list(known)
    lines = [f"{len(shown)} figures. What one of them takes: leafwright figure NAME", ""]
    for subject in ORDER:
        here = [figure for figure in shown if figure.subject == subject]
        if not here:
            continue
        lines.append(subject.upper())
        for figure in here:
            quantity = figure.quantity
            if figure.not_from_shell:
                quantity += f" (not from the shell: {figure.not_from_shell})"
            lines.extend(_hung(f"  {figure.name}", quantity))
        lines.append("")
    return "\n".join(lines).rstrip()


def figure_text(figure: Figure) -> str:
    """Return the card of one figure: what it gives, by what rule, and what to put in."""
    lines = _head(figure)
    if figure.not_from_shell:
        lines += ["", f"Not from the shell: {figure.not_from_shell}."]
    elif figure.arguments:
        lines += ["", "Put in"]
        for argument in figure.arguments:
            lines.extend(_hung(f"  {argument.key}", _argument_words(argument)))
        lines += ["", *_wrapped("As in", _example(figure))]
    lines += _limits(figure)
    lines += _cautions(figure.cautions)
    return "\n".join(lines)


def worked_text(made: Worked) -> str:
    """Return a worked figure: what was put in, the working, the result, limits and cautions."""
    figure = made.figure
    lines = _head(figure)
    if made.put_in:
        lines += ["", "Put in"]
    for put in made.put_in:
        lines.extend(_hung(f"  {put.key}{_put_words(put)}", put.meaning))
    if made.steps:
        lines += ["", f"Worked in {made.units}"]
        for step in made.steps:
            lines.extend(_step_lines(step))
    lines += ["", "Result"]
    for result in made.results:
        lines.extend(_result_lines(result))
    lines += _limits(figure)
    lines += _cautions(made.cautions)
    return "\n".join(lines)


def _head(figure: Figure) -> list[str]:
    lines = [
        *_wrapped(figure.name, figure.quantity),
        f"  {figure.subject}; handbook module {figure.module}",
        "",
        *_wrapped("Source", figure.source or "none is stated"),
    ]
    if figure.rule and figure.rule.rstrip(".") != figure.source:
        lines += _wrapped("Rule", figure.rule)
    return lines


def _limits(figure: Figure) -> list[str]:
    lines = []
    if figure.limits:
        lines += ["", *_wrapped("Limits", figure.limits)]
    if figure.refuses:
        words = re.sub(r"^Raises:?\s*\w*:?\s*(for )?", "", figure.refuses)
        lines += _wrapped("Refused", re.sub(r"\s*Raises \w+ (for )?", " also ", words))
    return lines


def _cautions(cautions: Iterable[str]) -> list[str]:
    lines: list[str] = []
    for caution in cautions:
        lines += _wrapped("Caution", caution)
    return ["", *lines] if lines else []


def _argument_words(argument: Argument) -> str:
    parts = [argument.meaning or argument.key.replace("_", " ")]
    if argument.kind == "one of":
        parts.append(f"one of {', '.join(argument.forms)}")
    elif argument.forms:
        parts.append(f"{argument.kind}, as in {' or '.join(_two(argument.forms))}")
    if argument.otherwise:
        may = argument.otherwise == "left open"
        parts.append("may be left out" if may else f"where left out: {argument.otherwise}")
    return "; ".join(parts)


def _two(forms: tuple[str, ...]) -> tuple[str, ...]:
    """Return one form of each family where the forms hold both."""
    return forms[:1] if len(forms) < 2 else (forms[0], forms[-1])


def _example(figure: Figure) -> str:
    words = [
        f'{a.key}="{a.forms[0]}"' if " " in a.forms[0] else f"{a.key}={a.forms[0]}"
        for a in figure.arguments
        if a.forms and not a.otherwise
    ]
    return " ".join(["leafwright figure", figure.name, *words])


def _put_words(put: PutIn) -> str:
    if put.customary == "left open":
        return " left open"
    both = put.customary if put.customary == put.metric else f"{put.customary} = {put.metric}"
    if not put.typed:
        return f" = {both} (left out)" if put.left_out else f" = {both}"
    same = (_bare(put.typed) == _bare(shown) for shown in (put.customary, put.metric))
    return f" = {both}" if any(same) else f" = {put.typed} = {both}"


def _bare(text: str) -> str:
    """Return a quantity by which two spellings of it are told to be one."""
    plain = text.translate(str.maketrans("²³⁴·", "234 ")).replace("^", "").replace("lbf", "lb")
    return plain.replace(" ", "")


def _step_lines(step: Step) -> list[str]:
    name = f"{step.name} = " if step.name else "= "
    pad = " " * (len(name) - 2)
    lines = [f"  {name}{step.formula}"]
    if step.because:
        lines[0] += f"   as {step.because}"
    if step.numbers not in (step.formula, step.result):
        lines.append(f"  {pad}= {step.numbers}")
    lines.append(f"  {pad}= {step.result}")
    out: list[str] = []
    for line in lines:
        indent = " " * (len(pad) + 6)
        out += textwrap.wrap(line, _WIDTH, subsequent_indent=indent, break_long_words=False)
    return out


def _result_lines(result: Result) -> list[str]:
    name = f"{result.name} = " if result.name else "= "
    both = f"{result.customary} = {result.metric}"
    words = result.customary if result.customary == result.metric else both
    by = f"   ({result.source})" if result.source else ""
    return [f"  {name}{words}{by}"]


def _hung(name: str, words: str) -> list[str]:
    """Return words beside a name, hung under one another; under it where it is long."""
    indent = " " * (_NAME + 2)
    if len(name) > _NAME:
        return [
            *textwrap.wrap(name, _WIDTH, subsequent_indent=" " * 6, break_long_words=False),
            *textwrap.wrap(words, _WIDTH, initial_indent=indent, subsequent_indent=indent),
        ]
    head = f"{name:<{_NAME}}  "
    return textwrap.wrap(f"{head}{words}", _WIDTH, subsequent_indent=indent) or [name]


def _wrapped(name: str, words: str) -> list[str]:
    return textwrap.wrap(f"{name}: {words}", _WIDTH, subsequent_indent="  ")
