"""A certificate for this machine's address, by an authority of its own that can name no other.

A phone that trusts the authority trusts it for this one private address and for nothing else: the
certificate says so itself (name constraints). The key never leaves the folder of the store.
"""

from __future__ import annotations

import os
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from ipaddress import IPv4Address, IPv4Network
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from evenfall.errors import InvalidInput

FOLDER = "sharing"
AUTHORITY_LASTS = timedelta(days=90)
HERE_LASTS = timedelta(days=14)
AHEAD = timedelta(hours=12)
"""How far before now a certificate begins, for phones whose clock is behind."""
RENEWED = timedelta(days=2)
"""Left life at which the certificate of the machine is made anew."""
NO_NAME = "evenfall.invalid"
"""The only name that the authority could vouch for; no network has it (RFC 6761)."""
PRIVATE = 0o600
Signer = tuple[ec.EllipticCurvePrivateKey, x509.Certificate]


@dataclass(frozen=True, slots=True)
class Certified:
    """What a listener needs, and what a phone is given and can compare."""

    chain: Path
    key: Path
    authority: bytes  # PEM
    fingerprint: str
    until: datetime


def certified(store: Path, address: str, now: datetime | None = None) -> Certified:
    """Give a certificate for an address of the local network; made where there is none.

    Parameters
    ----------
    store : Path
        Folder of the jobs [-].
    address : str
        Address of this machine [-].
    now : datetime, optional
        The time; else that of the machine [-].

    Returns
    -------
    Certified
        Files of the certificate, and the authority [-].

    Raises
    ------
    InvalidInput
        The address is not a private one.
    """
    here, now = private(address), now or datetime.now(UTC)
    folder = store / FOLDER / str(here)
    for part in (folder.parent, folder):
        part.mkdir(parents=True, exist_ok=True, mode=0o700)
    kept = _kept(folder, now)
    key, authority = kept or _new_authority(folder, here, now)
    chain = folder / "here.pem"
    if not kept or not _good(chain, now):
        _sign(folder, key, authority, here, now)
    mark = authority.fingerprint(hashes.SHA256()).hex().upper()
    words = " ".join(mark[i : i + 4] for i in range(0, len(mark), 4))
    pem = authority.public_bytes(serialization.Encoding.PEM)
    return Certified(chain, folder / "here.key", pem, words, authority.not_valid_after_utc)


def private(address: str) -> IPv4Address:
    """See that an address is one of a private network.

    Parameters
    ----------
    address : str
        As a person or the machine wrote it [-].

    Returns
    -------
    IPv4Address
        The address [-].

    Raises
    ------
    InvalidInput
        It is none, or one that the whole world could reach.

    Examples
    --------
    >>> private("192.168.1.20")
    IPv4Address('192.168.1.20')
    """
    try:
        here = IPv4Address(address)
    except ValueError:
        here = IPv4Address(0)
    if not here.is_private or here.is_unspecified:
        raise InvalidInput(
            f"the address {address[:40]!r}", "one of a home or office network", where="share",
            do="join the network of the phones, and try again",
        )  # fmt: skip
    return here


def _kept(folder: Path, now: datetime) -> Signer | None:
    """Read the authority that is there, if it lives long enough."""
    try:
        key = serialization.load_pem_private_key((folder / "authority.key").read_bytes(), None)
        found = x509.load_pem_x509_certificate((folder / "authority.crt").read_bytes())
    except (OSError, ValueError):
        return None
    alive = found.not_valid_after_utc - now > HERE_LASTS and found.not_valid_before_utc <= now
    return (key, found) if alive and isinstance(key, ec.EllipticCurvePrivateKey) else None


def _good(chain: Path, now: datetime) -> bool:
    try:
        found = x509.load_pem_x509_certificate(chain.read_bytes())
    except (OSError, ValueError):
        return False
    return found.not_valid_before_utc <= now < found.not_valid_after_utc - RENEWED


def _new_authority(folder: Path, here: IPv4Address, now: datetime) -> Signer:
    key = ec.generate_private_key(ec.SECP256R1())
    only = x509.NameConstraints(
        permitted_subtrees=[x509.IPAddress(IPv4Network(here)), x509.DNSName(NO_NAME)],
        excluded_subtrees=None,
    )
    name = _name(f"Evenfall desk at {here}, for its own phones only")
    certificate = (
        _begun(name, name, key.public_key(), now, AUTHORITY_LASTS)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(signs_certificates=True), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(only, critical=True)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .sign(key, hashes.SHA256())
    )
    _write(folder / "authority.key", _pem(key))
    _write(folder / "authority.crt", certificate.public_bytes(serialization.Encoding.PEM))
    return key, certificate


def _sign(
    folder: Path, by: ec.EllipticCurvePrivateKey, authority: x509.Certificate,
    here: IPv4Address, now: datetime,
) -> None:  # fmt: skip
    """Make the certificate of the machine, with a key of its own."""
    key = ec.generate_private_key(ec.SECP256R1())
    own = x509.AuthorityKeyIdentifier.from_issuer_public_key(by.public_key())
    certificate = (
        _begun(_name("Evenfall desk"), authority.subject, key.public_key(), now, HERE_LASTS)
        .add_extension(x509.SubjectAlternativeName([x509.IPAddress(here)]), critical=False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(signs_certificates=False), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(own, critical=False)
        .sign(by, hashes.SHA256())
    )
    _write(folder / "here.key", _pem(key))
    pem = serialization.Encoding.PEM
    _write(folder / "here.pem", certificate.public_bytes(pem) + authority.public_bytes(pem))


def _begun(
    subject: x509.Name, issuer: x509.Name, key: ec.EllipticCurvePublicKey, now: datetime,
    lasts: timedelta,
) -> x509.CertificateBuilder:  # fmt: skip
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(key)
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - AHEAD)
        .not_valid_after(now + lasts)
    )


def _name(words: str) -> x509.Name:
    return x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, words)])


def _usage(*, signs_certificates: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not signs_certificates, content_commitment=False, key_encipherment=False,
        data_encipherment=False, key_agreement=False, key_cert_sign=signs_certificates,
        crl_sign=signs_certificates, encipher_only=False, decipher_only=False,
    )  # fmt: skip


def _pem(key: ec.EllipticCurvePrivateKey) -> bytes:
    return key.private_bytes(
        serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
    )


def _write(file: Path, text: bytes) -> None:
    """Write a file that nobody else may read, from its first byte."""
    coming = file.with_suffix(".coming")
    coming.unlink(missing_ok=True)
    handle = os.open(coming, os.O_WRONLY | os.O_CREAT | os.O_EXCL, PRIVATE)
    with os.fdopen(handle, "wb") as stream:
        stream.write(text)
    coming.replace(file)
