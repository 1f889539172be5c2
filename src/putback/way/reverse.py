"""What "refit in reverse order" does not say of a plan: the way back is not the way in read backwards."""

from collections.abc import Iterator

from putback.area.model import BACK, MARKS, OUT, Ref
from putback.way.sheet import Sheet, SheetStep


def not_said_by_reverse(sheet: Sheet) -> tuple[str, ...]:
    """What has to be known on the way back besides the order in which things came off.

    Parameters
    ----------
    sheet : Sheet

    Returns
    -------
    points : tuple of str
        New fasteners and parts, marks to align to, stages, what is tightened before what, what is tightened on the
        ground, what is filled, what is to be minded on the way back alone, and what is owed afterwards.
    """
    return tuple(dict.fromkeys(_points(sheet)))


def _points(sheet: Sheet) -> Iterator[str]:
    out, back = sheet.moves(OUT), sheet.moves(BACK)
    new = dict.fromkeys(part.name for step in back for part in step.operation.uses_up)
    if new:
        yield f"new ones go in, never the old: {', '.join(new)}"
    for step in out:
        if step.operation.kind == MARKS:
            marked = [ref.name for ref in sheet.area.items[step.operation.name].marks]
            yield f"{' and '.join(marked)}: aligned to the {step.operation.name} before it is finally tightened"
    for step in back:
        yield from _tightening(step)
    for step in back:
        yield from (f"{step.operation.name}: tightened after {ref.name}" for ref in _after(sheet, step))
    battery = sheet.area.battery
    if battery is not None and any(step.operation.name == battery.name for step in back):
        yield f"{battery.name}: back on after every plug and cable"
    for step in back:
        if step.operation.fluid:
            yield f"{step.operation.part}: filled with {step.operation.fluid.name}"
    yield from _cautions(out, back)
    later = [*(name for name, _ in sheet.due), *(work.name for work in sheet.job_work if work.when == "after")]
    if later:
        yield f"afterwards, which nothing on the way in mirrors: {', '.join(later)}"


def _tightening(step: SheetStep) -> Iterator[str]:
    fastener = step.operation.fastener
    if fastener is None or fastener.torque is None or step.operation.level > 1:
        return
    if fastener.torque.angle or fastener.torque.passes > 1:
        pattern = f", {fastener.pattern}" if fastener.pattern else ""
        yield f"{step.operation.name}: in stages, {fastener.torque.shown}{pattern}"
    if fastener.on_the_ground:
        yield f"{step.operation.name}: finally tightened with the car on the ground"


def _after(sheet: Sheet, step: SheetStep) -> list[Ref]:
    """What goes back in this plan before a fastener is tightened."""
    moved = {name for other in sheet.steps if other.operation for name in (other.operation.name, other.operation.part)}
    after = sheet.area.items[step.operation.name].tighten_after if step.operation.level == 1 else ()
    return [ref for ref in after if ref.name in moved]


def _cautions(out: list[SheetStep], back: list[SheetStep]) -> Iterator[str]:
    """What the description says for the way back alone."""
    said = {caution for step in out for caution in _described(step)}
    for step in back:
        for caution in _described(step):
            if caution not in said:
                yield f"{step.operation.part}: {caution}"


def _described(step: SheetStep) -> tuple[str, ...]:
    """Cautions of the operation itself, whichever order it stands in."""
    return (*step.operation.cautions, *step.way.cautions)
