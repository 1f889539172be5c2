"""The car of a job as far as it is described: an area narrowed to its variants, or nothing at all."""

from dataclasses import dataclass
from functools import cached_property

from putback.area.model import Area, Fastener, Item
from putback.area.shop_file import Shop
from putback.way.from_area_described import present


@dataclass(frozen=True)
class Car:
    """What is known of a car before anybody touches it; both may be None."""

    area: Area | None
    shop: Shop | None
    variants: tuple[str, ...] = ()

    @cached_property
    def items(self) -> dict[str, Item]:
        """What the description has for this variant; empty for a car that nobody described."""
        return present(self.area, self.variants) if self.area else {}

    def fastener(self, name: str) -> Fastener | None:
        """What the fasteners of a group are; None where it is not known."""
        item = self.items.get(name)
        return item.fastener if item else None

    def kind(self, name: str) -> str:
        """The kind of an item, as the area has it; empty where it is not known."""
        item = self.items.get(name)
        return item.kind if item else ""

    def named(self, name: str) -> str:
        """An item with what helps to find it: its thread, and what it belongs to."""
        item = self.items.get(name)
        fastener = item.fastener if item else None
        if fastener is None:
            return name
        thread = f", {fastener.thread.text}" if fastener.thread and fastener.thread.text else ""
        return f"{name}{thread}{f', {fastener.where}' if fastener.where else ''}"
