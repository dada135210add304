"""A large record, reviewed: 10,000 sessions of 100 events, list and report timed, memory measured.

python tests/bench/review.py [--sessions 10000] [--keep FILE]

Processor time is printed beside the time on the clock: on a busy machine only the first can be compared.
"""

from __future__ import annotations

import argparse
import os
import random
import resource
import sqlite3
import subprocess
import sys
import tempfile
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path

from cabassist import places
from cabassist.journal import Journal
from cabassist.journal.events import canonical, chained, new_id
from cabassist.procedures.library import load_knowledge

EVENTS_A_SESSION = 100
NEEDED = {"list": 0.3, "report": 10.0}


def session_events(chance: random.Random, topics: list[tuple[str, int]], wordings: list[str], odd: list[str]):
    """About a hundred events: questions, walks, readings, things nobody understands."""
    made: list[tuple[int, str, dict[str, object]]] = []
    at = 0
    while len(made) < EVENTS_A_SESSION - 2:
        at += chance.randint(20, 240)
        if chance.random() < 0.06:
            text = chance.choice(odd)
            made += [(at, "said", {"text": text}), (at, "asked", {"said": text, "verdict": "unknown", "topics": [], "confidence": 0.2}),
                     (at, "answered", {"kind": "unknown", "topic": None, "confidence": 0.2, "step": None, "say": "I do not have that.",
                                       "options": [], "nearest": [t for t, _ in chance.sample(topics, 3)]})]  # fmt: skip
            continue
        topic, of = chance.choice(topics)
        text = chance.choice(wordings)
        made += [(at, "said", {"text": text}), (at, "asked", {"said": text, "verdict": "answer", "topics": [topic], "confidence": 0.9}),
                 (at, "walk", {"topic": topic, "step": 1, "of": of, "move": "open"}), answered(topic, 1, of, at)]  # fmt: skip
        for step in range(2, min(of, chance.randint(2, 9))):
            at += chance.randint(10, 200)
            made += [(at, "said", {"text": "next"}), (at, "steer", {"verb": "next", "sure": 1.0}),
                     (at, "walk", {"topic": topic, "step": step, "of": of, "move": "next"}), answered(topic, step, of, at)]  # fmt: skip
            if chance.random() < 0.03:
                made += [(at, "said", {"text": "why"}), (at, "why", {"topic": topic, "step": step, "answered": True}),
                         answered(topic, step, of, at)]  # fmt: skip
        level = chance.randint(5, 95)
        made += [(at, "said", {"text": f"waste at {level} percent"}),
                 (at, "reading", {"what": "waste", "which": None, "value": level, "unit": "percent", "approx": False, "flag": None, "from": None}),
                 (at, "answered", {"kind": "reading", "topic": topic, "confidence": 1.0, "step": None, "say": f"Waste {level} %.", "options": [], "nearest": []})]  # fmt: skip
    return made[:EVENTS_A_SESSION]


def answered(topic: str, step: int, of: int, at: int) -> tuple[int, str, dict[str, object]]:
    """A step, in about as many words as real ones have."""
    say = "Warning. A wet outlet can shock you. Open the valve at the rear of bay 4 and watch the hose while it runs empty."
    return at, "answered", {"kind": "procedure" if step == 1 else "step", "topic": topic, "confidence": 0.9,
                            "step": [step, of], "say": say, "options": [], "nearest": []}  # fmt: skip


def make(path: Path, sessions: int) -> None:
    """Fill a journal with a sound chain, in one transaction: a load as real drivers write it would take hours of flushing."""
    knowledge = load_knowledge(places.knowledge_folder(), places.cache_folder())
    topics = [(name, len(raw["steps"])) for name, raw in knowledge.raw_procedures.items()]
    texts = [phrase.text for phrase in knowledge.phrases]
    chance = random.Random(6)
    things = [
        "wiper",
        "radio",
        "horn",
        "mirror",
        "toll",
        "ferry",
        "printer",
        "kettle",
        "trailer",
        "awning",
        "satellite",
        "fridge",
    ]
    odd = [
        form.format(thing)
        for thing in things
        for form in ("where is the {}", "the {} is broken", "how do I use the {}", "my {} makes noise")
    ]
    wordings = chance.sample(texts, 400)
    Journal(path).close()
    db = sqlite3.connect(path)
    db.execute("PRAGMA synchronous = OFF")
    previous = digest = ""
    start = datetime(2025, 11, 1, tzinfo=UTC)
    for number in range(sessions):
        begin = start + timedelta(minutes=number * 15)
        actor = f"driver-{number % 60}"
        for after, kind, payload in session_events(chance, topics, wordings, odd):
            at = begin + timedelta(seconds=after)
            previous = new_id(at, previous)
            body, when = canonical(payload), at.isoformat()
            digest = chained(digest, previous, when, "loon", f"s{number:05d}", actor, kind, body, "1")
            db.execute("INSERT INTO events (id, at, coach, session, actor, kind, payload, format, digest) VALUES (?,?,?,?,?,?,?,1,?)",
                       (previous, when, "loon", f"s{number:05d}", actor, kind, body, digest))  # fmt: skip
    db.commit()
    db.close()


def run(journal: Path, *command: str) -> tuple[float, float, float]:
    """Seconds on the clock, seconds of processor, and most memory [MB] of one command, as a process of its own."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    begun = time.perf_counter()
    code = (
        "import resource, sys; from cabassist.cli import main\n"
        "try: main()\n"
        "finally: print('MB', resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024, file=sys.stderr)"
    )
    arguments = [sys.executable, "-c", code, "--journal", str(journal), *command]
    done = subprocess.run(arguments, capture_output=True, text=True, check=False)
    clock = time.perf_counter() - begun
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    if done.returncode not in (0, 1):
        sys.exit(done.stderr)
    processor = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return clock, processor, float(done.stderr.split("MB")[-1])


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--sessions", type=int, default=10_000)
    parser.add_argument("--keep", type=Path, help="Make the load here and use it again the next time.")
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        path = given.keep or Path(folder) / "load.sqlite"
        if not path.exists():
            begun = time.perf_counter()
            make(path, given.sessions)
            print(f"load made in {time.perf_counter() - begun:.0f} s")
        with Journal(path) as journal:
            print(f"{journal.count():,} events, {os.path.getsize(path) / 1e6:.0f} MB")
        run(path, "review", "list", "--last", "1")  # fills the cache of the knowledge
        for name, command in (
            ("list", ("review", "list")),
            ("list", ("review", "list", "--all")),
            ("report", ("review", "report", f"{folder}/report.html")),
            ("verify", ("journal", "verify")),
        ):
            clock, processor, memory = run(path, *command)
            needed = f" (needed: {NEEDED[name]:g} s)" if name in NEEDED and "--all" not in command else ""
            print(
                f"{' '.join(command[:3]):<32} {clock:6.2f} s on the clock, {processor:6.2f} s of processor{needed}, {memory:.0f} MB"
            )


if __name__ == "__main__":
    main()
