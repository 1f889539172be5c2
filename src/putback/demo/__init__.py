"""The invented demo files: an area, a shop, and jobs half done."""

from importlib import resources

FILES = ("demo-a.yaml", "demo-shop.yaml", "demo-a-mount-nut-seized.yaml")


def text(name: str) -> bytes:
    """One of the demo `FILES`, as it would be read from disk."""
    return resources.files(__package__).joinpath(name).read_bytes()
