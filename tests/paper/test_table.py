import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from leafwright.paper.inspect import defects
from leafwright.paper.layout import (
    BLANK,
    BLANK_MM,
    Cell,
    Column,
    Table,
    laid_table,
    row_heights,
    table_pages,
    widened,
)
from leafwright.paper.scene import Polyline, Primitive, Text
from tests.paper.samples import page
from tests.sizes import cases


def words_of(items: tuple[Primitive, ...]) -> list[str]:
    return [item.text for item in items if isinstance(item, Text)]


def table_of(rows: int, *, long: str = "brace") -> Table:
    return Table(
        (Column("Mark", 20.0), Column("Piece", 30.0), Column("Done", 15.0)),
        tuple((f"m{n}", long, Cell("", tick=bool(n % 2))) for n in range(rows)),
    )


@settings(max_examples=cases(25, 500), derandomize=True, deadline=None)
@given(
    texts=st.lists(st.text(alphabet="ab 1", max_size=60), max_size=40),
    first=st.floats(0.0, 120.0),
    later=st.floats(70.0, 200.0),
)
def test_pages_of_a_table_lose_no_row_and_repeat_none(
    texts: list[str], first: float, later: float
) -> None:
    columns = (Column("No", 15.0), Column("Words", 30.0))
    table = Table(columns, tuple((f"{n}", text) for n, text in enumerate(texts)))
    pages = table_pages(table, first_mm=first, later_mm=later)
    assert [row for part in pages for row in part.rows] == list(table.rows)
    for number, part in enumerate(pages):
        room = later if number else first
        laid = laid_table(part, left=0.0, top=room, bottom=0.0)
        assert laid.rest is None or not part.rows
        if part.rows:
            assert laid.bottom >= -1e-6


@settings(max_examples=cases(25, 500), derandomize=True, deadline=None)
@given(rows=st.integers(0, 30), room=st.floats(5.0, 150.0))
def test_rows_drawn_and_rows_left_over_are_all_the_rows(rows: int, room: float) -> None:
    table = table_of(rows)
    laid = laid_table(table, left=10.0, top=room, bottom=0.0)
    drawn = [word for word in words_of(laid.items) if word.startswith("m")]
    left = [row[0] for row in laid.rest.rows] if laid.rest else []
    assert drawn + left == [f"m{n}" for n in range(rows)]
    assert laid.bottom >= -1e-6 or not drawn


def test_the_header_is_on_every_page() -> None:
    pages = table_pages(table_of(30), first_mm=60.0, later_mm=100.0)
    assert len(pages) > 2
    for part in pages:
        laid = laid_table(part, left=10.0, top=150.0, bottom=10.0)
        assert words_of(laid.items)[:3] == ["Mark", "Piece", "Done"]
        assert defects(page(*laid.items)) == []


def test_a_row_taller_than_a_page_is_refused() -> None:
    table = Table((Column("Piece", 20.0),), (("word " * 60,),))
    with pytest.raises(ValueError, match=r"row 1 of the table \['Piece'\] is \d+ mm high"):
        table_pages(table, first_mm=30.0, later_mm=30.0)


def test_a_row_with_a_cell_too_few_is_refused() -> None:
    with pytest.raises(ValueError, match=r"row 2 .* has 1 cells for 2 columns"):
        Table((Column("A", 20.0), Column("B", 20.0)), (("1", "2"), ("1",)))


def test_a_wrapped_cell_makes_its_row_higher() -> None:
    short, tall = table_of(1), table_of(1, long="brace, lower half of the pair")
    assert row_heights(tall)[0] > row_heights(short)[0]
    assert widened(tall, 200.0).width == pytest.approx(200.0)
    assert row_heights(widened(tall, 200.0)) == row_heights(widened(short, 200.0))


def test_a_tick_is_drawn_only_where_done() -> None:
    laid = laid_table(table_of(2), left=10.0, top=100.0, bottom=10.0)
    shapes = [item for item in laid.items if isinstance(item, Polyline)]
    assert [shape.closed for shape in shapes] == [True, True, False]


def test_a_blank_is_a_box_to_write_into() -> None:
    table = Table((Column("Read", 40.0), Column("Is", 30.0)), (("width", BLANK),))
    laid = laid_table(table, left=10.0, top=100.0, bottom=20.0)
    (box,) = [i for i in laid.items if isinstance(i, Polyline)]
    xs, ys = [x for x, _ in box.points], [y for _, y in box.points]
    assert 50.0 < min(xs) < max(xs) < 80.0
    assert max(ys) - min(ys) >= BLANK_MM - 0.1
    assert min(ys) > laid.bottom


def test_a_column_may_have_larger_words_than_its_table() -> None:
    table = Table(
        (Column("Read", 40.0), Column("Should be", 40.0, height_mm=6.0)), (("width", "974 mm"),)
    )
    laid = laid_table(table, left=10.0, top=100.0, bottom=20.0)
    heights = {i.text: i.height_mm for i in laid.items if isinstance(i, Text)}
    assert (heights["width"], heights["974 mm"]) == (3.0, 6.0)
    assert row_heights(table)[0] > 6.0
