"""The command line: one thin front over the rooms."""
import argparse, sys
from putback import __version__
def main(argv=None):
    parser = argparse.ArgumentParser(prog="putback", description=__doc__)
    parser.add_argument("--version", action="version", version=f"putback {__version__}")
    parser.parse_args(argv)
    return 0
