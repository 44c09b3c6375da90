"""Words set clear of one another: numbers at the joints of a leaf, as crowded as they come."""

from __future__ import annotations

import random

from leafwright.paper.clear import is_clear, laid_out, other_reaches, set_clear
from leafwright.paper.drawing import Drawing, DrawingItem, Leader, Symbol
from leafwright.paper.scale import Scale
from leafwright.paper.scene import Line, Text
from tests.sizes import cases

TENTH = Scale(10, "1:10")


def label(x: float, words: str = "12–15") -> Symbol:
    return Symbol((x, 0.0), (Text((0.0, 0.0), words, height_mm=3.0, anchor="centre-middle"),))


def test_the_first_place_is_kept_where_nothing_is_near() -> None:
    assert set_clear((), [[label(0.0), label(1.0)]], TENTH) == (label(0.0),)


def test_words_give_way_to_words_before_them() -> None:
    found = set_clear((label(0.0),), [[label(0.01), label(0.5)]], TENTH)
    assert found == (label(0.5),)


def test_words_keep_off_heavy_lines_and_not_off_thin_steel() -> None:
    heavy, thin = (Line((0.0, -1.0), (0.0, 1.0), layer) for layer in ("cut", "thin"))
    assert set_clear((heavy,), [[label(0.0), label(0.5)]], TENTH) == (label(0.5),)
    assert set_clear((thin,), [[label(0.0), label(0.5)]], TENTH) == (label(0.0),)


def test_where_there_is_no_room_the_least_of_evils_is_taken() -> None:
    taken = (label(0.0), label(0.5), label(0.52))
    assert set_clear(taken, [[label(0.51), label(0.0)]], TENTH) == (label(0.0),)


def test_crowded_joints_come_apart() -> None:
    for seed in range(cases(5, 100)):
        rng = random.Random(seed)
        leaders = [
            Leader((rng.uniform(0.0, 1.2), rng.uniform(0.0, 1.6)), (9.0, 5.0), f"{n}, {n + 4}")
            for n in range(16)
        ]
        choices = [[one, *other_reaches(one)] for one in leaders]
        found = set_clear((), choices, TENTH)
        assert is_clear(found, TENTH), seed
        assert [one.at for one in found if isinstance(one, Leader)] == [one.at for one in leaders]


def test_a_layout_is_that_of_the_scale_it_comes_out_at() -> None:
    def lay(scale: Scale) -> Drawing:
        items: tuple[DrawingItem, ...] = (label(0.0), label(0.2), label(float(scale.ratio)))
        return Drawing(items)

    asked: list[int] = []

    def scale_of(drawing: Drawing) -> Scale:
        last = drawing.items[-1]
        assert isinstance(last, Symbol)
        asked.append(int(last.at[0]))
        return Scale(20, "1:20")

    made = laid_out(lay, scale_of, TENTH)
    assert made.items[-1] == label(20.0)
    assert asked == [10, 20]
