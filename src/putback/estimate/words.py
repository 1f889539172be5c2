"""Words for what is ordered and how long something takes."""

from fractions import Fraction

from putback.area.model import Fastener


def fastener_words(fastener: Fastener) -> str:
    """What to ask for over the counter: "M12x1.5 lock nut, class 10".

    Parameters
    ----------
    fastener : Fastener
    """
    thread = fastener.thread.text if fastener.thread else ""
    words = [f"{thread} {fastener.noun}".strip()]
    words += [f"class {fastener.property_class}"] if fastener.property_class else []
    words += ["left-hand thread"] if fastener.left_hand else []
    words += ["coated"] if fastener.coated else []
    return ", ".join(words)


def litre_words(litres: Fraction) -> str:
    """Litres as people write them: "0.7 l".

    Parameters
    ----------
    litres : Fraction
    """
    return f"{float(litres):g} l"


def time_words(minutes: Fraction) -> str:
    """Minutes as hours and minutes to the tenth, halves up: "4 h 15.5 min".

    Parameters
    ----------
    minutes : Fraction

    Examples
    --------
    >>> time_words(Fraction("255.5")), time_words(Fraction(45)), time_words(Fraction(120))
    ('4 h 15.5 min', '45 min', '2 h')
    """
    tenths = int(minutes * 10 + Fraction(1, 2))
    hours, rest = divmod(tenths, 600)
    words = [f"{hours} h"] if hours else []
    words += [f"{rest / 10:g} min"] if rest or not hours else []
    return " ".join(words)
