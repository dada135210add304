"""The sentences a driver may say."""

from __future__ import annotations

import pytest

from cabassist.coach import Coach
from cabassist.procedures import yamlfile
from cabassist.procedures.library import Knowledge
from cabassist.voice.domain import Domain, domain_of
from cabassist.voice.language_files import read_dictionary
from cabassist.voice.sphinx import bundled_model

pytest.importorskip("pocketsphinx")


@pytest.fixture(scope="module")
def phones() -> dict[str, str]:
    return read_dictionary(bundled_model().dictionary)


def made(knowledge: Knowledge, coach: Coach, phones: dict[str, str], trigger: str = "") -> Domain:
    steering = yamlfile.load(knowledge.folder / "steering.yaml").data
    terms = yamlfile.load(knowledge.folder / "reading-terms.yaml").data
    return domain_of(knowledge, steering, terms, coach, phones.get, trigger)


@pytest.fixture(scope="module")
def domain(knowledge: Knowledge, coach: Coach, phones: dict[str, str]) -> Domain:
    return made(knowledge, coach, phones, "hey cabbie")


def test_titles_commands_and_readings_are_in_it(domain: Domain, knowledge: Knowledge):
    assert knowledge.title("dump-waste-tank").lower() in domain.sentences
    assert {"next", "go to step five", "the second one"} <= domain.sentences.keys()
    assert any(sentence.startswith("waste") and "percent" in sentence for sentence in domain.core)
    assert "hey cabbie" in domain.sentences


def test_it_is_all_words(domain: Domain):
    """No digit, sign or capital reaches the language model."""
    assert all(set(sentence) <= set("abcdefghijklmnopqrstuvwxyz' ") for sentence in domain.sentences)


def test_the_same_knowledge_gives_the_same_domain(
    domain: Domain, knowledge: Knowledge, coach: Coach, phones: dict[str, str]
):
    assert made(knowledge, coach, phones, "hey cabbie") == domain


def test_misspelt_and_misheard_words_are_not_learnt(domain: Domain):
    """Wordings hold typing errors and steering words hold mishearings; a recogniser must not expect either."""
    assert not {"teh", "tnak", "watter", "genrator", "nekst"} & domain.vocabulary
    assert "necks" not in {word for sentence in domain.core for word in sentence.split()}


def test_words_of_the_trade_that_no_dictionary_has_are_kept(domain: Domain):
    assert {"gelled", "amps", "genset"} <= set(domain.unknown)


def test_the_core_is_a_small_part_of_it(domain: Domain):
    assert set(domain.core) <= set(domain.sentences)
    assert len(domain.core) < len(domain.sentences) / 2
    assert "how do i stack the hockey bags" not in domain.core
