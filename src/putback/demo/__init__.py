"""The invented demo files: areas, their shop, jobs half done, and a belt drive."""

from importlib import resources

# What a shop's own folder would have.
SHELVED = ("demo-a.yaml", "demo-b.yaml", "demo-c.yaml", "demo-d.yaml", "demo-shop.yaml", "demo-a-drive.yaml")
FILES = (*SHELVED, "demo-a-mount-nut-seized.yaml", "demo-d-hub-bolts-seized.yaml")


def text(name: str) -> bytes:
    """One of the demo `FILES`, as it would be read from disk."""
    return resources.files(__package__).joinpath(name).read_bytes()
