"""`python -m fitwright`: see `fitwright --help`."""

from __future__ import annotations

from fitwright.commands import main

__all__ = ["main"]

if __name__ == "__main__":
    raise SystemExit(main())
