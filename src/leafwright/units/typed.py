"""What was typed, kept as typed: the record, the refusal, and how plain numbers are read."""

from __future__ import annotations

import difflib
import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction


class UnitError(ValueError):
    """Something typed that is not read, or a number that cannot be shown.

    The message says what was found, why it is refused, and the forms that would do.
    """


@dataclass(frozen=True, slots=True)
class Typed:
    """A quantity exactly as it was typed, with its exact value in SI.

    text: what was typed, untouched. exact: its value in the SI unit of the function that read
    it. Two are equal when both are, so ``1 in`` and ``25.4 mm`` differ.
    """

    text: str
    exact: Fraction

    @property
    def si(self) -> float:
        """The value in SI, as the nearest float."""
        return float(self.exact)


LONGEST = 60
"""Most characters that one typed value may have [-]."""

# A mixed number, a fraction, a decimal, or a whole number. The first two come before the last,
# so that `2 3/8` is not 2, and digits end where digits end, so that `11/16` is not `1 1/16`.
VALUE = (
    r"(?:[0-9]+[ -][0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]*\.[0-9]+|[0-9]+)"
    r"(?![0-9./])"
)

_FOOT_MARKS = "‘’‛ʼ′`´＇"
_INCH_MARKS = "“”„‟″ʺ＂"
_MINUS_SIGNS = "−–‐‑﹣－"
_SAME = (
    dict.fromkeys(_FOOT_MARKS, "'")
    | dict.fromkeys(_INCH_MARKS, '"')
    | dict.fromkeys(_MINUS_SIGNS, "-")
    | dict.fromkeys("º˚", "°")
    | {"⁄": "/", "∕": "/", "℃": "°C", "℉": "°F", "\t": " "}
)
_INVISIBLE = {"Cc", "Cf", "Cn", "Co", "Cs", "Zl", "Zp"}
_NOT_MEASURED = re.compile(r"[+-]? ?(?:nan|inf|infinity)\b", re.IGNORECASE)
_POWER_OF_TEN = re.compile(r"[0-9][eE][+-]?[0-9]")
_ONE_COMMA = re.compile(r"([+-]? ?[0-9]+),([0-9]+)(\.[0-9]+)?( ?[^,0-9]*)")
_WITH_FRACTION = re.compile(r"(?:([0-9]+)[ -])?([0-9]+)/([0-9]+)")
_NUMBER_THEN_REST = re.compile(rf"([+-]?) ?({VALUE}) ?(.*)")


def refusal(what: str, text: str, why: str, forms: Iterable[str]) -> UnitError:
    """Return the error that says what was found, why it is refused, and what would do."""
    found = repr(text) if len(text) <= LONGEST else repr(text[:LONGEST]) + "…"
    return UnitError(f"{what} {found}: {why}. Forms that would do: {'; '.join(forms)}.")


def plain(what: str, text: str, forms: Iterable[str]) -> str:
    """Return the text with every sign that a phone or a drawing uses made the plain one.

    Curly quotes and primes become ' and ", every minus and hyphen -, every space one space,
    and `¾` a fraction. The value is not changed.

    Raises: UnitError for what no quantity may hold: nothing at all, a comma, a power of ten,
    an invisible character, too many characters.
    """
    if len(text) > LONGEST:
        raise refusal(what, text, f"it has more than {LONGEST} characters", forms)
    out = ""
    for sign in text:
        category = unicodedata.category(sign)
        if sign != "\t" and category in _INVISIBLE:
            why = f"it holds the invisible character U+{ord(sign):04X}; type it again without"
            raise refusal(what, text, why, forms)
        if unicodedata.decomposition(sign).startswith("<fraction>"):
            out += _fraction_signs(sign, after=out[-1:])
        elif category == "Zs":
            out += " "
        else:
            out += _SAME.get(sign, sign)
    out = " ".join(out.replace("''", '"').split())
    if not out:
        raise refusal(what, text, "nothing was typed", forms)
    if _NOT_MEASURED.match(out):
        raise refusal(what, text, "it is not a number that can be measured", forms)
    if _POWER_OF_TEN.search(out):
        raise refusal(what, text, "powers of ten are not read; write the number out", forms)
    if "," in out:
        typed = _ONE_COMMA.fullmatch(out)
        if typed is not None:
            before, after, decimals, unit = typed.groups(default="")
            forms = [f"{before}{after}{decimals}{unit}"]
            if not decimals:
                forms.append(f"{before}.{after}{unit}")
        raise refusal(what, text, "the comma may mark thousands or decimals", forms)
    return out


def _fraction_signs(sign: str, *, after: str) -> str:
    """Return `½` as plain signs, kept apart from a digit on either side (`1½` is not 11/2)."""
    codes = unicodedata.decomposition(sign).split()[1:]
    signs = "".join(chr(int(code, 16)) for code in codes).replace("⁄", "/")
    apart = " " if after.isdigit() else ""
    return apart + signs if signs.endswith("/") else apart + signs + " "


def exact_number(what: str, text: str, value: str, forms: Iterable[str]) -> Fraction:
    """Return the exact value of digits that match VALUE [-].

    Raises: UnitError where the denominator is zero, or the fraction is one or more.
    """
    parts = _WITH_FRACTION.fullmatch(value)
    if parts is None:
        return Fraction(value)
    whole, above, below = parts.groups()
    if int(below) == 0:
        raise refusal(what, text, f"the fraction {above}/{below} divides by zero", forms)
    fraction = Fraction(int(above), int(below))
    number = int(whole or 0) + fraction
    if fraction >= 1:
        why = f"the fraction {above}/{below} is one or more ({value} would be {mixed(number)})"
        if whole is None and len(above) > 1 and 0 < int(above[1:]) < int(below):
            why += f", or it is {above[0]} {above[1:]}/{below} with its space lost"
        raise refusal(what, text, why, forms)
    return number


def number_and_unit(what: str, text: str, forms: Iterable[str]) -> tuple[Fraction, str]:
    """Return the signed number at the front [-], and the unit behind it as plain signs.

    `²` and `^2` become 2, `per` becomes /, the dot of `lb·ft` a space. The unit is empty where
    none was typed.
    """
    found = _NUMBER_THEN_REST.fullmatch(plain(what, text, forms))
    if found is None:
        raise refusal(what, text, "it does not begin with a number that can be read", forms)
    sign, value, rest = found.groups()
    if re.search(r"(?:^|[ -])[0-9.]", rest):
        raise refusal(what, text, "it holds more than one number", forms)
    number = exact_number(what, text, value, forms)
    for drawn, plainly in (("²", "2"), ("³", "3"), ("⁴", "4"), ("^", ""), ("·", " "), ("⋅", " ")):
        rest = rest.replace(drawn, plainly)
    return (-number if sign == "-" else number), re.sub(r" ?/ ?| per ", "/", rest)


def nearest(word: str, known: Iterable[str]) -> str:
    """Return a hint at the known word nearest to this one, or nothing where none is near."""
    by_lower = {name.lower(): name for name in known}
    close = difflib.get_close_matches(word.lower(), by_lower, n=1, cutoff=0.6)
    return f" (the nearest known is {by_lower[close[0]]})" if close else ""


def mixed(number: Fraction) -> str:
    """Return a number of zero or more as a whole and a proper fraction: `2 3/4`, `3/4`, `2`."""
    whole, rest = divmod(number, 1)
    if rest == 0:
        return str(whole)
    return f"{whole} {rest}" if whole else str(rest)
