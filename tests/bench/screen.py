"""The screen: time to the first usable prompt, time to an answer, memory. A new process in a pseudo-terminal each time.

python tests/bench/screen.py [--runs 9]

The prompt is usable when a typed letter is drawn. An answer's time runs from the Enter key until its first words are
drawn. Memory is the resident set after the answers (Linux, /proc).
"""

from __future__ import annotations

import argparse
import fcntl
import os
import pty
import select
import signal
import statistics
import struct
import sys
import tempfile
import termios
import time

LIMIT_S = 120.0
ASKED = [
    ("how do I plug in at the hotel", b"Connect shore power"),
    ("thanks", b"You are welcome"),
    ("fresh at two thirds", b"about 80 gallons"),
    ("it smells of rotten eggs", b"Get everyone out"),
    ("stop", b"Stopped at step"),
    ("waste at forty percent", b"about 32 gallons"),
]
"""What is typed, and words of its answer. The first calculation loads the units, which is counted too."""


class Terminal:
    """A process in a pseudo-terminal, and everything it drew."""

    def __init__(self, environment: dict[str, str]) -> None:
        self.begun = time.perf_counter()
        self.pid, self.ours = pty.fork()
        if self.pid == 0:
            os.execve(sys.executable, [sys.executable, "-m", "cabassist", "--no-demo"], environment)
        fcntl.ioctl(self.ours, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
        self.seen = b""

    def wait_for(self, words: bytes, since: int = 0) -> float:
        """Seconds from the start of the process until these words are drawn."""
        while words not in self.seen[since:]:
            if time.perf_counter() - self.begun > LIMIT_S or not select.select([self.ours], [], [], 1.0)[0]:
                if time.perf_counter() - self.begun > LIMIT_S:
                    raise SystemExit(f"waited in vain for {words!r}")
                continue
            self.seen += os.read(self.ours, 65536)
        return time.perf_counter() - self.begun

    def type(self, text: str) -> None:
        os.write(self.ours, text.encode())

    def memory_mb(self) -> float:
        with open(f"/proc/{self.pid}/status", encoding="ascii") as file:
            return next(int(line.split()[1]) for line in file if line.startswith("VmRSS")) / 1024

    def end(self) -> None:
        os.kill(self.pid, signal.SIGKILL)
        os.waitpid(self.pid, 0)
        os.close(self.ours)


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--runs", type=int, default=9)
    runs = parser.parse_args().runs
    with tempfile.TemporaryDirectory() as folder:
        environment = {
            **os.environ, "CABASSIST_DATA": folder, "CABASSIST_CACHE": folder + "/cache", "TERM": "xterm-256color",
            "PYTHONPATH": os.getcwd(),
        }  # fmt: skip
        starts: list[float] = []
        answers: dict[str, list[float]] = {text: [] for text, _ in ASKED}
        memory: list[float] = []
        for run in range(runs + 1):
            terminal = Terminal({**environment, "CABASSIST_JOURNAL": f"{folder}/{run}.sqlite"})
            terminal.wait_for(b"you>")
            since = len(terminal.seen)
            terminal.type("Z")  # no letter of the screen's own
            started = terminal.wait_for(b"Z", since)
            terminal.wait_for(b"PARKED")
            time.sleep(1.0)
            terminal.type("\x15")  # Ctrl+U empties the line
            time.sleep(0.5)
            for text, words in ASKED:
                terminal.type(f"\x1b[200~{text}\x1b[201~")  # pasted, so that it is drawn at once
                time.sleep(0.5)
                since, begun = len(terminal.seen), time.perf_counter()
                terminal.type("\r")
                terminal.wait_for(words, since)
                if run:  # the first run fills the caches
                    answers[text].append(1000 * (time.perf_counter() - begun))
            if run:
                starts.append(started)
                memory.append(terminal.memory_mb())
            terminal.end()
    print(
        f"start to a usable prompt: median {statistics.median(starts):.2f} s, worst {max(starts):.2f} s (needed: 1.0)"
    )
    every = sorted(ms for times in answers.values() for ms in times)
    print(f"a typed answer: median {statistics.median(every):.0f} ms, worst {every[-1]:.0f} ms (needed: 100)")
    for text, times in answers.items():
        print(f"  {statistics.median(times):4.0f} ms  {text}")
    print(f"memory: {max(memory):.0f} MB (needed: 200, without a voice model)")


if __name__ == "__main__":
    main()
