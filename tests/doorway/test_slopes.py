"""Every size of a doorway rests on bases with a note, and follows each as its slopes say.

Each base is moved where the maker (or the table of defaults) would move it, survey and doorway are
made again, and every quantity must have changed by its slope. A base that nothing here can move
fails the test, and so does a move that changes what does not name it. What is cut or set no longer
follows: a plan made again would cut it anew, so that it is held at its figure instead.
"""

from __future__ import annotations

import copy
import dataclasses
import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Any

import pytest

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.doorway import Doorway, allowances, doorway
from leafwright.job.defaults import DEFAULTS
from leafwright.job.model import Job
from leafwright.job.steel import steel
from leafwright.survey import Survey
from leafwright.survey.adjust import adjust
from leafwright.survey.observe import observations, starting_places
from tests.doorway.doorways import TUBE, leaf, pair, random_wishes
from tests.doorway.test_across import wide_marks
from tests.sizes import cases
from tests.survey.openings import floor, inches, mm, shifted, true_readings

STEP = 2e-5
SYSTEMS = ["metric", "feet-inch"]

#: The maker's own tubes, so that a size of the table can be moved.
OWN = [
    {
        "name": name,
        "shape": "rectangular tube",
        "width": width,
        "wall": "3 mm",
        "grade": "A36",
    }
    for name, width in (("frame tube", "50 mm"), ("post tube", "60 mm"), ("head tube", "70 mm"))
]


@dataclass(frozen=True)
class Moved:
    """A job as a plain table, with what is moved that no job file can move [m]."""

    table: dict[str, Any]
    observed: str = ""
    default: str = ""
    drop: float = 0.0005
    shift: float = 0.003
    by: float = 0.0


def run(moved: Moved, patch: pytest.MonkeyPatch) -> Doorway:
    with patch.context() as inner:
        if moved.default:
            rule = DEFAULTS[moved.default]
            other = replace(rule, inch=rule.inch + moved.by, metric=rule.metric + moved.by)
            inner.setitem(DEFAULTS, moved.default, other)
        job = Job.model_validate(moved.table)
        everything, _ = observations(job)
        seen = [shifted(s, moved.by) if s.key == moved.observed else s for s in everything]
        found = adjust(seen, starting_places(job, everything))
        assert isinstance(found, Survey), found
        made = doorway(job, found, steel(job), allowances(moved.drop, moved.shift, "made up"))
        assert isinstance(made, Doorway), made
        return made


def held_in(value: object) -> Iterator[Quantity]:
    """Yield every quantity anywhere in a record."""
    if isinstance(value, Quantity):
        yield value
    elif isinstance(value, tuple):
        for part in value:
            yield from held_in(part)
    elif dataclasses.is_dataclass(value):
        for field in dataclasses.fields(value):
            yield from held_in(getattr(value, field.name))


def all_quantities(made: Doorway) -> dict[str, Quantity]:
    """Return every quantity by its key; two of one key must be the same."""
    found: dict[str, Quantity] = {}
    seen: set[int] = set()
    waiting = list(held_in(made))
    while waiting:
        quantity = waiting.pop()
        if id(quantity) in seen:
            continue
        seen.add(id(quantity))
        same = found.setdefault(quantity.key, quantity)
        assert same.value == quantity.value, quantity.key
        assert same.slopes == quantity.slopes, quantity.key
        waiting += quantity.inputs
    return found


def spot(table: dict[str, Any], key: str) -> list[tuple[Any, Any]]:
    """Return where in the job's table a wish or a size of a section stands: holder and key."""
    start, _, word = key.partition("/")
    room = table["doorway"]
    leaves = {one["hand"]: one for one in table["leaf"]}
    if start == "leaf":
        leaves["leaf"] = table["leaf"][0]
    if start in ("doorway", "table"):
        places: dict[str, tuple[Any, Any]] = {
            "jamb shim": (room.get("jamb"), "shim"),
            "transom shim": (room.get("transom"), "shim"),
            "jamb post": (table["section"][1], "width"),
            "transom": (table["section"][2], "width"),
            "survey temperature": (table["opening"], "survey_temperature"),
            "hottest": (table["building"], "greatest_temperature"),
        }
        return [places.get(word, (room, word.replace(" ", "_")))]
    one = leaves[start]
    if word in ("stile", "frame depth"):
        return [(table["section"][0], "width")]
    if word.startswith("infill"):
        return [(one["infill"][0], "thickness")]
    if word == "plate":
        return [(one["mount"]["plate"], "thickness")]
    word = {"pin clearance": "clearance"}.get(word, word.replace(" ", "_"))
    return [(one if word == "width" else one["mount"], word)]


def knobs(table: dict[str, Any], bases: dict[str, Quantity]) -> dict[str, set[str]]:
    """Return what can be moved, each with the keys of the bases that move with it."""
    found: dict[str, set[str]] = {}
    for key, quantity in bases.items():
        if quantity.kind == "default" and not key.startswith("assumed/"):
            name = f"default {quantity.name}"
        elif quantity.kind in ("wish", "table") and not key.startswith("allowance/"):
            holder, word = spot(table, key)[0]
            name = f"place {id(holder)} {word}"
        else:
            name = key
        found.setdefault(name, set()).add(key)
    return found


def move(table: dict[str, Any], key: str, quantity: Quantity, by: float) -> Moved:
    if key.startswith("allowance/"):
        start = Moved(table)
        if key == "allowance/nose drop":
            return replace(start, drop=start.drop + by)
        return replace(start, shift=start.shift + by)
    if quantity.kind == "reading" or key.startswith("assumed/"):
        return Moved(table, observed=key, by=by)
    if quantity.kind == "default":
        return Moved(table, default=quantity.name.removeprefix("usual "), by=by)
    other = copy.deepcopy(table)
    holder, word = spot(other, key)[0]
    if holder[word].endswith(" C"):
        holder[word] = f"{float(holder[word].removesuffix(' C')) + by:.9f} C"
    else:
        holder[word] = mm(metres(holder[word]) + by)
    return Moved(other)


def metres(text: str) -> float:
    number, unit = text.split()
    return float(number) * {"mm": 0.001, "m": 1.0, "in": 0.0254}[unit]


def gap_as_hung(here: dict[str, Quantity]) -> str:
    (key,) = (key for key in here if key.endswith(" as hung") and "top" not in key)
    return key


def with_cut_steel(
    here: dict[str, Quantity], leaves: int, there: dict[str, Quantity]
) -> dict[str, float]:
    """Return what rests on steel cut and set by one plan, in the opening of another [m]."""
    widths = {key: q.value for key, q in here.items() if key.endswith("/width as cut")}
    assert len(widths) == leaves
    bottom = here["doorway/bottom as set"].value
    between = there["doorway/between heels"].value - sum(widths.values())
    side = here["doorway/side space"].value if "doorway/side space" in here else 0.0
    drop = there["allowance/nose drop"].value
    over = {}
    if "doorway/top gap as hung" in here:
        high = here["doorway/leaf height as cut"].value
        over = {
            "doorway/leaf height as cut": high,
            "doorway/top gap as hung": there["doorway/head"].value - bottom - high,
        }
    return {
        **widths,
        **over,
        "doorway/bottom as set": bottom,
        "doorway/between cut leaves": between,
        gap_as_hung(here): between - side,
        "doorway/floor clearance": bottom - there["doorway/highest floor"].value - drop,
        "doorway/deepest gap": bottom - there["doorway/lowest floor"].value,
    }


def follows(table: dict[str, Any], patch: pytest.MonkeyPatch) -> Doorway:
    """Check every slope of a job's doorway, and return it."""
    made = run(Moved(table), patch)
    here = all_quantities(made)
    bases = {key: q for key, q in here.items() if q.kind not in ("derived", "made")}
    for key, quantity in bases.items():
        assert quantity.kind in ("reading", "wish", "default", "table")
        assert quantity.note, key
        assert quantity.inputs == ()
    for quantity in here.values():
        known = {slope.base for slope in quantity.slopes}
        assert known <= set(bases), quantity.key
    cut = {key for key, q in here.items() if any(b.kind == "made" for b in chain.walked(q))}
    for key, was in with_cut_steel(here, len(made.leaves), here).items():
        assert here[key].value == pytest.approx(was, abs=1e-12), key
    for quantity in here.values():
        if quantity.kind == "made":
            assert quantity.slopes == ()
            assert [q.value for q in quantity.inputs] == [quantity.value]
        # What fills the sides is cut too: nothing that is planned rests on it.
        if "doorway/side space" in {slope.base for slope in quantity.slopes}:
            assert quantity.key in cut | {"doorway/side space"}
    origin = {key for key in bases if key.startswith("survey/BL/")}
    movable = {key: q for key, q in bases.items() if key not in origin | {"doorway/side space"}}
    assert movable
    for keys in knobs(table, movable).values():
        one = min(keys)
        ends = [
            all_quantities(run(move(table, one, bases[one], by), patch)) for by in (STEP, -STEP)
        ]
        held = [with_cut_steel(here, len(made.leaves), end) for end in ends]
        assert set(held[0]) == cut
        for key, quantity in here.items():
            if key == "doorway/side space":
                continue
            up, down = (
                (held[0][key], held[1][key])
                if key in cut
                else (ends[0][key].value, ends[1][key].value)
            )
            change = (up - down) / (2 * STEP)
            slope = sum(s.by for s in quantity.slopes if s.base in keys)
            assert change == pytest.approx(slope, abs=5e-4), (key, keys)
    return made


def table_of(
    readings: list[dict[str, Any]],
    leaves: list[dict[str, Any]],
    wishes: dict[str, Any],
    system: str,
) -> dict[str, Any]:
    write: Callable[[float], str] = mm if system == "metric" else inches
    for reading in readings:
        reading["is"] = write(metres(reading["is"]))
    for one in leaves:
        one["frame"] = "frame tube"
        if "sleeve_bore" in one["mount"]:
            one["mount"] = {**one["mount"], "sleeve_bore": "20.5 mm"}
    for name, section in (("jamb", "post tube"), ("transom", "head tube")):
        if "section" in wishes.get(name, {}):
            wishes[name]["section"] = section
    return copy.deepcopy(
        {
            "leafwright": 1,
            "job": {"name": "a test", "seen_from": "yard side", "system": system},
            "reading": readings,
            "section": OWN,
            "doorway": wishes,
            "leaf": leaves,
            "opening": {"survey_temperature": "15 C"},
            "building": {"greatest_temperature": "45 C"},
        }
    )


@pytest.mark.parametrize("system", SYSTEMS)
def test_every_size_follows_every_base(system: str, monkeypatch: pytest.MonkeyPatch) -> None:
    rng = random.Random(81)
    for _ in range(cases(2, 50)):
        marks = wide_marks(rng)
        readings = true_readings(marks, up="1000 mm")
        readings += [floor(hand, rng.uniform(-0.02, 0.03)) for hand in ("left", "right")]
        leaves, wishes = random_wishes(rng)
        for one in leaves:
            if rng.random() < 0.5:
                plate = {"thickness": "15 mm", "width": "80 mm", "length": "120 mm"}
                one["mount"]["plate"] = plate
        follows(table_of(readings, leaves, wishes, system), monkeypatch)


@pytest.mark.parametrize("system", SYSTEMS)
def test_side_fillers_follow_every_base(system: str, monkeypatch: pytest.MonkeyPatch) -> None:
    marks = wide_marks(random.Random(82))
    width = (marks["BR"][0] - 0.3) / 2
    leaves = list(pair({"width": mm(width)}, {"width": mm(width - 0.1)}))
    made = follows(
        table_of(true_readings(marks), leaves, {"leaves": "unequal pair"}, system), monkeypatch
    )
    assert [p.key for p in made.posts] == ["left/side filler", "right/side filler"]


@pytest.mark.parametrize("system", SYSTEMS)
def test_wishes_that_leave_nothing_to_solve_follow_every_base(
    system: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    marks = wide_marks(random.Random(83))
    wishes = {
        "leaves": "pair",
        "jamb": {"section": TUBE, "shim": "10 mm"},
        "transom": {"section": TUBE},
        "heel_gap": "30 mm",
        "meeting_gap": "8 mm",
        "leaf_height": "1.6 m",
    }
    # Of two widths, so that it is plain whose nose reaches farther.
    leaves = list(pair({"width": "0.5 m"}, {"width": "0.52 m"}))
    follows(table_of(true_readings(marks), leaves, wishes, system), monkeypatch)


@pytest.mark.parametrize("system", SYSTEMS)
def test_leaves_on_barrel_hinges_follow_every_base(
    system: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    marks = wide_marks(random.Random(84))
    mount = {"kind": "barrel hinge", "standoff": "80 mm", "heights": ["200 mm", "1 m"]}
    leaves = list(pair({"mount": mount}, {"mount": mount, "swing": "away"}))
    readings = [*true_readings(marks), floor("left", 0.05)]
    made = follows(table_of(readings, leaves, {"leaves": "pair"}, system), monkeypatch)
    # The standoff is one wish, which the heel gap and the axis both rest on.
    by = {s.base: s.by for s in made.clear_opening.slopes}
    assert by["left/standoff"] == pytest.approx(-0.5)


def test_one_wish_of_a_heel_gap_moves_both_leaves(monkeypatch: pytest.MonkeyPatch) -> None:
    marks = wide_marks(random.Random(85))
    wishes = {"leaves": "pair", "heel_gap": "30 mm"}
    table = table_of(true_readings(marks), list(pair()), wishes, "metric")
    made = follows(table, monkeypatch)
    by = {s.base: s.by for s in made.leaves[0].width.slopes}
    # The nose's growth follows the width a little.
    assert by["doorway/heel gap"] == pytest.approx(-1.0, abs=1e-3)


@pytest.mark.parametrize("count", [1, 2])
def test_a_wrong_reading_moves_the_opening_and_not_the_cut_leaf(
    count: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    marks = wide_marks(random.Random(88))
    readings = [*true_readings(marks), floor("left", 0.02), floor("right", 0.01)]
    wishes = {"leaves": "single" if count == 1 else "pair"}
    table = table_of(readings, list(pair())[:count], wishes, "metric")
    before = run(Moved(table), monkeypatch)
    here = all_quantities(before)
    hung, clear = here[gap_as_hung(here)], here["doorway/floor clearance"]
    leaves = sum(place.width.value for place in before.leaves)
    bottom = before.leaves[0].bottom.value
    of_width = {s.base: s.by for s in before.width.slopes}
    moved_width = moved_floor = 0
    for key in [key for key, q in here.items() if q.kind == "reading"]:
        after = [run(Moved(table, observed=key, by=by), monkeypatch) for by in (STEP, -STEP)]
        gaps = [a.width.value - sum(p.heel_gap.value for p in a.leaves) - leaves for a in after]
        by = sum(s.by for s in hung.slopes if s.base == key)
        assert (gaps[0] - gaps[1]) / (2 * STEP) == pytest.approx(by, abs=5e-4), key
        # It is the opening's own slope, whole.
        assert by == pytest.approx(of_width.get(key, 0.0), abs=1e-9), key
        moved_width += abs(by) > 0.1
        over = [bottom - all_quantities(a)["doorway/highest floor"].value for a in after]
        by = sum(s.by for s in clear.slopes if s.base == key)
        assert (over[0] - over[1]) / (2 * STEP) == pytest.approx(by, abs=5e-4), key
        moved_floor += abs(by) > 0.1
    assert moved_width > 0
    assert moved_floor > 0


def test_the_sureness_of_a_leaf_is_less_than_its_opening_s() -> None:
    # Each of two leaves takes half of the width's error.
    marks = wide_marks(random.Random(86))
    table = table_of(true_readings(marks), list(pair()), {"leaves": "pair"}, "metric")
    made = run(Moved(table, shift=0.0), pytest.MonkeyPatch())
    for place in made.leaves:
        # The wider a leaf, the more it grows by heat: by a few ten-thousandths of its width.
        assert place.width.sd == pytest.approx(made.width.sd / 2, rel=1e-3)
        shared = chain.covariance(place.width, made.width)
        assert shared == pytest.approx(made.width.sd**2 / 2, rel=1e-3)
    assert made.gaps[0].sd == 0.0


def test_a_single_leaf_takes_all_of_the_error() -> None:
    marks = wide_marks(random.Random(87))
    table = table_of(true_readings(marks), [leaf()], {"leaves": "single"}, "metric")
    made = run(Moved(table, shift=0.0), pytest.MonkeyPatch())
    assert made.leaves[0].width.sd == pytest.approx(made.width.sd, rel=1e-3)


def test_heat_and_play_that_are_not_said_follow_their_defaults(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    marks = wide_marks(random.Random(88))
    table = table_of(true_readings(marks), list(pair()), {"leaves": "pair"}, "metric")
    table["building"] = {}
    table["leaf"][0]["mount"] = {"kind": "floor pivot"}
    made = follows(table, monkeypatch)
    names = {q.name for q in all_quantities(made).values() if q.kind == "default"}
    assert {"heat over survey", "pin play"} <= names
