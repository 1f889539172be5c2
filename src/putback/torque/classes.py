r"""How strong a fastener is: property classes and grades, and the torque at which a thread reaches its proof load.

A nut stands for the strongest bolt that it is made for; an inch nut's grade is that of the bolt.

References
----------
.. [1] ISO 898-1:2013 table 3; ISO 898-2:2012 table 1; ISO 3506-1:2009 table 2 (stainless).
.. [2] SAE J429:2014 table 1; SAE J995:2012 (inch bolts and nuts; typed from memory).
"""

import re
from dataclasses import dataclass

from putback.errors import InputError
from putback.torque.tables import table
from putback.torque.threads import INCH, Thread

# T = K d F; charts for SAE-grade bolts print 0.20 for dry, plain steel.
NUT_FACTOR = 0.20
PSI = 0.45359237 * 9.80665 / INCH**2  # N/mm2

_STAINLESS = re.compile(r"(A[1-5])-?(50|70|80)", re.IGNORECASE)


@dataclass(frozen=True)
class Strength:
    """The least strength of a fastener.

    Parameters
    ----------
    name : str
        Property class or grade, such as ``8.8``, ``A2-70``, ``grade 5``
    proof : float
        Stress under proof load [N/mm2]
    yields : float
        Lower yield point or 0.2 % proof strength [N/mm2]
    tensile : float
        Tensile strength [N/mm2]
    nut : bool
        Whether the class is a nut's; the figures are then those of the bolt that it is made for
    """

    name: str
    proof: float
    yields: float
    tensile: float
    nut: bool = False


def strength(property_class: str, thread: Thread) -> Strength | None:
    """The strength of a class or grade in a thread's size.

    Parameters
    ----------
    property_class : str
        As `read_class` gives it; of a bolt or of a nut
    thread : Thread
        ``8`` is a nut's class on a metric thread, a bolt's grade on an inch thread

    Returns
    -------
    strength : Strength or None
        None where the tables have no such class in that size

    Examples
    --------
    >>> from putback.torque.threads import metric
    >>> strength("8.8", metric(10)).proof, strength("8", metric(10)).nut
    (580.0, True)
    """
    if thread.inch:
        return _grade(property_class, thread)
    return _bolt(property_class, thread) or _nut(property_class, thread) or _stainless(property_class, thread)


def read_class(text: str, thread: Thread) -> str:
    """Read a property class or grade, as stamped or as said.

    Parameters
    ----------
    text : str
        ``8.8``, ``class 10.9``, ``A2-70``; on an inch thread ``grade 5``, ``SAE 8``, ``5``
    thread : Thread
        What it is the class of

    Returns
    -------
    property_class : str

    Raises
    ------
    InputError
        A class that the tables do not have for such a thread and size.
    """
    word = re.sub(r"^(?:property\s+)?(?:class|grade|gr\.?|sae|j429)\s*|\s*\|.*$", "", text.strip(), flags=re.IGNORECASE)
    word = re.sub(r"^(?:grade|gr\.?)\s*", "", word, flags=re.IGNORECASE).replace(",", ".").upper()
    if found := _STAINLESS.fullmatch(word):
        word = f"{found[1]}-{found[2]}"
    if strength(word, thread) is None:
        raise InputError(
            f'"{text}" is no {"grade" if thread.inch else "property class"} known for {thread.name}; '
            f"known are {', '.join(classes(thread))}"
        )
    return word


def classes(thread: Thread) -> tuple[str, ...]:
    """The classes or grades that the tables have for a thread, bolts first."""
    if thread.inch:
        names = [row["grade"] for row in table("sae-j429-2014-strength")]
    else:
        names = [row["class"] for row in table("iso-898-1-2013-strength")]
        names += [row["nut"] for row in table("iso-898-2-2012-mating-bolts")]
        names += [row["class"] for row in table("iso-898-2-2012-thin-nuts")]
        names += [f"{steel}-{row['class']}" for steel in ("A2", "A4") for row in table("iso-3506-1-2009-strength")]
    return tuple(name for name in dict.fromkeys(names) if strength(name, thread))


def _bolt(name: str, thread: Thread) -> Strength | None:
    rows = table("iso-898-1-2013-strength")
    fitting = [row for row in rows if row["class"] == name and thread.diameter <= float(row["diameter_up_to"])]
    return Strength(name, *(float(fitting[0][key]) for key in ("proof", "yield", "tensile"))) if fitting else None


def _nut(name: str, thread: Thread) -> Strength | None:
    bolt = next((row["bolt"] for row in table("iso-898-2-2012-mating-bolts") if row["nut"] == name), None)
    if bolt and (same := _bolt(bolt, thread)):
        return Strength(name, same.proof, same.yields, same.tensile, nut=True)
    thin = next((float(row["proof"]) for row in table("iso-898-2-2012-thin-nuts") if row["class"] == name), None)
    return Strength(name, thin, thin, thin, nut=True) if thin and thread.diameter <= 39 else None


def _stainless(name: str, thread: Thread) -> Strength | None:
    found = _STAINLESS.fullmatch(name)
    for row in table("iso-3506-1-2009-strength") if found else ():
        if row["class"] == found[2] and thread.diameter <= float(row["diameter_up_to"]):
            return Strength(name, float(row["yield"]), float(row["yield"]), float(row["tensile"]))
    return None


def _grade(name: str, thread: Thread) -> Strength | None:
    for row in table("sae-j429-2014-strength"):
        if row["grade"] == name and thread.diameter <= float(row["diameter_up_to"]) * INCH * (1 + 1e-9):
            return Strength(f"grade {name}", *(float(row[key]) * PSI for key in ("proof", "yield", "tensile")))
    return None


def proof_load(thread: Thread, property_class: str) -> float | None:
    """The load that a fastener bears without lasting stretch [N]; None where the class is not in the tables."""
    found = strength(property_class, thread)
    return found and thread.stress_area * found.proof


def tensile_load(thread: Thread, property_class: str) -> float | None:
    """The least load at which a bolt breaks [N]; None where the class is not in the tables."""
    found = strength(property_class, thread)
    return found and thread.stress_area * found.tensile


def proof_torque(thread: Thread, property_class: str) -> float | None:
    r"""Torque at which the bolt reaches its proof load.

    .. math:: T = K d A_s S_p

    Parameters
    ----------
    thread : Thread
    property_class : str
        Of the bolt, or of the nut

    Returns
    -------
    torque : float or None
        [N m]; None where the class is not in the tables

    Notes
    -----
    With the nut factor 0.20 of dry, plain steel: a rule of thumb for finding slips. The vehicle maker's figure goes
    before it.

    Examples
    --------
    >>> from putback.torque.threads import metric
    >>> round(proof_torque(metric(8), "8.8"), 1)
    34.0
    """
    load = proof_load(thread, property_class)
    return load and NUT_FACTOR * thread.diameter * load / 1000
