"""A plan in the maker's words: lengths as the tape shows them, checks as sentences.

The command line, the paper and the page all say things through here, so that they say them alike.
Nothing is computed here but the rounding of what is shown.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from leafwright import units
from leafwright.chain import Quantity
from leafwright.job.model import Job
from leafwright.job.tape import tape_of
from leafwright.proof import BraceForce
from leafwright.records import Check, Verdict
from leafwright.shop.cut_list import CutEnd, CutItem, NotchCut
from leafwright.shop.holes.records import Hole
from leafwright.shop.holes.tools import size_words
from leafwright.shop.saws import SawCut, Tool
from leafwright.shop.wraps import Wrap
from leafwright.units import Tape

VERDICTS = {
    Verdict.SHORT: "SHORT",
    Verdict.TIGHT: "tight",
    Verdict.ASK: "ASK",
    Verdict.OK: "ok",
}

_DIRECTIONS = {"toward": "toward you", "away": "away from you", "both": "both ways"}


@dataclass(frozen=True, slots=True)
class Words:
    """How one job's numbers are written: its tape and its unit family."""

    tape: Tape
    system: Literal["feet-inch", "mm"]

    def length(self, value: Quantity | float) -> str:
        """Return a length as the tape shows it, rounded once; no line breaks inside it."""
        size = value.value if isinstance(value, Quantity) else value
        return units.show_length(size, self.tape).replace(" ", "\u00a0")

    def length_up(self, value: Quantity | float) -> str:
        """Return a length that must not be less, at the next mark of the tape up."""
        size = value.value if isinstance(value, Quantity) else value
        step = float(self.tape.step)
        return self.length(math.ceil(size / step - 1e-6) * step)

    def small(self, value: Quantity | float) -> str:
        """Return a small movement: thousandths of an inch, or hundredths of a millimetre."""
        size = value.value if isinstance(value, Quantity) else value
        inch = self.system == "feet-inch"
        shown = f"{size / 0.0254:.3f}" if inch else f"{1000 * size:.2f}"
        if float(shown) == 0.0:
            shown = "0"
        return f"{shown} in" if inch else f"{shown} mm"

    def near(self, value: float) -> str:
        """Return how much something is off, as it is said on the floor: in marks, or under which.

        Under one mark of the tape nobody reads figures: "under 1/64" of an inch, "under 0.5 mm".
        """
        size, step = abs(value), float(self.tape.step)
        if size >= step - 1e-9:
            return self.length(size)
        inch = self.system == "feet-inch"
        fine = Tape("inch", 64) if inch else None
        halves = [step / 4, step / 2, step] if inch else [step / 2, step]
        least = next(half for half in halves if size < half)
        shown = units.show_length(least, fine) if fine else f"{1000 * least:g} mm"
        return f"under {shown}".replace(" ", "\u00a0")

    def thin(self, value: float) -> str:
        """Return what a blade takes or a weld pulls in: as a fraction where it is one."""
        if self.system == "mm":
            return f"{1000 * value:g}\u00a0mm"
        fine = Tape("inch", 64)
        if abs(float(units.rounded_to_tape(value, fine)) - value) < 0.0005 * 0.0254:
            return units.show_length(value, fine).replace(" ", "\u00a0")
        return self.small(value)

    def sure(self, value: Quantity) -> str:
        """Return a length with its 95 % band, where the readings leave one that a tape shows."""
        if value.band < 1e-6:
            return self.length(value)
        half = self.tape.step / 2
        if value.band < float(half):
            return f"{self.length(value)} ± under {units.show_length(self.tape.step, self.tape)}"
        return f"{self.length(value)} ± {self.length(value.band)}"

    def mass(self, kilograms: float) -> str:
        """Return a mass in pounds or kilograms."""
        return units.show_mass(kilograms, self.system)

    def force(self, newtons: float) -> str:
        """Return a force in pounds-force or newtons."""
        if abs(newtons) < 0.5:
            return "0"
        return units.show_force(newtons, self.system)

    def amount(self, value: float, unit: str) -> str:
        """Return a check's demand or available amount in the maker's units."""
        if unit == "m":
            return self.small(value) if abs(value) < 0.02 else self.length(value)
        if unit == "N":
            return self.force(value)
        if units.measure_of(unit) is not None and unit != "1":
            customary, metric = units.show_both(value, unit)
            return customary if self.system == "feet-inch" else metric
        return f"{value:.2f}" if abs(value) < 10 else f"{value:.0f}"


def words_of(job: Job) -> Words:
    """Return how a job's numbers are written."""
    tape = tape_of(job)
    return Words(tape, "mm" if tape.system == "mm" else "feet-inch")


def check_line(check: Check, words: Words) -> str:
    """Return a check in one sentence, without its verdict."""
    text = f"{check.subject}: {check.question}"
    if check.demand is not None and check.available is not None and check.verdict != Verdict.ASK:
        demand = words.amount(check.demand, check.unit)
        available = words.amount(check.available, check.unit)
        text += f" – {demand} of {available}"
        over = check.demand - check.available
        if demand == available and check.unit == "m" and over > 0.0:
            # The tape does not show what is missing: say it, or it reads as enough.
            text += f", {words.small(over)} too much"
    if check.case:
        text += f" ({check.case})"
    return text


def check_source(check: Check) -> str:
    """Return where a check's rule stands, with what it was worked by."""
    source = str(check.source)
    return f"{source} ({check.basis})" if check.basis else source


def brace_words(force: BraceForce, words: Words) -> str:
    """Return a brace's force as pulled or pressed, never by sign alone."""
    if force.slack:
        return "slack"
    if abs(force.middle) < 0.5:
        return "nothing"
    return f"{'pulled' if force.middle > 0 else 'pressed'} {words.force(abs(force.middle))}"


def end_words(end: CutEnd) -> str:
    """Return how an end is cut, angles from square as the saw reads them."""
    if end.coped is not None:
        between = units.show_angle(end.coped.angle)
        return f"coped to the round tube, {between} between the two, long points on face and back"
    angles = [units.show_angle(a) for a in end.angles]
    if len(angles) == 1:
        if end.angles[0] < 1e-9:
            return "square"
        return f"{angles[0]} from square" if end.sawn else f"mark by offsets ({angles[0]})"
    by_hand = any(cut.way in ("by hand", "none") for cut in end.cuts)
    marked = ": mark by offsets" if by_hand or not end.cuts else ""
    nose = ", its nose cut back" if len(angles) > 2 else ""
    return f"pointed, {angles[0]} at the lower edge, {angles[-1]} at the upper{nose}{marked}"


#: How a piece lies on the saw, for every setting that is told.
LIES = (
    "Every setting is from square, where the saw reads 0; a scale that reads 90 at square shows "
    "90 less it. Stand before the fence, the piece as drawn: drawn side up, its upper edge at the "
    "fence. Swung left, the near end of the blade goes to your left. A stop is measured from where "
    "the other end's long point touches it, squared across, to the side of the blade that keeps "
    "the piece; cut a first piece long and try it."
)
#: How a cut is marked and made where no saw serves.
BY_HAND = (
    "By hand: mark both points on the drawn face, square them over the edges with a try square and "
    "set out the same two points on the back; join them with a straightedge on both faces. The "
    "joined line must come out as long as is told, on both; then the marks are right. Cut from "
    "both faces with the line left on, and dress back to it."
)
#: The caution of a cut made in a jig square to the fence.
JIG = (
    "In a jig square to the fence the blade can pull the piece: clamp it in two places, feed "
    "slowly, keep hands behind the clamp, and only in a saw whose maker allows it."
)


def mark_words(mark: tuple[float, float], width: float, words: Words) -> str:
    """Return where a mark of an end lies: at which edge, and how far back from the long point."""
    across, back = mark
    if across < 1e-9:
        place = "the lower edge"
    elif across > width - 1e-9:
        place = "the upper edge"
    else:
        place = f"{words.length(across)} up from the lower edge"
    if back < 1e-9:
        return f"{place}, at the long point"
    return f"{place}, {words.length(back)} back"


def saw_words(cut: SawCut) -> str:
    """Return by what a cut is made and how that is set, in short."""
    if cut.way == "none":
        return f"no saw here ({cut.why})"
    if cut.way == "by hand":
        return f"{cut.tool}, by hand to the marks"
    if cut.angle < 1e-9:
        return f"{cut.tool}, square"
    shown = units.show_angle(cut.setting)
    return f"{cut.tool}, {shown} {cut.swing}{', in the jig' if cut.way == 'jig' else ''}"


def cut_words(cut: SawCut, width: float, words: Words) -> str:
    """Return how one cut of an end is made: saw, setting, how the piece lies, stop or marks."""
    if cut.way in ("by hand", "none"):
        start, end = (mark_words(mark, width, words) for mark in cut.marks)
        told = f"from {start}, to {end}; the line is {words.length(cut.line)} long on the face"
        how = f"{sentence(cut.tool)}, by hand" if cut.tool else f"No saw here ({cut.why})"
        return f"{how}: {told}"
    stop = f"stop {words.length(cut.stop)}"
    if cut.stop_at in ("lower edge", "upper edge"):
        stop += f", to the mark on the {cut.stop_at}"
    if cut.angle < 1e-9:
        return f"{sentence(cut.tool)}, square; {stop}"
    how = f"{sentence(cut.tool)}, {units.show_angle(cut.setting)} {cut.swing}"
    if cut.way == "jig":
        turned = units.show_angle(cut.angle)
        return (
            f"{how} in the jig, the piece square to the fence, drawn side up, kept part toward "
            f"you ({turned} from square is its complement); the {cut.longer} edge stays longer"
        )
    over = "; turn it over, its lower edge at the fence" if cut.over else ""
    return f"{how}{over}; the {cut.longer} edge stays longer; {stop}"


def end_steps(end: CutEnd, words: Words) -> tuple[str, ...]:
    """Return the cuts of an end in order; a pointed end is squared off at its long point first."""
    width = end.offsets[-1][0]
    steps = [
        f"{sentence(cut.tool)}, by hand to the wrapped template"
        if end.wrap is not None and cut.way == "by hand"
        else cut_words(cut, width, words)
        for cut in end.cuts
    ]
    if len(steps) > 1:
        steps[0] += ", at the long point"
    if end.wrap is not None and end.wrap.inside > 0.0:
        steps.append(_inside_words(end.wrap, words))
    return tuple(steps)


def _inside_words(wrap: Wrap, words: Words) -> str:
    """Return how far the inside of a coped end's wall is ground back."""
    return (
        "Grind the inside of the wall back behind the outside edge, most on face and back, up to "
        f"{words.length(wrap.inside)}, until the outside edge alone touches all round"
    )


#: How a round tube's end is marked by its template.
WRAPPED = (
    "Printed at true scale: measure the test square first. Cut out along the line and the straight "
    "lower edge, wrap it this side out with the seam on the lower edge as the piece is drawn and "
    "the end up; the straight edge must close on itself, then it is square round the tube. The "
    "long point line lies at the long point. Mark the line."
)


def wrap_note(wrap: Wrap, words: Words) -> str:
    """Return how an end is cut along the line of its template, and what stands open then."""
    if wrap.inside > 0.0:
        return (
            f"The line is the outside edge, which touches all round. {_inside_words(wrap, words)}; "
            "the wall runs out to an edge there."
        )
    return (
        "Cut with the disc held square to the tube: the line stands back by whichever edge of the "
        "wall touches first, outside or inside; the other one then stands open by "
        f"{words.small(wrap.opening)} at most."
    )


def wrap_rows(wrap: Wrap, words: Words) -> tuple[tuple[str, str, str], ...]:
    """Return the stations of a template: which, how far round from the seam, how far back."""
    edges = {0: "seam, lower edge", 4: wrap.first, 8: "upper edge"}
    edges[12] = "back" if wrap.first == "face" else "face"
    return tuple(
        (
            f"{n} {edges[n]}" if n in edges else str(n),
            words.length(around),
            words.length(back),
        )
        for n, (around, back) in enumerate(wrap.stations[:-1])
    )


def kerf_words(kerf: Quantity, words: Words) -> str:
    """Return what a cut takes of a stick, and by which saw where that is more than the job has."""
    told = words.thin(kerf.value)
    if not kerf.inputs:
        return told
    saw = max(kerf.inputs, key=lambda one: one.value)
    return f"{told} ({saw.name}, more than [stock] has)"


def tool_words(tool: Tool, words: Words) -> str:
    """Return what a saw can do, as the job says it."""
    if tool.freehand:
        return f"{tool.name}: by hand to the marks; its cut takes {words.thin(tool.kerf)}"
    told = [
        f"swings {units.show_angle(tool.left)} left and {units.show_angle(tool.right)} right",
        _takes_words(tool, words),
        f"its cut takes {words.thin(tool.kerf)}",
    ]
    if tool.jig:
        told.append("takes a piece clamped square to its fence")
    if tool.stands == "site":
        told.append("can be brought to the site")
    return f"{tool.name}: {'; '.join(told)}"


def _takes_words(tool: Tool, words: Words) -> str:
    pairs = zip(("square", "swung as far as it goes"), tool.high, tool.wide, strict=True)
    told = []
    for how, high, wide in pairs:
        sizes = [f"{words.length(high)} high"] if high is not None else []
        sizes += [f"{words.length(wide)} wide"] if wide is not None else []
        if sizes:
            told.append(f"{' and '.join(sizes)} {how}")
    if not told:
        return "what fits in it is not said: see that the piece does"
    return f"takes {', '.join(told)}"


def edge_words(item: CutItem, words: Words) -> str:
    """Return the lengths of a piece's edges as drawn, one where they are alike."""
    lower, upper = item.edges
    told = (
        words.length(lower)
        if abs(lower - upper) < 1e-6
        else f"lower {words.length(lower)}, upper {words.length(upper)}"
    )
    return f"{told}; {notch_words(item.notch, words)}" if item.notch else told


def notch_words(notch: NotchCut, words: Words) -> str:
    """Return how a notch is marked out and cut."""
    lower, upper = (
        f"{words.length(a)} to {words.length(b)}" for a, b in (notch.lower, notch.upper)
    )
    return (
        f"NOTCH from the {notch.face}, half through ({words.length(notch.depth)}): {lower} along "
        f"the lower edge, {upper} along the upper, both from the left end's long point; its cuts "
        f"{units.show_angle(notch.slant)} from square"
    )


def swing_words(swing: str) -> str:
    """Return which way a leaf swings, as seen from the face side."""
    return _DIRECTIONS[swing]


def place_words(place: str, places: Sequence[str]) -> str:
    """Return how a place that holds the leaf is called, lowest pivot first."""
    pivots = sorted({p for p in places if p.startswith("pivot ")})
    if place in pivots:
        if len(pivots) == 2:
            return "bottom pivot" if place == pivots[0] else "top pivot"
        return f"hinge {pivots.index(place) + 1} from the bottom"
    return place


def sentence(words: str) -> str:
    """Return words with a capital first letter."""
    return words[:1].upper() + words[1:]


def rounding_note(parts: Sequence[float], whole: float, words: Words) -> str:
    """Return what rounding to the tape does to a sum, or nothing where the parts add up.

    Each part and the whole are rounded once, from their exact values.
    """
    tape = words.tape
    rounded = sum((units.rounded_to_tape(p, tape) for p in parts), Fraction(0))
    total = units.rounded_to_tape(whole, tape)
    if rounded == total:
        return ""
    more = "more" if rounded > total else "less"
    return (
        f"Rounded to the tape the parts add up to {words.length(float(rounded))}, "
        f"{words.length(float(abs(rounded - total)))} {more} than the whole: "
        "work from the running dimensions."
    )


def hole_size(diameter: Quantity | float, words: Words) -> str:
    """Return a hole's size as its cutter is called: by 64ths of an inch, or tenths of a mm."""
    value = diameter.value if isinstance(diameter, Quantity) else diameter
    return size_words(value, "metric" if words.tape.system == "mm" else "feet-inch")


def hole_words(hole: Hole, words: Words, *, across_from: str) -> str:
    """Return a hole in a sentence: size, face, from which end and edge, tool, when, why.

    Args:
        hole: of a part.
        words: the maker's.
        across_from: the edge of that face from which across is measured.
    """
    size = f"{hole_size(hole.diameter, words)} hole"
    if hole.slot > 0.0:
        size = f"{hole_size(hole.diameter, words)} slot, {words.length(hole.slot)} long"
    if hole.face == "plate":
        at = (
            f"{words.length(hole.along)} from the left edge, {words.length(hole.across)} from "
            f"{across_from}"
        )
    else:
        at = f"{hole.side}: {words.length(hole.along)} along"
        if hole.across.value > 0.0:
            at += f", {words.length(hole.across)} from its {across_from}"
        at += f", through {hole.through}"
    text = f"{sentence(hole.use)}, {size}, {at}; {hole.tool}; {hole.when}: {hole.why}"
    return f"DO NOT DRILL: {hole.refused}. {text}" if hole.refused else text


def count_of(checks: Sequence[Check]) -> str:
    """Return how many checks came out each way."""
    parts = []
    for verdict in (Verdict.SHORT, Verdict.TIGHT, Verdict.ASK, Verdict.OK):
        number = sum(1 for c in checks if c.verdict is verdict)
        parts.append(f"{number} {VERDICTS[verdict].lower()}")
    return ", ".join(parts)


def temperature_words(quantity: Quantity, words: Words) -> str:
    """Return a temperature, or a difference of two, in the degrees of the maker's tape."""
    # Nothing that a leaf stands in is colder than this; a difference is never as large.
    absolute = quantity.value > 200
    if words.system == "feet-inch":
        shown = (quantity.value - 273.15) * 1.8 + 32 if absolute else quantity.value * 1.8
        return f"{shown:.0f} °F"
    shown = quantity.value - 273.15 if absolute else quantity.value
    return f"{shown:.0f} °C"


def default_line(quantity: Quantity, words: Words) -> str:
    """Return a default that was used: its name, value and why."""
    if quantity.unit == "m":
        fine = quantity.value < float(words.tape.step)
        value = words.small(quantity) if fine else words.length(quantity)
    elif quantity.unit == "kg":
        value = words.mass(quantity.value)
    elif quantity.unit == "N":
        value = words.force(quantity.value)
    elif quantity.unit == "rad":
        value = units.show_angle(quantity.value)
    elif quantity.unit == "K":
        value = temperature_words(quantity, words)
    elif quantity.unit == "1":
        value = f"{quantity.value:g}"
    else:
        value = words.amount(quantity.value, quantity.unit)
    place = quantity.key.rsplit("/", 1)[0]
    where = f" ({place})" if place in ("left", "right") else ""
    return f"{quantity.name}{where}: {value} – {quantity.note}"
