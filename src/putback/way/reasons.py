"""Why a part is touched at all: the shortest chain of needs from it to the target."""

from collections import deque
from collections.abc import Iterable, Mapping

from putback.way.from_area_operation import Operation


def reasons(
    core: Mapping, operations: Mapping[str, Operation], plan: list, targets: Iterable[str]
) -> dict[str, tuple[str, ...]]:
    """For every part of a plan, the parts between it and a target, the target last.

    Parameters
    ----------
    core : mapping
        The problem that was solved.
    operations : mapping of str to Operation
        What its operations mean.
    plan : list
        Steps as docs/core-problem.md describes them.
    targets : names of parts

    Returns
    -------
    chains : dict of str to tuple of str
        Empty for a target; a part that nothing on the way needs has no entry.
    """
    served = _served(core, operations, plan)
    chains: dict[str, tuple[str, ...]] = {target: () for target in targets}
    waiting = deque(chains)
    while waiting:
        part = waiting.popleft()
        for before in served.get(part, ()):
            if before not in chains:
                chains[before] = (part, *chains[part])
                waiting.append(before)
    return chains


def _served(core: Mapping, operations: Mapping[str, Operation], plan: list) -> dict[str, list[str]]:
    """For every part, the other parts that its way in asks for, in the order of the plan."""
    part_of = {operation.item: operation.part for operation in operations.values()}
    ways = {op["id"]: op["ways"] for op in core["ops"] if op["dir"] == "out"}
    served: dict[str, list[str]] = {}
    for name, way, _ in plan:
        if name not in ways:
            continue
        part = operations[name].part
        needed = [item for item, (low, _) in ways[name][way].get("needs", {}).items() if low > 0]
        known = [part_of[item] for item in needed if item in part_of]  # marks made before have no moves left
        served.setdefault(part, []).extend(other for other in known if other != part)
    return served
