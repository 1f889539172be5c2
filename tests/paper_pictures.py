"""Pictures of the papers of the demo job, for the docs; `scripts/papers` calls it."""

import io
import tempfile
from pathlib import Path
from time import perf_counter

import pypdfium2
from screenshots import smaller

from putback.demo_job import played
from putback.desk.planning import Thinking
from putback.desk.view import view_of
from putback.job.ledger import Ledger, open_ledger
from putback.paper.kinds import Matter, pdf
from putback.paper.look import Look
from putback.paper.matter import matter_of

FOLDER = Path(__file__).resolve().parent.parent / "docs" / "papers"
SCALE = 1.0  # 72 to the inch
EARLY = ("estimate", "job-sheet", "labels", "lay-out")  # as they are printed before anything is opened
HALF, LATER = 60, "2026-03-02T11:00:00.000Z"  # events after which somebody else may take over
PAGES = {
    "estimate": 0,
    "job-sheet": 2,
    "lay-out": 0,
    "labels": 0,
    "hand-on": 0,
    "tag": 0,
    "record": 0,
}  # the page that is shown


def main() -> None:
    """Take them all."""
    FOLDER.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, open_ledger(str(Path(folder) / "demo.db")) as ledger:
        job = played(ledger)
        for kind in PAGES:
            file = FOLDER / f"{kind}.png"
            file.write_bytes(picture(pdf(kind, matter(kind, ledger, job)), PAGES[kind]))
            print(f"{file.name}: {file.stat().st_size / 1000:.0f} kB", flush=True)


def matter(kind: str, ledger: Ledger, job: str) -> Matter:
    """The job as it stood when such a paper is printed.

    Parameters
    ----------
    kind : str
    ledger : Ledger
    job : str
        Its id.
    """
    rows = ledger.events(job)
    planned = next(row.number for row in rows if row.event.kind == "plan made")
    seen = rows[: planned if kind in EARLY else HALF if kind in ("hand-on", "tag") else len(rows)]
    look = Look(address="http://192.0.2.10:8000")  # RFC 5737: an address for documentation
    return matter_of(ledger, job, look, LATER, Thinking(perf_counter), view_of(ledger, job, seen))


def picture(paper: bytes, page: int) -> bytes:
    """One page as a small PNG.

    Parameters
    ----------
    paper : bytes
    page : int
        From 0.
    """
    to = io.BytesIO()
    pypdfium2.PdfDocument(paper)[page].render(scale=SCALE).to_pil().save(to, "PNG")
    return smaller(to.getvalue())


if __name__ == "__main__":
    main()
