"""What must be asked: unknown is never ok, an answer closes a question, an old answer does not."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from leafwright.proof import answered, asks, in_force
from leafwright.records import Check, Verdict
from tests.proof.proofs import job

ON = date(2026, 5, 1)

PIVOTS = [
    {"hand": hand, "frame": "SHS 40 x 40 x 3", "mount": {"kind": "floor pivot"}}
    for hand in ("left", "right")
]
HINGES = [
    {
        "hand": hand,
        "frame": "SHS 40 x 40 x 3",
        "mount": {"kind": "barrel hinge", "standoff": "80 mm", "heights": ["0.3 m", "2 m"]},
    }
    for hand in ("left", "right")
]

# A building about which everything has been said and found harmless.
KNOWN = {
    "slab_tendons": "none found",
    "exit_route": "no",
    "fire_rated_wall": "no",
    "public": "no",
    "paint": "none",
    "indoors": "yes",
}
ANSWER = {
    "about": "building/beam",
    "says": "may be drilled in the web; moves 6 mm",
    "by": "an engineer",
    "document": "letter of 3 April",
    "on": date(2026, 4, 3),
}


def asked(on: date | None = ON, **tables: Any) -> dict[str, Check]:
    made = job(**tables)
    return {c.key: c for c in answered(asks(made), made.answer, on)}


def open_keys(on: date | None = ON, **tables: Any) -> set[str]:
    return {key for key, c in asked(on, **tables).items() if c.verdict is Verdict.ASK}


def test_nothing_said_is_everything_asked() -> None:
    assert open_keys() == {
        "building/slab",
        "building/anchors",
        "building/beam",
        "building/exit",
        "building/public",
        "building/paint",
        "building/wind",
    }


def test_everything_said_leaves_what_only_others_can_answer() -> None:
    assert open_keys(building=KNOWN) == {"building/anchors", "building/beam"}


@pytest.mark.parametrize(
    ("said", "key"),
    [
        ({"slab_tendons": "unknown"}, "building/slab"),
        ({"slab_tendons": "present"}, "building/slab"),
        ({"exit_route": "unknown"}, "building/exit"),
        ({"exit_route": "yes"}, "building/exit"),
        ({"fire_rated_wall": "unknown"}, "building/exit"),
        ({"fire_rated_wall": "yes"}, "building/exit"),
        ({"public": "unknown"}, "building/public"),
        ({"public": "yes"}, "building/public"),
        ({"paint": "unknown"}, "building/paint"),
        ({"paint": "old, red"}, "building/paint"),
        ({"powered": True}, "building/power"),
        ({"indoors": "unknown"}, "building/wind"),
        ({"indoors": "no"}, "building/wind"),
    ],
)
def test_what_is_unknown_or_amiss_is_asked(said: dict[str, Any], key: str) -> None:
    assert key in open_keys(building={**KNOWN, **said})
    assert key not in open_keys(building=KNOWN)


@pytest.mark.parametrize("paint", ["none", "new", "tested, no lead"])
def test_paint_without_lead_is_not_asked_about(paint: str) -> None:
    assert "building/paint" not in open_keys(building={**KNOWN, "paint": paint})


def test_what_a_leaf_hangs_from_is_always_asked() -> None:
    on_a_wall = open_keys(building=KNOWN, leaf=HINGES)
    assert on_a_wall == {"building/beam", "building/jambs"}
    post = {"section": "HSS 6 x 6 x 1/4", "height": "8 ft"}
    on_posts = open_keys(building=KNOWN, leaf=HINGES, post=post)
    assert on_posts == {"building/beam", "building/posts"}


def test_gate_in_the_open_is_asked_about_posts_and_wind_whether_thought_of_or_not() -> None:
    known = {**KNOWN, "indoors": "no"}
    tables: dict[str, Any] = {"building": known, "leaf": HINGES, "opening": {"head": False}}
    assert open_keys(**tables) == {"building/posts", "building/wind"}
    wind = {"standard": "ASCE 7", "speed": "105 mph"}
    found = asked(**tables, wind=wind)["building/wind"]
    assert found.verdict is Verdict.ASK
    assert found.source.document == "ASCE 7"
    assert "confirm the local wind speed" in found.change


def test_no_wind_given_says_what_is_proved_instead() -> None:
    found = asked(building={**KNOWN, "indoors": "unknown"})["building/wind"]
    assert found.verdict is Verdict.ASK
    assert found.change.endswith("only the push of air indoors")


def test_answer_closes_its_question_and_says_who_gave_it() -> None:
    found = asked(building=KNOWN, answer=[ANSWER])["building/beam"]
    assert found.verdict is Verdict.OK
    assert found.basis == "answered"
    assert found.change == "may be drilled in the web; moves 6 mm"
    assert str(found.source) == "letter of 3 April, an engineer, 2026-04-03"
    # It closes no other.
    assert open_keys(building=KNOWN, answer=[ANSWER]) == {"building/anchors"}


@pytest.mark.parametrize(
    ("until", "on", "closes"),
    [
        (None, ON, True),
        (None, None, True),
        (date(2026, 6, 1), ON, True),
        (ON, ON, True),
        (date(2026, 4, 30), ON, False),
        # Without a day to hold it against, what runs out must be taken as run out.
        (date(2099, 1, 1), None, False),
    ],
)
def test_answer_that_has_run_out_closes_nothing(
    until: date | None, on: date | None, closes: bool
) -> None:
    answer = {**ANSWER, **({"until": until} if until else {})}
    assert ("building/beam" not in open_keys(on, building=KNOWN, answer=[answer])) == closes


def test_newer_answer_stands_in_for_one_that_has_run_out() -> None:
    old = {**ANSWER, "until": date(2026, 4, 30)}
    new = {**ANSWER, "says": "still so", "on": date(2026, 4, 29)}
    found = asked(building=KNOWN, answer=[old, new])["building/beam"]
    assert found.change == "still so"


def test_open_question_says_what_to_bring_and_computes_nothing() -> None:
    for c in asked(building=KNOWN).values():
        assert c.verdict is Verdict.ASK
        assert c.change
        assert c.basis == "unknown"
        assert (c.demand, c.available, c.ratio) == (None, None, None)


@pytest.mark.parametrize(("on", "left"), [(date(2026, 5, 1), 1), (date(2026, 5, 2), 0), (None, 0)])
def test_proof_is_given_only_the_answers_that_have_not_run_out(on: date | None, left: int) -> None:
    made = job(answer=[{**ANSWER, "until": date(2026, 5, 1)}, {**ANSWER, "about": "building/wind"}])
    kept = in_force(made, on).answer
    assert [a.about for a in kept] == [*[ANSWER["about"]] * left, "building/wind"]
