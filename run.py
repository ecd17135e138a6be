"""One command for everything; needs only Python 3.11 or later with pip and venv.

  python3 run.py demo [FOLDER]            work the example job out and write its papers
  python3 run.py desk [JOB]               open the desk in the browser
  python3 run.py test [--long] [ARGS]     all checks; ARGS go to pytest
  python3 run.py bench [--json]           every figure of benchmarks/

The first time it makes .venv and installs into it what constraints.txt pins; later it starts at
once. Works on Linux, macOS and Windows.
"""

from __future__ import annotations

import compileall
import hashlib
import os
import platform
import shutil
import subprocess
import sys
import venv
from collections.abc import Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
PYTHON = VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
READY = VENV / "evenfall-ready"
OLDEST = (3, 11)
ONE_THREAD = dict.fromkeys(("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"), "1")


def say(text: str) -> None:
    print(text, flush=True)


def run(command: Sequence[object], cwd: Path = ROOT, **more: str) -> int:
    """Run to the end; Python may keep its bytecode, whatever the surroundings say."""
    surroundings = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    return subprocess.call([str(c) for c in command], cwd=cwd, env=surroundings | more)


# --- the environment


def stamp() -> str:
    """Name what the environment depends on, so that a change of it is seen."""
    parts = [sys.version, platform.machine(), str(ROOT)]
    parts += [(ROOT / f).read_text("utf-8") for f in ("pyproject.toml", "constraints.txt")]
    return hashlib.sha256("\n".join(parts).encode()).hexdigest()


def provide(extra: str) -> None:
    """Make .venv and install into it, unless that has been done."""
    now = stamp()
    known = READY.read_text("utf-8").split() if READY.is_file() and PYTHON.is_file() else []
    if known[:1] == [now] and (not extra or extra in known):
        return
    say("Setting up .venv (once, about a minute or two; needs the network) ...")
    if known[:1] != [now]:
        READY.unlink(missing_ok=True)
        if not usable():
            make_venv()
    install(f".[{extra}]" if extra else ".")
    compileall.compile_dir(str(ROOT / "src"), quiet=2)
    READY.write_text(f"{now} {extra}\n", "utf-8")
    say("  ready")


def usable() -> bool:
    """See whether a .venv of this Python is there already."""
    ask = [str(PYTHON), "-c", "import sys, pip; print(sys.version)"]
    try:
        told = subprocess.run(ask, capture_output=True, text=True, check=False).stdout
    except OSError:
        return False
    return told.strip() == sys.version


def make_venv() -> None:
    say("  making a place for the packages")
    try:
        venv.create(VENV, clear=True, with_pip=True)
    except (subprocess.CalledProcessError, OSError) as error:
        sys.exit(f"No .venv could be made: {error}\nOn Debian or Ubuntu: apt install python3-venv")


def install(what: str) -> None:
    """Install with the pinned versions, telling in plain words how far it is."""
    pip = [str(PYTHON), "-m", "pip", "install", "--disable-pip-version-check", "--compile"]
    pip += ["-c", "constraints.txt", "-e", what]
    lines, found = [], 0
    with subprocess.Popen(
        pip, cwd=ROOT, text=True, errors="replace", stdout=subprocess.PIPE, stderr=subprocess.STDOUT
    ) as process:
        for line in process.stdout or ():
            lines.append(line)
            if line.startswith("Collecting "):
                found += 1
                if found % 20 == 0:
                    say(f"  {found} packages fetched")
            elif line.startswith("Installing collected"):
                say(f"  putting {found} packages in place")
    if process.returncode:
        say("".join(lines[-30:]))
        sys.exit(
            "The packages could not be installed. Is there a network? The reason stands above."
        )


# --- the browser of the tests


def browser() -> str | None:
    """Find a browser, or fetch Debian's where that is allowed."""
    found = shutil.which("chromium") or shutil.which("chromium-browser")
    root = hasattr(os, "geteuid") and os.geteuid() == 0
    if found or not root or not shutil.which("apt-get"):
        return found
    say("Fetching a browser for the tests (Debian's chromium) ...")
    quiet = os.environ | {"DEBIAN_FRONTEND": "noninteractive"}
    for step in (["update"], ["install", "-y", "--no-install-recommends", "chromium"]):
        done = subprocess.run(
            ["apt-get", "-q", *step], env=quiet, text=True, errors="replace",
            stdout=subprocess.PIPE, stderr=subprocess.STDOUT, stdin=subprocess.DEVNULL, check=False,
        )  # fmt: skip
        if done.returncode:
            say(done.stdout[-3000:])
    return shutil.which("chromium")


def without_browser() -> None:
    if os.environ.get("CI"):
        sys.exit("No browser was found: with CI set, the browser tests must run.")
    line = "!" * 78
    say(f"{line}\n!!  NO BROWSER: the browser tests are left out. Install chromium to run them.")
    say(line)


# --- the commands


def test(args: list[str]) -> int:
    provide("dev")
    marks = ["not browser"] if browser() is None else []
    if marks:
        without_browser()
    long = "--long" in args
    marks += [] if long else ["not long"]
    chosen = ["-m", " and ".join(marks)] if marks else []
    more = [a for a in args if a != "--long"]
    steps = {
        "ruff check": ["ruff", "check", "."],
        "ruff format": ["ruff", "format", "--check", "."],
        "mypy": ["mypy"],
        "pytest": ["pytest", "-q", "-n", "2", "--dist", "loadfile", *chosen, *more],
    }
    results = {}
    for name, step in steps.items():
        say(f"--- {name}")
        results[name] = run([PYTHON, "-m", *step])
    failed = {name: code for name, code in results.items() if code}
    say(f"FAILED: {', '.join(failed)}" if failed else "All checks passed.")
    return next(iter(failed.values()), 0)


def demo(args: list[str]) -> int:
    provide("")
    return run([PYTHON, "-m", "evenfall.app.cli", "demo", *args], Path.cwd())


def desk(args: list[str]) -> int:
    provide("")
    return run([PYTHON, "-m", "evenfall.app.cli", "desk", *args], Path.cwd())


def bench(args: list[str]) -> int:
    provide("dev")
    return run([PYTHON, "-m", "benchmarks", *args], **ONE_THREAD)


def main(words: list[str]) -> int:
    if sys.version_info < OLDEST:
        sys.exit(f"Python {OLDEST[0]}.{OLDEST[1]} or later is needed; this is {sys.version}")
    commands = {"demo": demo, "desk": desk, "test": test, "bench": bench}
    if not words or words[0] not in commands:
        say(__doc__ or "")
        return 0 if words[:1] in (["-h"], ["--help"]) else 2
    try:
        return commands[words[0]](words[1:])
    except KeyboardInterrupt:
        return 130


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
