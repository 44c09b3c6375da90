import pytest

from leafwright.paper.inspect import defects
from leafwright.paper.layout import Caution, caution_box
from leafwright.paper.scene import Fill, Polyline
from tests.paper.samples import page


@pytest.mark.parametrize("kind", ["caution", "stop"])
def test_a_caution_holds_its_words(kind: str) -> None:
    caution = Caution("Lifting", "A strap until both pins are in. " * 4, kind=kind)  # type: ignore[arg-type]
    laid = caution_box(caution, left=10.0, top=150.0, width=70.0)
    border = laid.items[0]
    assert isinstance(border, Polyline)
    assert border.layer == "border"
    assert min(y for _, y in border.points) == laid.bottom
    assert defects(page(*laid.items)) == []
    assert caution_box(caution, left=10.0, top=150.0, width=70.0, least_height=90.0).bottom == 60.0
    assert any(isinstance(item, Fill) for item in laid.items)
