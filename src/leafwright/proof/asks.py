"""What only a licensed engineer, an official or a data sheet can answer, asked and never assumed.

Unknown is not ok. Each question names what to bring and to whom; an ``[[answer]]`` of the job
file about its key closes it until it expires.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from leafwright.job.model import Answer, Job
from leafwright.proof.anchor_data import anchor_data
from leafwright.records import Check, Source, Verdict


@dataclass(frozen=True, slots=True)
class _Question:
    key: str
    subject: str
    question: str
    change: str


_STRUCTURE = Source("the building's own records; a licensed engineer")
_OFFICIAL = Source("the local building code; the building official")


def _questions(job: Job) -> list[tuple[_Question, Source]]:
    b = job.building
    asked: list[tuple[_Question, Source]] = []
    on_pivots = any(leaf.mount.kind == "floor pivot" for leaf in job.leaf)
    on_hinges = any(leaf.mount.kind == "barrel hinge" for leaf in job.leaf)
    if on_pivots:
        if b.slab_tendons != "none found":
            asked.append(
                (
                    _Question(
                        "building/slab",
                        "the floor slab",
                        "are there tendons, pipes or an edge where the anchors go",
                        "scan the slab and look for a tendon stamp before any hole is drilled",
                    ),
                    _STRUCTURE,
                )
            )
        # What the job tells whole is proved plate by plate (`leafwright.mount`).
        if anchor_data(job).missing or job.basis.steel != "AISC 360-22":
            asked.append(
                (
                    _Question(
                        "building/anchors",
                        "the anchors",
                        "do the anchors hold the pivot plates",
                        "write what their evaluation report gives in [building.anchor], and the "
                        "checks are made here; or give the report to an engineer, with the "
                        "reactions here",
                    ),
                    Source("the anchor maker's data sheet"),
                )
            )
    if job.opening.head:
        asked.append(
            (
                _Question(
                    "building/beam",
                    "what is over the opening",
                    "may it be drilled or welded, and how much does it move",
                    "ask who owns the building and an engineer; take the reactions here",
                ),
                _STRUCTURE,
            )
        )
    if job.post is not None or not job.opening.head:
        asked.append(
            (
                _Question(
                    "building/posts",
                    "the posts and footings",
                    "do posts and footings hold, and how much do they give",
                    "take the reactions here to an engineer who knows the ground; no sag here "
                    "holds any give of a post",
                ),
                _STRUCTURE,
            )
        )
    elif on_hinges:
        asked.append(
            (
                _Question(
                    "building/jambs",
                    "what the hinges are fixed to",
                    "do the wall or the jambs hold the hinges",
                    "take the reactions here to an engineer who knows the wall",
                ),
                _STRUCTURE,
            )
        )
    # Indoors is said, never taken for granted: a leaf that passes indoors can fail in wind.
    if b.indoors != "yes":
        asked.append(
            (
                _wind_question(job),
                Source(
                    job.wind.standard if job.wind else "the local building code",
                    "edition and local wind speed to be confirmed",
                ),
            )
        )
    if b.exit_route != "no" or b.fire_rated_wall != "no":
        asked.append(
            (
                _Question(
                    "building/exit",
                    "ways out and fire",
                    "is this a way out, or in a fire-rated wall",
                    "say no to both in [building], or have the building official answer",
                ),
                _OFFICIAL,
            )
        )
    if b.public != "no":
        asked.append(
            (
                _Question(
                    "building/public",
                    "who uses it",
                    "do others than the owner's own people pass it or open it",
                    'say public = "no" in [building], or have the building official say what '
                    "opening force, route and finger guards it needs",
                ),
                _OFFICIAL,
            )
        )
    if b.paint not in ("none", "new", "tested, no lead"):
        asked.append(
            (
                _Question(
                    "building/paint",
                    "old paint",
                    "is there lead in the paint",
                    "test before grinding or welding; strip back as the local rule says",
                ),
                Source("local rules on lead in construction"),
            )
        )
    if b.powered:
        asked.append(
            (
                _Question(
                    "building/power",
                    "the drive",
                    "is the drive safe for people",
                    "a powered leaf needs its own safety design by a licensed person",
                ),
                _OFFICIAL,
            )
        )
    return asked


def _wind_question(job: Job) -> _Question:
    if job.wind is None:
        return _Question(
            "building/wind",
            "wind on the leaves",
            "do the leaves stand the wind",
            'say indoors = "yes" in [building], or give its speed and exposure in [wind]: what is '
            "proved here is only the push of air indoors",
        )
    return _Question(
        "building/wind",
        "wind on the leaves",
        "is the wind in [wind] that of the place",
        "have the building official or an engineer confirm the local wind speed, the exposure and "
        'the edition of the code; or say indoors = "yes" in [building]',
    )


def _answer(answers: Sequence[Answer], key: str, on: date | None) -> Answer | None:
    """Return the answer about a key that has not run out by a day; without a day it must not."""
    about = {key}
    # Who answers for the anchors answers for those of every leaf.
    if key.endswith("/anchors"):
        about.add("building/anchors")
    for answer in answers:
        if answer.about in about and _holds(answer, on):
            return answer
    return None


def in_force(job: Job, on: date | None) -> Job:
    """Return a job with only the answers that have not run out by a day, as a proof may use them.

    Args:
        job: the job file's content.
        on: the day to hold expiry dates against; None takes an answer that expires as run out.
    """
    return job.model_copy(update={"answer": tuple(a for a in job.answer if _holds(a, on))})


def _holds(answer: Answer, on: date | None) -> bool:
    return answer.until is None or (on is not None and on <= answer.until)


def answered(
    checks: Iterable[Check], answers: Sequence[Answer], on: date | None
) -> tuple[Check, ...]:
    """Return checks with every open question closed that an answer is about, by who answered it.

    Args:
        checks: of any stage; what is no open question is returned as it is.
        answers: the ``[[answer]]`` tables of the job file.
        on: the day to hold expiry dates against; None takes an answer that expires as run out.
    """
    found = []
    for check in checks:
        answer = _answer(answers, check.key, on) if check.verdict is Verdict.ASK else None
        if answer is not None:
            check = replace(
                check,
                verdict=Verdict.OK,
                source=Source(answer.document, f"{answer.by}, {answer.on.isoformat()}"),
                change=answer.says,
                basis="answered",
            )
        found.append(check)
    return tuple(found)


def asks(job: Job) -> tuple[Check, ...]:
    """Return every open question that the ``[building]`` table leaves."""
    return tuple(
        Check(
            key=question.key,
            subject=question.subject,
            question=question.question,
            verdict=Verdict.ASK,
            source=source,
            change=question.change,
            basis="unknown",
        )
        for question, source in _questions(job)
    )
