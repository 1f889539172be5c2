"""A generic torque for a thread and class, for want of the maker's figure: always a range, never *the* value.

References
----------
.. [1] VDI 2230 part 1:2015, assembly torque at 90 % of the yield strength, over the usual friction.
"""

from dataclasses import dataclass

from putback.errors import InputError
from putback.torque.classes import classes, proof_torque, strength
from putback.torque.interval import Range
from putback.torque.preload import USUAL_FRICTION, assembly_preload, assembly_torque
from putback.torque.threads import Thread

CAUTION = (
    "Generic, from size, class and friction alone: no maker's figure. It takes steel into steel, with enough thread. "
    "The vehicle maker's figure goes first; never use this on brakes, steering, airbags, wheels or inside an engine."
)

STAINLESS = "Stainless threads gall when dry: lubricate them; dry, their friction lies far above this range."


@dataclass(frozen=True)
class Generic:
    """The torques that use 90 % of a bolt's yield strength, over a range of friction.

    Parameters
    ----------
    torque : Range
        [N m]; the low end belongs to slippery threads, the high end to rough ones
    preload : Range
        [N]
    friction : Range
        Coefficient of friction, the same in thread and under head
    proof_torque : float
        By the nut factor of dry steel [N m], for comparison
    """

    torque: Range
    preload: Range
    friction: Range
    proof_torque: float


def generic_range(thread: Thread, property_class: str, friction: Range | None = None) -> Generic:
    """The generic range of torque for a thread and class.

    Parameters
    ----------
    thread : Thread
    property_class : str
        Of the bolt, or of the nut
    friction : Range, optional
        That of usual metal surfaces when left out

    Returns
    -------
    generic : Generic

    Raises
    ------
    InputError
        A class that the tables do not have for this thread, or friction that there is not.

    Examples
    --------
    >>> from putback.torque.threads import metric
    >>> found = generic_range(metric(10), "8.8").torque
    >>> round(found.low), round(found.high)
    (36, 59)
    """
    found = strength(property_class, thread)
    if found is None:
        raise InputError(
            f'"{property_class}" is no class or grade known for {thread.name}; known are {", ".join(classes(thread))}'
        )
    friction = friction or USUAL_FRICTION
    if not 0 < friction.low <= friction.high < 1:
        raise InputError(f"friction lies between 0 and 1, not at {friction.low:g} to {friction.high:g}")
    # Each in its own order: more friction takes more torque for less preload.
    torques = [assembly_torque(thread, found.yields, one) for one in (friction.low, friction.high)]
    preloads = [assembly_preload(thread, found.yields, one) for one in (friction.low, friction.high)]
    return Generic(Range(*sorted(torques)), Range(*sorted(preloads)), friction, proof_torque(thread, property_class))
