"""`cabassist review sheet|quiz|sign-off|report`."""

from __future__ import annotations

COMMANDS: tuple[()] = ()
