"""`record show` and `record photos`: what a finished roof tells, and what its photos do not."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image
from typer.testing import CliRunner

from evenfall.app.cli import app
from evenfall.app.papers.bare import bare_picture
from evenfall.errors import InvalidInput
from evenfall.model.logbook import PhotoMarking

PORCH = Path(__file__).parents[2] / "examples" / "built" / "porch"
GPS = 0x8825


def test_the_record_is_shown_with_what_is_missing_and_by_whom() -> None:
    done = CliRunner().invoke(app, ["record", "show", str(PORCH), "--on", "2026-10-16"])
    assert done.exit_code == 0, done.output
    assert "Hold points: 12 of 13 passed, put right or agreed." in done.output
    assert "Batch numbers (the crew): Missing: Contact adhesive." in done.output
    assert "extra work signed: round the lamp pipe" in done.output


def test_a_finished_roof_waits_for_nothing_and_ends_when_it_ended() -> None:
    long_after = "2027-03-01"
    done = CliRunner().invoke(app, ["record", "show", str(PORCH), "--on", long_after])
    assert "finished on 30 October 2026." in done.output
    assert "finish: " not in done.output
    work = CliRunner().invoke(app, ["work", str(PORCH), "--on", long_after])
    assert "to Fri 30 Oct" in " ".join(work.output.split())
    assert "To book" not in work.output


def test_photos_for_the_client_hold_no_place_time_or_camera(tmp_path: Path) -> None:
    taken = list((PORCH / "photos").glob("*.jpg"))
    for file in taken:
        with Image.open(file) as picture:
            assert picture.getexif().get_ifd(GPS)  # what is to be left out is there
    done = CliRunner().invoke(app, ["record", "photos", str(PORCH), "--out", str(tmp_path)])
    assert done.exit_code == 0, done.output
    copies = sorted(tmp_path.glob("*.jpg"))
    assert len(copies) == len(taken) == 14
    assert copies[0].name == "001-hold-point-0-whole-roof.jpg"
    for copy in copies:
        with Image.open(copy) as picture:
            exif = picture.getexif()
            assert not exif
            assert not exif.get_ifd(GPS)
            assert not {"exif", "comment", "xmp", "icc_profile"} & set(picture.info)
        assert b"Exif" not in copy.read_bytes()
        assert b"2026:10:26" not in copy.read_bytes()


def test_marks_are_drawn_on_the_copy() -> None:
    raw = next((PORCH / "photos").glob("*.jpg")).read_bytes()
    ring = PhotoMarking(kind="ring", points=((500, 500),))
    arrow = PhotoMarking(kind="arrow", points=((100, 100), (400, 700)), text="here")
    plain = bare_picture(raw, "x", "photos")
    for mark in (ring, arrow):
        drawn = bare_picture(raw, "x", "photos", (mark,))
        assert drawn.size == plain.size
        assert drawn.tobytes() != plain.tobytes()


def test_what_is_no_picture_is_refused_in_words() -> None:
    with pytest.raises(InvalidInput, match="is no picture"):
        bare_picture(b"not a picture", "x.jpg", "photos")
