"""Hash, signature and canonical text against the examples of their standards, typed from memory.

A wrong digit in such an example fails the test, as nothing else gives these values.
"""

from __future__ import annotations

import hashlib

import pytest
import rfc8785
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from hypothesis import given
from hypothesis import strategies as st

from barwise.files.canonical_json import LARGEST, canonical, canonical_flat, number_text
from barwise.files.signing_key import SigningKey, is_signed

# RFC 8032, Edwards-Curve Digital Signature Algorithm, 2017, section 7.1: secret key, public key, message,
# signature of TEST 1, TEST 2, TEST 3.
RFC_8032 = [
    (
        "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
        "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a",
        "",
        "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e06522490155"
        "5fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b",
    ),
    (
        "4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
        "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c",
        "72",
        "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da"
        "085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00",
    ),
    (
        "c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7",
        "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025",
        "af82",
        "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac"
        "18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a",
    ),
]

# FIPS 180-4, Secure Hash Standard, 2015; its examples for SHA-256 as NIST publishes them beside it: one
# block, two blocks, and a million times the letter a (FIPS 180-2, 2002, appendix B).
FIPS_180 = [
    (b"abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"),
    (
        b"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
        "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
    ),
    (b"a" * 1_000_000, "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0"),
]


@pytest.mark.parametrize(("secret", "public", "message", "signature"), RFC_8032)
def test_keys_sign_as_the_standard_says(secret: str, public: str, message: str, signature: str) -> None:
    key = SigningKey(Ed25519PrivateKey.from_private_bytes(bytes.fromhex(secret)))
    assert key.public == public
    assert key.signature(bytes.fromhex(message)) == signature
    assert is_signed(public, bytes.fromhex(message), signature)
    assert not is_signed(public, bytes.fromhex(message) + b"x", signature)
    assert not is_signed(public, bytes.fromhex(message), signature[:-2] + "0f")


@pytest.mark.parametrize(("message", "digest"), FIPS_180)
def test_hashes_are_those_of_the_standard(message: bytes, digest: str) -> None:
    assert hashlib.sha256(message).hexdigest() == digest


def test_canonical_text_is_as_the_standard_says() -> None:
    """RFC 8785, JSON Canonicalization Scheme, 2020, section 3.2.2: string and literals of its sample."""
    sample = {"string": '\u20ac$\u000f\nA\'B"\\\\"/', "literals": [None, True, False]}
    expected = '{"literals":[null,true,false],"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}'
    assert canonical({**sample}) == expected.encode()


TEXTS = st.text(st.characters(exclude_categories=["Cs"]))
KEYS = st.text(st.characters(max_codepoint=127))
WHOLE = st.integers(-LARGEST, LARGEST)
PLAIN = st.recursive(
    st.none() | st.booleans() | WHOLE | TEXTS,
    lambda one: st.lists(one, max_size=4) | st.dictionaries(KEYS, one, max_size=4),
)


@given(PLAIN)
def test_another_library_writes_the_same_canonical_bytes(value) -> None:
    assert canonical(value) == rfc8785.dumps(value)


@given(st.dictionaries(KEYS, st.none() | st.booleans() | WHOLE | TEXTS))
def test_the_quick_way_writes_the_same(value) -> None:
    assert canonical_flat(value) == canonical(value)


@pytest.mark.parametrize("value", [1.5, float("nan"), {"é": 1}, [2**53], {1: 2}, object()])
def test_what_has_no_one_text_is_refused(value) -> None:
    with pytest.raises(ValueError, match="is"):
        canonical(value)


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_a_number_reads_back_as_the_same_double(value: float) -> None:
    assert float(str(number_text(value))) == value


def test_no_two_texts_stand_for_nought() -> None:
    assert number_text(-0.0) == number_text(0.0) == "0.0"
