"""The work area: items and how they may be moved, read from files that people write."""
