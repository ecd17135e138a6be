"""The shared address: nobody unpaired brings or sees anything, and what a phone brings is kept."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from fastapi.testclient import TestClient
from tests.app.roof_entries import ANN, BEN, hash_of, id_of, jpeg, reading
from tests.app.site_phones import BASE, Shared

from evenfall.app.live.desk import Desk
from evenfall.app.site.admission import COOKIE, OPEN, STATIC
from evenfall.app.site.application import PLAIN, make_site, plain_door
from evenfall.app.site.keeping import Taken
from evenfall.app.store.kept import Contents
from evenfall.app.store.logged import digest, log_of


@pytest.fixture
def shared(tmp_path: Path) -> Iterator[Shared]:
    desk = Desk(tmp_path)
    yield Shared(desk)
    desk.close()


def routes(shared: Shared) -> list[tuple[str, str]]:
    """Every route of the application, with an id of a real job in its path."""
    named = {"{job}": shared.job, "{sha}": "0" * 64, "{name}": "outbox.js"}
    found = []
    for path, methods in shared.app.openapi()["paths"].items():
        for key, value in named.items():
            path = path.replace(key, value)
        found += [(method.upper(), path) for method in methods]
    return found


def test_nothing_is_seen_or_taken_unpaired_on_any_route(shared: Shared) -> None:
    walked = [(m, p) for m, p in routes(shared) if p not in OPEN and not p.startswith(STATIC)]
    assert len(walked) >= 6
    stranger = shared.stranger()
    for method, path in walked:
        for content in (b"{}", b"x" * 100_000):
            answer = stranger.request(method, path, content=content)
            assert answer.status_code == 401, (method, path)
            assert answer.json()["error"]["code"] == "not-paired"
    assert shared.desk.store.head(shared.job).number == 1
    assert not (shared.desk.store.folder / "photos").exists()


def test_what_is_open_to_all_tells_of_no_job(shared: Shared) -> None:
    stranger = shared.stranger()
    for path in (*OPEN, f"{STATIC}outbox.js"):
        answer = stranger.get(path)
        assert answer.status_code == 200, path
        assert "Kitchen" not in answer.text
        assert shared.job not in answer.text
        assert "frame-ancestors 'none'" in answer.headers["content-security-policy"]


@pytest.mark.parametrize("path", ["/", "/api/jobs", "/job/x", "/site", "/openapi.json", "/call"])
def test_the_desk_itself_is_not_to_be_had_there(shared: Shared, path: str) -> None:
    assert shared.stranger().get(path).status_code == 401
    assert shared.phone().get(path).status_code == 404


@pytest.mark.parametrize(
    ("headers", "status"),
    [
        ({"host": "evil.example"}, 421),
        ({"host": "127.0.0.1:8018"}, 421),
        ({"origin": "https://evil.example"}, 403),
        ({"origin": "http://192.168.7.20:8018"}, 403),
        ({"sec-fetch-site": "cross-site"}, 403),
        ({"origin": BASE}, 200),
    ],
)
def test_other_names_and_other_pages_are_refused(
    shared: Shared, headers: dict[str, str], status: int
) -> None:
    assert shared.phone().get("/site/api/me", headers=headers).status_code == status


def test_a_cookie_is_closed_to_scripts_plain_lines_and_other_pages(shared: Shared) -> None:
    token, _ = shared.pairing.token(shared.job)
    answer = shared.stranger().post("/site/pair", json={"token": token, "name": "x"})
    said = answer.headers["set-cookie"]
    assert said.startswith(COOKIE)
    for word in ("HttpOnly", "Secure", "SameSite=strict", "Path=/;", "Max-Age=7776000"):
        assert word in said
    assert "domain" not in said.lower()
    secret = re.search(r"=([\w-]+)", said)
    assert secret
    assert len(secret[1]) == 43  # 256 bits
    everything = b"".join(p.read_bytes() for p in shared.desk.store.folder.iterdir() if p.is_file())
    assert secret[1].encode() not in everything
    assert token.encode() not in everything


def test_a_token_pairs_one_phone_once(shared: Shared) -> None:
    token, _ = shared.pairing.token(shared.job)
    ask = {"token": token, "name": "Ann"}
    assert shared.stranger().post("/site/pair", json=ask).status_code == 200
    again = shared.stranger("192.168.7.67").post("/site/pair", json=ask)
    assert (again.status_code, again.json()["error"]["what"]) == (
        401, "a code that was used already",
    )  # fmt: skip
    assert COOKIE not in again.cookies
    assert len(shared.pairing.phones()) == 1


def test_a_token_is_good_for_ten_minutes(shared: Shared) -> None:
    early, _ = shared.pairing.token(shared.job)
    late, _ = shared.pairing.token(shared.job)
    shared.clock.later(minutes=9, seconds=59)
    stranger = shared.stranger()
    assert stranger.post("/site/pair", json={"token": early}).status_code == 200
    shared.clock.later(seconds=2)
    answer = shared.stranger().post("/site/pair", json={"token": late})
    assert (answer.status_code, answer.json()["error"]["what"]) == (
        401, "a code that is more than ten minutes old",
    )  # fmt: skip


def test_whoever_guesses_waits_twice_as_long_each_time_and_the_owner_is_told(
    shared: Shared,
) -> None:
    guesser = shared.stranger()
    waits: list[float] = []
    for n in range(12):
        answer = guesser.post("/site/pair", json={"token": f"guess {n}"})
        assert answer.status_code == 401
        hurried = guesser.post("/site/pair", json={"token": "at once"})
        assert (hurried.status_code, hurried.json()["error"]["code"]) == (429, "wait")
        waits.append(float(hurried.headers["retry-after"]) - 1)
        shared.clock.later(seconds=waits[-1])
    assert waits == [1, 2, 4, 8, 16, 32, 64, 128, 256, 512, 900, 900]
    told = shared.pairing.guesses()
    assert len(told) == 12
    assert {g.address for g in told} == {"192.168.7.66"}
    assert {g.what for g in told} == {"a code that this desk did not show"}


def test_a_right_token_does_not_pass_while_its_address_must_wait(shared: Shared) -> None:
    token, _ = shared.pairing.token(shared.job)
    guesser = shared.stranger()
    guesser.post("/site/pair", json={"token": "wrong"})
    assert guesser.post("/site/pair", json={"token": token}).status_code == 429
    assert shared.stranger("192.168.7.5").post("/site/pair", json={"token": token}).is_success


def test_guesses_from_many_addresses_wait_as_one(shared: Shared) -> None:
    for n in range(20):
        shared.stranger(f"192.168.8.{n}").post("/site/pair", json={"token": "guess"})
        shared.clock.later(seconds=2)
    answer = shared.stranger("192.168.8.0").post("/site/pair", json={"token": "guess"})
    assert (answer.status_code, answer.headers["retry-after"]) == (429, "899")


def test_a_made_up_cookie_counts_as_a_guess(shared: Shared) -> None:
    stranger = shared.stranger()
    stranger.cookies.set(COOKIE, "made-up")
    assert stranger.get("/site/api/me").status_code == 401
    assert stranger.get("/site/api/me").status_code == 429
    assert [g.what for g in shared.pairing.guesses()] == ["a pairing that this desk does not know"]


def test_a_phone_that_is_shut_out_brings_nothing_more_and_what_it_brought_stays(
    shared: Shared,
) -> None:
    ann, ben = shared.phone("Ann"), shared.phone("Ben")
    assert shared.send(ann, reading()).is_success
    (phone,) = [p for p in shared.pairing.phones() if p.name == "Ann"]
    shared.pairing.shut_out(phone.id)
    answer = shared.send(ann, reading(n=2))
    assert answer.status_code == 401
    assert "shut this phone out" in answer.json()["error"]["what"]
    assert shared.pairing.guesses() == ()
    assert len(ben.get(f"/site/api/{shared.job}/entries").json()["entries"]) == 1


def test_a_phone_is_paired_for_one_job_and_sees_no_other(shared: Shared) -> None:
    other = shared.desk.store.make(Contents({"format": 1, "job": {"title": "Garage"}}), "A").job
    ann = shared.phone()
    for path in (f"/site/api/{other}/entries", "/site/api/nothing/entries"):
        answer = ann.get(path)
        assert (answer.status_code, answer.json()["error"]["code"]) == (403, "other-job")
    token, _ = shared.pairing.token(other)
    assert ann.post("/site/pair", json={"token": token}).json() == {"job": other}
    assert ann.get(f"/site/api/{other}/entries").is_success
    (phone,) = shared.pairing.phones()
    assert set(phone.jobs) == {shared.job, other}
    assert [j["name"] for j in ann.get("/site/api/me").json()["jobs"]] == [
        shared.desk.store.job(j).name for j in sorted(phone.jobs)
    ]


def test_last_heard_is_told_to_the_minute(shared: Shared) -> None:
    ann = shared.phone()
    shared.clock.later(minutes=7)
    ann.get("/site/api/me")
    (phone,) = shared.pairing.phones()
    assert (phone.name, phone.heard) == ("Ann's phone", "2026-11-25T10:07:00.000000+00:00")


def test_a_pairing_runs_out(shared: Shared) -> None:
    ann = shared.phone()
    shared.clock.later(days=89)
    assert ann.get("/site/api/me").is_success
    shared.clock.later(days=2)
    assert ann.get("/site/api/me").status_code == 401


def test_when_sharing_is_over_nothing_is_answered_and_the_phones_stay_paired(
    shared: Shared,
) -> None:
    ann = shared.phone()
    shared.over = True
    for path in ("/site/", "/site/api/me", "/site/pair"):
        answer = ann.get(path)
        assert (answer.status_code, answer.json()["error"]["what"]) == (503, "sharing has ended")
    shared.over = False
    assert ann.get("/site/api/me").is_success


def test_a_sync_brings_entries_and_says_which_photos_are_to_come(shared: Shared) -> None:
    ann, photo = shared.phone(), jpeg(1)
    sha = hash_of(photo)
    told = shared.send(ann, reading(photos=[sha]), reading(n=2)).json()
    assert set(told["kept"]) == {id_of(ANN, 1), id_of(ANN, 2)}
    assert (told["refused"], told["wanted"]) == ([], [sha])
    at = f"/site/api/{shared.job}/photos/{sha}"
    assert ann.get(at).status_code == 404
    assert [ann.put(at, content=photo).status_code for _ in range(2)] == [201, 204]
    assert ann.get(at).content == photo
    assert shared.send(ann).json()["wanted"] == []


def test_two_phones_on_one_hold_point_are_both_kept_and_both_shown(shared: Shared) -> None:
    ann, ben = shared.phone("Ann"), shared.phone("Ben")
    hold = {"kind": "hold", "hold": 1, "outcome": "stopped"}
    common = {k: v for k, v in reading().items() if k in ("at", "who")}
    one = {**common, **hold, "id": id_of(ANN, 1), "device": ANN, "n": 1}
    other = {**common, **hold, "id": id_of(BEN, 1), "device": BEN, "n": 1, "outcome": "passed",
             "values": [{"what": "moisture", "value": 15}]}  # fmt: skip
    shared.send(ann, one)
    shared.send(ben, other, device=BEN)
    seen = ann.get(f"/site/api/{shared.job}/entries").json()["entries"]
    assert {(e["device"], e["outcome"]) for e in seen} == {(ANN, "stopped"), (BEN, "passed")}


def test_a_log_that_is_the_same_is_not_sent_again(shared: Shared) -> None:
    ann = shared.phone()
    shared.send(ann, reading(), reading(n=2))
    same = digest([id_of(ANN, 1), id_of(ANN, 2)])
    told = ann.get(f"/site/api/{shared.job}/entries?digest={same}").json()
    assert told == {"digest": same, "same": True, "wanted": []}


def test_a_wrong_clock_is_told_to_the_phone_and_kept_for_all(shared: Shared) -> None:
    ann = shared.phone()
    told = shared.send(ann, reading(), ahead=7200).json()
    assert (told["ahead_s"], told["desk_at"]) == (7200, "2026-11-25T10:00:00+00:00")
    log = log_of(shared.desk.store.contents(shared.desk.store.head(shared.job)).document)
    assert [e["ahead_s"] for e in log if e["kind"] == "clock"] == [7200]


@pytest.mark.parametrize(
    ("body", "where"),
    [
        ({"device": "x"}, "device"),
        ({"sent_at": "2026-11-25T10:00:00"}, "sent_at"),  # no zone
        ({"entries": [{}] * 501}, "entries"),
        ({"more": 1}, "more"),
    ],
)
def test_a_batch_that_is_none_is_refused(shared: Shared, body: dict[str, Any], where: str) -> None:
    whole = {"device": ANN, "sent_at": "2026-11-25T10:00:00Z", "entries": []}
    answer = shared.phone().post(f"/site/api/{shared.job}/entries", json={**whole, **body})
    assert (answer.status_code, answer.json()["error"]["where"]) == (400, where)


def test_a_batch_of_another_job_is_refused_in_words(shared: Shared) -> None:
    other = shared.desk.store.make(Contents({"format": 1, "job": {"title": "Garage"}}), "A").job
    body = {"device": ANN, "sent_at": "2026-11-25T10:00:00Z", "job": other, "entries": [reading()]}
    answer = shared.phone().post(f"/site/api/{shared.job}/entries", json=body)
    assert answer.status_code == 400
    assert answer.json()["error"]["what"] == 'records of the job "Garage"'


def test_a_photo_of_a_hundred_megabytes_is_refused_whether_it_says_so_or_not(
    shared: Shared,
) -> None:
    ann, at = shared.phone(), f"/site/api/{shared.job}/photos/{'0' * 64}"
    sent = 0

    def pieces() -> Iterator[bytes]:
        nonlocal sent
        for _ in range(100):
            sent += 1_000_000
            yield bytes(1_000_000)

    answer = ann.put(at, content=pieces())
    assert (answer.status_code, answer.json()["error"]["code"]) == (413, "too-large")
    answer = ann.put(at, content=b"", headers={"content-length": "100000000"})
    assert (answer.status_code, answer.json()["error"]["expected"]) == (
        413, "at most 12,000,000 bytes",
    )  # fmt: skip
    assert not (shared.desk.store.folder / "photos").exists()


def test_a_photo_under_another_hash_or_none_at_all_is_refused(shared: Shared) -> None:
    ann, page = shared.phone(), b"<svg onload='x'>"
    at = f"/site/api/{shared.job}/photos/"
    assert ann.put(at + "0" * 64, content=jpeg()).json()["error"]["what"].startswith("other bytes")
    assert "drawing or page" in ann.put(at + hash_of(page), content=page).json()["error"]["what"]
    assert ann.put(at + "zz", content=jpeg()).status_code == 400


def test_a_full_disk_is_told_and_the_phone_keeps_its_records(
    shared: Shared, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: Any, **__: Any) -> Taken:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("evenfall.app.site.routes.keep", full)
    answer = shared.send(shared.phone(), reading())
    assert (answer.status_code, answer.json()["error"]["code"]) == (507, "full")
    assert "the phone keeps its records" in answer.json()["error"]["do"]


def test_the_door_without_encryption_tells_of_the_certificate_and_nothing_else(
    shared: Shared,
) -> None:
    told = (b"PEM", "AB12 CD34")
    site = make_site(shared.desk, shared.pairing, ("192.168.7.20",), scheme="http",
                     authority=lambda: told)  # fmt: skip
    door = TestClient(plain_door(site), BASE.replace("https", "http"))
    assert "AB12 CD34" in door.get("/site/certificate").text
    assert door.get("/site/authority.crt").content == b"PEM"
    walked = {p for _, p in routes(shared)} - set(PLAIN)
    for path in (*walked, "/", f"{STATIC}outbox.js"):
        assert door.get(path).status_code == 404, path
    assert door.post("/site/certificate").status_code == 404
