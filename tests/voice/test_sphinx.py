"""The pocketsphinx engine for real, on sentences spoken by flite (tests/data/voice/make.sh)."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from cabassist.coach import Coach
from cabassist.errors import VoiceUnavailable
from cabassist.procedures.library import Knowledge
from cabassist.voice.language_files import LanguageFiles, language_files
from cabassist.voice.sound import as_floats, as_pcm, read_sound
from cabassist.voice.sphinx import Pocketsphinx, bundled_model, sureness

SOUNDS = Path(__file__).parents[1] / "data" / "voice"
pytest.importorskip("pocketsphinx")


@pytest.fixture(scope="module")
def files(knowledge: Knowledge, coach: Coach, cache: Path) -> LanguageFiles:
    return language_files(knowledge, coach, cache, bundled_model().dictionary, trigger="hey cabbie")


@pytest.fixture(scope="module")
def engine(files: LanguageFiles) -> Iterator[Pocketsphinx]:
    made = Pocketsphinx(files)
    yield made
    made.close()


def heard(engine: Pocketsphinx, pcm: bytes, block: int = 1024):
    engine.reset()
    partials = [engine.accept(pcm[at : at + block]) for at in range(0, len(pcm), block)]
    return engine.finish(), [found.text for found in partials if found is not None]


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("waste-forty", "waste tank is at forty percent"),
        ("dump", "empty the waste"),
        ("next", "next step"),
        ("gas", "i smell gas near the back bunks"),
    ],
)
def test_the_domain_is_heard(engine: Pocketsphinx, name: str, text: str):
    found, partials = heard(engine, read_sound(SOUNDS / f"{name}.flac"))

    assert text in found.text
    assert found.final
    assert found.confidence > 0.5
    assert partials


def test_blocks_of_any_length_give_the_same(engine: Pocketsphinx):
    pcm = read_sound(SOUNDS / "waste-forty.flac")

    assert heard(engine, pcm, 320)[0].text == heard(engine, pcm, len(pcm))[0].text


def test_a_hazard_phrase_is_spotted_and_others_are_not(engine: Pocketsphinx):
    assert heard(engine, read_sound(SOUNDS / "gas.flac"))[0].spotted[0] == "i smell gas"
    assert heard(engine, read_sound(SOUNDS / "pizza.flac"))[0].spotted == ()


def test_a_sentence_of_the_knowledge_is_known_as_such(engine: Pocketsphinx):
    assert heard(engine, read_sound(SOUNDS / "next.flac"))[0].expected
    assert not heard(engine, read_sound(SOUNDS / "pizza.flac"))[0].expected


def test_what_is_expected_is_surer_than_what_is_not(engine: Pocketsphinx):
    sure = heard(engine, read_sound(SOUNDS / "waste-forty.flac"))[0].confidence
    unrelated = heard(engine, read_sound(SOUNDS / "pizza.flac"))[0].confidence

    assert sure > unrelated
    assert sureness(-25, 25) > sureness(-45, 25) > sureness(-45, 10)


@pytest.mark.parametrize("pcm", [b"", bytes(64), bytes(32_000)])
def test_silence_breaks_nothing(engine: Pocketsphinx, pcm: bytes):
    """An engine may hear a word in pure zeros; it must not be sure of it, and must hear the next utterance."""
    found, _ = heard(engine, pcm)

    assert not found.text or found.confidence < 0.9
    assert heard(engine, read_sound(SOUNDS / "next.flac"))[0].text == "next step"


def test_clipped_sound_is_still_heard(engine: Pocketsphinx):
    """Peaks three decibels above full scale are cut off."""
    loud = as_pcm(as_floats(read_sound(SOUNDS / "waste-forty.flac")) * 2.8)

    assert heard(engine, loud)[0].text == "waste tank is at forty percent"


def test_a_reset_forgets_the_utterance(engine: Pocketsphinx):
    engine.accept(read_sound(SOUNDS / "dump.flac"))
    engine.reset()

    assert engine.finish().text == ""


def test_without_files_it_hears_plain_english(engine: Pocketsphinx):
    plain = Pocketsphinx(None)
    found, _ = heard(plain, read_sound(SOUNDS / "next.flac"))
    plain.close()

    assert found.text
    assert found.engine == "pocketsphinx"


def test_a_damaged_language_model_is_named(files: LanguageFiles, tmp_path: Path):
    broken = tmp_path / "broken.lm"
    broken.write_text("this is no language model")

    with pytest.raises(VoiceUnavailable, match=r"broken\.lm cannot be used"):
        Pocketsphinx(LanguageFiles(broken, files.core, files.dictionary, files.sentences))


def test_the_files_are_made_once_and_again_for_another_coach(
    files: LanguageFiles, knowledge: Knowledge, coach: Coach, cache: Path
):
    """Made files are found again; another trigger or coach has its own."""
    told: list[str] = []
    again = language_files(
        knowledge, coach, cache, bundled_model().dictionary, trigger="hey cabbie", announce=told.append
    )

    assert again == files
    assert told == []
    assert files.exist
    sentences = files.sentences.read_text(encoding="utf-8").splitlines()
    assert "next step" in sentences
    assert "hey cabbie" in sentences
    words = {line.split()[0].partition("(")[0] for line in files.dictionary.read_text(encoding="utf-8").splitlines()}
    assert {word for sentence in sentences for word in sentence.split()} <= words
