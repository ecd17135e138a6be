"""`evenfall --help` against a typer program with the same commands and empty bodies."""

from __future__ import annotations

import py_compile
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

import typer.main
from benchmarks.timing import Figure, measure

GOAL = 1.3


def bare(command: Any) -> str:
    """Write a typer program with the same commands, options and help, and nothing in them."""
    lines = ["import typer", f"app = typer.Typer(add_completion=False, help={command.help!r})"]
    for name, sub in command.commands.items():
        lines += [f"@app.command({name!r}, help={sub.help!r})", f"def _{name}("]
        lines += [f"    {_argument(p)}," for p in sub.params if p.name != "help"]
        lines += ["):", "    pass"]
    return "\n".join([*lines, ""])


def _argument(param: Any) -> str:
    told = f"help={getattr(param, 'help', None)!r}"
    if param.param_type_name == "option":
        kind = "bool" if param.is_flag else "str"
        default = "False" if param.is_flag else "''"
        return f"{param.name}: {kind} = typer.Option({default}, {param.opts[0]!r}, {told})"
    default = "..." if param.required else "''"
    return f"{param.name}: str = typer.Argument({default}, {told})"


def figures() -> list[Figure]:
    """Measure the help, each time in a process of its own."""
    from evenfall.app.cli import app

    ours = [sys.executable, "-c", "from evenfall.app.cli import main; main()", "--help"]
    floor = [sys.executable, "-c", "from bare import app; app()", "--help"]
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "bare.py"
        path.write_text(bare(typer.main.get_command(app)), encoding="utf-8")
        py_compile.compile(str(path))
        return [measure("help", lambda: _run(ours), lambda: _run(floor, folder), GOAL, rounds=15)]


def _run(command: list[str], folder: str | None = None) -> None:
    subprocess.run(command, cwd=folder, check=True, stdout=subprocess.DEVNULL)
