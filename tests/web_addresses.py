"""Every page of the application, from its own table, so that a new page is looked at without anybody's doing."""

import re

from putback.web.app import ROUTES

# What stands for the names in addresses; a page with another name says what stands for it here.
STANDS_FOR = {
    "file": "demo-a.yaml", "name": "demo-a.yaml", "area": "demo-a.yaml", "drive": "demo-a-drive.yaml", "vehicle": "demo car A",
    "item": "lower%20alternator%20bolt",
}  # fmt: skip


def pages(job: str, **more: str) -> list[str]:
    """The addresses of all pages that can be looked at, for one job.

    Parameters
    ----------
    job : str
    more : str
        What stands for other names in addresses.
    """
    names = STANDS_FOR | {"job": job} | more
    paths = [
        route.path for route in ROUTES if "GET" in route.methods and not route.path.startswith(("/api/", "/static/"))
    ]
    return list(dict.fromkeys(re.sub(r"{(\w+)(?::\w+)?}", lambda found: names[found[1]], path) for path in paths))
