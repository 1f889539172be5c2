"""Readings by their names: the model's, those of people, and what an event says of a reading that is typed."""

from putback.errors import InputError
from putback.models import check_reading
from putback.models.form import Form

NO_UNIT = "-"  # of a figure that has none


def reading_name(form: Form, what: str) -> str | None:
    """The name by which a model knows a reading; None where it does not.

    Parameters
    ----------
    form : Form
    what : str
        That name, or what people call it.
    """
    asked = what.strip().casefold()
    return next(
        (one.name for one in form.readings.values() if asked in (one.name.casefold(), one.what.casefold())), None
    )


def reading_said(form: Form | None, what: str, text: str, unit: str | None = None) -> dict:
    """What an event says of a reading that somebody types.

    Parameters
    ----------
    form : Form or None
        The model of the job.
    what : str
    text : str
        A figure, or a word for what was seen.
    unit : str, optional
        May be left out where the model knows it.

    Raises
    ------
    InputError
        The model knows the reading and it cannot be so, or it is a figure without a unit.
    """
    name = reading_name(form, what) if form else None
    if name is None:
        return _free_reading(what, text, unit)
    known = form.readings[name]
    value = check_reading(form, name, f"{text} {unit}" if unit else text)
    read = {"value": value, "unit": known.unit or NO_UNIT} if isinstance(value, float) else {"word": value}
    return {"what": known.what} | read


def _free_reading(what: str, text: str, unit: str | None) -> dict:
    try:
        value = float(text.replace(",", "."))
    except ValueError:
        if unit:
            raise InputError(f'{what}: "{text}" is no number; write it as in 12.4 V, or a word alone') from None
        return {"what": what, "word": text}
    if not unit:
        raise InputError(f"{what}: say the unit as well, as in {text} V")
    return {"what": what, "value": value, "unit": unit}


def in_words(form: Form, text: str) -> str:
    """A sentence with what people call the readings in place of their names.

    Parameters
    ----------
    form : Form
    text : str
    """
    for one in sorted(form.readings.values(), key=lambda one: -len(one.name)):
        if "_" in one.name:  # names of one word are words of the trade already
            text = text.replace(one.name, one.what)
    return text
