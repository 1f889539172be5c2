"""`putback serve`: the pages at the car, from this computer."""

import os

PORT = 8140


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("--ledger", metavar="WHERE", help="a file, or postgresql://...; PUTBACK_LEDGER when left out")
    parser.add_argument("--areas", metavar="FOLDER", help="where the area files and the shop file lie; beside the ledger when left out")
    parser.add_argument("--port", type=int, default=PORT, metavar="N", help=f"{PORT} when left out")


def run(args) -> int:
    """Serve until somebody stops it."""
    import logging
    from datetime import UTC, datetime
    from pathlib import Path
    from time import perf_counter
    from uuid import uuid4

    import uvicorn

    from putback.cli_job_common import own_ledger
    from putback.job.ledger import open_ledger
    from putback.web.app import make_app
    from putback.web.settings import Settings

    where = args.ledger or os.environ.get("PUTBACK_LEDGER") or str(own_ledger(create=True))
    areas = Path(args.areas) if args.areas else own_ledger(create=True).parent / "areas"
    areas.mkdir(parents=True, exist_ok=True)
    with open_ledger(where) as ledger:
        settings = Settings(ledger, areas, lambda: datetime.now(UTC), lambda: uuid4().hex, perf_counter)
        print(f"the pages are at http://127.0.0.1:{args.port}/  (stop with Ctrl-C)", flush=True)
        logging.getLogger("uvicorn.access").disabled = True
        uvicorn.run(make_app(settings), host="127.0.0.1", port=args.port, log_level="warning")
    return 0
