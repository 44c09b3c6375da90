"""The usual slips of a tape: named where they bring a reading to what the rest fits."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from leafwright import chain, units
from leafwright.survey import Observation
from leafwright.survey.misread import misreadings, sag, typed_in
from leafwright.survey.words import amount, assumption_fails, between, called, strays
from leafwright.units import Tape
from tests.survey.openings import INCH, observation

INCHES = Tape("feet-inch", 16)
METRIC = Tape("mm", 1)
SD = INCH / 16


def typed(
    text: str, *, relation: str = "distance", by: str = "tape", between: tuple[str, ...] = ()
) -> Observation:
    """Return a reading that was typed so."""
    ends = between or ("L@84in", "R@84in")
    value = units.read_length(text).si
    quantity = chain.base("reading", "r", "r", value, sd=SD, note=f"{text} by {by}, Sam")
    return replace(observation("r", relation, ends, value, SD), quantity=quantity)


def slips(seen: Observation, should_be: str, *, sd: float = SD) -> list[str]:
    fits = units.read_length(should_be).si
    tape = METRIC if "mm" in should_be else INCHES
    return [one.words for one in misreadings(seen, fits, sd, tape=tape, most=9)]


BURNED = "the tape was started from its 1 in mark and the inch was not taken off"


@pytest.mark.parametrize(
    ("text", "should_be", "words"),
    [
        ("10'-7", "10'-6", BURNED),
        ("10'-7", "10'-8", "it is an inch off"),
        ("10'-7", "11'-7", "it is a foot off"),
        ("10'-7", "9'-7", "it is a foot off"),
        ("10'-7", "10'-5", "it is two inches off"),
        ("10'-7", "7'-10", "feet and inches changed places: 7'-10 was meant"),
        ("4946 mm", "4964 mm", "two figures changed places: 4964 mm was meant"),
        ("4.946 m", "4964 mm", "two figures changed places: 4.964 m was meant"),
        ("16'-3", "19'-3", "a 6 was read for a 9: 19'-3 was meant"),
        ("1126 mm", "7126 mm", "a 1 was read for a 7: 7126 mm was meant"),
        ("2946 mm", "2646 mm", "a 9 was read for a 6: 2646 mm was meant"),
        ("10'-7 3/16", "10'-7 13/16", "the fraction was counted from the wrong inch: 10'-7 13/16"),
        ("10'-7 1/8", "10'-7 7/8", "the fraction was counted from the wrong inch: 10'-7 7/8"),
        ("10'-7 3/16", "10'-6 13/16", "the fraction was counted on the wrong side of the inch"),
        ("4946 mm", "4936 mm", "it is 10 mm off"),
        ("4946 mm", "5046 mm", "it is 100 mm off"),
        ("4946 mm", "3946 mm", "it is 1000 mm off"),
    ],
)
def test_a_slip_is_named(text: str, should_be: str, words: str) -> None:
    assert slips(typed(text), should_be, sd=SD / 4)[0].startswith(words)


def test_a_burned_inch_makes_a_reading_long_and_never_short() -> None:
    assert BURNED in slips(typed("10'-7"), "10'-6")
    assert BURNED not in slips(typed("10'-7"), "10'-8")
    # A laser and a level have no 1 in mark to start from.
    assert BURNED not in slips(typed("10'-7", by="laser"), "10'-6")
    assert BURNED not in slips(typed("3 in", relation="level"), "2 in")


@pytest.mark.parametrize(
    ("relation", "words"),
    [
        ("across", "the plumb line is out the other way"),
        ("level", "plus was written for minus, or minus for plus"),
        ("up", "plus was written for minus, or minus for plus"),
        ("straight", "it is off the line the other way"),
    ],
)
def test_a_sign_turned(relation: str, words: str) -> None:
    assert slips(typed("5/8 in", relation=relation), "-5/8 in")[0] == words
    assert words not in slips(typed("5/8 in"), "-5/8 in")


def test_a_slip_that_does_not_reach_what_fits_is_not_named() -> None:
    assert slips(typed("10'-7"), "10'-9 1/2") == []
    # Within three deviations it is, and beyond it is not.
    assert BURNED in slips(typed("10'-7"), "10'-6 1/8", sd=SD)
    assert BURNED not in slips(typed("10'-7"), "10'-6 1/8", sd=SD / 4)


def test_the_likeliest_come_first_and_at_most_three() -> None:
    seen = typed("4946 mm")
    found = misreadings(seen, 4.9361, 0.02, tape=METRIC)
    assert len(found) == 3
    # What comes nearer, by whole deviations, is before what is more usual.
    assert found[0].kind == "10 mm"
    assert found[0].value == pytest.approx(4.936)
    assert found[0].off == pytest.approx(-0.0001)
    assert [math.ceil(abs(one.off) / 0.02) for one in found] == [1, 1, 1]
    assert [one.kind for one in found] == ["10 mm", "10 mm", "6 for 9"]


def test_hook_and_sag_explain_small_errors_only() -> None:
    hook = "the tape's hook was pushed or bent"
    assert hook in slips(typed("10'-7"), "10'-6 15/16")
    assert hook not in slips(typed("10'-7"), "10'-6")
    loose = "the tape hung loose: a long tape that bellies reads long"
    assert loose in slips(typed("17'-9 1/4"), "17'-9 1/8", sd=SD / 2)
    # A tape never bellies short, nor a short one.
    assert loose not in slips(typed("17'-9 1/4"), "17'-9 3/8", sd=SD / 2)
    assert loose not in slips(typed("6'-9 1/4"), "6'-9 1/8", sd=SD / 2)
    assert loose not in slips(typed("17'-9 1/4", by="laser"), "17'-9 1/8", sd=SD / 2)


def test_the_sag_of_a_tape() -> None:
    # From memory, the sag correction of taping: w² L³ / (24 P²). Doubling the pull quarters it.
    assert sag(6.0, weight=0.3, pull=10.0) == pytest.approx(0.3**2 * 6.0**3 / 2400.0)
    assert sag(6.0, pull=20.0) == pytest.approx(sag(6.0, pull=10.0) / 4)


def test_an_assumption_is_never_misread() -> None:
    assert misreadings(replace(typed("10'-7"), assumed=True), 3.2004, SD, tape=INCHES) == ()


def test_what_was_typed_and_with_what() -> None:
    assert typed_in(typed("10'-7", by="long tape")) == ("10'-7", "long tape")
    # Where the value is not what was typed, the figures say nothing.
    wrong = typed("10'-7")
    moved = replace(wrong, quantity=replace(wrong.quantity, value=3.0))
    assert typed_in(moved) == ("", "tape")
    assert typed_in(observation("r", "distance", ("BL", "BR"), 3.0, SD)) == ("", "")
    assert BURNED in [one.words for one in misreadings(moved, 3.0 - INCH, SD, tape=INCHES)]


def test_curly_quotes_and_primes_are_read_too() -> None:
    assert slips(typed("10\u2019-7"), "7'-10", sd=SD / 4)[0].startswith("feet and inches changed")


@pytest.mark.parametrize(
    ("ends", "words"),
    [
        (("BL", "BR"), "the bottom width"),
        (("TR", "TL"), "the top width"),
        (("BL", "TL"), "the left height"),
        (("TR", "BR"), "the right height"),
        (("BL", "TR"), "the diagonal from bottom left to top right"),
        (("TL", "BR"), "the diagonal from bottom right to top left"),
        (("L@84in", "R@84in"), "the width at 84in"),
        (("L@mid", "R@mid"), "the width half way up"),
        (("L@84in", "R@mid"), "the distance from L@84in to R@mid"),
        (("L@84in", "L@mid"), "the distance from L@84in to L@mid"),
        (("hook", "BL"), "the distance from hook to BL"),
    ],
)
def test_what_a_maker_calls_a_distance(ends: tuple[str, str], words: str) -> None:
    assert between(*ends) == words
    assert called(observation("r", "distance", ends, 1.0, SD)) == words


def test_what_a_maker_calls_other_readings() -> None:
    def name(relation: str, ends: tuple[str, ...], words: str) -> str:
        return called(replace(observation("r", relation, ends, 1.0, SD), words=words))

    assert name("level", ("BL", "plane laser"), "BL from the laser line") == "the level at BL"
    assert name("across", ("BL", "TL"), "TL left of plumb") == "the plumb line from BL to TL"
    assert name("up", ("BL", "BR"), "BR above BL") == "the rise from BL to BR"
    assert name("floor", ("BL", "x"), "floor left 20 in out above BL") == (
        "the floor left 20 in out above BL"
    )
    again = name("distance", ("BL", "TR"), "BL to TR (reading 2)")
    assert again == "the diagonal from bottom left to top right, reading 2"


def test_how_far_out_a_reading_is() -> None:
    width = observation("r", "distance", ("BL", "BR"), 1.0, SD)
    assert strays(width, INCH, INCHES) == "about 1 in long"
    assert strays(width, -INCH, METRIC) == "about 25 mm short"
    assert strays(width, 13 * INCH, INCHES) == "about 1'-1\" long"
    assert strays(width, 0.0001, INCHES) == "under 1/16 in long"
    level = observation("r", "level", ("BL", "plane"), 1.0, SD)
    assert strays(level, 0.375 * INCH, INCHES) == "about 3/8 in too high"
    assert strays(level, -0.375 * INCH, INCHES) == "about 3/8 in too low"
    plumb = observation("r", "across", ("BL", "TL"), 0.0, SD)
    assert strays(plumb, 0.25 * INCH, INCHES) == "about 1/4 in too much"
    assert amount(0.0001, METRIC) == "under 1 mm"
    assert amount(-12 * INCH, INCHES) == "1'-0\""


def test_an_assumption_that_does_not_hold() -> None:
    straight = observation("s", "straight", ("R@mid", "BR", "TR"), 0.0, SD)
    assert assumption_fails(straight, 0.5 * INCH, INCHES) == (
        "the right side is about 1/2 in out of straight at R@mid, to the left"
    )
    height = observation("h", "distance", ("BL", "L@84in"), 84 * INCH, SD)
    assert assumption_fails(height, INCH, INCHES) == "L@84in is about 1 in lower than its name says"
    middle = observation("m", "middle", ("L@mid", "BL", "TL"), 0.0, SD)
    assert assumption_fails(middle, -INCH, INCHES) == "L@mid is 1 in above half way up"
