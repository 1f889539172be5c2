"""Operations as people know them: what to do, with what, how long, and what to beware of."""

from dataclasses import dataclass
from fractions import Fraction

from putback.area.model import OUT, Equipment, Fastener, Fluid, NewPart, Risk, Spread
from putback.way.from_area_described import Needs
from putback.way.from_area_draft import expected
from putback.way.from_area_job import Job
from putback.way.from_area_moves import Doable, Move
from putback.way.from_area_words import sentence


@dataclass(frozen=True)
class OperationWay:
    """One way of an operation; they stand in the order of the core's ways."""

    name: str
    needs: Needs
    vantages: tuple[str, ...]
    postures: tuple[str, ...]  # none: any will do
    turned: tuple[tuple[str, str], ...]
    tools: tuple[tuple[str, ...], ...]  # one of these sets, each with its main tool first
    equipment: tuple[Equipment, ...]
    certificates: tuple[str, ...]
    minutes: Spread
    risks: tuple[Risk, ...]
    cautions: tuple[str, ...]
    follow_ups: tuple[str, ...]
    second_person: Fraction | None
    expected_risk: Fraction  # minutes, for the rust class asked for

    def tool_set(self, main: str) -> tuple[str, ...]:
        """The whole set that goes with the tool in hand; empty if no set begins with it."""
        return next((one for one in self.tools if one[0] == main), ())


@dataclass(frozen=True)
class Operation:
    """One operation. Minutes are the operation's own; a way's minutes are those of doing it that way."""

    id: str
    item: str  # the core's item
    name: str  # the area's item
    part: str  # the part that it belongs to, or itself
    kind: str
    direction: str
    level: int
    state: str  # where the item stands afterwards
    text: str  # what to do
    about: str
    fastener: Fastener | None
    pieces: int  # how many of the group are moved
    minutes: Spread
    expected_risk: Fraction  # minutes, for the rust class asked for
    risks: tuple[Risk, ...]
    cautions: tuple[str, ...]
    of_parts: tuple[tuple[str, str], ...]  # of the cautions, those of parts that are moved or opened: said once a part
    holds: tuple[Equipment, ...]  # kept busy from here until it is taken out again
    uses_up: tuple[NewPart, ...]
    fluid: Fluid | None
    source: str | None  # of the figures
    why: str
    ways: tuple[OperationWay, ...]


def operation(job: Job, move: Move) -> Operation:
    """What people must see of a move."""
    step, item = move.step, move.step.chain.item
    fastener = item.fastener
    return Operation(
        id=move.id,
        item=step.chain.name,
        name=item.name,
        part=item.owner or item.name,
        kind=item.kind,
        direction=step.direction,
        level=step.level,
        state=item.states[step.area_level if step.direction == OUT else step.area_level - 1],
        text=sentence(step.chain, step.direction, step.area_level, step.pieces),
        about=item.about or (fastener.where if fastener else ""),
        fastener=fastener,
        pieces=int(step.pieces * fastener.count) if fastener else 1,
        minutes=step.minutes,
        expected_risk=expected(step.risks, job.rust),
        risks=step.risks,
        cautions=step.cautions,
        of_parts=step.of_parts,
        holds=move.holds if step.direction == OUT else (),
        uses_up=step.new_parts,
        fluid=step.fluid,
        source=(fastener.source if fastener else None) or job.area.figures_from,
        why=item.why,
        ways=tuple(_way(job, move, way) for way in move.ways),
    )


def _way(job: Job, move: Move, way: Doable) -> OperationWay:
    path = way.path
    return OperationWay(
        name=path.name,
        needs=way.needs,
        vantages=path.vantages,
        postures=way.postures,
        turned=path.turned,
        tools=way.tools,
        equipment=way.equipment,
        certificates=path.certificates,
        minutes=move.step.minutes + path.extra,
        risks=path.risks,
        cautions=path.cautions,
        follow_ups=path.follow_ups,
        second_person=path.helper,
        expected_risk=expected(path.risks, job.rust),
    )
