"""Readings of built and hung leaves for the example jobs, as a maker would write them."""

from __future__ import annotations

from pathlib import Path

EXAMPLES = Path(__file__).parents[3] / "examples"


def text_of(name: str) -> str:
    return (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")


def _table(name: str, **fields: str) -> str:
    lines = "".join(f'{key} = "{value}"\n' for key, value in fields.items())
    return f"\n[[{name}]]\n{lines}"


def _distance(leaf: str, start: str, end: str, size: str, stage: str) -> str:
    both = {"from": start, "to": end, "is": size}
    return _table("fit_up", kind="distance", leaf=leaf, stage=stage, **both)


def pad(leaf: str, sizes: tuple[str, ...], high: str, *, stage: str = "tacked") -> str:
    """Return the pad's readings: two diagonals, widths at bottom and top, heights, string."""
    ends = (
        ("bottom hinge", "top closing"),
        ("bottom closing", "top hinge"),
        ("bottom hinge", "bottom closing"),
        ("top hinge", "top closing"),
        ("bottom hinge", "top hinge"),
        ("bottom closing", "top closing"),
    )
    text = "".join(
        _distance(leaf, a, b, size, stage) for (a, b), size in zip(ends, sizes, strict=True)
    )
    zero = high.replace(high.split()[0], "0", 1)
    string = {"is": high}
    text += _table(
        "fit_up", kind="string", leaf=leaf, stage=stage, at="hinge@mid", toward="inward", **string
    )
    for corner in ("bottom hinge", "bottom closing", "top hinge", "top closing"):
        height = {"is": high if corner == "top closing" else zero}
        text += _table("fit_up", kind="height", leaf=leaf, stage=stage, at=corner, **height)
    return text


def floor(leaf: str, heights: tuple[str, ...]) -> str:
    """Return levels of the floor under six stands."""
    places = [(x, y) for y in ("6 in", "82 in", "158 in") for x in ("6 in", "53 in")]
    return "".join(
        _table("fit_up", kind="height", leaf=leaf, x=x, y=y, **{"is": height})
        for (x, y), height in zip(places, heights, strict=True)
    )


def gap(leaf: str, where: str, at: str, size: str, **more: str) -> str:
    return _table("hung", kind="gap", leaf=leaf, where=where, at=at, **{"is": size}, **more)


def plumb(leaf: str, direction: str, over: str, size: str, toward: str) -> str:
    return _table(
        "hung",
        kind="plumb",
        leaf=leaf,
        direction=direction,
        over=over,
        toward=toward,
        **{"is": size},
    )


def boathouse_read() -> str:
    """Return the boathouse with its left leaf read on the pad, and hung a little out of place."""
    text = text_of("boathouse")
    text += pad(
        "left",
        ("14'-7 3/8", "14'-7 1/16", "4'-10 15/16", "4'-10 15/16", "13'-9", "13'-9"),
        "3/16 in",
    )
    text += floor("left", ("0 in", "-3/16 in", "1/8 in", "-1/4 in", "1/16 in", "-1/16 in"))
    text += gap("left", "heel", "8 in", "1 1/4 in") + gap("left", "heel", "156 in", "1 1/4 in")
    text += gap("left", "floor", "3 in", "1 1/16 in") + gap("left", "floor", "56 in", "15/16 in")
    text += gap("left", "floor", "56 in", "15/16 in", angle="90 deg", swing="toward")
    text += plumb("left", "in the wall", "160 in", "1/8 in", "right")
    text += plumb("left", "through the wall", "160 in", "3/16 in", "viewer")
    return text


def boathouse_welded() -> str:
    """Return the boathouse with its left leaf welded, a little too wide."""
    wide = "4'-11 1/16"
    sizes = ("14'-7 3/16", "14'-7 3/16", wide, wide, "13'-9", "13'-9")
    return boathouse_read() + pad("left", sizes, "0 in", stage="welded")


def kiln_read() -> str:
    """Return the kiln shed with its leaf read on the pad and hung."""
    text = text_of("kiln-shed")
    sizes = ("2477 mm", "2471 mm", "974 mm", "974 mm", "2274 mm", "2274 mm")
    text += pad("left", sizes, "4 mm")
    text += gap("left", "heel", "100 mm", "12 mm") + gap("left", "heel", "2170 mm", "15 mm")
    text += gap("left", "floor", "50 mm", "24 mm") + gap("left", "floor", "920 mm", "25 mm")
    return text


def yard_read() -> str:
    """Return the yard gate with its right leaf hung."""
    text = text_of("yard-gate")
    text += gap("right", "heel", "6 in", "3 1/2 in") + gap("right", "heel", "70 in", "3 3/8 in")
    text += gap("right", "floor", "6 in", "4 in") + gap("right", "floor", "110 in", "1 1/2 in")
    return text


def too_low() -> str:
    """Return the boathouse with the leaves so near the head that none can be lifted on."""
    text = text_of("boathouse")
    text = text.replace('leaf_height = "13\'-9"', 'leaf_height = "13\'-9"\ntop_gap = "1/4 in"')
    return text + '\n[site]\nlift = "by hand"\npeople = 2\n'


def one_reading() -> str:
    """Return the boathouse of which only the width along the bottom was read."""
    text = text_of("boathouse")
    start, end = text.index("[[reading]]"), text.index("[opening]")
    width = _table("reading", kind="distance", **{"from": "BL", "to": "BR", "is": "10'-6 11/16"})
    return f"{text[:start]}{width}\n{text[end:]}"


JOBS = {
    "boathouse": lambda: text_of("boathouse"),
    "kiln-shed": lambda: text_of("kiln-shed"),
    "yard-gate": lambda: text_of("yard-gate"),
    "boathouse read": boathouse_read,
    "boathouse welded": boathouse_welded,
    "kiln shed read": kiln_read,
    "yard gate read": yard_read,
    "too low": too_low,
    "one reading": one_reading,
}
