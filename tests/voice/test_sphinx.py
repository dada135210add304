"""The pocketsphinx engine for real, on sentences spoken by flite (tests/data/voice/make.sh)."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest

from cabassist.coach import Coach
from cabassist.errors import FileProblem, VoiceUnavailable
from cabassist.procedures.library import Knowledge
from cabassist.voice.language_files import KEPT, LanguageFiles, _forget_old, language_files
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


def test_a_long_utterance_in_one_block_does_no_harm(engine: Pocketsphinx):
    """After an utterance has been gone over again, the decoder breaks down at more than some seconds at once."""
    pcm = read_sound(SOUNDS / "waste-forty.flac")
    heard(engine, pcm)

    found, _ = heard(engine, pcm * 6, block=len(pcm) * 6)

    assert found.text.count("forty percent") > 3


def test_a_sentence_of_the_knowledge_is_expected_only_as_a_whole(engine: Pocketsphinx):
    whole, _ = heard(engine, read_sound(SOUNDS / "next.flac"))
    twice, _ = heard(engine, read_sound(SOUNDS / "next.flac") * 2)

    assert whole.text == "next step"
    assert whole.expected
    assert not twice.expected


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


def test_a_cache_that_cannot_be_written_is_named(knowledge: Knowledge, coach: Coach, tmp_path: Path):
    """With the folder and what to do; also where one may not even look."""
    (tmp_path / "voice").write_text("no folder")

    with pytest.raises(FileProblem, match="cannot be written") as caught:
        language_files(knowledge, coach, tmp_path, bundled_model().dictionary)
    assert "make that folder writable, or name another with CABASSIST_CACHE" in str(caught.value)
    assert str(tmp_path / "voice") in str(caught.value)


def test_only_the_newest_language_models_are_kept(tmp_path: Path):
    """With all that belongs to each; a folder that is not there yet holds none."""
    _forget_old(tmp_path / "none")
    for age in range(KEPT + 2):
        for ending in (".lm", ".core", ".dict", ".txt"):
            path = tmp_path / f"{age}{ending}"
            path.write_text("")
            os.utime(path, (1_000_000 - age, 1_000_000 - age))
    _forget_old(tmp_path)

    assert {path.stem for path in tmp_path.iterdir()} == {str(age) for age in range(KEPT - 1)}
