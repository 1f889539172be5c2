"""A server for tests without a network: the application over a ledger of the test, asked directly."""

import asyncio
from typing import Any

import httpx
from desk_samples import Desk
from log import DEMO

from putback.web.app import make_app
from putback.web.settings import Settings

HERE = "http://127.0.0.1"
AWAY = ("192.168.7.20", 50_000)  # a device of the shop's network


class Web:
    """The application with a desk behind it."""

    def __init__(self, desk: Desk, areas, **more):
        self.desk = desk
        clock = more.pop("clock", desk._clock)
        self.settings = Settings(
            desk.ledger, areas, clock, lambda: str(next(desk.ids)).rjust(26, "0"), lambda: 0.0, **more
        )
        self.app = make_app(self.settings)

    def ask(self, method: str, path: str, client=("127.0.0.1", 50_000), base: str = HERE, **more) -> httpx.Response:
        """One request and its answer."""
        return asyncio.run(self._ask(method, path, client, base, more))

    async def _ask(self, method: str, path: str, client, base: str, more: dict) -> httpx.Response:
        transport = httpx.ASGITransport(app=self.app, raise_app_exceptions=False, client=client)
        async with httpx.AsyncClient(transport=transport, base_url=base, cookies=more.pop("cookies", None)) as asking:
            return await asking.request(method, path, **more)

    def get(self, path: str, **more) -> httpx.Response:
        return self.ask("GET", path, **more)

    def post(self, path: str, said: Any = None, **more) -> httpx.Response:
        return self.ask("POST", path, **({"json": said} if said is not None else {}), **more)


def areas_folder(folder):
    """A shop's folder with demo A, its belt drive and the demo shop."""
    found = folder / "areas"
    found.mkdir()
    for name in ("demo-a.yaml", "demo-a-drive.yaml", "demo-shop.yaml"):
        (found / name).write_bytes((DEMO / name).read_bytes())
    return found


def sentence(answer: httpx.Response) -> str:
    """What the API says is wrong."""
    return answer.json()["error"]["sentence"]
