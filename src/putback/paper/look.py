"""How a paper looks: its sheet, its units, its language, and the address that its labels lead to."""

import re
from dataclasses import dataclass

from putback.errors import InputError
from putback.units import show_both

A4, LETTER = SHEETS = ("a4", "letter")
METRIC, US = UNITS = ("metric", "us")
KM_PER_MILE = 1.609344  # by definition: a yard is 0.9144 m
LITRES_PER_QUART = 0.946352946  # US liquid: 57.75 cubic inches of 25.4 mm
_SMALL = 20.0  # N·m; below that the trade reads inch-pounds (common practice, no source)
_TORQUE = re.compile(r"(\d+(?:\.\d+)?) N·m")


@dataclass(frozen=True)
class Look:
    """The wishes that one paper is printed with.

    Attributes
    ----------
    sheet : str
        One of `SHEETS`.
    units : str
        One of `UNITS`; with US units the source's figure still stands first.
    language : str
        Of the catalogue of texts.
    address : str
        Of the server with the pages, as a phone reaches it; empty where there is none, and then labels carry no code.
    """

    sheet: str = A4
    units: str = METRIC
    language: str = "en"
    address: str = ""

    def __post_init__(self):
        if self.sheet not in SHEETS or self.units not in UNITS:
            raise InputError(
                f'"{self.sheet}" and "{self.units}": a sheet is {" or ".join(SHEETS)}, units are {" or ".join(UNITS)}'
            )

    def torque(self, words: str) -> str:
        """Words with torques in N·m, in the shop's units beside them.

        Parameters
        ----------
        words : str
            As in `92 N·m then 90°`.
        """
        if self.units == METRIC:
            return words
        return _TORQUE.sub(
            lambda found: show_both(float(found[1]), "in-lb" if float(found[1]) < _SMALL else "ft-lb"), words
        )

    def distance(self, kilometres: float | None) -> str:
        """A reading of the odometer; empty where there is none.

        Parameters
        ----------
        kilometres : float or None
        """
        if kilometres is None:
            return ""
        metric = f"{kilometres:,.0f} km".replace(",", "\u202f")
        return metric if self.units == METRIC else f"{metric} ({kilometres / KM_PER_MILE:,.0f} mi)"

    def litres(self, amount: float) -> str:
        """A volume of a fluid.

        Parameters
        ----------
        amount : float
            [l]
        """
        metric = f"{amount:g} l"
        return metric if self.units == METRIC else f"{metric} ({amount / LITRES_PER_QUART:.2g} qt)"
