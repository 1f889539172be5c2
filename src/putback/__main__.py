"""Lets `python -m putback` start the command line."""

import sys

from putback.cli import main

if __name__ == "__main__":
    sys.exit(main())
