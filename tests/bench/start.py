"""Cold start of `cabassist ask`: a new process each time, caches of the first run kept.

    python tests/bench/start.py

The first run may write bytecode, whatever the shell says about it: an installed package has it.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        environment = {**os.environ, "CABASSIST_DATA": folder, "CABASSIST_CACHE": folder + "/cache"}
        environment.pop("PYTHONDONTWRITEBYTECODE", None)
        environment.setdefault("PYTHONPYCACHEPREFIX", folder + "/bytecode")
        command = [sys.executable, "-m", "cabassist", "ask", "how do I empty the waste tank"]
        times = []
        for _ in range(16):
            begun = time.perf_counter()
            subprocess.run(command, env=environment, check=True, capture_output=True)
            times.append(time.perf_counter() - begun)
        first, rest = times[0], times[1:]
        print(f"first run, nothing cached: {first:.2f} s")
        print(
            f"cold start after that: median {statistics.median(rest):.2f} s, worst {max(rest):.2f} s of {len(rest)} (needed: 0.6)"
        )


if __name__ == "__main__":
    main()
