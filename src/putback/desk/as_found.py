"""The area as the car turned out to be: what was found to differ is put over the frozen copy, for planning only."""

from dataclasses import replace

from putback.area.model import Area, Item
from putback.area.tools import tool_list
from putback.job.state import JobState


def as_found(area: Area, state: JobState) -> Area:
    """The frozen copy of an area with the tools that things really take.

    Parameters
    ----------
    area : Area
    state : JobState
    """
    found = (one for one in state.differences if one.what == "other tool" and not one.settled)
    told = {one.item: one.tool for one in found if one.tool}
    items = {name: _with_tool(area.items[name], tool) for name, tool in told.items() if name in area.items}
    return replace(area, items={**area.items, **items}) if items else area


def _with_tool(item: Item, tool: str) -> Item:
    tools = tool_list(tool)
    ways = tuple(replace(way, tools=tools) if way.tools else way for way in item.ways)
    return replace(item, base=replace(item.base, tools=tools), ways=ways)
