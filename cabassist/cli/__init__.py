"""The command line: thin commands, text for people and `--json` for programs.

Exit codes: 0 answered, 1 not answered, 2 misuse or a file that cannot be used.
"""

from cabassist.cli.main import main

__all__ = ["main"]
