"""Every text that a maker wrote in a job: names, notes, answers, as they were typed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from pydantic import BaseModel


def texts_of(value: object) -> Iterator[str]:
    """Yield every text of a job, or of a part of it; what was typed of a size is none."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, BaseModel):
        yield from texts_of(value.__dict__)
    elif isinstance(value, Mapping):
        for key, inner in value.items():
            yield from (*texts_of(key), *texts_of(inner))
    elif isinstance(value, Sequence):
        for inner in value:
            yield from texts_of(inner)
