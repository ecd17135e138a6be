"""The price book: YAML and workbook say the same, and a supplier's list is taken with care."""

from __future__ import annotations

import csv
import io
from datetime import date
from pathlib import Path

import openpyxl
import pytest
from typer.testing import CliRunner

from evenfall.app.cli import app
from evenfall.app.loading import DEMO_RATES
from evenfall.app.price_book.as_xlsx import to_xlsx
from evenfall.app.price_book.as_yaml import to_yaml
from evenfall.app.price_book.compare import Report, compare
from evenfall.app.price_book.entries import entries
from evenfall.app.price_book.into import written
from evenfall.app.price_book.reading import read_rates
from evenfall.app.price_book.supplier import Offer, columns, read_list
from evenfall.app.reading import read_model
from evenfall.errors import InvalidFile, InvalidInput
from evenfall.model.rates import Rates
from evenfall.model.rates_checks import slips

RATES = read_rates(DEMO_RATES).value
OURS = entries(RATES)
run = CliRunner().invoke


def test_the_workbook_reads_back_as_the_same_prices(tmp_path: Path) -> None:
    file = tmp_path / "rates.xlsx"
    file.write_bytes(to_xlsx(RATES))
    assert read_rates(file).value == RATES
    assert to_xlsx(RATES) == file.read_bytes()


def test_the_kept_file_reads_back_as_the_same_prices() -> None:
    again = read_model(to_yaml(RATES), "kept.yaml", Rates)
    assert again == RATES
    assert again.mark == RATES.mark


def test_the_mark_tells_one_penny() -> None:
    one = RATES.boards[0].sizes[0].model_copy(update={"price_pence": 3141})
    board = RATES.boards[0].model_copy(update={"sizes": (one, *RATES.boards[0].sizes[1:])})
    other = RATES.model_copy(update={"boards": (board, *RATES.boards[1:])})
    assert other.mark != RATES.mark


def cell(file: Path, sheet: str, place: str, value: object) -> None:
    book = openpyxl.load_workbook(file)
    book[sheet][place] = value
    book.save(file)


@pytest.mark.parametrize(
    ("sheet", "place", "value", "told"),
    [
        ("boards.sizes", "D2", 31.4, ":2:4: boards[pir-foil].sizes[0].price_pence"),
        ("boards.sizes", "D3", 0, "a price of 0"),
        ("items.packs", "C2", 24, "write 2400"),
        ("boards.sizes", "A2", "gold", "a name of the sheet boards"),
        ("lengths", "B1", "sayz", "sayz"),
    ],
)
def test_a_mistake_in_a_workbook_names_its_row_and_column(
    tmp_path: Path, sheet: str, place: str, value: object, told: str
) -> None:
    file = tmp_path / "rates.xlsx"
    file.write_bytes(to_xlsx(RATES))
    cell(file, sheet, place, value)
    with pytest.raises(InvalidFile) as error:
        read_rates(file)
    assert told in str(error.value)


@pytest.mark.parametrize("content", [b"", b"PK\x03\x04 nothing", b"name,price"])
def test_what_is_no_workbook_is_refused(tmp_path: Path, content: bytes) -> None:
    file = tmp_path / "rates.xlsx"
    file.write_bytes(content)
    with pytest.raises(InvalidFile, match="no workbook"):
        read_rates(file)


def told(old: str, new: str) -> str:
    text = DEMO_RATES.read_text(encoding="utf-8")
    assert old in text
    from evenfall.app.reading import read

    with pytest.raises(InvalidFile) as error:
        read(text.replace(old, new, 1), "rates.yaml", Rates, slips)
    return str(error.value)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("price_pence: 4090", "price_pence: 0", "a price of 0"),
        ("price_pence: 4090", "price_pence: 40", "if it is £40, write 4000"),
        ("price_pence: 4090", "price_pence: 40.90", "4090"),
        ("{size: 5, price_pence: 4190}", "{size: 2.5, price_pence: 4190}", "a pack of 2.5 again"),
        ("- name: pir-tissue", "- name: pir-foil", '"pir-foil" again'),
        ("lengths_mm: [3000, 4200]", "lengths_mm: [3, 4200]", "if it is 3 m, write 3000"),
        ("joint_gap_mm: 4,", "joint_gap_mm: 4000,", "50 mm at most"),
        ("labour_pence_hour: 3180", "labour_pence_hour: 0", "terms.labour_pence_hour: a price of"),
        ("labour_pence_hour: 3180", "labour_pence_hour: 32", "if it is £32, write 3200"),
        ("minimum_charge_pence: 185000", "minimum_charge_pence: 0", "write what the firm takes"),
        ("minimum_charge_pence: 185000", "minimum_charge_pence: 1850", "write 185000"),
        ("heat_price_pence_kwh: 7.4", "heat_price_pence_kwh: 0.074", "write 7.4"),
        ("price_pence: 58500", "price_pence: 0", "windows[raise_sill].price_pence: a price of 0"),
        ("price_pence: 58500", "price_pence: 585", "if it is £585, write 58500"),
        ("price_pence_m: 47200", "price_pence_m: 472", "if it is £472, write 47200"),
        ("price_pence: 4600", "price_pence: 46", "windows[fix_shut].price_pence"),
        ("price_pence: 32600", "price_pence: 326", "charges[building-notice].price_pence"),
        ("price_pence: 29800", "price_pence: 298", "if it is £298, write 29800"),
        ("price_pence: 3890", "price_pence: 39", "charges[van].price_pence"),
        ("price_pence: 41800", "price_pence: 418", "provisional[extra-day].price_pence"),
        ("price_pence: 6150", "price_pence: 61", "provisional[hidden-deck].price_pence"),
        ("repaint_pence_m: 1580", "repaint_pence_m: 15", "if it is £15, write 1500"),
        (", repaint_pence_m: 1580", "", "repaint_pence_m: a price of 0"),
    ],
)
def test_a_wrong_price_is_told_with_what_to_do(old: str, new: str, said: str) -> None:
    assert said in told(old, new)


def held(*offers: Offer, pounds: bool = True, **more: object) -> Report:
    return compare(OURS, offers, pounds=pounds, **more)  # type: ignore[arg-type]


def offer(key: str, price: str, pack: str = "", row: int = 2) -> Offer:
    return Offer(row, key, price, pack, "")


def test_a_changed_price_is_taken_and_an_equal_one_counted() -> None:
    found = held(offer("board:pir-foil:100", "£57.20"), offer("vcl:polythene", "62.40"))
    assert [(c.entry.key, c.pence) for c in found.changed] == [("board:pir-foil:100", 5720)]
    assert found.same == 1


def test_a_jump_is_told_apart() -> None:
    found = held(offer("board:pir-foil:100", "66.00"))
    assert [c.entry.key for c in found.jumped] == ["board:pir-foil:100"]
    assert not found.changed
    assert held(offer("board:pir-foil:100", "66.00"), jump_percent=25).changed


def test_what_stands_twice_at_two_prices_is_not_taken() -> None:
    found = held(offer("vcl:polythene", "63"), offer("vcl:polythene", "64", row=9))
    assert "rows 2 and 9" in found.doubled[0]
    assert not found.changed
    assert held(offer("vcl:polythene", "63"), offer("vcl:polythene", "63", row=9)).changed


def test_a_thickness_that_is_no_longer_listed_has_vanished() -> None:
    found = held(offer("board:phenolic-foil:50", "25.10"))
    assert len(found.vanished) == len(RATES.boards[2].sizes) - 1
    assert found.vanished[0].startswith("board:phenolic-foil:75")


@pytest.mark.parametrize(
    ("key", "price", "pack", "said"),
    [
        ("item:primer", "41.90", "4 l", "comes in a pack of 4; ours: 2.5 l, 5 l, 10 l"),
        ("item:primer", "41.90", "", "names no pack"),
        ("item:primer", "41.90", "2.5/5", "more than one pack"),
        ("board:pir-foil:100", "328.80", "6", "priced by the pack of 6"),
    ],
)
def test_packs_that_differ_are_told(key: str, price: str, pack: str, said: str) -> None:
    found = held(offer(key, price, pack))
    assert said in found.packs[0]
    assert not found.changed
    assert not found.jumped


@pytest.mark.parametrize(
    ("price", "pounds", "said"),
    [
        ("0", True, "a price of 0"),
        ("0.00", True, "a price of 0"),
        ("call us", True, "no price"),
        ("-3", True, "no price"),
        ("12,50", True, "no price"),
        ("54.80", False, "pounds where pence are due"),
        ("55", False, "pounds where pence are due"),
        ("5480", True, "pence, not pounds"),
        ("54.805", True, "a part of a penny"),
    ],
)
def test_a_price_in_the_wrong_coin_or_none_is_told(price: str, pounds: bool, said: str) -> None:
    found = held(offer("board:pir-foil:100", price), pounds=pounds)
    assert said in found.wrong[0]
    assert not found.changed
    assert not found.jumped


def test_thousands_and_pound_signs_are_read() -> None:
    assert held(offer("vcl:bitumen-aluminium", "£ 1,50.00")).wrong
    found = held(offer("vcl:bitumen-aluminium", "£1,146.50"), jump_percent=900)
    assert found.changed[0].pence == 114_650


@pytest.mark.parametrize("mapping", ["id=No", "price_pounds=P", "id=No,price_euro=P", "id=,code=x"])
def test_a_wrong_mapping_is_refused(mapping: str) -> None:
    with pytest.raises(InvalidInput, match="--map"):
        columns(mapping)


def supplier(path: Path, *rows: tuple[object, ...], mark: str = ",") -> Path:
    target = io.StringIO()
    csv.writer(target, delimiter=mark).writerows([("Invented Merchant Ltd",), (), *rows])
    path.write_text(target.getvalue(), encoding="utf-8")
    return path


ROWS = (("Our no", "Net", "Pack"), ("item:primer", "43.10", "5 l"), ("vcl:polythene", 62.4, ""))


@pytest.mark.parametrize("mark", [",", ";", "\t"])
def test_a_list_between_any_marks_is_read_below_its_address(tmp_path: Path, mark: str) -> None:
    which = columns("id=Our no,price_pounds=Net,pack=Pack")
    found = read_list(supplier(tmp_path / "list.csv", *ROWS, mark=mark), which)
    assert [(o.row, o.key, o.price, o.pack) for o in found] == [
        (4, "item:primer", "43.10", "5 l"), (5, "vcl:polythene", "62.4", ""),
    ]  # fmt: skip


def test_a_list_in_a_workbook_is_read(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    for row in ROWS:
        book.active.append(row)
    book.save(tmp_path / "list.xlsx")
    which = columns("id=Our no,price_pounds=Net,pack=Pack")
    assert [o.key for o in read_list(tmp_path / "list.xlsx", which)] == [
        "item:primer", "vcl:polythene"]  # fmt: skip


def test_a_column_that_is_not_there_is_named_with_those_that_are(tmp_path: Path) -> None:
    file = supplier(tmp_path / "list.csv", *ROWS)
    with pytest.raises(InvalidInput, match='no column "Gross"'):
        read_list(file, columns("id=Our no,price_pounds=Gross"))


@pytest.mark.parametrize("kind", ["yaml", "xlsx"])
def test_new_prices_are_written_in_place_with_their_date(tmp_path: Path, kind: str) -> None:
    file = tmp_path / f"rates.{kind}"
    file.write_bytes(DEMO_RATES.read_bytes() if kind == "yaml" else to_xlsx(RATES))
    found = held(offer("item:primer", "43.10", "5 l"), offer("vcl:polythene", "63.00"),
                 offer("board:pir-foil:100", "55.90"), offer("screw:250", "80.00"),
                 offer("sheet:epdm-12", "9.10"))  # fmt: skip
    assert len(found.changed) == 5
    on = date(2026, 12, 1)
    file.write_bytes(written(file, found.changed, on))
    again = read_rates(file).value
    new = {e.key: e.pence for e in entries(again)}
    old = {e.key: e.pence for e in OURS}
    assert {k: v for k, v in new.items() if v != old[k]} == {
        c.entry.key: c.pence for c in found.changed}  # fmt: skip
    assert again.vcls[3].priced_on == again.screw.priced_on == on
    assert again.vcls[0].priced_on is None
    if kind == "yaml":
        assert "# beads of polyurethane under the boards" in file.read_text(encoding="utf-8")


def test_the_report_writes_nothing_until_asked_and_keeps_the_old_book(tmp_path: Path) -> None:
    book, prices = tmp_path / "rates.yaml", supplier(tmp_path / "list.csv", *ROWS)
    book.write_bytes(DEMO_RATES.read_bytes())
    args = ["rates", "import", str(prices), "--map", "id=Our no,price_pounds=Net,pack=Pack",
            "--into", str(book), "--on", "2026-12-01"]  # fmt: skip
    done = run(app, args)
    assert "1 changed, 1 as before" in done.output
    assert "item:primer:5: 41.90 to 43.10 (+2.9 %)" in done.output
    assert book.read_bytes() == DEMO_RATES.read_bytes()
    assert done.exit_code == 1  # the other packs of the primer have vanished
    run(app, [*args, "--write"])
    assert (tmp_path / f"rates-{RATES.mark}.yaml").read_bytes() == DEMO_RATES.read_bytes()
    assert "{size: 5, price_pence: 4310, priced_on: 2026-12-01}" in book.read_text(encoding="utf-8")


def test_codes_of_the_supplier_are_linked_to_ids(tmp_path: Path) -> None:
    book = tmp_path / "rates.yaml"
    book.write_bytes(DEMO_RATES.read_bytes())
    prices = supplier(tmp_path / "list.csv", ("Art", "Net"), ("Z-17", "64.00"), ("Z-99", "1.00"))
    links = tmp_path / "links.csv"
    links.write_text("code,id\nZ-17,vcl:polythene\nZ-18,item:foam-can:1\n", encoding="utf-8")
    done = run(app, ["rates", "import", str(prices), "--map", "code=Art,price_pounds=Net",
                     "--into", str(book), "--links", str(links)])  # fmt: skip
    assert "vcl:polythene: 62.40 to 64.00" in done.output
    assert "item:foam-can:1" in done.output.split("Vanished:")[1]
    assert "Z-99" in done.output


def test_the_book_is_written_as_a_workbook_once(tmp_path: Path) -> None:
    target = tmp_path / "book.xlsx"
    assert run(app, ["rates", "--write", str(target)]).exit_code == 0
    assert read_rates(target).value == RATES
    assert run(app, ["rates", "--write", str(target)]).exit_code == 2
