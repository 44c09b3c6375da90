"""What the proof took to act on the leaves, in the maker's words: what `ok` was worked for."""

from __future__ import annotations

from leafwright.frame.load_cases import is_stop
from leafwright.pipeline import Plan
from leafwright.proof import LeafProof
from leafwright.proof.blows import is_indoors
from leafwright.proof.wind import LeafWind
from leafwright.say import words_of
from leafwright.units import show_pressure

#: What no check of this plan is for.
NOT_FOR = "wind on an open leaf, snow, earthquake, and what runs into it"


def loads_words(made: Plan) -> str:
    """Return what the leaves are proved for, and what for not, as one sentence or two.

    Empty where nothing is proved.
    """
    proofs = [proof for proof in made.proofs if isinstance(proof, LeafProof)]
    if not proofs:
        return ""
    words = words_of(made.job)
    wishes = proofs[0].wishes
    loads = [
        "its own weight",
        f"a person of {words.mass(wishes.person.value)} on the nose",
        f"a push of {words.force(wishes.push.value)} at the handle",
    ]
    if any(is_stop(case.situation) for proof in proofs for case in proof.cases):
        loads.append("its open stop")
    loads.append(" and ".join(dict.fromkeys(_wind(made, proof) for proof in proofs)))
    return f"Proved for {', '.join(loads)}. Not for {_without(made)}{NOT_FOR}."


def _wind(made: Plan, proof: LeafProof) -> str:
    system = words_of(made.job).system
    wind = proof.wind
    if not isinstance(wind, LeafWind):
        return "and no wind, which is not known yet"
    pressure = show_pressure(max(panel.on_solid for panel in wind.panels), system)
    if is_indoors(made.job):
        return f"and {pressure} of air indoors on the shut leaf"
    return f"and {pressure} of wind on the shut leaf ({wind.source.document})"


def _without(made: Plan) -> str:
    if not is_indoors(made.job):
        return ""
    if made.job.building.indoors == "yes":
        return "wind outdoors, "
    return "wind outdoors (say indoors, or give [wind]), "
