"""A folder of papers is replaced whole, and nothing in it that is another's is lost."""

from __future__ import annotations

from pathlib import Path

import pytest

from evenfall.app.papers.owner import KEPT
from evenfall.app.whole import MARK, write_folder
from evenfall.errors import InvalidInput

FIRST = {"quotation.pdf": b"1", "old.dxf": b"1", "owner-only/rates-aaaaaaaaaaaa.yaml": b"a"}
SECOND = {"quotation.pdf": b"2", "owner-only/rates-bbbbbbbbbbbb.yaml": b"b"}


def held(folder: Path) -> dict[str, bytes]:
    files = (p for p in folder.rglob("*") if p.is_file() and p.name != MARK)
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in files}


def test_papers_are_replaced_and_what_is_no_longer_written_goes(tmp_path: Path) -> None:
    write_folder(tmp_path / "out", FIRST)
    write_folder(tmp_path / "out", SECOND)
    assert held(tmp_path / "out") == SECOND
    assert [p.name for p in tmp_path.iterdir()] == ["out"]


def test_a_scan_laid_among_the_papers_and_old_prices_stay(tmp_path: Path) -> None:
    write_folder(tmp_path / "out", FIRST, KEPT)
    (tmp_path / "out" / "signed").mkdir()
    (tmp_path / "out" / "signed" / "slip-rot.pdf").write_bytes(b"scan")
    for _ in range(2):
        write_folder(tmp_path / "out", SECOND, KEPT)
    kept = {"owner-only/rates-aaaaaaaaaaaa.yaml": b"a", "signed/slip-rot.pdf": b"scan"}
    assert held(tmp_path / "out") == SECOND | kept


def test_another_file_with_the_name_of_a_paper_stops_before_anything_is_touched(
    tmp_path: Path,
) -> None:
    write_folder(tmp_path / "out", SECOND)
    (tmp_path / "out" / "old.dxf").write_bytes(b"mine")
    with pytest.raises(InvalidInput, match=r"old\.dxf"):
        write_folder(tmp_path / "out", FIRST)
    assert held(tmp_path / "out") == SECOND | {"old.dxf": b"mine"}


def test_a_mark_without_a_list_loses_nothing(tmp_path: Path) -> None:
    write_folder(tmp_path / "out", FIRST)
    (tmp_path / "out" / MARK).write_bytes(b"")
    write_folder(tmp_path / "out", SECOND)
    assert held(tmp_path / "out") == FIRST | SECOND


def test_a_folder_that_is_not_ours_is_refused(tmp_path: Path) -> None:
    (tmp_path / "a.txt").write_bytes(b"")
    with pytest.raises(InvalidInput, match="other files"):
        write_folder(tmp_path, FIRST)
