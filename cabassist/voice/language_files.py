"""The files that the pocketsphinx engine needs, made from the knowledge and kept in the cache folder.

Their name holds the fingerprint of the knowledge and the coach: when either changes they are made again, which takes
some seconds.
"""

from __future__ import annotations

import contextlib
import hashlib
import io
import os
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from cabassist.coach import Coach
from cabassist.files import write_whole
from cabassist.procedures import yamlfile
from cabassist.procedures.library import Knowledge
from cabassist.voice.domain import domain_of
from cabassist.voice.pronouncing import pronounced

FORMAT = 2
"""Raise it when the way the files are made changes."""

KEPT = 4
"""Language models kept in the cache, for other coaches and trigger words."""


@dataclass(frozen=True)
class LanguageFiles:
    """Language models in ARPA format, of everything and of the core, a pronouncing dictionary, and the sentences, one a line."""

    model: Path
    core: Path
    dictionary: Path
    sentences: Path

    @property
    def exist(self) -> bool:
        """Whether all of them are there."""
        return all(
            os.path.isfile(path) for path in (self.model, self.core, self.dictionary, self.sentences)
        )  # Path.is_file raises where it may not look


def read_dictionary(path: Path) -> dict[str, str]:
    """Words of a CMU dictionary with their first pronunciation."""
    found: dict[str, str] = {}
    with path.open(encoding="utf-8") as lines:
        for line in lines:
            word, _, phones = line.strip().partition(" ")
            if word and not word.endswith(")"):
                found.setdefault(word, phones)
    return found


def language_files(
    knowledge: Knowledge,
    coach: Coach,
    cache: Path,
    dictionary: Path,
    *,
    trigger: str = "",
    announce: Callable[[str], None] = lambda _: None,
) -> LanguageFiles:
    """The files for this knowledge and coach, made when they are not there yet.

    `dictionary` is the recogniser's own; `announce` is told before the making begins. Raises FileProblem when the
    cache folder cannot be written.
    """
    mark = hashlib.blake2b(
        f"{FORMAT}\0{knowledge.fingerprint}\0{coach.model_dump_json()}\0{trigger}".encode(), digest_size=10
    ).hexdigest()
    folder = cache / "voice"
    files = LanguageFiles(
        folder / f"{mark}.lm", folder / f"{mark}.core", folder / f"{mark}.dict", folder / f"{mark}.txt"
    )
    if files.exist:
        return files
    announce("Making the language model of the voice from the knowledge; this takes half a minute, once.")
    known = read_dictionary(dictionary)
    steering = yamlfile.load(knowledge.folder / "steering.yaml").data
    terms = yamlfile.load(knowledge.folder / "reading-terms.yaml").data
    domain = domain_of(knowledge, steering, terms, coach, known.get, trigger)
    added = pronounced(domain.unknown, known.get)
    sentences = _sayable(domain.sentences, domain.unknown, added)
    _forget_old(folder)
    advice = f"The voice keeps its files in {folder}: make that folder writable, or name another with CABASSIST_CACHE."
    write_whole(files.dictionary, _dictionary(dictionary, sentences, added), advice=advice)
    write_whole(files.sentences, "\n".join(sentences) + "\n", advice=advice)
    write_whole(files.core, arpa(_sayable(domain.core, domain.unknown, added)), advice=advice)
    write_whole(files.model, arpa(sentences), advice=advice)
    return files


def _forget_old(folder: Path) -> None:
    """Make room for one more language model. What cannot be removed only takes room."""
    with contextlib.suppress(OSError):
        for old in sorted(folder.glob("*.lm"), key=lambda path: path.stat().st_mtime)[: -KEPT + 1]:
            for part in (old, *(old.with_suffix(ending) for ending in (".core", ".dict", ".txt"))):
                part.unlink(missing_ok=True)


def _sayable(sentences: Mapping[str, int], unknown: Iterable[str], added: Mapping[str, str]) -> dict[str, int]:
    missing = set(unknown) - added.keys()
    return {
        sentence: number
        for sentence, number in sentences.items()
        if not missing or not missing.intersection(sentence.split())
    }


def _dictionary(own: Path, sentences: Iterable[str], added: Mapping[str, str]) -> str:
    """The words of the sentences with every pronunciation of the recogniser's dictionary, then the added ones."""
    used = {word for sentence in sentences for word in sentence.split()}
    lines = []
    with own.open(encoding="utf-8") as given:
        for line in given:
            word = line.split(maxsplit=1)[0] if line.strip() else ""
            if word.partition("(")[0] in used:
                lines.append(line.rstrip("\n"))
    lines += [f"{word} {phones}" for word, phones in added.items() if word in used]
    return "\n".join(lines) + "\n"


def arpa(sentences: Mapping[str, int]) -> str:
    """A back-off trigram model of weighted sentences, in ARPA format."""
    from pocketsphinx.lm import ArpaBoLM

    text = "\n".join(f"<s> {sentence} </s>" for sentence, number in sentences.items() for _ in range(number))
    model = ArpaBoLM(text=text)
    model.compute()
    out = io.StringIO()
    model.write(out)
    return out.getvalue()
