"""Which tools a hole takes, and what they are called at the rack: common practice, no source."""

from __future__ import annotations

import functools
from fractions import Fraction

from leafwright.handbook.threads import METRIC_COARSE, UNIFIED, nearest_drill, tap_drill
from leafwright.records import Metres
from leafwright.shop.holes.records import HoleTool
from leafwright.units.typed import mixed

_INCH = 0.0254

#: A plate from this thickness is cut with an annular cutter, from this diameter [m].
PLATE, CUTTER = 0.005, 0.0119
#: A step drill cuts walls up to this thickness [m], between these diameters.
STEP_WALL, STEP_FROM, STEP_TO = 0.0033, 0.0079, 0.0325
#: A hole saw in a tube's wall takes over from a twist drill here [m].
SAW_FROM = 0.01275


def size_words(metres: Metres, system: str) -> str:
    """Return a drilled size: by 64ths of an inch, or to a tenth of a millimetre."""
    if system == "metric":
        return f"{1000.0 * metres:.1f}".removesuffix(".0") + " mm"
    parts = metres / _INCH * 64.0
    if abs(parts - round(parts)) < 1e-6 and round(parts) > 0:
        return f"{mixed(Fraction(round(parts), 64)).replace(' ', '-')} in"
    return f"{metres / _INCH:.3f} in"


def up_to_size(metres: Metres, system: str) -> Metres:
    """Return the next drilled size up: by 16ths of an inch, or whole millimetres [m]."""
    step = 0.001 if system == "metric" else _INCH / 16.0
    return -(-(metres - 1e-7) // step) * step


@functools.cache
def cutters(diameter: Metres, wall: Metres, system: str, *, plate: bool) -> tuple[HoleTool, ...]:
    """Return what makes a round hole right through a wall or a plate.

    Args:
        diameter: of the hole [m].
        wall: that is cut [m].
        system: of the job.
        plate: whether it is flat plate that a magnetic drill can stand on.
    """
    words = size_words(diameter, system)
    if plate and wall >= PLATE and diameter >= CUTTER:
        return (HoleTool("annular cutter", words),)
    if not plate and wall <= STEP_WALL and STEP_FROM <= diameter <= STEP_TO:
        return (HoleTool("step drill", words),)
    if not plate and diameter >= SAW_FROM:
        pilot = 0.006 if system == "metric" else _INCH / 4.0
        return (HoleTool("twist drill", size_words(pilot, system)), HoleTool("hole saw", words))
    return (HoleTool("twist drill", _drill_name(diameter, system)),)


@functools.cache
def _drill_name(diameter: Metres, system: str) -> str:
    family = "millimetre" if system == "metric" else "inch"
    try:
        drill = nearest_drill(diameter, family=family)  # type: ignore[arg-type]
    except ValueError:
        return size_words(diameter, system)
    if abs(drill.diameter - diameter) < 1e-5 or drill.name[-1].isdigit():
        return drill.name
    return size_words(diameter, system)


def thread_of(words: str) -> tuple[Metres, Metres] | None:
    """Return diameter and pitch of a thread as it is called, None where it is not one [m].

    Read are ``1/4-28``, ``#10-32``, ``M6`` and ``M6 x 0.75``.
    """
    text = words.strip().lower().replace("×", "x").removesuffix("in").strip()
    size, dash, pitch = text.partition("-")
    if dash and size in UNIFIED and pitch.isdigit() and int(pitch) > 0:
        number = size.removeprefix("#")
        across = 0.060 + 0.013 * int(number) if size.startswith("#") else float(Fraction(number))
        return across * _INCH, _INCH / int(pitch)
    if text.startswith("m"):
        across_mm, _, fine = text[1:].partition("x")
        try:
            d = float(across_mm)
            p = float(fine) if fine.strip() else METRIC_COARSE.get(int(d), 0.0)
        except ValueError:
            return None
        if d > 0.0 and p > 0.0:
            return d / 1000.0, p / 1000.0
    return None


@functools.cache
def tapped(words: str) -> tuple[Metres, HoleTool, HoleTool] | None:
    """Return what a tapped hole takes: the drill's diameter [m], the drill, the tap.

    The drill is the nearest to 75 % of thread. None where the thread is not read.
    """
    thread = thread_of(words)
    if thread is None:
        return None
    d, pitch = thread
    try:
        found = tap_drill(
            d, pitch, family="millimetre" if words.lower().startswith("m") else "inch"
        )
    except ValueError:
        return None
    return (
        found.drill.diameter,
        HoleTool("twist drill", found.drill.name),
        HoleTool("tap", words.strip()),
    )
