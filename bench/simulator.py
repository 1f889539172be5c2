"""Runs a netlist in ngspice, a process of its own with a time limit."""

import shutil
import subprocess
import tempfile
from pathlib import Path

import numpy as np

from bench.apart import Failed

OUT = "out.txt"


def there() -> bool:
    """Whether ngspice is installed."""
    return shutil.which("ngspice") is not None


def run(text: str, limit: float) -> np.ndarray:
    """The columns that a netlist writes to `OUT`, one row a step.

    Parameters
    ----------
    text : str
        The netlist.
    limit : float
        Seconds that it may take.

    Raises
    ------
    Failed
        It is not installed, took too long, or left no columns of figures.
    """
    with tempfile.TemporaryDirectory() as folder:
        Path(folder, "circuit.cir").write_text(text, encoding="ascii")
        try:
            subprocess.run(["nice", "ngspice", "-b", "circuit.cir"], cwd=folder, timeout=limit, capture_output=True)
            return np.loadtxt(Path(folder, OUT))
        except FileNotFoundError as missing:
            raise Failed("ngspice is not installed, or it left no result") from missing
        except subprocess.TimeoutExpired as late:
            raise Failed(f"ngspice was not done within {limit:g} s") from late
        except ValueError as garbled:
            raise Failed("ngspice left no columns of figures") from garbled
