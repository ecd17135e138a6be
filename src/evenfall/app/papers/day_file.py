"""The day as one file for any telephone: it asks for nothing and gives back what is written."""

from __future__ import annotations

import json
import re
from functools import cache
from html import escape
from pathlib import Path
from typing import Any

from evenfall.app.web import lean
from evenfall.app.web.inlined import SITE, inlined
from evenfall.flow import PAPERS, WorkedJob

FOLDER = "days"
"""Where the files of the days lie among the papers."""
TOKENS = SITE.parent / "tokens.css"
_POLICY = (
    "default-src 'none'; script-src 'unsafe-inline'; style-src 'unsafe-inline'; "
    "img-src blob: data:; form-action 'none'; base-uri 'none'"
)
_FACE = re.compile(r"@font-face\s*\{[^}]*\}\s*")
_PAGE = """<!doctype html>
<html lang="en-GB" data-light="sun">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="{policy}">
<meta name="viewport" content="width=device-width, initial-scale=1, viewport-fit=cover">
<meta name="format-detection" content="telephone=no">
<title>{title}</title>
<style>
{style}</style>
</head>
<body>
<div id="root">
{plain}
</div>
<script type="application/json" id="bundle">{bundle}</script>
<script>
(() => {{
'use strict'
{script}
const bundle = JSON.parse(document.querySelector('#bundle').textContent)
$day.start(document.querySelector('#root'), bundle, {box}, {{ sheet: {number} }})
}})()
</script>
</body>
</html>
"""


def day_files(worked: WorkedJob) -> dict[str, bytes]:
    """Make a file for each day of a job.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].

    Returns
    -------
    dict of str to bytes
        HTML by its name among the papers; the same bytes for the same job [-].
    """
    bundle = PAPERS["day bundle"](worked)
    return {
        f"{FOLDER}/day-{day['number']}.html": _page(bundle, day).encode() for day in bundle["days"]
    }


def _page(bundle: dict[str, Any], day: dict[str, Any]) -> str:
    """Write one day; of the others only their hold points go along."""
    told = json.dumps({**bundle, "days": [day]}, ensure_ascii=False, separators=(",", ":"))
    job = bundle["job"]
    return _PAGE.format(
        policy=_POLICY, title=escape(f"{job['reference']}, day {day['number']}: {day['on']}"),
        style=_style(), plain=_plain(job, day, bundle), bundle=told.replace("<", "\\u003c"),
        script=_script(), box="$outbox.outbox()", number=day["number"],
    )  # fmt: skip


@cache
def _script() -> str:
    return lean.script(inlined("day", "outbox"))


@cache
def _style() -> str:
    """Join the inks and the style; the face of the desk stays there, a telephone has its own."""
    return lean.style(_FACE.sub("", _read(TOKENS)) + _read(SITE / "site.css"))


def _read(path: Path) -> str:
    return path.read_text(encoding="utf-8")


def _plain(job: dict[str, Any], day: dict[str, Any], bundle: dict[str, Any]) -> str:
    """Tell the day in plain words, for a viewer that runs no script."""
    night = day["night"]
    holds = [f"{h['hold']}: {_hold(bundle, h)}" for h in day["holds"]]
    cautions = [f"{c['risk']}: {c['says']}" for c in day["cautions"]]
    parts = [
        "<h1>", escape(f"{job['reference']}, day {day['number']} of {day['of']}, {day['on']}"),
        "</h1>\n<p><strong>This viewer only shows the sheet. To write on it, open the file in the "
        "telephone's browser.</strong></p>\n",
        f"<p>{escape(day['says'])} {escape(day['where'])}</p>\n",
        _listed("Work", [w["says"] for w in day["work"]]), _listed("Gates", day["gates"]),
        _listed("Hold points", holds),
        _listed("Tonight", [night["cover"], night["line"], f"dusk {night['dusk']}"]),
        _listed("Beware", cautions),
        f"<p>{escape(job['firm'])}, {escape(job['telephone'])}</p>",
    ]  # fmt: skip
    return f"<noscript>{''.join(parts)}</noscript>"


def _hold(bundle: dict[str, Any], due: dict[str, Any]) -> str:
    point = bundle["holds"][due["hold"]]
    where = f", bay {due['bay']}" if due["bay"] else ""
    return f"{point['when']}{where}. {point['passes']}"


def _listed(title: str, lines: list[str]) -> str:
    told = "".join(f"<li>{escape(line)}</li>" for line in lines if line)
    return f"<h2>{title}</h2>\n<ul>{told}</ul>\n" if told else ""
