"""README, command line and docs/cli.md in step.

docs/cli.md is written by this file: ``python tests/house/test_readme.py > docs/cli.md``.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import typer.main

from evenfall.app.cli import app

ROOT = Path(__file__).parents[2]
README = ROOT / "README.md"
REFERENCE = ROOT / "docs" / "cli.md"
COMMAND: Any = typer.main.get_command(app)


def reference() -> str:
    """Write the reference of the command line, from the command line."""
    return "\n".join(_lines()) + "\n"


def _lines() -> Iterator[str]:
    yield "# The command line"
    yield ""
    yield "Written from the program: `python tests/house/test_readme.py`. A test holds it in step."
    for name, command in known_commands().items():
        yield from ("", f"## evenfall {name}", "", _flat(command.help or ""), "")
        yield f"    evenfall {name}{''.join(_usage(p) for p in command.params)}"
        yield ""
        for param in command.params:
            if param.name != "help":
                yield f"- `{_name(param)}`: {_flat(getattr(param, 'help', '') or '')}"


def known_commands() -> dict[str, Any]:
    """List the commands by their full names, those of a group behind it."""
    found: dict[str, Any] = {}
    for name, command in COMMAND.commands.items():
        found[name] = command
        inner = getattr(command, "commands", {})
        found |= {f"{name} {word}": one for word, one in inner.items()}
    return found


def _flat(text: str) -> str:
    return " ".join(text.split())


def _name(param: Any) -> str:
    return str(param.opts[0] if param.param_type_name == "option" else param.name.upper())


def _usage(param: Any) -> str:
    if param.name == "help":
        return ""
    value = "" if getattr(param, "is_flag", False) else f" {param.name.upper()}"
    text = f"{_name(param)}{value}" if param.param_type_name == "option" else _name(param)
    return f" {text}" if param.required else f" [{text}]"


def commands_named(text: str) -> set[str]:
    """Find the commands of the program that a text tells a person to type."""
    return set(re.findall(r"\bevenfall ([a-z][a-z-]*)\b", code_of(text)))


def code_of(text: str) -> str:
    """Keep what stands in code: fenced, indented or between backticks."""
    fenced = re.findall(r"```[^\n]*\n(.*?)```", text, re.S)
    indented = re.findall(r"^ {4}(\S.*)$", text, re.M)
    ticked = re.findall(r"`([^`\n]+)`", re.sub(r"```.*?```", "", text, flags=re.S))
    return "\n".join([*fenced, *indented, *ticked])


def options_named(text: str) -> set[tuple[str, str]]:
    """Find command and option of each line to type."""
    return {
        (command + second if command + second in known_commands() else command, option)
        for command, second, rest in re.findall(
            r"\bevenfall ([a-z-]+)( [a-z-]+)?([^\n]*)", code_of(text)
        )
        for option in re.findall(r"(?<!\S)\[?(--[a-z-]+)", rest)
    }


def unknown(text: str) -> list[str]:
    """List the commands and options in a text that the program does not have."""
    known = known_commands()
    found = [name for name in sorted(commands_named(text)) if name not in known]
    for name, option in sorted(options_named(text)):
        has = {o for p in known[name].params for o in p.opts} if name in known else {option}
        found += [] if option in has | {"--help"} else [f"{name} {option}"]
    return found


def test_the_readme_gives_the_two_commands() -> None:
    code = code_of(README.read_text(encoding="utf-8"))
    assert "python3 run.py demo" in code
    assert "python3 run.py test" in code


def test_every_command_in_the_readme_exists() -> None:
    assert unknown(README.read_text(encoding="utf-8")) == []


def test_every_command_of_run_py_in_the_readme_exists() -> None:
    told = (ROOT / "run.py").read_text(encoding="utf-8").split('"""')[1]
    known = set(re.findall(r"run\.py (\w+)", told))
    assert known == {"demo", "desk", "test", "bench"}
    assert set(re.findall(r"run\.py (\w+)", README.read_text(encoding="utf-8"))) <= known


def test_pictures_and_files_that_the_readme_names_exist() -> None:
    links = re.findall(r"\]\(([^)#\s]+)", README.read_text(encoding="utf-8"))
    local = [x for x in links if "://" not in x]
    assert [x for x in local if not (ROOT / x).exists()] == []


def test_the_reference_of_the_command_line_is_in_step() -> None:
    assert REFERENCE.read_text(encoding="utf-8") == reference()


def test_every_command_and_option_says_what_it_does() -> None:
    silent = [name for name, command in COMMAND.commands.items() if not command.help]
    silent += [
        f"{name} {param.name}"
        for name, command in COMMAND.commands.items()
        for param in command.params
        if param.name != "help" and not getattr(param, "help", None)
    ]
    assert silent == []


def test_ci_runs_what_a_person_runs() -> None:
    lines = (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()
    assert lines[-1] == "exec python3 run.py test"


def test_a_planted_command_is_found() -> None:
    assert unknown("Type `evenfall wrok JOB`.") == ["wrok"]
    assert unknown("```\nevenfall work JOB --oot x\n```") == ["work --oot"]
    assert unknown("Each evenfall has its hour.") == []


if __name__ == "__main__":
    print(reference(), end="")
