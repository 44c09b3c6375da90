"""The usual ways of misreading a tape, held against what a reading should have been.

A slip is named only where it would bring the reading to what the rest fits, within what that is
sure to. Which slips are usual, and in which order, is common practice, no source.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass

from leafwright import units
from leafwright.records import Metres
from leafwright.survey.observe import Observation
from leafwright.units import Tape, UnitError

#: A slip explains a reading where it comes this near to what fits, in standard deviations [-].
NEAR = 3.0

_INCH = 0.0254
_FOOT = 12 * _INCH
_MILLIMETRE = 0.001

#: Weight of a steel pocket tape [N/m] and the least pull a hand gives it [N]: common practice, no
#: source.
_TAPE_WEIGHT = 0.3
_SLACK_PULL = 10.0

#: Tapes shorter than this do not belly [m].
_SAGS_FROM = 3.0

_LIKE = (("6", "9"), ("1", "7"))
_FEET_INCHES = re.compile(
    r"^([+-]?)([0-9]+)('|\s*(?:ft|feet|foot)\.?)([ -]*)([0-9]+)(?![0-9/])(.*)$"
)
_FRACTION = re.compile(r"([0-9]+)/([0-9]+)")
_DIGIT = re.compile(r"(?<![/0-9])[0-9]+")
_METRIC = re.compile(r"[0-9]\s*(?:mm|cm|m|millim|centim|metre|meter)")


@dataclass(frozen=True, slots=True)
class Misreading:
    """A usual slip that explains a reading.

    ``value`` is what would have been read without it; ``off`` is that less what fits.
    """

    kind: str
    words: str
    value: Metres
    off: Metres


@dataclass(frozen=True, slots=True)
class _Slip:
    kind: str
    words: str
    value: float


def typed_in(seen: Observation) -> tuple[str, str]:
    """Return what was typed for a reading, and its instrument; each "" where it is not known."""
    text, by, rest = seen.quantity.note.rpartition(" by ")
    if not by:
        return "", ""
    try:
        value = units.read_length(text).si
    except UnitError:
        return "", rest.split(",")[0]
    same = math.isclose(value, seen.quantity.value, rel_tol=1e-12, abs_tol=1e-12)
    return (text if same else ""), rest.split(",")[0]


def sag(length: float, *, weight: float = _TAPE_WEIGHT, pull: float = _SLACK_PULL) -> float:
    """Return by how much a tape that hangs between its ends reads too long [m].

    w² L³ / (24 P²), the sag correction of taping (surveying textbooks, from memory).

    Args:
        length: length read [m].
        weight: weight of the tape [N/m].
        pull: pull on it [N].
    """
    return weight**2 * length**3 / (24.0 * pull**2)


def misreadings(
    seen: Observation, fits: float, sd: float, *, tape: Tape, most: int = 3
) -> tuple[Misreading, ...]:
    """Return the usual slips that explain a reading, likeliest first.

    Args:
        seen: the reading; an assumption is never misread.
        fits: what the rest say it should be [m].
        sd: standard deviation of the error read − fits [m].
        tape: the maker's tape, for the words and where what was typed is not known.
        most: most slips to name [-].
    """
    if seen.assumed:
        return ()
    text, by = typed_in(seen)
    value = seen.quantity.value
    near: list[tuple[int, int, _Slip]] = []
    for order, slip in enumerate(_slips(seen, text, by, value, fits, tape)):
        out = abs(slip.value - fits) / sd
        if out <= NEAR and slip.value != value:
            near.append((math.ceil(out), order, slip))
    near.sort(key=lambda one: one[:2])
    found: dict[float, Misreading] = {}
    for _, _, slip in near:
        # Two slips to one value are one: the first is the more usual.
        found.setdefault(
            round(slip.value, 7), Misreading(slip.kind, slip.words, slip.value, slip.value - fits)
        )
    return tuple(found.values())[:most]


def _slips(
    seen: Observation, text: str, by: str, value: float, fits: float, tape: Tape
) -> Iterator[_Slip]:
    """Yield every slip that might be, the most usual kinds first."""
    metric = bool(_METRIC.search(text)) if text else tape.system == "mm"
    taped = seen.relation == "distance" and "laser" not in by
    if metric:
        yield from _decimal_steps(value)
    else:
        yield from _inch_steps(value, taped)
    yield from _turned(seen, value)
    yield from _typed_slips(text)
    if taped:
        if metric:
            started = "the tape was started from its 100 mm mark and that was not taken off"
            yield _Slip("burned start", started, value - 100 * _MILLIMETRE)
        hook = 1 * _MILLIMETRE if metric else _INCH / 16
        for sign in (-1.0, 1.0):
            yield _Slip("hook", "the tape's hook was pushed or bent", value + sign * hook)
    if taped and value > _SAGS_FROM and value > fits:
        loose = value - min(value - fits, sag(value))
        yield _Slip("sag", "the tape hung loose: a long tape that bellies reads long", loose)


def _inch_steps(value: float, taped: bool) -> Iterator[_Slip]:
    if taped:
        burned = "the tape was started from its 1 in mark and the inch was not taken off"
        yield _Slip("burned inch", burned, value - _INCH)
    for sign in (-1.0, 1.0):
        yield _Slip("inch", "it is an inch off", value + sign * _INCH)
        yield _Slip("foot", "it is a foot off", value + sign * _FOOT)
    for sign in (-1.0, 1.0):
        yield _Slip("inches", "it is two inches off", value + sign * 2 * _INCH)


def _decimal_steps(value: float) -> Iterator[_Slip]:
    for size in (10, 100, 1000):
        for sign in (-1.0, 1.0):
            words = f"it is {size} mm off"
            yield _Slip(f"{size} mm", words, value + sign * size * _MILLIMETRE)


def _turned(seen: Observation, value: float) -> Iterator[_Slip]:
    if seen.relation == "distance":
        return
    if seen.relation == "across":
        yield _Slip("turned", "the plumb line is out the other way", -value)
    elif seen.relation in ("level", "up", "floor"):
        yield _Slip("turned", "plus was written for minus, or minus for plus", -value)
    else:
        yield _Slip("turned", "it is off the line the other way", -value)


def _typed_slips(text: str) -> Iterator[_Slip]:
    """Yield the slips of writing down: each is the typed text with a thing or two changed."""
    if not text:
        return
    plain = text.replace("\u2019", "'").replace("\u2032", "'").replace("\u201d", '"')
    tried = {plain}
    for kind, words, other in _other_texts(plain):
        if other in tried:
            continue
        tried.add(other)
        try:
            value = units.read_length(other).si
        except UnitError:
            continue
        yield _Slip(kind, words.format(other), value)
    yield from _from_the_other_side(plain)


def _other_texts(text: str) -> Iterator[tuple[str, str, str]]:
    for number in _DIGIT.finditer(text):
        digits = number[0]
        for i in range(len(digits) - 1):
            swapped = digits[:i] + digits[i + 1] + digits[i] + digits[i + 2 :]
            other = text[: number.start()] + swapped + text[number.end() :]
            yield "swapped figures", "two figures changed places: {} was meant", other
    feet = _FEET_INCHES.match(text)
    if feet is not None:
        sign, first, mark, gap, second, rest = feet.groups()
        other = f"{sign}{second}{mark}{gap}{first}{rest}"
        yield "feet for inches", "feet and inches changed places: {} was meant", other
    for number in _FRACTION.finditer(text):
        above, below = int(number[1]), int(number[2])
        if 0 < above < below:
            other = f"{text[: number.start()]}{below - above}/{below}{text[number.end() :]}"
            yield "fraction", "the fraction was counted from the wrong inch: {} was meant", other
    for number in _DIGIT.finditer(text):
        for i, digit in enumerate(number[0]):
            for pair in _LIKE:
                if digit not in pair:
                    continue
                meant = pair[1 - pair.index(digit)]
                place = number.start() + i
                other = text[:place] + meant + text[place + 1 :]
                yield (
                    f"{digit} for {meant}",
                    f"a {digit} was read for a {meant}: {{}} was meant",
                    other,
                )


def _from_the_other_side(text: str) -> Iterator[_Slip]:
    """Yield the mark counted back from the inch that was read, as the tape held upside down."""
    number = _FRACTION.search(text)
    if number is None or int(number[2]) == 0 or _METRIC.search(text):
        return
    share = int(number[1]) / int(number[2])
    sign = -1.0 if text.strip().startswith("-") else 1.0
    try:
        value = units.read_length(text).si
    except UnitError:
        return
    words = "the fraction was counted on the wrong side of the inch"
    yield _Slip("fraction", words, value - sign * 2.0 * share * _INCH)
