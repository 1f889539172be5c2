"""Pages from templates; the templates hold no rule of the trade, they only show."""

import hashlib
from functools import lru_cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from starlette.responses import HTMLResponse

HERE = Path(__file__).parent
STATIC = HERE / "static"


@lru_cache(maxsize=1)
def _environment() -> Environment:
    found = Environment(
        loader=FileSystemLoader(HERE / "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    found.globals["static"] = static
    return found


@lru_cache(maxsize=64)
def static(name: str) -> str:
    """The address of a file of ours; it changes with the file, so that a browser may keep it for ever.

    Parameters
    ----------
    name : str
    """
    digest = hashlib.sha256((STATIC / name).read_bytes()).hexdigest()[:12]
    return f"/static/{digest}/{name}"


def page(template: str, status: int = 200, **values) -> HTMLResponse:
    """A page from a template.

    Parameters
    ----------
    template : str
        Its file.
    status : int
        Of HTTP.
    values : what the template shows
    """
    text = _environment().get_template(template).render(**values)
    return HTMLResponse(text.encode("utf-8", "replace"), status)  # half a sign from outside is no reason to fail
