"""A floor or a head between the points that were read: its height anywhere, and how sure that is.

The surface is taken as level or nearly so, with a slope that is not known and an unevenness of a
stated size: a stationary Gaussian field, alike in every direction, whose heights grow independent
of one another with their distance. Where points were read the field follows them, as closely as
they are sure; far from all of them only the stated unevenness is known. This is kriging with a
trend, or Gaussian process regression with explicit basis functions.

C. E. Rasmussen, C. K. I. Williams, Gaussian Processes for Machine Learning, MIT Press (2006):
the mean K*ᵀ(K + S)⁻¹y and the variance k** − K*ᵀ(K + S)⁻¹K* of section 2.2 (eq. 2.23 and 2.24),
a trend with a normal prior as more covariance (section 2.7, pages 27–29), the Matérn covariance
with ν = 3/2 (section 4.2.1, eq. 4.17). Equation numbers from memory.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.job.defaults import chosen
from leafwright.records import Metres, Number, read_only
from leafwright.survey.adjust import Survey, at, coordinate

#: How little is known of the level of the whole before a point is read: its standard deviation [m].
LEVEL_SD = 10.0


@dataclass(frozen=True, slots=True)
class Roughness:
    """How uneven a surface is taken to be where nothing was read.

    ``sd`` is of its heights about a plane [m], ``length`` how far apart two heights are when they
    have little to do with one another any more [m], ``slope`` the standard deviation of the
    plane's slope in any direction [rad].
    """

    sd: Quantity
    length: Quantity
    slope: Quantity


def roughness(of: Literal["floor", "head"], *, system: Literal["feet-inch", "metric"]) -> Roughness:
    """Return how uneven a floor or a head is taken to be, by default."""

    def usual(word: str) -> Quantity:
        name = f"{of} {word}"
        return chosen(None, name, f"default/{name}", name, system=system)

    return Roughness(usual("unevenness"), usual("unevenness length"), usual("slope"))


@dataclass(frozen=True, slots=True)
class Surface:
    """A surface that follows the points read of it.

    Attributes:
        name: what it is, in the maker's words.
        points: the names of the survey's marks that it rests on.
        places: where they are (points × directions) [m].
        heights: their heights, as quantities [m].
        rough: how uneven it is taken to be before they were read.
        scale: how many times as uneven the points show it to be; never less than 1 [-].
        prior: covariance of the surface between the points before they were read, but for its
            level (points × points) [m²].
        covariance: of the points' heights, from the survey (points × points) [m²].
        inverse: of the points' whole covariance (points × points) [1/m²].
    """

    name: str
    points: tuple[str, ...]
    places: np.ndarray
    heights: tuple[Quantity, ...]
    rough: Roughness
    scale: Number
    prior: np.ndarray
    covariance: np.ndarray
    inverse: np.ndarray


def surface(
    found: Survey,
    name: str,
    points: Sequence[tuple[str, tuple[float, ...]]],
    rough: Roughness,
    *,
    heights: dict[str, Quantity] | None = None,
) -> Surface:
    """Return the surface through some of the survey's marks.

    Where the points differ by more than the unevenness that it is taken to have allows, it is
    taken to be as many times as uneven (its slope is not: one bump is no hill); that it seems
    smoother is no reason to trust it more.

    Args:
        found: the adjusted opening.
        name: what it is, in the maker's words.
        points: the names of the marks, with their places in one direction or two [m].
        rough: how uneven it is taken to be.
        heights: quantities of the marks' heights that are at hand already.

    Raises:
        KeyError: the survey has no such mark.
        ValueError: no points.
    """
    if not points:
        raise ValueError(f"{name}: no point of it was read")
    at_hand = heights or {}
    names = tuple(point for point, _ in points)
    known = tuple(at_hand.get(point) or coordinate(found, point, "y") for point in names)
    places = np.array([place for _, place in points], dtype=float)
    read = np.array([at(found, point).at[1] for point in names])
    noise = _covariance(found, names)
    prior, scale = _prior(places, places, rough, _middle(places), 1.0), 1.0
    inverse = np.linalg.inv(LEVEL_SD**2 + prior + noise)
    if len(names) > 2:
        off = read - read.mean()
        shown = float(off @ inverse @ off) / (len(names) - 1)
        if shown > 1.0:
            scale = math.sqrt(shown)
            prior = _prior(places, places, rough, _middle(places), scale)
            inverse = np.linalg.inv(LEVEL_SD**2 + prior + noise)
    return Surface(
        name=name,
        points=names,
        places=read_only(places),
        heights=known,
        rough=rough,
        scale=scale,
        prior=read_only(prior),
        covariance=read_only(noise),
        inverse=read_only(inverse),
    )


def _middle(places: np.ndarray) -> np.ndarray:
    """Return the place in the middle of some [m], about which a surface is taken to slope."""
    return np.asarray(places.sum(axis=0) / len(places))


def _covariance(found: Survey, names: Sequence[str]) -> np.ndarray:
    """Return the covariance of marks' heights [m²]; the origin's is nothing."""
    column = {unknown: i for i, unknown in enumerate(found.unknowns)}
    index = [column.get((name, "y"), -1) for name in names]
    chosen_ones = np.ix_(index, index)
    moves = np.array([i >= 0 for i in index], dtype=float)
    return np.asarray(found.covariance[chosen_ones] * np.outer(moves, moves))


def _prior(
    first: np.ndarray, second: np.ndarray, rough: Roughness, middle: np.ndarray, scale: float
) -> np.ndarray:
    """Return the covariance of a surface between places, but for its level [m²]."""
    apart = first[:, None, :] - second[None, :, :]
    t = math.sqrt(3.0) / rough.length.value * np.sqrt(np.einsum("ijk,ijk->ij", apart, apart))
    uneven = (scale * rough.sd.value) ** 2 * (1.0 + t) * np.exp(-t)
    sloping = math.tan(rough.slope.value) ** 2 * ((first - middle) @ (second - middle).T)
    return np.asarray(uneven + sloping)


def _weights(of: Surface, places: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Return the share of each point in the height of each place [-], and the sd of that [m]."""
    middle = _middle(of.places)
    shared = _prior(places, of.places, of.rough, middle, of.scale)
    weights = (LEVEL_SD**2 + shared) @ of.inverse
    # The level was not quite unknown: what is missing is shared among the points.
    weights += (1.0 - weights.sum(axis=1, keepdims=True)) / len(of.points)
    off = places - middle
    sloping = math.tan(of.rough.slope.value) ** 2 * np.einsum("ij,ij->i", off, off)
    # With shares that add up to 1 the level has no part in how far the height may be off.
    rest = (of.scale * of.rough.sd.value) ** 2 + sloping
    rest += np.einsum("ij,ij->i", weights @ of.prior - 2.0 * shared, weights)
    return weights, np.sqrt(np.maximum(rest, 0.0))


def heights_at(of: Surface, places: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Return the surface's height at each place and its standard deviation [m].

    Args:
        of: the surface.
        places: places × directions [m].
    """
    weights, rest = _weights(of, places)
    read = np.array([q.value for q in of.heights])
    from_points = np.einsum("ij,ij->i", weights @ of.covariance, weights)
    return weights @ read, np.sqrt(from_points + rest**2)


def height_at(of: Surface, place: Sequence[float], key: str, words: str) -> Quantity:
    """Return the surface's height at one place as a quantity that follows the points read [m].

    What lies between the points stands in it as an unevenness of its own, of value nothing. The
    place, and how uneven the points show the surface to be, are taken as they are.
    """
    weights, rest = _weights(of, np.asarray([place], dtype=float))
    uneven = chain.base(
        "default",
        f"survey/{key}/unevenness",
        f"unevenness of the {of.name} there",
        0.0,
        sd=float(rest[0]),
        note="what no reading tells",
    )
    parts = [(float(by), q) for by, q in zip(weights[0], of.heights, strict=True)]
    assumed = [(0.0, of.rough.sd), (0.0, of.rough.length), (0.0, of.rough.slope)]
    value = math.fsum(by * q.value for by, q in parts)
    formula = f"the {of.name} between the points read of it"
    return chain.linear(key, words, formula, value, [*parts, (1.0, uneven), *assumed])


def far_from(points: np.ndarray, places: np.ndarray, length: Metres) -> np.ndarray:
    """Return which places are farther than a length from every point (places) [-]."""
    apart = np.sum((places[:, None, :] - points[None, :, :]) ** 2, axis=2)
    return np.asarray(np.min(apart, axis=1, initial=np.inf) > length**2)
