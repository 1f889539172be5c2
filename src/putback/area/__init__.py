"""The work area: items and how they may be moved, read from files that people write."""

from putback.area.area_file import read_area
from putback.area.model import Area
from putback.area.shop_file import Shop, read_shop
from putback.area.state_file import State, read_state

__all__ = ["Area", "Shop", "State", "read_area", "read_shop", "read_state"]
