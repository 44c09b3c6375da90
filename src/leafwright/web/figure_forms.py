"""The form of a figure: its fields by argument, what was typed in them, and what was wrong."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from markupsafe import Markup

from leafwright.figures import Argument, Figure
from leafwright.say import sentence
from leafwright.web.lettered import prose, symbol

#: What stands in the address beside the keys of the figure; no key can be spelt so.
FOR, ROWS = "for", "rows-shown"
#: How many lines of a list are offered, how many more at a time, and the most that are read.
FIRST_ROWS, MORE_ROWS, MOST_ROWS = 3, 3, 40
_PARTED = ", parted by semicolons"
_ITEM = re.compile(r"(?P<list>.+?)\.(?P<number>\d{1,4})\.(?P<field>.+)")


@dataclass(frozen=True, slots=True)
class Put:
    """One field: what it stands for, how it may be typed, what was typed, what was wrong with it.

    ``spoken`` stands before the label for who cannot see that it belongs to a list.
    ``choices`` are words to pick from, each with what is shown for it; ``list`` names words that
    are offered as one types.
    """

    name: str
    id: str
    label: Markup
    meaning: Markup
    value: str
    spoken: str = ""
    help: tuple[Markup, ...] = ()
    choices: tuple[tuple[str, str], ...] = ()
    list: str = ""
    error: str = ""
    said_by: str = ""


@dataclass(frozen=True, slots=True)
class Part:
    """Fields that stand together; ``legend`` is empty for one that stands alone."""

    id: str
    fields: tuple[Put, ...]
    legend: Markup | None = None
    help: tuple[Markup, ...] = ()
    error: str = ""
    rows: bool = False


def typed_in(figure: Figure, pairs: Sequence[tuple[str, str]]) -> dict[str, str]:
    """Return what was typed for each key, as the shell takes it.

    pairs: key and text, in the order of the page. The lines of a list follow one another without
    the empty ones between them.
    """
    lists = {a.key for a in figure.arguments if is_list(a)}
    items: dict[str, dict[int, dict[str, str]]] = {}
    parts: dict[str, list[str]] = {}
    typed: dict[str, str] = {}
    for key, text in pairs:
        text = text.strip()
        found = _ITEM.fullmatch(key)
        if key in (FOR, ROWS) or not text:
            continue
        if key in lists:
            parts.setdefault(key, []).extend(p for p in map(str.strip, text.split(";")) if p)
        elif found is not None:
            rows = items.setdefault(found["list"], {})
            rows.setdefault(int(found["number"]), {})[found["field"]] = text
        else:
            typed[key] = text
    typed |= {key: "; ".join(texts) for key, texts in parts.items() if texts}
    for key, rows in items.items():
        for number, row in enumerate((rows[n] for n in sorted(rows)), 1):
            typed |= {f"{key}.{number}.{field}": text for field, text in row.items()}
    return typed


def is_list(argument: Argument) -> bool:
    """Return whether several values are typed for an argument."""
    return argument.kind.endswith(_PARTED)


def parts_of(
    figure: Figure, typed: Mapping[str, str], errors: Mapping[str, str], rows: int = FIRST_ROWS
) -> tuple[Part, ...]:
    """Return the fields of a figure's form, with what was typed in them and what was wrong.

    rows: how many lines of each list are offered at least.
    """
    parts: list[Part] = []
    for argument in figure.arguments:
        item = _ITEM.fullmatch(argument.key)
        if item is not None and item["number"] == "1":
            if not any(part.id == _id(f"{item['list']}.1") for part in parts):
                parts.extend(_item_parts(figure, item["list"], typed, errors, rows))
        elif is_list(argument):
            parts.append(_list_part(argument, typed, errors, rows))
        else:
            record = argument.key.rpartition(".")[0]
            put = _put(argument, typed, errors, label=argument.key.removeprefix(f"{record}."))
            if record and parts and parts[-1].id == _id(record):
                parts[-1] = replace(parts[-1], fields=(*parts[-1].fields, put))
            elif record:
                parts.append(Part(_id(record), (put,), symbol(record)))
            else:
                parts.append(Part(put.id, (put,)))
    return tuple(parts)


def _id(key: str) -> str:
    return "put-" + re.sub(r"[^A-Za-z0-9]+", "-", key)


def _put(
    argument: Argument, typed: Mapping[str, str], errors: Mapping[str, str], *, label: str
) -> Put:
    key = argument.key
    value = typed.get(key, "")
    first, _, rest = argument.meaning.partition(". ")
    choices: tuple[tuple[str, str], ...] = ()
    offered = ""
    if argument.kind in ("one of", "yes or no", "a grade of steel"):
        empty = f"left out: {argument.otherwise}" if argument.otherwise else "choose"
        known = [(form, form) for form in argument.forms]
        # What was typed in an address stays, even where it is none of the words.
        other = [] if value in ("", *argument.forms) else [(value, value)]
        choices = (("", empty), *known, *other)
    elif argument.kind == "a section":
        offered = "sections"
    elif argument.forms and argument.kind == "a word":
        offered = f"{_id(key)}-words"
    help = [prose(rest)] if rest else []
    if not choices:
        help += [Markup("{}").format(words) for words in _how(argument)]
    return Put(
        name=key,
        id=_id(key),
        label=symbol(label),
        meaning=prose(first),
        value=value,
        help=tuple(help),
        choices=choices or tuple((f, f) for f in argument.forms if argument.kind == "a word"),
        list=offered,
        error=errors.get(key, ""),
    )


def _how(argument: Argument) -> tuple[str, ...]:
    """Return how an argument may be typed, and what is taken where it is left out."""
    words = []
    if argument.forms and argument.kind != "a word":
        words.append(f"{argument.kind.removesuffix(_PARTED)}, as in {_as_in(argument)}")
    if argument.otherwise == "left open":
        words.append("may be left out")
    elif argument.otherwise:
        words.append(f"left out: {argument.otherwise}")
    return tuple(words)


def _as_in(argument: Argument) -> str:
    """Return a form of each family, or one line of a list."""
    forms = argument.forms
    if is_list(argument):
        return forms[0].split(";")[0]
    if argument.kind == "a section":
        return ", ".join(forms)
    return forms[0] if len(forms) < 2 else f"{forms[0]} or {forms[-1]}"


def _list_part(
    argument: Argument, typed: Mapping[str, str], errors: Mapping[str, str], rows: int
) -> Part:
    """Return the lines of a list of values, points or lines."""
    key = argument.key
    values = [p for p in map(str.strip, typed.get(key, "").split(";")) if p]
    fixed = re.match(r"\d+", argument.kind)
    shown = int(fixed[0]) if fixed else min(max(rows, FIRST_ROWS), MOST_ROWS)
    shown = max(shown, len(values))
    error = errors.get(key, "")
    quoted = re.search(r"'([^']+)'", error)
    wrong = [value for value in values if quoted is not None and quoted[1] in value]
    fields = tuple(
        Put(
            name=key,
            id=f"{_id(key)}-{number + 1}",
            label=Markup(number + 1),
            meaning=Markup(),
            value=value,
            spoken=key.replace("_", " "),
            error="wrong" if error and (value in wrong or not wrong) else "",
            said_by=_id(key),
        )
        for number, value in enumerate([*values, *[""] * (shown - len(values))])
    )
    words = (prose(argument.meaning), *(Markup("{}").format(w) for w in _how(argument)))
    return Part(
        _id(key), fields, symbol(key), help=tuple(w for w in words if w), error=error, rows=True
    )


def _item_parts(
    figure: Figure, key: str, typed: Mapping[str, str], errors: Mapping[str, str], rows: int
) -> list[Part]:
    """Return the fields of each item of a list of records."""
    fields = [a for a in figure.arguments if a.key.startswith(f"{key}.1.")]
    last = max((int(m["number"]) for k in typed if (m := _item_of(k, key))), default=0)
    made = []
    for number in range(1, min(max(rows, FIRST_ROWS, last), MOST_ROWS) + 1):
        puts = tuple(
            _put(
                replace(a, key=a.key.replace(f"{key}.1.", f"{key}.{number}.", 1)),
                typed,
                errors,
                label=a.key.removeprefix(f"{key}.1."),
            )
            for a in fields
        )
        legend = Markup("{} {}").format(symbol(key), number)
        made.append(Part(_id(f"{key}.{number}"), puts, legend, rows=False))
    return made


def _item_of(key: str, wanted: str) -> re.Match[str] | None:
    found = _ITEM.fullmatch(key)
    return found if found is not None and found["list"] == wanted else None


def grows(figure: Figure) -> bool:
    """Return whether a figure takes a list with any number of lines."""
    return any(
        _ITEM.fullmatch(a.key) is not None or (is_list(a) and not a.kind[0].isdigit())
        for a in figure.arguments
    )


# ---------------------------------------------------------------- what was wrong


def told_apart(figure: Figure, problems: Sequence[str]) -> tuple[dict[str, str], tuple[str, ...]]:
    """Return what was wrong with each key, and what is wrong with none of them alone."""
    known = {a.key: a for a in figure.arguments}
    errors: dict[str, str] = {}
    rest: list[str] = []
    for problem in problems:
        key = _about(problem, known)
        if key is None:
            rest.append(problem)
        else:
            errors[key] = _beside(known[like_first(key)], key, problem)
    return errors, tuple(rest)


def _about(problem: str, known: Mapping[str, Argument]) -> str | None:
    """Return the key that a problem begins with, or nothing where it is about no key alone."""
    found = re.match(r"(\S+?)(?: \(|: | is missing:|=| = )", problem)
    return found[1] if found is not None and like_first(found[1]) in known else None


def like_first(key: str) -> str:
    """Return the key of a list's first item for that of any of its items."""
    return re.sub(r"\.\d+(?=\.)", ".1", key)


def _beside(argument: Argument, key: str, problem: str) -> str:
    """Return a problem as it is told beside its field, whose name and meaning stand there."""
    if problem.startswith(f"{key} is missing:"):
        is_choice = argument.kind in ("one of", "yes or no", "a grade of steel")
        return "Choose one." if is_choice else "This is missing."
    words = problem.removeprefix(key).removeprefix(f" ({argument.meaning})").removeprefix(": ")
    if words.startswith("="):
        words = words[1:].replace(_PARTED, ", each on its own line")
        return f"{words}." if words[-1] not in ".!?" else words
    return problem if words.startswith(" ") else sentence(words)
