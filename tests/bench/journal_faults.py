"""What the record survives: kill -9 under load, two processes, a full disk, clocks, damaged files.

python tests/bench/journal_faults.py [--kills 500] [--damage 200]
"""

from __future__ import annotations

import argparse
import contextlib
import os
import random
import resource
import signal
import subprocess
import sys
import tempfile
import textwrap
import time
from collections import Counter
from datetime import UTC, datetime, timedelta
from pathlib import Path

from cabassist.errors import FileProblem, JournalError
from cabassist.journal import EventDraft, Journal
from cabassist.journal.chain import file_faults, rows, verify
from cabassist.journal.rescue import rescue

NOW = datetime(2026, 1, 15, 21, 40, tzinfo=UTC)
WRITER = textwrap.dedent(
    """
    import os, sys
    from datetime import datetime, timezone
    from cabassist.journal import EventDraft, Journal

    with Journal(sys.argv[1], busy_timeout_s=30) as journal:
        n, many = 0, int(sys.argv[2])
        while n < many or not many:
            drafts = [EventDraft(kind, {"n": n, "text": "x" * 200}) for kind in ("said", "asked", "answered")]
            made = journal.append(drafts, at=datetime.now(timezone.utc), coach="loon", session=sys.argv[3], actor="Ann")
            os.write(1, ("".join(event.id + "\\n" for event in made)).encode())
            n += 1
    """
)


def writer(path: Path, many: int, session: str) -> subprocess.Popen[bytes]:
    return subprocess.Popen([sys.executable, "-c", WRITER, str(path), str(many), session], stdout=subprocess.PIPE)


RUNS_A_JOURNAL = 25


def kills(folder: Path, runs: int) -> str:
    """Two writers at once, both killed at a random moment, again and again on the same journal; a new one now and then."""
    chance = random.Random(15)
    lost = broken = torn = count = acknowledged = unopened = 0
    slowest = 0.0
    known: set[str] = set()
    for run in range(runs):
        path = folder / f"killed-{run // RUNS_A_JOURNAL}.sqlite"
        both = [writer(path, 0, f"{run}-{n}") for n in range(2)]
        first = [one.stdout.readline() for one in both]  # both are at work
        time.sleep(chance.uniform(0.0, 0.15))
        for one in both:
            one.send_signal(signal.SIGKILL)
        unopened += sum(not line for line in first)
        told = [*filter(None, first), *(line for one in both for line in one.stdout if line.endswith(b"\n"))]
        for one in both:
            one.wait()
            one.stdout.close()
        known |= {line.decode().strip() for line in told}
        begun = time.perf_counter()
        with Journal(path) as journal:
            slowest = max(slowest, time.perf_counter() - begun)
            torn += sum(sum(1 for _ in journal.read(session=f"{run}-{n}")) % 3 != 0 for n in range(2))
            if run % RUNS_A_JOURNAL == RUNS_A_JOURNAL - 1 or run == runs - 1:
                here = list(rows(journal))
                lost += len(known - {row.id for row in here})
                broken += not verify(here).sound
                count, acknowledged, known = count + len(here), acknowledged + len(known), set()
    return (
        f"kill -9: {runs} runs of two writers, {acknowledged:,} events acknowledged, {count:,} on disk; "
        f"writers that could not open it {unopened}, lost {lost}, batches torn {torn}, chains broken {broken}; slowest reopening {slowest:.3f} s (needed: 1 s)"
    )


def two_processes(folder: Path) -> str:
    path, many = folder / "two.sqlite", 200
    begun = time.perf_counter()
    both = [writer(path, many, f"s{n}") for n in range(2)]
    for one in both:
        one.communicate()
    took = time.perf_counter() - begun
    with Journal(path) as journal:
        sound, count = verify(rows(journal)).sound, journal.count()
    failed = sum(one.returncode != 0 for one in both)
    return f"two processes: {count} of {2 * many * 3} events in {took:.1f} s, {failed} failed, chain {'sound' if sound else 'BROKEN'}"


FILLER = textwrap.dedent(
    """
    import sys
    from datetime import datetime, timezone
    from cabassist.errors import CabassistError
    from cabassist.journal import EventDraft, Journal

    done = 0
    with Journal(sys.argv[1]) as journal:
        while True:
            try:
                journal.append([EventDraft("said", {"text": "x" * 500})], at=datetime.now(timezone.utc), coach="loon", session="s", actor="Ann")
            except CabassistError as error:
                print(done, str(error).split(": ", 1)[1])
                break
            done += 1
    """
)


def full_disk(folder: Path) -> str:
    """A disk of one megabyte in memory, filled up, then freed a little; needs the right to mount one."""
    disk = folder / "disk"
    disk.mkdir()
    mounted = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=1m", "tmpfs", str(disk)], check=False, capture_output=True
    )
    if mounted.returncode:
        return "full disk: not measured, no right to mount one"
    try:
        spare, path = disk / "spare", disk / "full.sqlite"
        spare.write_bytes(b"x" * 200_000)
        done = subprocess.run([sys.executable, "-c", FILLER, str(path)], capture_output=True, text=True, check=False)
        if done.returncode:
            return f"full disk: FAILED: {done.stderr.splitlines()[-1]}"
        acknowledged, said = done.stdout.split(" ", 1)
        spare.unlink()
        with Journal(path) as journal:
            count, sound = journal.count(), verify(rows(journal)).sound
            journal.append([EventDraft("said", {})], at=NOW, coach="loon", session="s", actor="Ann")
        return f"full disk: {acknowledged} acknowledged, {count} on disk, chain {'sound' if sound else 'BROKEN'}, writable again once freed; said: {said.strip()}"
    finally:
        subprocess.run(["umount", str(disk)], check=False)


def clocks(folder: Path) -> str:
    chance = random.Random(3)
    with Journal(folder / "clock.sqlite") as journal:
        for _ in range(300):
            at = NOW + timedelta(seconds=chance.uniform(-4e8, 4e8))
            journal.append([EventDraft("said", {})], at=at, coach="loon", session="s", actor="Ann")
        names = [event.id for event in journal.read()]
        sound = verify(rows(journal)).sound
    return f"clock: 300 jumps of up to 12 years either way; ids in order: {names == sorted(names)}, chain {'sound' if sound else 'BROKEN'}"


def damage(folder: Path, runs: int) -> list[str]:
    """Files cut short and bits flipped: found by verify, saved by rescue, and nothing altered saved as sound."""
    path, chance = folder / "whole.sqlite", random.Random(8)
    with Journal(path) as journal:
        for n in range(1500):
            journal.append(
                [EventDraft("said", {"text": f"{n} " + "y" * 80})],
                at=NOW + timedelta(seconds=n),
                coach="loon",
                session=f"s{n // 20}",
                actor="Ann",
            )
        true = {(row.id, row.payload) for row in rows(journal)}
    body = path.read_bytes()
    lines = []
    for name in ("cut short", "bits flipped"):
        seen: Counter[str] = Counter()
        shares = []
        for run in range(runs):
            bad, new = folder / f"bad-{run}.sqlite", folder / f"new-{run}.sqlite"
            if name == "cut short":
                spoiled, left = body[: chance.randrange(30_000, len(body))], None
            else:
                spoiled, left = bytearray(body), 1 + run % 8
                for _ in range(left):
                    spoiled[chance.randrange(len(spoiled))] ^= 1 << chance.randrange(8)
            bad.write_bytes(bytes(spoiled))
            trial = folder / "trial.sqlite"
            trial.write_bytes(bytes(spoiled))
            try:
                with Journal(trial) as journal:
                    found = not verify(rows(journal)).sound or bool(file_faults(journal))
                    harmless = not found and {(row.id, row.payload) for row in rows(journal)} == true
                    seen[
                        "found by verify" if found else "in unused bytes, nothing altered" if harmless else "NOT FOUND"
                    ] += 1
            except (JournalError, FileProblem):
                seen["refused at opening or reading"] += 1
            try:
                told = rescue(bad, new, at=NOW, by="bench")
            except FileProblem:
                seen["nothing saved"] += 1
                shares.append(0.0)
                continue
            with Journal(new) as journal:
                seen["rescued file unsound"] += not verify(rows(journal)).sound
                saved = {(row.id, row.payload) for row in rows(journal) if row.kind != "rescued"}
            seen["altered events saved"] += max(0, len(saved - true) - told.unproved)
            shares.append(len(saved & true) / len(true))
            for file in (bad, new, trial):
                for ending in ("", "-wal", "-shm"):
                    with contextlib.suppress(FileNotFoundError):
                        os.unlink(f"{file}{ending}")
        shares.sort()
        counts = ", ".join(f"{what} {count}" for what, count in seen.items())
        lines.append(
            f"{name}: {runs} files; {counts}; saved: median {shares[len(shares) // 2]:.1%}, worst {shares[0]:.1%}"
        )
    return lines


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--kills", type=int, default=500)
    parser.add_argument("--damage", type=int, default=200)
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        print(clocks(folder), flush=True)
        print(full_disk(folder), flush=True)
        print(two_processes(folder), flush=True)
        for line in damage(folder, given.damage):
            print(line, flush=True)
        print(kills(folder, given.kills), flush=True)
    print(f"most memory: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB")


if __name__ == "__main__":
    main()
