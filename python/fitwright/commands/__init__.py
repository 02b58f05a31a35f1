"""The command line, a module for each kind of command."""

from __future__ import annotations

from fitwright.commands.parser import main

__all__ = ["main"]
