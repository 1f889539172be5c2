"""Whole jobs made up by lot, with things left out on purpose, held against the audit: `scripts/try-jobs`.

The makers keep their own record of what was done and what was left out. They share no code with the fold and the audit:
they read area files and plans, and write events as a technician would log them.
"""
