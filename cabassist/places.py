"""Where files live: the packaged knowledge, and the user's own data, settings and cache.

Every place can be moved by an environment variable; options of the command line win over those.
"""

from __future__ import annotations

import os
from pathlib import Path

_HERE = Path(__file__).resolve().parent


def knowledge_folder() -> Path:
    """The shipped knowledge: inside the installed package, or beside it in a checkout."""
    chosen = os.environ.get("CABASSIST_KNOWLEDGE")
    if chosen:
        return Path(chosen)
    packaged = _HERE / "knowledge"
    return packaged if packaged.is_dir() else _HERE.parent / "knowledge"


def _user(kind: str, variable: str) -> Path:
    chosen = os.environ.get(variable)
    if chosen:
        return Path(chosen)
    import platformdirs

    return Path(getattr(platformdirs, f"user_{kind}_dir")("cabassist", appauthor=False))


def data_folder() -> Path:
    """Where the journal and own coach profiles live (`CABASSIST_DATA`)."""
    return _user("data", "CABASSIST_DATA")


def cache_folder() -> Path:
    """Where things that can be made again live (`CABASSIST_CACHE`)."""
    return _user("cache", "CABASSIST_CACHE")


def trainer_folder() -> Path:
    """What a trainer has taught on top of the shipped knowledge."""
    return data_folder() / "trainer"


def demo_coach() -> Path:
    """The profile of the bundled coach."""
    return knowledge_folder() / "coaches" / "demo.yaml"


def coach_file() -> Path:
    """The coach in use: `CABASSIST_COACH`, else the user's own, else the bundled demo."""
    chosen = os.environ.get("CABASSIST_COACH")
    if chosen:
        return Path(chosen)
    own = data_folder() / "coach.yaml"
    return own if os.path.exists(own) else demo_coach()  # Path.exists raises where it may not look


def journal_file() -> Path:
    """The journal in use: `CABASSIST_JOURNAL`, else `journal.sqlite` in the data folder."""
    chosen = os.environ.get("CABASSIST_JOURNAL")
    return Path(chosen) if chosen else data_folder() / "journal.sqlite"
