"""The charging circuit as a netlist: three-phase source, six diodes, cable, battery, loads.

Written for the open simulator ngspice. One node is the earth: the alternator's case. All values are SI.
"""

from dataclasses import dataclass
from math import pi

SIDES = tuple(phase + side for phase in "abc" for side in "pn")  # the six diodes: phase, then towards + or -
SHIFTS = {"a": 0.0, "b": -2 * pi / 3, "c": 2 * pi / 3}


@dataclass(frozen=True)
class Swing:
    """A sine that the speed or the field is moved by.

    Attributes
    ----------
    depth : float
        Share of the mean, peak.
    hertz : float
        Its frequency [Hz].
    angle : float
        Its angle at the start [rad].
    """

    depth: float
    hertz: float
    angle: float = 0.0


@dataclass(frozen=True)
class Pulses:
    """A load that is switched or charged again and again.

    Attributes
    ----------
    amps : float
        At the top [A].
    hertz : float
        How often [Hz].
    width : float
        Time at the top, seconds.
    rise, fall : float
        Seconds.
    """

    amps: float
    hertz: float
    width: float
    rise: float
    fall: float = 2e-5


@dataclass(frozen=True)
class Circuit:
    """What is on the car, and how it runs.

    Attributes
    ----------
    hertz : float
        Electrical frequency of a phase, the mean [Hz].
    peak : float
        Peak of a phase's open-circuit voltage at that frequency [V].
    inductance, resistance : float
        Of one phase [H], [ohm].
    overtones : tuple of (int, float)
        Order and share of what the phase voltage holds beside its sine.
    windings : tuple of float
        Each phase's voltage, as a share of the mean.
    diodes : tuple of float
        Each diode's series resistance, in the order of `SIDES` [ohm].
    open_diodes, shorted : tuple of str
        Of `SIDES`.
    open_phase : str
        a, b, c or nothing.
    short : float
        Resistance of a shorted diode [ohm].
    speed, field : tuple of Swing
        How speed and field move about their means.
    plus, minus : float
        Resistance from the stud to the positive post, and from the case to the negative post [ohm].
    cable : float
        Inductance of the positive cable [H].
    battery, inside : float
        The battery's voltage without current [V] and its resistance [ohm].
    steady : float
        Load that does not change, at 14 V [A].
    pulses : tuple of Pulses
        Loads that do.
    hum : tuple of Swing
        Loads that hum: depth in amperes.
    across : float
        Capacitance across the stud, 0 for none [F].
    """

    hertz: float
    peak: float
    inductance: float
    resistance: float
    battery: float
    inside: float
    steady: float
    plus: float = 3e-3
    minus: float = 1e-3
    cable: float = 1.5e-6
    overtones: tuple[tuple[int, float], ...] = ()
    windings: tuple[float, ...] = (1.0, 1.0, 1.0)
    diodes: tuple[float, ...] = (3e-3,) * 6
    open_diodes: tuple[str, ...] = ()
    shorted: tuple[str, ...] = ()
    open_phase: str = ""
    short: float = 2e-3
    speed: tuple[Swing, ...] = ()
    field: tuple[Swing, ...] = ()
    pulses: tuple[Pulses, ...] = ()
    hum: tuple[Swing, ...] = ()
    across: float = 0.0


def netlist(circuit: Circuit, seconds: float, skip: float, step: float, out: str) -> str:
    """The netlist whose run leaves time, stud to case and post to post in a file.

    Parameters
    ----------
    circuit : Circuit
    seconds, skip : float
        How long it runs, and how much of the beginning is not kept.
    step : float
        The longest step, seconds.
    out : str
        Name of that file.
    """
    lines = ["* charging circuit", f"BTH th 0 V={angle(circuit)}", "RN n 0 1meg"]
    lines += [line for n, phase in enumerate("abc") for line in _phase(circuit, phase, n)]
    lines += _path(circuit) + _loads(circuit)
    lines += [".options method=gear reltol=1e-3 abstol=1e-6 vntol=1e-5", ".control"]
    lines += [f"tran {step:.3e} {seconds:.6f} {skip:.6f} {step:.3e}", "let posts=v(bp)-v(bn)", "set wr_singlescale"]
    return "\n".join([*lines, "option numdgt=9", f"wrdata {out} v(pos) posts", "quit", ".endc", ".end", ""])


def angle(circuit: Circuit) -> str:
    """The electrical angle of phase a as a function of `time` [rad], the integral of the frequency."""
    steady = f"{2 * pi * circuit.hertz:.9g}*time"
    swings = (f"-({s.depth * circuit.hertz / s.hertz:.9g})*cos({2 * pi * s.hertz:.9g}*time+({s.angle:.9g}))"
              for s in circuit.speed)  # fmt: skip
    return steady + "".join(swings)


def _phase(circuit: Circuit, phase: str, n: int) -> list[str]:
    """Source, inductance, resistance and the two diodes of a phase."""
    shape = "+".join(f"{share:.6g}*sin({order}*(v(th)+({SHIFTS[phase]:.9g})))"
                     for order, share in ((1, 1.0), *circuit.overtones))  # fmt: skip
    swings = "*".join(f"(1+{_sine(s)})" for s in (*circuit.field, *circuit.speed))
    height = f"{circuit.peak * circuit.windings[n]:.9g}" + (f"*{swings}" if swings else "")
    lead = "1meg" if phase == circuit.open_phase else f"{circuit.resistance:.6g}"
    return [
        f"B{phase} {phase}0 n V={height}*({shape})",
        f"L{phase} {phase}0 {phase}1 {circuit.inductance:.6g}",
        f"R{phase} {phase}1 {phase} {lead}",
        f"R{phase}leak {phase} 0 1meg",
        *_diodes(circuit, phase),
    ]


def _diodes(circuit: Circuit, phase: str) -> list[str]:
    lines = []
    for side, anode, cathode in (("p", phase, "pos"), ("n", "0", phase)):
        name = phase + side
        if name in circuit.shorted:
            lines.append(f"R{name} {anode} {cathode} {circuit.short:.6g}")
        elif name not in circuit.open_diodes:
            lines += [f"D{name} {anode} {cathode} M{name}", _model(name, circuit.diodes[SIDES.index(name)])]
    return lines


def _model(name: str, series: float) -> str:
    return f".model M{name} D(IS=1e-12 N=1.0 RS={series:.6g})"


def _path(circuit: Circuit) -> list[str]:
    """From the stud to the battery and back to the case."""
    lines = [
        f"RPLUS pos lp {circuit.plus:.6g}",
        f"LPLUS lp bp {circuit.cable:.6g}",
        f"RMINUS bn 0 {circuit.minus:.6g}",
        f"VBAT eb bn {circuit.battery:.6g}",
        f"RBAT bp eb {circuit.inside:.6g}",
    ]
    if circuit.across:
        lines += [f"CACROSS pos ca {circuit.across:.6g}", "RACROSS ca 0 0.1"]
    return lines


def _loads(circuit: Circuit) -> list[str]:
    lines = [f"RLOAD bp bn {14 / circuit.steady:.6g}"]
    for n, load in enumerate(circuit.pulses):
        shape = f"0 {load.amps:.6g} {0.3 / load.hertz:.6g} {load.rise:.6g} {load.fall:.6g} {load.width:.6g}"
        lines.append(f"IPULSE{n} bp bn PULSE({shape} {1 / load.hertz:.9g})")
    return lines + [f"BHUM{n} bp bn I={_sine(hum)}" for n, hum in enumerate(circuit.hum)]


def _sine(swing: Swing) -> str:
    return f"({swing.depth:.6g})*sin({2 * pi * swing.hertz:.9g}*time+({swing.angle:.6g}))"
