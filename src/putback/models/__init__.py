"""Models of what may be wrong, as data: which readings, what they say, what mends it, and when that is proved."""

from putback.models.answer import Answer, answer
from putback.models.load import BUILT_IN, load
from putback.models.proof import Proof, proved
from putback.models.readings_file import check_reading, read_readings

__all__ = ["BUILT_IN", "Answer", "Proof", "answer", "check_reading", "load", "proved", "read_readings"]
