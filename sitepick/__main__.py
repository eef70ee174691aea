"""Starts sitepick: `sitepick` and `python -m sitepick`; `sitepick-desk` does the same without a console window."""

from __future__ import annotations

import sys


def main() -> None:
    """Run the command line."""
    from sitepick.cli import run

    sys.exit(run(sys.argv[1:]))


if __name__ == "__main__":
    main()
