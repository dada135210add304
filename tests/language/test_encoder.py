"""The numpy encoder against the reference libraries, and the bounds it is shipped under."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from cabassist.language.encoder import Encoder
from cabassist.language.matching import key_of, stored_vectors
from cabassist.procedures.library import Knowledge

TEXTS = [
    "How do I empty the waste tank?",
    "it's -25 °F; the dump valve won't budge!!",
    "teh waist tnak is ful",
    "unbelievablyantidisestablishmentarianism",
    "naïve café",
    "a",
]


@pytest.fixture(scope="module")
def encoder(knowledge_folder: Path) -> Encoder:
    return Encoder(knowledge_folder / "encoder.npz")


@pytest.mark.parametrize("text", TEXTS)
def test_word_pieces_are_those_of_the_reference_tokenizer(encoder: Encoder, text: str):
    """Greedy longest match as the tokenizers library does it, with the same pieces."""
    tokenizers = pytest.importorskip("tokenizers")
    reference = tokenizers.Tokenizer(
        tokenizers.models.WordPiece(encoder.pieces, unk_token="[UNK]", max_input_chars_per_word=40)
    )
    reference.normalizer = tokenizers.normalizers.BertNormalizer()
    reference.pre_tokenizer = tokenizers.pre_tokenizers.BertPreTokenizer()
    expected = reference.encode(text, add_special_tokens=False).ids

    assert encoder.word_pieces(text)[1:-1] == expected


def test_vectors_have_length_one_and_do_not_depend_on_the_company_they_are_in(encoder: Encoder):
    """A text alone and in a batch with longer ones gives the same vector."""
    together = encoder.encode(TEXTS)

    assert together.shape == (len(TEXTS), encoder.size)
    assert np.linalg.norm(together, axis=1) == pytest.approx(np.ones(len(TEXTS)), abs=1e-5)
    for text, vector in zip(TEXTS, together, strict=True):
        assert encoder.encode([text])[0] == pytest.approx(vector, abs=1e-4)


def test_the_encoder_is_at_most_ten_megabytes(knowledge_folder: Path):
    """A cab computer has little room."""
    assert (knowledge_folder / "encoder.npz").stat().st_size <= 10_000_000


def test_every_wording_has_its_vector_shipped(encoder: Encoder, knowledge: Knowledge, knowledge_folder: Path):
    """A fresh installation computes nothing; `tests/bench/pack_vectors.py` renews them."""
    stored = stored_vectors(knowledge_folder / "vectors.npz")
    missing = [phrase.text for phrase in knowledge.phrases if key_of(phrase.text) not in stored]

    assert missing == []


def test_the_shipped_vectors_are_those_of_the_shipped_encoder(
    encoder: Encoder, knowledge: Knowledge, knowledge_folder: Path
):
    """A new encoder with old vectors would match at random."""
    stored = stored_vectors(knowledge_folder / "vectors.npz")
    for phrase in knowledge.phrases[::1500]:
        assert encoder.encode([phrase.text.lower()])[0] == pytest.approx(stored[key_of(phrase.text)], abs=2e-3)
