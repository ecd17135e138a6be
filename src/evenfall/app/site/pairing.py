"""Phones that may bring records: paired by a one-time token, known by a cookie, shut out by name.

Token and cookie are 256 random bits each; the store keeps only their hashes. Whoever guesses is
counted, waits twice as long after each guess, and is told to the owner.
"""

from __future__ import annotations

import secrets
import sqlite3
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from hashlib import sha256

from evenfall.app.store.store import Store

SECRET_BYTES = 32
TOKEN_LASTS = timedelta(minutes=10)
COOKIE_LASTS = timedelta(days=90)
"""A roof takes three weeks; a phone that was not heard for longer is paired again."""
HEARD_EVERY = timedelta(minutes=1)
"""How exactly "last heard" is kept; each note costs a write to the disk."""
REMEMBERED = timedelta(hours=1)
"""For how long a guess makes the next one wait."""
LONGEST_WAIT_S = 900.0
ALL_TOGETHER = 20
"""Guesses of one hour, from wherever, after which every address that guessed waits as one."""
GUESSES_KEPT = 500
LONGEST_NAME = 40


@dataclass(frozen=True, slots=True)
class Phone:
    """A paired phone; ``shut_out`` says since when it may bring nothing more."""

    id: str
    name: str
    paired: str
    heard: str
    shut_out: str | None
    jobs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Guess:
    """A wrong token or cookie: when, from where, what was wrong."""

    at: str
    address: str
    what: str


class NotPaired(Exception):
    """A token or cookie that opens nothing; ``says`` is what to tell, ``do`` what to do."""

    def __init__(self, says: str, do: str, wait_s: float = 0.0) -> None:
        self.says, self.do, self.wait_s = says, do, wait_s
        super().__init__(says)


def _clock() -> datetime:
    return datetime.now(UTC)


class Pairing:
    """The paired phones of a store.

    Parameters
    ----------
    store : Store
        The jobs [-].
    clock : callable
        Says what time it is [-].
    """

    def __init__(self, store: Store, clock: Callable[[], datetime] = _clock) -> None:
        self.store, self.clock = store, clock

    def token(self, job: str) -> tuple[str, datetime]:
        """Make a token that pairs one phone with one job.

        Parameters
        ----------
        job : str
            Id of the job [-].

        Returns
        -------
        tuple
            The token, which is kept nowhere, and until when it is good [-].

        Raises
        ------
        KeyError
            There is no such job.
        """
        self.store.job(job)
        token, until = secrets.token_urlsafe(SECRET_BYTES), self.clock() + TOKEN_LASTS
        with self.store.writing() as base:
            base.execute("DELETE FROM tokens WHERE until < ?", (_text(self.clock() - REMEMBERED),))
            told = (_hash(token), job, _text(until), None)
            base.execute("INSERT INTO tokens VALUES (?,?,?,?)", told)
        return token, until

    def pair(
        self, token: str, name: str, address: str, cookie: str | None = None
    ) -> tuple[str, str]:
        """Pair a phone; the token is used up.

        Parameters
        ----------
        token : str
            What the code on the screen said [-].
        name : str
            What the phone is to be called [-].
        address : str
            From where it asks [-].
        cookie : str, optional
            The cookie of a phone that is paired already: it gets one more job [-].

        Returns
        -------
        tuple
            The cookie, which is kept nowhere here, and the job [-].

        Raises
        ------
        NotPaired
            The token is used, too old or none; or the address has to wait.
        """
        self.may_try(address)
        now = _text(self.clock())
        known = self._known(cookie) if cookie else None
        with self.store.writing() as base:
            row = base.execute("SELECT * FROM tokens WHERE hash = ?", (_hash(token),)).fetchone()
            wrong = _wrong(row, now)
            if wrong:
                self._note(base, address, wrong)
            else:
                base.execute("UPDATE tokens SET used = ? WHERE hash = ?", (now, row["hash"]))
                new, phone = self._phone(base, known, name, now, cookie)
                base.execute("INSERT OR IGNORE INTO phone_jobs VALUES (?,?)", (phone, row["job"]))
        if wrong:
            raise NotPaired(wrong, "ask for a new code at the desk")
        return new, str(row["job"])

    def _phone(
        self, base: sqlite3.Connection, known: Phone | None, name: str, now: str, cookie: str | None
    ) -> tuple[str, str]:
        if known and cookie and known.shut_out is None:
            return cookie, known.id
        new, phone = secrets.token_urlsafe(SECRET_BYTES), secrets.token_hex(8)
        said = " ".join(name.split())[:LONGEST_NAME] or "a phone"
        base.execute(
            "INSERT INTO phones VALUES (?,?,?,?,?,?)", (phone, said, _hash(new), now, now, None)
        )
        return new, phone

    def who(self, cookie: str | None, address: str) -> Phone:
        """Find the phone of a cookie.

        Parameters
        ----------
        cookie : str or None
            What the phone showed [-].
        address : str
            From where it asks [-].

        Returns
        -------
        Phone
            The phone; that it was heard is noted [-].

        Raises
        ------
        NotPaired
            It shows none, a wrong one, or that of a phone that was shut out.
        """
        if not cookie:
            raise NotPaired("this phone is not paired", "scan the code on the owner's screen")
        known = self._known(cookie)
        if known is None:
            self.may_try(address)
            with self.store.writing() as base:
                self._note(base, address, "a pairing that this desk does not know")
            raise NotPaired("this desk does not know the phone", "pair it again at the desk")
        if known.shut_out:
            raise NotPaired(
                "the owner has shut this phone out",
                "what it kept is safe on it; ask the owner to pair it again",
            )
        now = self.clock()
        if now - datetime.fromisoformat(known.paired) > COOKIE_LASTS:
            raise NotPaired("the pairing has run out", "pair it again at the desk")
        if now - datetime.fromisoformat(known.heard) >= HEARD_EVERY:
            with self.store.writing() as base:
                base.execute("UPDATE phones SET heard = ? WHERE id = ?", (_text(now), known.id))
        return known

    def may_try(self, address: str) -> None:
        """Refuse an address that has guessed and has not waited long enough since.

        Parameters
        ----------
        address : str
            From where it asks [-].

        Raises
        ------
        NotPaired
            With the seconds that it still has to wait.
        """
        now = self.clock()
        since = _text(now - REMEMBERED)
        sql = "SELECT at, address FROM guesses WHERE at > ? ORDER BY at"
        with self.store.reading() as base:
            found = base.execute(sql, (since,)).fetchall()
        mine = [datetime.fromisoformat(r["at"]) for r in found if r["address"] == address]
        if mine and len(found) >= ALL_TOGETHER:
            mine = [datetime.fromisoformat(r["at"]) for r in found]
        if not mine:
            return
        wait = min(2.0 ** (len(mine) - 1), LONGEST_WAIT_S)
        left = wait - (now - mine[-1]).total_seconds()
        if left > 0:
            raise NotPaired("too many wrong tries", f"try again in {left:.0f} s", left)

    def phones(self) -> tuple[Phone, ...]:
        """List the phones, the last heard first.

        Returns
        -------
        tuple of Phone
            All that were ever paired [-].
        """
        with self.store.reading() as base:
            found = base.execute("SELECT * FROM phones ORDER BY heard DESC, id").fetchall()
            return tuple(_read(base, row) for row in found)

    def shut_out(self, phone: str) -> None:
        """Take nothing more from a phone; what it brought stays.

        Parameters
        ----------
        phone : str
            Its id [-].

        Raises
        ------
        KeyError
            There is no such phone.
        """
        sql = "UPDATE phones SET shut_out = ifnull(shut_out, ?) WHERE id = ?"
        with self.store.writing() as base:
            if base.execute(sql, (_text(self.clock()), phone)).rowcount == 0:
                raise KeyError(phone)

    def guesses(self) -> tuple[Guess, ...]:
        """List the wrong tries, the last first.

        Returns
        -------
        tuple of Guess
            The last of them [-].
        """
        sql = "SELECT at, address, what FROM guesses ORDER BY at DESC LIMIT ?"
        with self.store.reading() as base:
            return tuple(Guess(*row) for row in base.execute(sql, (GUESSES_KEPT,)).fetchall())

    def _known(self, cookie: str) -> Phone | None:
        with self.store.reading() as base:
            sql = "SELECT * FROM phones WHERE cookie = ?"
            row = base.execute(sql, (_hash(cookie),)).fetchone()
            return _read(base, row) if row else None

    def _note(self, base: sqlite3.Connection, address: str, what: str) -> None:
        now = _text(self.clock())
        base.execute("INSERT INTO guesses VALUES (?,?,?)", (now, address[:60], what))
        last = "SELECT rowid FROM guesses ORDER BY rowid DESC LIMIT ?"
        base.execute(f"DELETE FROM guesses WHERE rowid NOT IN ({last})", (GUESSES_KEPT,))


def _wrong(row: sqlite3.Row | None, now: str) -> str:
    """Say why a token pairs nothing; nothing where it does."""
    if row is None:
        return "a code that this desk did not show"
    if row["used"] is not None:
        return "a code that was used already"
    return "a code that is more than ten minutes old" if row["until"] < now else ""


def _read(base: sqlite3.Connection, row: sqlite3.Row) -> Phone:
    sql = "SELECT job FROM phone_jobs WHERE phone = ? ORDER BY job"
    jobs = tuple(r[0] for r in base.execute(sql, (row["id"],)).fetchall())
    return Phone(row["id"], row["name"], row["paired"], row["heard"], row["shut_out"], jobs)


def _hash(secret: str) -> str:
    """Hash a secret of 256 random bits; so long a one needs no slow hash."""
    return sha256(secret.encode()).hexdigest()


def _text(moment: datetime) -> str:
    return moment.astimezone(UTC).isoformat(timespec="microseconds")
