"""What a handbook function says of itself: its docstring, taken apart.

The handbook's habit: the first line is the quantity returned, with its unit; then the clause and
the formula; then each argument as ``name: meaning [unit]``; then what it raises, and its limits.
"""

from __future__ import annotations

import inspect
import re
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Entry:
    """What is said of one argument; ``unit`` is "" where none is stated."""

    name: str
    meaning: str
    unit: str


@dataclass(frozen=True, slots=True)
class Said:
    """A docstring's parts; each is "" (or empty) where the docstring does not hold it."""

    quantity: str
    unit: str
    source: str
    rule: str
    entries: tuple[Entry, ...]
    refuses: str
    limits: str
    cautions: tuple[str, ...]


_UNIT = re.compile(r"\[([^\[\]]{1,24})\]")
# An interval or an index in a formula is no unit: units hold no digit first but 1, no comma.
_NOT_A_UNIT = re.compile(r"^[02-9.+−-].")
_SECTION_HEAD = re.compile(r"^(?:Args|Arguments|Parameters|Notes?)\s*:\s*$", re.MULTILINE)
_TAIL = re.compile(
    r"(?:(?<=[.;)\]])\s+|^\s*|\n\s*)(?=Raises[\s:]|Limits?[:\s]|Returns?[\s:]|Valid )"
)
_RAISES = re.compile(r"Raises[\s:].*?(?:(?<=[.])(?=\s+[A-Z])|$)", re.DOTALL)
_LIMITS = re.compile(r"(?:Limits?(?: of validity)?:|Valid )")
_SENTENCE = re.compile(
    r"(?<=[.;])(?<![Ee]q\.)(?<![Ee]qs\.)(?<!ch\.)(?<!Sec\.)(?<!sec\.)(?<!No\.)(?<!no\.)(?<!ed\.)(?<!Fig\.)"
    r"(?<!Tab\.)(?<!cl\.)(?<!p\.)(?<!pp\.)(?<!e\.g\.)(?<!i\.e\.)\s+"
)
#: Words that a source begins with: documents, and what needs none.
_DOCUMENT = re.compile(
    r"ANSI|AISC|AWS\b|ACI\b|ASCE|ASME|ASTM|AISI|\bEN \d|EN ISO|\bISO[ /]|\bDIN\b|NIOSH|NFPA|\bNEC\b"
    r"|\bIEC\b|\bNBS\b|NIST|\bSAE\b|\bTIA\b|Roark|Kleinlogel|Timoshenko|Hertz|Hibbeler|Shigley|Johnson"
    r"|Machinery|Handbook|[Ss]tatics|[Pp]hysics|[Gg]eometry|Green's theorem|Saint-Venant|Ohm's"
    r"|\bIBC\b|Coulomb|[Cc]ommon practice|[Ff]rom memory|[Dd]efinition|steel_catalogue"
)
_DOUBT = re.compile(r"from memory|not opened|second-hand|remembered|Departure|Caution|licensed")


def said_by(function: object, names: Sequence[str], *, module: str = "") -> Said:
    """Return what a function's docstring says.

    function: a function or class with a docstring. names: of its arguments or fields.
    module: the docstring of its module, which names the source where the function does not.
    """
    text = _SECTION_HEAD.sub("", inspect.getdoc(function) or "")
    first, _, rest = text.partition("\n\n")
    # A line that goes on below the first without a blank one is of the rule, not of the quantity.
    quantity = re.sub(r"^Returns? ", "", _one_line(first))
    entries, prose = _entries_and_prose(rest, names)
    refuses = _one_line(" ".join(_RAISES.findall(prose)))
    prose = _RAISES.sub("", prose)
    rule, limits = _without_limits(prose)
    both = f"{quantity}\n{rule}"
    return Said(
        quantity=without_unit(quantity),
        unit=unit_in(quantity),
        source=_source(rule, quantity, module),
        rule=_one_line(rule),
        entries=entries,
        refuses=refuses,
        limits=limits,
        cautions=tuple(s for s in _sentences(both) if _DOUBT.search(s)),
    )


def unit_in(text: str) -> str:
    """Return the first unit in square brackets, or nothing."""
    for found in _UNIT.findall(text):
        unit = str(found).replace("\n", " ")
        if not _NOT_A_UNIT.match(unit):
            return unit
    return ""


def _entries_and_prose(text: str, names: Sequence[str]) -> tuple[tuple[Entry, ...], str]:
    """Return the entries of the arguments, and everything that is not one."""
    if not names:
        return (), text
    either = "|".join(re.escape(name) for name in sorted(names, key=len, reverse=True))
    start = re.compile(
        rf"(?:^|\n|(?<=[;.\])]) )[ ]*((?:{either})(?:(?:,| and) (?:{either}))*)"
        rf"(?: \([^()]*\))?:(?=\s)"
    )
    entries: dict[str, Entry] = {}
    prose: list[str] = []
    for paragraph in re.split(r"\n\s*\n", text):
        found = list(start.finditer(paragraph))
        prose.append(paragraph[: found[0].start()] if found else paragraph)
        ends = [*(after.start() for after in found[1:]), len(paragraph)]
        for here, end in zip(found, ends if found else (), strict=True):
            meaning, tail = _meaning_and_tail(paragraph[here.end() : end])
            prose.append(tail)
            unit = unit_in(meaning)
            plain = without_unit(meaning)
            for name in re.split(r", | and ", here[1]):
                entries.setdefault(name, Entry(name, plain, unit))
    return tuple(entries.values()), "\n\n".join(part for part in prose if part.strip())


def _meaning_and_tail(text: str) -> tuple[str, str]:
    """Return an entry's own words, and what stands behind them without being about it."""
    tail = _TAIL.search(text)
    cut = tail.start() if tail else len(text)
    # An entry that has ended with a full stop is not gone on with by a line that is not indented.
    lines = text[:cut].split("\n")
    kept = lines[:1]
    for line in lines[1:]:
        ended = kept[-1].rstrip().endswith(".") and unit_in("\n".join(kept))
        if ended and not line.startswith(" "):
            break
        kept.append(line)
    words = "\n".join(kept)
    return words, text[len(words) :]


def _without_limits(prose: str) -> tuple[str, str]:
    """Return the prose without its limits, and the limits."""
    rule: list[str] = []
    limits: list[str] = []
    for paragraph in prose.split("\n\n"):
        found = _LIMITS.search(paragraph)
        cut = found.start() if found else len(paragraph)
        rule.append(paragraph[:cut])
        limits.append(re.sub(r"^Limits?(?: of validity)?:\s*", "", paragraph[cut:]))
    return "\n\n".join(rule), _one_line(" ".join(limits))


def _source(rule: str, quantity: str, module: str) -> str:
    """Return the sentence that names the document and clause, without the formula behind it."""
    for text in (rule, quantity, module):
        for sentence in _sentences(text):
            found = _DOCUMENT.search(sentence)
            if found:
                head = re.match(r".*?(?=:\s)", sentence[found.start() :])
                begun = sentence[: found.start()] if found.start() else ""
                words = begun + (head[0] if head else sentence[found.start() :])
                return words.rstrip(" .;")
    return ""


def _sentences(text: str) -> list[str]:
    """Return the sentences of a text, and parts of one between semicolons, brackets kept whole."""
    parts: list[str] = []
    for part in _SENTENCE.split(_one_line(text)):
        if parts and parts[-1].count("(") > parts[-1].count(")"):
            parts[-1] += " " + part
        else:
            parts.append(part)
    return parts


def without_unit(text: str) -> str:
    """Return words without the first unit in brackets, and with the gap that it left closed."""
    return re.sub(r" +([,.:;)])", r"\1", _one_line(_UNIT.sub("", text, count=1))).strip(" .;,")


def _one_line(text: str) -> str:
    return " ".join(text.split())
