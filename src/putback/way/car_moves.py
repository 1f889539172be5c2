"""Raising and lowering the car: what to call it, and what to beware of. Common practice, no source."""

from dataclasses import dataclass

from putback.area.model import ON_A_LIFT, ON_STANDS, ON_THE_GROUND


@dataclass(frozen=True)
class CarMove:
    """How the car gets into a posture.

    Attributes
    ----------
    text : str
        What to do.
    cautions : tuple of str
        What to beware of, in the order in which it is done.
    """

    text: str
    cautions: tuple[str, ...]


CAR_MOVES = {
    ON_A_LIFT: CarMove(
        "lift the car",
        (
            "handbrake on, and chocks at the wheels while the arms are set",
            "arms at the vehicle maker's lifting points only; stop when the wheels are clear, and shake the car",
            "nobody under it before it stands safely",
        ),
    ),
    ON_STANDS: CarMove(
        "jack the car up and set it on stands",
        (
            "firm level ground, handbrake on, chocks at the wheels that stay down",
            "jack and stands at the vehicle maker's lifting points only; shake the car when it stands",
            "nobody under it before it stands on its stands; a jack alone holds nobody's life",
        ),
    ),
    ON_THE_GROUND: CarMove(
        "lower the car to the ground",
        (
            "nobody and nothing under it, no hose or cable caught",
            "handbrake on and chocks in as soon as the wheels carry it",
        ),
    ),
}  # by the posture that it leads to
