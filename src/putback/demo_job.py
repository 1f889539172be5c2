"""The demo job, played: a whole job on the demo car, with two differences and one hand-over that is refused.

It plays on a ledger of its own by a clock of its own, so it prints the same every time. Nothing is special about it: the
steps, the guards, the plans and the audit are those that every job has.
"""

import textwrap
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory
from time import perf_counter

from putback import demo
from putback.desk.differs import Differs, Found, differs, plan_again
from putback.desk.handing_over import HandOver, hand_over
from putback.desk.opening import File, open_job
from putback.desk.planning import Thinking, first_plan
from putback.desk.proposals import proposals
from putback.desk.stamp import Stamp
from putback.desk.view import View, look
from putback.desk_text import change_sentences, ladder_lines
from putback.event_text import event_words
from putback.job.guards import stops
from putback.job.kinds import check
from putback.job.ledger import Ledger, open_ledger
from putback.job.next_step import next_steps
from putback.job.step import Said, Step
from putback.job.whose import whose
from putback.job_text import point_lines

WIDTH = 80
BEGINS = datetime(2026, 3, 2, 7, 55, tzinfo=UTC)
FORGOTTEN = "lower alternator bolt"
SEIZED = "left mount nuts"
EXTRA = "heater pipe bracket"
ANSWER = "brake held by a second person, short bar"
MOST_STEPS = 400

BEFORE = (
    ("stud voltage, 2000 rpm", 12.20, False), ("positive drop", 0.0, None), ("current, 2000 rpm", 0.0, False),
)  # fmt: skip
AFTER = (("stud voltage, 2000 rpm", 14.4, True), ("positive drop", 0.09, True), ("current, 2000 rpm", 66.0, True))
UNITS = ("V", "V", "A")


def job_lines(papers: str | None = None) -> Iterator[str]:
    """The whole job in lines, as it goes on.

    Parameters
    ----------
    papers : str, optional
        The folder into which its papers are written in the end.
    """
    with TemporaryDirectory(ignore_cleanup_errors=True) as folder, open_ledger(str(Path(folder) / "demo.db")) as ledger:
        play = _Play(ledger)
        yield from play.lines()
        if papers:
            yield from play.papers(papers)


def played(ledger: Ledger) -> str:
    """The same job on a ledger that stays, without a word; its id.

    Parameters
    ----------
    ledger : Ledger
    """
    play = _Play(ledger)
    for _ in play.lines():
        pass
    return play.job


@dataclass
class _Clock:
    """The time in the demo's workshop."""

    now: datetime = BEGINS
    ids: int = 0

    def __call__(self) -> datetime:
        return self.now

    def new_id(self) -> str:
        self.ids += 1
        return f"D{self.ids:025d}"

    def passes(self, minutes: float) -> None:
        self.now += timedelta(minutes=max(0.5, minutes))


class _Play:
    """One job, played."""

    def __init__(self, ledger: Ledger):
        self.ledger, self.clock = ledger, _Clock()
        self.stamp = Stamp("technician 1", "bay 2", self.clock, self.clock.new_id)
        self.thinking = Thinking(perf_counter)
        self.job = ""
        self._view: View | None = None
        self._seen_at = -1  # how many ids were given by then

    def lines(self) -> Iterator[str]:
        yield "THE JOB, AS IT IS LOGGED"
        yield from self._open()
        yield from self._until(lambda step: step.item == SEIZED, "the way in")
        yield from self._seized()
        yield from self._until(lambda step: step.phase == "swap", "the other way in")
        yield from self._bracket()
        yield from self._match()
        yield from self._until(lambda step: step.asks == "hand-over signed", "the way back and all that is owed")
        yield from self._found()
        yield from self._refused()
        yield from self._until(lambda step: step.asks == "hand-over signed", "back to the bolt, and home again")
        yield from self._signed()

    @property
    def view(self) -> View:
        """The job as it stands; looked at anew only where something was logged."""
        last = self.clock.ids
        if self._seen_at != last:
            self._view, self._seen_at = look(self.ledger, self.job), last
        return self._view

    def _open(self) -> Iterator[str]:
        area, shop = (File(name, demo.text(name)) for name in ("demo-a.yaml", "demo-shop.yaml"))
        files = {"area": area, "shop": shop, "beside": lambda name: File(name, demo.text(name))}
        self.job = open_job(
            self.ledger, self.stamp, "alternator low", **files, vehicle="demo car A, plate 12", cap=76000
        )
        intake = {"complaint": "charging lamp on", "kilometres": 48210, "audio code": "4711"}
        yield from self._say([Said("intake noted", intake)])
        view = first_plan(self.ledger, self.job, self.stamp, self.thinking)
        yield from self._told(view.logged[-1].event)

    def _readings(self, figures: tuple) -> list[Said]:
        return [
            Said("reading taken", {"what": what, "value": value, "unit": unit} | ({} if good is None else {"good": good}))
            for (what, value, good), unit in zip(figures, UNITS, strict=True)
        ]

    def _until(self, ends: Callable[[Step], bool], what: str) -> Iterator[str]:
        """Do the steps that come, one after another, until one is reached; tells how many they were."""
        done, begun = 0, self.clock.now
        for _ in range(MOST_STEPS):
            step = next_steps(*self._seen())[0]
            if ends(step):
                break
            if step.asks == "plan made":
                yield from self._planned()
                continue
            yield from self._speaks(step)
            done += 1
        yield self._line(begun, f"{what}: {done} steps, each logged with one word, until {self.clock.now:%H:%M}")

    def _seen(self) -> tuple:
        view = self.view
        return view.state, view.car, view.plan, self.stamp.now()

    def _speaks(self, step: Step) -> Iterator[str]:
        """Do one step; where something speaks against it, that is told and overruled."""
        saids = list(step.closes)
        if step.asks == "difference settled":
            saids = [Said("difference settled", {"item": step.item, "how": "stud renewed, new nut", "minutes": 20})]
        if step.text.startswith("readings "):
            saids = [*self._readings(BEFORE if step.text == "readings before" else AFTER), *saids]
        self.clock.passes(step.minutes or 1)
        view = self.view
        found = stops(view.state, view.car, saids, self.stamp.now(), view.plan, self.stamp.person)
        for stop in found:
            yield self._line(self.clock.now, f"held back: {stop.text}")
            yield self._line(self.clock.now, f"answered, and on the record: {ANSWER}")
            answer = {"point": stop.key, "reason": ANSWER, "by": self.stamp.person}
            saids.append(Said("point accepted", answer))
        self._keep(saids)

    def _keep(self, saids: list[Said]) -> None:
        for said in saids:
            check(said.kind, said.data)
        self.ledger.append([self.stamp.event(self.job, said.kind, **said.data) for said in saids])

    def _say(self, saids: list[Said]) -> Iterator[str]:
        self._keep(saids)
        for row in self.view.logged[-len(saids) :]:
            yield from self._told(row.event)

    def _told(self, event) -> Iterator[str]:
        yield self._line(self.clock.now, event_words(event))

    def _line(self, at: datetime, text: str) -> str:
        return textwrap.fill(text, WIDTH, initial_indent=f"  {at:%H:%M}  ", subsequent_indent=" " * 9)

    def _seized(self) -> Iterator[str]:
        yield ""
        yield "FIRST DIFFERENCE: one left mount nut turns with its stud"
        found = Found(SEIZED, "seized", count=1, note="turns with its stud")
        told = differs(self.ledger, self.job, self.stamp, found, self.thinking)
        yield from self._ladder(told)
        yield from self._changed(told)
        yield from self._say([Said("consent given", {"to what": "the way through the wheel arch", "by": "the customer", "total": 90000, "how": "by telephone"})])
        yield ""

    def _ladder(self, told: Differs) -> Iterator[str]:
        yield "  what may free it, and what then is still to do, cheapest first:"
        for text in ladder_lines(told.ladder):
            yield textwrap.fill(text, WIDTH, initial_indent="    ", subsequent_indent="      ")
        yield "  soaked, heated and held back: it still turns. The other way it is."

    def _changed(self, told: Differs) -> Iterator[str]:
        for text in change_sentences(told.change):
            yield textwrap.fill(text, WIDTH, initial_indent="  ", subsequent_indent="    ")

    def _bracket(self) -> Iterator[str]:
        yield ""
        yield "SECOND DIFFERENCE: a bracket that the description does not know"
        off = {"item": "heater pipe bracket bolts", "count": 2, "to": "tray", "tray position": "20A", "size": "M6x16, 10 mm"}
        yield from self._say([
            Said("difference found", {"item": EXTRA, "what": "extra found", "note": "fitted later"}),
            Said("fasteners off", off | {"belongs to": EXTRA}),
            Said("item moved", {"item": EXTRA, "state": "off"}),
        ])  # fmt: skip
        for one in proposals(self.view)[:1]:
            yield textwrap.fill(f"for the area file, when the job is over: {one.sentence}", WIDTH, initial_indent="  ", subsequent_indent="    ")
        yield ""

    def _match(self) -> Iterator[str]:
        """The wrong unit first, which is stopped; then the right one."""
        area = self.view.area
        good = dict(area.match)
        wrong = good | {"control plug": "3-pin, key at 8 o'clock"}
        self._keep([Said("part compared", {"part": "alternator", "old": {}, "new": wrong})])
        view = self.view
        for stop in stops(view.state, view.car, [Said("part swapped", {"part": "alternator"})], self.stamp.now(), view.plan):
            yield self._line(self.clock.now, f"{'STOP' if stop.hard else 'held back'}: {stop.text}")
        self.clock.passes(90)
        yield from self._say([Said("part compared", {"part": "alternator", "old": {}, "new": good})])

    def _planned(self) -> Iterator[str]:
        told = plan_again(self.ledger, self.job, self.stamp, self.thinking, "the car stands otherwise than the plan has it")
        yield self._line(self.clock.now, event_words(told.view.logged[-1].event))

    def _refused(self) -> Iterator[str]:
        yield ""
        yield "THE HAND-OVER IS REFUSED"
        told = self._hand_over()
        words = {one.point.key: one.reach.words.removeprefix(f"{one.reach.item}: ") for one in told.barred if one.reach}
        yield from point_lines([one.point for one in told.barred], words)
        yield ""

    def _found(self) -> Iterator[str]:
        """A bolt is found in its tray: what was logged of it was not so."""
        yield ""
        yield "A BOLT IS FOUND: M8, 82 mm long, in a tray"
        view = self.view
        for match in whose("M8x82", view.state, view.car):
            yield self._line(self.clock.now, f"whose is it? {match.words}, at the {match.part}")
        said = next(row.event for row in view.logged if row.event.kind == "fasteners on" and row.event.data["item"] == FORGOTTEN)
        yield from self._say([Said("event undone", {"event": said.id, "reason": "it was logged, and it lies here"})])

    def _hand_over(self) -> HandOver:
        return hand_over(self.ledger, self.job, self.stamp, self.thinking, self.stamp.person, "the customer")

    def _signed(self) -> Iterator[str]:
        told = self._hand_over()
        yield ""
        if told.record is None:
            yield from point_lines([one.point for one in told.barred])
            return
        yield from self._told(told.view.logged[-1].event)
        fasteners = sum(one["count"] for one in told.record["fasteners"])
        whole = "whole" if self.ledger.verify(self.job) is None else "CHANGED"
        yield self._line(self.clock.now, f"the record: {fasteners} fasteners with what is known of each, {len(told.view.logged)} events, the log is {whole}")

    def papers(self, folder: str) -> Iterator[str]:
        """Write the papers of the job, and say where."""
        from putback.paper.folder import write_all
        from putback.paper.look import Look
        from putback.paper.matter import matter_of

        matter = matter_of(self.ledger, self.job, Look(), self.stamp.now(), self.thinking, self.view)
        yield ""
        yield f"ITS PAPERS, in {folder}"
        for kind, words in write_all(folder, matter):
            yield f"  {kind}: {words.removeprefix(folder).lstrip('/')}"
