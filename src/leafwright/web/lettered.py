"""How names and formulas of the handbook are set on a page: F_y as F with a small y below it."""

from __future__ import annotations

import re
from collections.abc import Callable

from markupsafe import Markup, escape

from leafwright.say import sentence

_LETTERS = (
    "alpha beta gamma delta epsilon zeta eta theta kappa lambda mu nu rho sigma tau phi chi psi"
    " omega Phi Psi Omega"
)
_GREEK = dict(zip(_LETTERS.split(), "αβγδεζηθκλμνρστφχψωΦΨΩ", strict=True))
#: Names that are a unit too: such a letter is Greek only where something stands below it.
_UNITS = {"psi", "mu", "nu"}
_SHORT = {
    "hss": "HSS",
    "awg": "AWG",
    "iso": "ISO",
    "en10219": "EN 10219:",
    "a307": "A307",
    "a500": "A500",
    "asd": "ASD",
    "lrfd": "LRFD",
}
#: Words of a formula that are no names.
_WORDS = "and or not if else as is in for each of sum from to yes no none nan"
_PLAIN = frozenset(_WORDS.split())
_NAME = re.compile(r"[A-Za-z_][A-Za-z_0-9]*")
_IN_FORMULA = re.compile(r"\"[^\"]*\"|'[^']*'|[A-Za-z_][A-Za-z_0-9]*")
_IN_PROSE = re.compile(
    r"`([^`]+)`|\*([^*\s][^*]*)\*|\w+\.toml\b|([A-Za-z][A-Za-z0-9]*(?:_[A-Za-z0-9]+)+)"
)
# The states a strength is factored by: the result names their clause, the word alone says nothing.
_STATE_ALONE = re.compile(r"(?<=[.)])\s*`LimitState\.\w+`(?:(?:, | or |, or )`\w+`)*\.(?=\s|$)")
_SIGNS = (("<=", "≤"), (">=", "≥"), ("sqrt(", "√("))
_NUMBERS = (
    (r"\bnan\b", "no number"),
    (r"\bNan\b", "No number"),
    (r"\binf\b", "without end"),
    (r"\bInf\b", "Without end"),
)
#: What makes a quotient beside it need brackets.
_TIGHT = "·/^√²³⁴⁵⁶⁻−+"

Address = Callable[[str], str]
"""Returns the address of the figure that a name stands for, or nothing."""


def symbol(name: str) -> Markup:
    """Return a name as a formula is set: a letter with what stands below it, or plain words.

    name: of a quantity, as the handbook spells it: ``F_y``, ``b_over_t``, ``long_side``; the
    fields of a record have a point between them.
    """
    return Markup(".").join(_one(part) for part in name.split("."))


def _one(name: str) -> Markup:
    over = re.split(r"_over_|_OVER_", name)
    if len(over) == 2 and all(_is_letter(part) for part in over):
        return Markup("{}/{}").format(*map(_one, over))
    head, below = _head_and_below(name)
    if not head:
        words = name.strip("_").replace("_", " ")
        words = words.lower() if words.isupper() and len(words) > 2 else words
        return Markup('<var class="word">{}</var>').format(words)
    if below == "prime":
        return Markup("<var>{}</var>′").format(head)
    if not below:
        return Markup("<var>{}</var>").format(head)
    return Markup("<var>{}<sub>{}</sub></var>").format(head, below.replace("_", ","))


def _is_letter(name: str) -> bool:
    return bool(_head_and_below(name)[0])


def _head_and_below(name: str) -> tuple[str, str]:
    """Return the letter of a name and what stands below it; no letter where it is of words."""
    head, _, below = name.strip("_").partition("_")
    zero = re.fullmatch(r"([A-Za-z])0", head)
    numbered = re.fullmatch(r"([A-Za-z])(\d+)", head)
    if zero:
        return f"{zero[1]}⁰" if below else zero[1], below or "0"
    if numbered and not below:
        return numbered[1], numbered[2]
    if head == "a" and len(below) > 3 and below != "prime":
        return "", ""
    if len(head) == 1:
        return head, below
    if head in _GREEK and (below or head not in _UNITS):
        return _GREEK[head], below
    return "", ""


def title(name: str) -> str:
    """Return the name of a figure as a heading in plain letters: ``Column stress``, ``ψ h,V``."""
    name = name.rpartition(".")[2]
    head, below = _head_and_below(name)
    if head:
        return f"{head} {below.replace('_', ',')}".strip()
    return sentence(" ".join(_SHORT.get(word, word) for word in name.split("_")).removesuffix(":"))


def heading(name: str) -> Markup:
    """Return the name of a figure as a heading, letters set as in a formula."""
    last = name.rpartition(".")[2]
    return symbol(last) if _is_letter(last) else escape(title(name))


def formula(text: str) -> Markup:
    """Return a line of a working with its names set; what stands in quotes stays as it is.

    text: of a step, its formula or why it was taken.
    """
    return _set(_IN_FORMULA, text, _token)


def _token(found: re.Match[str]) -> Markup:
    word = found[0]
    before, after = found.string[: found.start()].rstrip(), found.string[found.end() :].lstrip()
    is_called = found.string[found.end() : found.end() + 1] == "("
    if not _NAME.fullmatch(word) or word.lower() in _PLAIN:
        return escape(word.strip("\"'"))
    if is_called:
        return escape(word.strip("_").replace("_", " "))
    is_tight = before[-1:] in tuple(_TIGHT) or after[:1] in tuple(_TIGHT)
    is_quotient = re.search("_over_", word, re.IGNORECASE) is not None
    return Markup("({})").format(_one(word)) if is_quotient and is_tight else _one(word)


def numbers(text: str) -> Markup:
    """Return a line of a working with its numbers put in: only names that are left are set."""
    return _set(_IN_FORMULA, text, lambda found: _token(found) if "_" in found[0] else found[0])


def prose(text: str, address: Address = lambda name: "") -> Markup:
    """Return what a docstring says: names set, figures that it names linked, titles as such.

    text: of a docstring, on one line. address: where the figure of a name is found.
    """

    def piece(found: re.Match[str]) -> Markup:
        named, cited, name = found.groups()
        if cited:
            return Markup("<em>{}</em>").format(cited)
        where = address(named) if named else ""
        if where:
            words = heading(named)
            return Markup('<a class="within" href="{}">{}</a>').format(where, words)
        if not (named or name):
            return escape(found[0])
        if named and (named.endswith(".toml") or not _NAME.fullmatch(named.replace(".", "_"))):
            return escape(named)
        return _one((name or named).removeprefix("LimitState."))

    text = _STATE_ALONE.sub("", text.replace("``", "`"))
    for written, sign in _SIGNS:
        text = text.replace(written, sign)
    for pattern, words in _NUMBERS:
        text = re.sub(pattern, words, text)
    return _set(_IN_PROSE, text.strip(), piece)


def _set(tokens: re.Pattern[str], text: str, piece: Callable[[re.Match[str]], object]) -> Markup:
    """Return a text escaped, with every token of it replaced."""
    made = Markup()
    at = 0
    for found in tokens.finditer(text):
        made += escape(text[at : found.start()]) + escape(piece(found))
        at = found.end()
    return made + escape(text[at:])
