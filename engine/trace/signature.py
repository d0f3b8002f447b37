"""Who made a trace: an Ed25519 signature (RFC 8032) over its digest.

It needs the library `cryptography` (the extra `sign`), and no network. A signature
says who made the trace and nothing of whether it holds.
"""

from __future__ import annotations

import binascii
from base64 import b64decode, b64encode
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from cryptography.hazmat.primitives.asymmetric import ed25519


class BadKey(ValueError):
    """A key that is none, or of another kind."""


def new_key() -> tuple[str, str]:
    """Return a new private key and its public one, each as PEM text."""
    from cryptography.hazmat.primitives import serialization as form
    from cryptography.hazmat.primitives.asymmetric import ed25519

    key = ed25519.Ed25519PrivateKey.generate()
    private = key.private_bytes(
        form.Encoding.PEM, form.PrivateFormat.PKCS8, form.NoEncryption()
    )
    public = key.public_key().public_bytes(
        form.Encoding.PEM, form.PublicFormat.SubjectPublicKeyInfo
    )
    return private.decode(), public.decode()


def signed(digest: str, private: str) -> str:
    """Return the signature of a trace, by its digest, as one line.

    Raises:
        BadKey: the private key is none.
    """
    from cryptography.hazmat.primitives import serialization as form
    from cryptography.hazmat.primitives.asymmetric import ed25519

    try:
        key = form.load_pem_private_key(private.encode(), None)
    except (ValueError, TypeError) as error:
        raise BadKey("no private key without a password") from error
    if not isinstance(key, ed25519.Ed25519PrivateKey):
        raise BadKey("no Ed25519 key")
    made = b64encode(key.sign(_message(digest))).decode()
    return f"{digest} {made}"


def is_signed(digest: str, line: str, public: str) -> bool:
    """Return whether a line is the signature of a trace by the owner of a key.

    Raises:
        BadKey: the public key is none.
    """
    from cryptography.exceptions import InvalidSignature

    of, _, made = line.strip().partition(" ")
    key = _public(public)
    try:
        key.verify(b64decode(made, validate=True), _message(digest))
    except (InvalidSignature, binascii.Error, ValueError):
        return False
    return of == digest


def _public(text: str) -> ed25519.Ed25519PublicKey:
    from cryptography.hazmat.primitives import serialization as form
    from cryptography.hazmat.primitives.asymmetric import ed25519

    try:
        key = form.load_pem_public_key(text.encode())
    except ValueError as error:
        raise BadKey("no public key") from error
    if not isinstance(key, ed25519.Ed25519PublicKey):
        raise BadKey("no Ed25519 key")
    return key


def _message(digest: str) -> bytes:
    # So that the key signs nothing that could be taken for something else.
    return f"abluent trace {digest}".encode()
