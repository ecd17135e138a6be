"""The switch and the certificate: nothing listens before it is on; the authority names one address.

What a certificate may say follows RFC 5280 (from memory); whether it is believed is asked of the
system's own TLS (OpenSSL), and of the verifier of a second library.
"""

from __future__ import annotations

import os
import socket
import ssl
import stat
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from ipaddress import IPv4Address
from pathlib import Path

import httpx2 as httpx
import pytest
from cryptography import x509
from cryptography.x509.verification import PolicyBuilder, Store, VerificationError
from tests.app.site_phones import Clock

from evenfall.app.live.desk import Desk
from evenfall.app.site import authority as made
from evenfall.app.site.authority import certified
from evenfall.app.site.sharing import Sharing, midnight
from evenfall.app.store.kept import Contents
from evenfall.app.web.serve import _shared
from evenfall.errors import InvalidInput

HERE = "127.0.0.1"
NOW = datetime.now(UTC)


@pytest.fixture
def switch(tmp_path: Path) -> Iterator[Sharing]:
    desk = Desk(tmp_path)
    clock = Clock(datetime.now().astimezone().replace(hour=9, minute=0))
    sharing = Sharing(desk, clock)
    yield sharing
    sharing.stop()
    desk.close()


def trusting(pem: bytes) -> httpx.Client:
    """A phone that has installed the authority, and knows no other."""
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    context.load_verify_locations(cadata=pem.decode())
    return httpx.Client(verify=context, trust_env=False)


def listens(port: int) -> bool:
    with socket.socket() as probe:
        return probe.connect_ex((HERE, port)) == 0


def port_of(url: str) -> int:
    return int(url.split(":")[2].split("/")[0])


def test_nothing_listens_before_the_switch_is_on_and_after_it_is_off(switch: Sharing) -> None:
    assert (switch.on, switch.url, switch.until) == (False, "", None)
    switch.start(HERE)
    ports = port_of(switch.url), port_of(switch.certificate_url)
    assert all(listens(p) for p in ports)
    switch.stop()
    assert not any(listens(p) for p in ports)
    assert not switch.on


def test_a_phone_that_trusts_the_authority_pairs_and_syncs_over_tls(switch: Sharing) -> None:
    job = switch.desk.store.make(Contents({"format": 1}), "Ann").job
    switch.start(HERE)
    with httpx.Client(trust_env=False) as plain:
        pem = plain.get(switch.certificate_url.replace("certificate", "authority.crt")).content
        assert switch.fingerprint in plain.get(switch.certificate_url).text
    token, _ = switch.pairing.token(job)
    with trusting(pem) as phone:
        assert phone.post(f"{switch.url}pair", json={"token": token}).json() == {"job": job}
        assert phone.get(f"{switch.url}api/{job}/entries").json()["entries"] == []


def test_without_the_authority_the_line_is_not_believed(switch: Sharing) -> None:
    switch.start(HERE)
    with httpx.Client(trust_env=False) as phone, pytest.raises(httpx.ConnectError, match="verify"):
        phone.get(switch.url)


def test_at_midnight_it_ends_by_itself(switch: Sharing) -> None:
    switch.start(HERE)
    url, port = switch.url, port_of(switch.url)
    assert switch.until
    assert switch.until.isoformat()[11:19] == "00:00:00"
    clock = switch.clock
    assert isinstance(clock, Clock)
    clock.later(hours=15, seconds=1)
    assert (switch.on, switch.url) == (False, "")
    watch = switch._watching
    assert watch is not None
    watch.join(timeout=30)
    assert not listens(port)
    with pytest.raises(httpx.TransportError):
        httpx.get(url, verify=False, trust_env=False)


def test_midnight_is_the_next_one() -> None:
    assert midnight(datetime(2026, 12, 31, 23, 59, tzinfo=UTC)) == datetime(2027, 1, 1, tzinfo=UTC)
    assert midnight(datetime(2026, 12, 31, 0, 0, tzinfo=UTC)) == datetime(2027, 1, 1, tzinfo=UTC)


@pytest.mark.parametrize("address", ["8.8.8.8", "0.0.0.0", "desk.example", "::1", ""])
def test_only_a_private_address_is_shared(switch: Sharing, address: str) -> None:
    with pytest.raises(InvalidInput, match="expected one of a home or office network"):
        switch.start(address or "nothing")
    assert not switch.on


def test_the_authority_vouches_for_one_address_for_a_short_time(tmp_path: Path) -> None:
    found = certified(tmp_path, HERE, NOW)
    chain = x509.load_pem_x509_certificates(found.chain.read_bytes())
    here, by = chain
    only = by.extensions.get_extension_for_class(x509.NameConstraints)
    assert only.critical
    assert [str(n.value) for n in only.value.permitted_subtrees or ()] == [
        "127.0.0.1/32", "evenfall.invalid",
    ]  # fmt: skip
    assert here.not_valid_after_utc - NOW < timedelta(days=15)
    assert by.not_valid_after_utc - NOW < timedelta(days=91)
    limits = by.extensions.get_extension_for_class(x509.BasicConstraints).value
    assert (limits.ca, limits.path_length) == (True, 0)


@pytest.mark.parametrize("other", ["127.0.0.2", "192.168.1.1"])
def test_a_certificate_for_another_address_is_refused_though_the_authority_signed_it(
    tmp_path: Path, other: str
) -> None:
    found = certified(tmp_path, HERE, NOW)
    folder = tmp_path / "sharing" / HERE
    key, by = made._kept(folder, NOW) or pytest.fail("no authority")
    forged = tmp_path / "forged"
    forged.mkdir()
    made._sign(forged, key, by, IPv4Address(other), NOW)
    believed = {
        HERE: verified(found.authority, found.chain, HERE),
        other: verified(found.authority, forged / "here.pem", other),
    }
    assert believed == {HERE: True, other: False}
    assert openssl(found.authority, found.chain, tmp_path) == "OK"
    assert "permitted subtree violation" in openssl(found.authority, forged / "here.pem", tmp_path)


def verified(authority: bytes, chain: Path, address: str) -> bool:
    """Whether the verifier of the library believes a certificate for an address."""
    leaf, *more = x509.load_pem_x509_certificates(chain.read_bytes())
    store = Store([x509.load_pem_x509_certificate(authority)])
    builder = PolicyBuilder().store(store).time(NOW)
    try:
        builder.build_server_verifier(x509.IPAddress(IPv4Address(address))).verify(leaf, more)
    except VerificationError:
        return False
    return True


def openssl(authority: bytes, chain: Path, folder: Path) -> str:
    """What the TLS of Python says of a line whose server shows a certificate."""
    server = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    server.load_cert_chain(chain, chain.with_name("here.key"))
    phone = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    phone.check_hostname = False
    phone.load_verify_locations(cadata=authority.decode())
    to_server, to_phone = ssl.MemoryBIO(), ssl.MemoryBIO()
    at_phone = phone.wrap_bio(to_phone, to_server)
    at_server = server.wrap_bio(to_server, to_phone, server_side=True)
    for _ in range(6):
        for side in (at_phone, at_server):
            try:
                side.do_handshake()
            except ssl.SSLWantReadError:
                continue
            except ssl.SSLCertVerificationError as error:
                return error.verify_message
    return "OK"


def test_keys_are_readable_by_nobody_else(tmp_path: Path) -> None:
    certified(tmp_path, HERE, NOW)
    files = list((tmp_path / "sharing").rglob("*.*"))
    assert {"authority.key", "here.key"} <= {f.name for f in files}
    if os.name == "posix":
        for file in (f for f in files if f.is_file()):
            assert stat.S_IMODE(file.stat().st_mode) == 0o600
        assert stat.S_IMODE((tmp_path / "sharing").stat().st_mode) == 0o700


def test_the_same_authority_serves_until_it_runs_out_and_the_line_is_renewed(
    tmp_path: Path,
) -> None:
    first = certified(tmp_path, HERE, NOW)
    chain = first.chain.read_bytes()
    assert certified(tmp_path, HERE, NOW + timedelta(days=5)).chain.read_bytes() == chain
    renewed = certified(tmp_path, HERE, NOW + timedelta(days=13))
    assert (renewed.chain.read_bytes() != chain, renewed.authority) == (True, first.authority)
    later = certified(tmp_path, HERE, NOW + timedelta(days=80))
    assert later.fingerprint != first.fingerprint
    assert certified(tmp_path, "127.0.0.3", NOW).fingerprint != first.fingerprint


def test_the_command_line_says_what_is_shared_and_until_when(switch: Sharing) -> None:
    switch.start(HERE)
    told = _shared(switch)
    assert told.startswith("Shared on the local network: https://127.0.0.1:")
    assert "until 00:00" in told
    assert "with the phones paired for it, nothing else" in told
