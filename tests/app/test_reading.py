"""Reading of job and rates files: each trap of YAML, and each mistake a person makes, once."""

from __future__ import annotations

import json
import re
from datetime import date
from pathlib import Path
from typing import Annotated, Any, Literal

import pytest
import yaml
from pydantic import BaseModel, ConfigDict, Field, StringConstraints, create_model, model_validator

from evenfall.app import yaml_core
from evenfall.app.reading import in_file, locate, read, read_file, read_model
from evenfall.app.yaml_core import LARGEST, Broken, parse
from evenfall.errors import InvalidFile, InvalidInput, Mistake
from evenfall.model.job_checks import Slip
from evenfall.model.kinds import Between, CornerName, Name, Nation


class Table(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False)


class Tape(Table):
    between: str
    length_m: Annotated[float, Field(gt=0, le=100)]


class Deck(Table):
    kind: Literal["osb", "plywood", "planks"]
    thickness_mm: Annotated[float, Field(gt=5, le=100)]
    layers: Literal[1, 2] = 1
    sound: bool = True


class Survey(Table):
    corners: Annotated[tuple[str, ...], Field(min_length=3)]
    tapes: tuple[Tape, ...] = ()
    deck: Deck | None = None
    gutter_mm: Annotated[int, Field(ge=50, le=300)] | None = None
    taped_on: date | None = None


class Place(Table):
    nation: Nation


class Small(Table):
    title: str
    survey: Survey


class Two(Table):
    low: float
    high: float

    @model_validator(mode="after")
    def _in_order(self) -> Two:
        if self.low > self.high:
            raise ValueError("low must not be more than high")
        return self


@pytest.fixture(params=["CSafeLoader", "SafeLoader"], autouse=True)
def _each_reader(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Everything holds for the fast reader and for the plain one that stands in for it."""
    monkeypatch.setattr(yaml_core, "LOADER", getattr(yaml, request.param))


def one(kind: Any, default: Any = ...) -> type[BaseModel]:
    """Make a model of one key ``x``."""
    return create_model("One", __base__=Table, x=(kind, default))


def mistakes(text: str | bytes, model: type[BaseModel] = Small) -> tuple[Mistake, ...]:
    with pytest.raises(InvalidFile) as caught:
        read_model(text, "job.yaml", model)
    return caught.value.mistakes


def only(text: str | bytes, model: type[BaseModel] = Small) -> Mistake:
    found = mistakes(text, model)
    assert len(found) == 1, found
    return found[0]


def broken(text: str) -> Mistake:
    with pytest.raises(Broken) as caught:
        parse(text)
    return caught.value.mistake


# --- YAML 1.2, core rules


@pytest.mark.parametrize(
    "text",
    ["1:40", "16:00", "0123", "no", "No", "yes", "on", "off", "y", "n", "1_000", "2026-11-25",
     "1:30:00", "0b11", "1e", "+", "-.", ".", "=", "<<", "0o8", "1,5", "007.5", "nUll", "tRue"],
)  # fmt: skip
def test_stays_the_text_that_the_person_wrote(text: str) -> None:
    assert parse(f"x: {text}").data == {"x": text}


@pytest.mark.parametrize(
    ("text", "value"),
    [("0", 0), ("-0", 0), ("+7", 7), ("-12", -12), ("6.214", 6.214), (".5", 0.5), ("5.", 5.0),
     ("1e3", 1000.0), ("1E-3", 0.001), ("-.5e1", -5.0), ("0x1F", 31), ("0o17", 15), ("~", None),
     ("null", None), ("Null", None), ("", None), ("true", True), ("True", True), ("FALSE", False),
     (".inf", float("inf")), ("-.INF", float("-inf"))],
)  # fmt: skip
def test_is_more_than_text_by_the_core_rules(text: str, value: Any) -> None:
    found = parse(f"x: {text}").data["x"]
    assert found == value
    assert type(found) is type(value)


def test_a_value_that_is_not_a_number_is_read_as_such() -> None:
    assert parse("x: .nan").data["x"] != parse("x: .nan").data["x"]


def test_quoted_numbers_stay_text() -> None:
    assert parse("""[ "1", '2', "true", "~" ]""").data == ["1", "2", "true", "~"]


def test_a_number_of_a_thousand_figures_does_no_harm() -> None:
    assert parse(f"x: {'9' * 1000}").data == {"x": float("inf")}
    assert parse(f"x: {'9' * 200}").data == {"x": int("9" * 200)}


def test_keys_are_always_words() -> None:
    assert list(parse("1: a\ntrue: b\n~: c\n").data) == ["1", "true", "~"]


def test_a_date_as_written_becomes_a_date_of_the_model() -> None:
    assert read_model("x: 2026-11-25", "f", one(date)).model_dump() == {"x": date(2026, 11, 25)}


def test_folded_text_and_comments_are_read() -> None:
    assert parse("# note\nx: >\n  two\n  lines\ny: |\n  a\n  b\n").data["y"] == "a\nb\n"


def test_the_mark_in_front_that_some_editors_write_is_passed_over() -> None:
    assert read_model(b"\xef\xbb\xbfx: 1", "f", one(int)).model_dump() == {"x": 1}
    assert read_model("\ufeffx: 1", "f", one(int)).model_dump() == {"x": 1}


def test_lines_may_end_as_on_windows() -> None:
    document = parse("a: 1\r\nb:\r\n  c: 2\r\n")
    assert document.data == {"a": 1, "b": {"c": 2}}
    assert document.place(("b", "c")) == (3, 6)


# --- JSON


def test_json_is_read_with_tabs_and_escapes() -> None:
    text = '{\n\t"a":\t"tab \\t slash \\/ \\u03bb",\n\t"b": [1, -2.5E+2, null, true]\n}'
    assert parse(text).data == json.loads(text)


def test_json_escapes_of_two_halves_make_one_sign() -> None:
    assert parse('{"a": "\\ud83d\\ude00"}').data == {"a": "\U0001f600"}


def test_half_a_sign_is_refused() -> None:
    assert "half a sign" in only('{"x": "\\ud83d"}', one(str)).found


def test_json_keys_need_no_gap_after_the_colon() -> None:
    assert parse('{"a":{"b":"http://c,d"},"e":[1,2]}').data == {
        "a": {"b": "http://c,d"},
        "e": [1, 2],
    }


def test_what_json_writes_reads_back_the_same() -> None:
    data = {"s": 'quote " and \\ and \n', "n": [0.1, 1e-7, 1e22, 12345678901234567890], "e": {}}
    assert parse(json.dumps(data)).data == data
    assert parse(json.dumps(data, indent="\t")).data == data


# --- refused


def test_a_key_given_twice_is_refused_with_both_lines() -> None:
    found = only("x: 1\ny: 2\nx: 3\n", create_model("M", __base__=Table, x=(int, 0), y=(int, 0)))
    assert (found.line, found.column) == (3, 1)
    assert "second time" in found.found
    assert "line 1" in found.expected


def test_a_key_given_twice_in_json_is_refused() -> None:
    assert "second time" in only('{"x": 1, "x": 1}', one(int)).found


def test_the_same_key_quoted_and_plain_is_one_key() -> None:
    assert "second time" in only('x: 1\n"x": 2\n', one(int)).found


def test_a_wrong_first_value_is_told_beside_the_second_key() -> None:
    assert [m.line for m in mistakes("x: a\nx: 3\n", one(int))] == [1, 2]


def test_anchors_are_refused() -> None:
    assert only("x: &here 1", one(int)).found == "an anchor (&here)"


def test_aliases_are_refused_where_each_stands() -> None:
    found = mistakes(
        "x: &a [1]\ny: *a\n", create_model("M", __base__=Table, x=(Any, 0), y=(Any, 0))
    )
    assert [(m.line, m.found) for m in found] == [(1, "an anchor (&a)"), (2, "an alias (*a)")]


def test_an_alias_is_not_also_told_as_a_wrong_value() -> None:
    assert only("x: *a\n", one(int)).found == "an alias (*a)"


def test_a_bomb_of_aliases_is_only_a_list_of_mistakes() -> None:
    lines = ["a0: &a0 [x, x]"] + [
        f"a{i}: &a{i} [*a{i - 1}, *a{i - 1}, *a{i - 1}, *a{i - 1}]" for i in range(1, 30)
    ]
    found = mistakes("\n".join(lines), create_model("M", __base__=Table))
    assert sum("alias" in m.found for m in found) >= 100


@pytest.mark.parametrize("tag", ["!!str", "!!python/object:os.system", "!mine", "!"])
def test_tags_are_refused(tag: str) -> None:
    assert "a tag" in only(f"x: {tag} a", one(str)).found


def test_merge_keys_have_no_meaning() -> None:
    assert only("x: 1\n<<: {y: 2}\n", one(int)).found == 'unknown key "<<"'


def test_thirty_two_tables_within_one_another_are_read() -> None:
    assert parse("[" * 32 + "]" * 32).data


@pytest.mark.parametrize(
    "text", ["[" * 33 + "]" * 33, "- " * 33 + "x", '{"a":' * 33 + "1" + "}" * 33]
)
def test_thirty_three_tables_within_one_another_are_not(text: str) -> None:
    assert "more than 32 tables" in broken(text).found


@pytest.mark.parametrize("part", ["[", "- ", '{"a":', "? "])
def test_a_hundred_thousand_levels_end_in_a_mistake(part: str) -> None:
    assert broken(part * 100_000).expected


def test_a_list_as_a_key_is_refused() -> None:
    assert "as a key" in broken("? [a]\n: 1").found


def test_two_documents_in_one_file_are_refused() -> None:
    assert "second document" in broken("a: 1\n---\nb: 2\n").found


@pytest.mark.parametrize("text", ["", "   \n", "# only a comment\n", "---\n...\n"])
def test_an_empty_file_is_told(text: str) -> None:
    found = only(text)
    assert "empty" in found.found or found.found == "nothing"


@pytest.mark.parametrize(("text", "found"), [("- a", "a list"), ("just words", '"just words"')])
def test_a_file_that_is_no_table_is_told(text: str, found: str) -> None:
    assert only(text).found == found


def test_a_file_over_two_megabytes_is_refused() -> None:
    assert "more than 2,000,000 bytes" in only("#" * (LARGEST + 1)).found
    assert "more than 2,000,000 bytes" in only(b"#" * (LARGEST + 1)).found


def test_a_file_of_two_megabytes_is_read() -> None:
    text = "x: 1\n" + "#" * (LARGEST - 5)
    assert read_model(text, "f", one(int)).model_dump() == {"x": 1}


def test_a_file_of_too_many_values_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(yaml_core, "MOST_VALUES", 1000)
    assert broken("[" + "x," * 1000 + "]").found == "more than 1,000 values"
    assert len(parse("[" + "x," * 999 + "]").data) == 999


def test_a_binary_file_is_told_in_plain_words() -> None:
    assert only(b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR").found == "a binary file"


def test_nul_is_refused_with_its_place() -> None:
    found = only("title: a\nx: b\0c\n")
    assert (found.line, found.column) == (2, 5)
    assert "no text" in found.found


def test_text_of_another_encoding_is_told_with_its_place() -> None:
    found = only("title: a\nx: caf\xe9 b\n".encode("latin-1"))
    assert (found.line, found.column, found.do) == (2, 7, "save it as UTF-8")


def test_utf_16_is_named() -> None:
    assert only("x: 1".encode("utf-16")).found == "text in UTF-16"


# --- files


def test_a_file_is_read_with_its_name(tmp_path: Path) -> None:
    path = tmp_path / "job.yaml"
    path.write_text("x: a\n", encoding="utf-8")
    with pytest.raises(InvalidFile, match=r"job\.yaml:1:4: x: "):
        read_file(path, one(int))


def test_a_file_of_ten_megabytes_is_refused_by_its_first_two(tmp_path: Path) -> None:
    path = tmp_path / "big.yaml"
    path.write_bytes(b"#" * 10_000_000)
    with pytest.raises(InvalidFile, match="more than 2,000,000 bytes"):
        read_file(path, one(int))


def test_a_missing_file_and_a_folder_are_told(tmp_path: Path) -> None:
    with pytest.raises(InvalidFile, match="no such file"):
        read_file(tmp_path / "none.yaml", one(int))
    with pytest.raises(InvalidFile, match="a folder"):
        read_file(tmp_path, one(int))


# --- what is no YAML, told alone


@pytest.mark.parametrize(
    ("text", "line", "found"),
    [
        ("a:\n\tb: 1", 2, "a tab"),
        ("a: 1\n\tb: 2", 2, "a tab"),
        ("a: b: c", 1, "a second colon"),
        ("a\nb: 1", 2, "within the value above"),
        ("a: 1\n  b: 2", 2, "within the value above"),
        ("a: 1\nb\nc: 2", 2, "without a colon"),
        ("a: 1\nb\n", 2, "without a colon"),
        ('a: 1\nb: "x\n', 2, "never closed"),
        ("a: [1, 2\nb: 3", 2, "a list in [ ]"),
        ("a: {x: 1\n", 2, "a table in { }"),
        ('a: "C:\\drawings"', 1, "a backslash"),
        ("a: @x", 1, "@ at the beginning"),
        ("a: 'it's'", 1, "after the end of a value"),
        ("a: [1, 2]]", 1, "closes nothing"),
        ("a: ]", 1, "closes nothing"),
        ("x: - 1", 1, "a dash"),
        ("- a\nb: 1", 2, "does not line up"),
        ("a: 1\n- b", 2, "does not line up"),
        ('"a" "b"', 1, "after the end"),
        ("%YAML 3.0\n---\na: 1", 1, "%YAML"),
    ],
)
def test_what_cannot_be_read_is_told_alone_in_plain_words(text: str, line: int, found: str) -> None:
    told = only(text)
    assert found in told.found
    assert told.line == line


def test_a_bracket_left_open_for_long_is_told() -> None:
    assert broken("a: [\n" + "  x,\n" * 50).found == "a bracket that is never closed"


# --- mistakes of the model


WHOLE = """\
title: Garage
survey:
  corners: [A, B, C]
  tapes:
    - {between: A-B, length_m: 6.214}
    - between: B-C
      length_m: 3.508
  deck: {kind: osb, thickness_mm: 18}
  gutter_mm: 112
  taped_on: 2026-11-25
"""


def test_a_sound_file_is_read() -> None:
    found = read_model(WHOLE, "job.yaml", Small)
    assert found.survey.tapes[1].length_m == 3.508
    assert found.survey.taped_on == date(2026, 11, 25)


def test_every_mistake_is_told_in_one_pass_in_the_order_of_the_file() -> None:
    text = (
        WHOLE.replace("6.214", "-1")
        .replace("kind: osb", "kind: obs")
        .replace("gutter_mm: 112", "gutter_mm: 1.5")
        .replace("Garage", "12")
        .replace("2026-11-25", "25/11/2026")
        .replace("  tapes:", "  tapez: 1\n  tapes:")
    )
    found = mistakes(text)
    assert [(m.line, m.column, m.path) for m in found] == [
        (1, 8, "title"),
        (4, 3, "survey.tapez"),
        (6, 32, "survey.tapes[0].length_m"),
        (9, 16, "survey.deck.kind"),
        (10, 14, "survey.gutter_mm"),
        (11, 13, "survey.taped_on"),
    ]


def test_a_mistake_reads_as_one_line() -> None:
    with pytest.raises(InvalidFile) as caught:
        read_model(WHOLE.replace("osb", "obs"), "job.yaml", Small)
    assert str(caught.value) == (
        'job.yaml:8:16: survey.deck.kind: "obs"; expected one of osb, plywood, planks; '
        'did you mean "osb"?'
    )


def test_an_unknown_key_gets_the_nearest_valid_one() -> None:
    found = only(WHOLE.replace("  gutter_mm", "  guter_mm"))
    assert (found.found, found.nearest) == ('unknown key "guter_mm"', "gutter_mm")


def test_an_unknown_key_of_another_kind_gets_the_list_of_keys() -> None:
    found = only(WHOLE + "colour: red\n")
    assert (found.expected, found.nearest) == ("one of title, survey", "")


def test_a_required_key_under_a_wrong_name_is_one_mistake() -> None:
    assert only(WHOLE.replace("length_m: 3.508", "lenght_m: 3.508")).nearest == "length_m"


def test_a_key_in_another_unit_is_told_the_right_one() -> None:
    found = only(WHOLE.replace("length_m: 3.508", "length_mm: 3508"))
    assert found.expected == "length_m: give metres"
    assert found.do == "3508 mm is 3.508 m"
    assert (found.line, found.column) == (7, 7)


def test_a_key_without_its_unit_is_told_the_right_one() -> None:
    found = only(WHOLE.replace("gutter_mm", "gutter"))
    assert found.expected == "gutter_mm: give millimetres"


def test_a_missing_key_stands_at_its_table() -> None:
    found = only(WHOLE.replace("  corners: [A, B, C]\n", ""))
    assert (found.line, found.path, found.found) == (2, "survey.corners", "missing")
    assert found.expected == "a list, at least 3 entries"


def test_a_missing_key_of_an_entry_stands_at_the_entry() -> None:
    found = only(WHOLE.replace("      length_m: 3.508\n", ""))
    assert (found.line, found.path) == (6, "survey.tapes[1].length_m")


def test_a_key_with_nothing_after_it_is_told() -> None:
    assert only(WHOLE.replace("Garage", "")).found == "nothing"


def test_out_of_range_tells_the_whole_range() -> None:
    found = only(WHOLE.replace("3.508", "0"))
    assert found.expected == "a number of metres, more than 0, at most 100"


def test_millimetres_given_for_metres_are_seen() -> None:
    found = only(WHOLE.replace("3.508", "3508")).do
    assert (
        found == "give metres; 3508 mm is 3.508 m, or 3508 cm is 35.080 m, or 3508 in is 89.103 m"
    )
    assert "560.4 cm is 5.604 m, or 560.4 in" in only(WHOLE.replace("3.508", "560.4")).do


def test_metres_given_for_millimetres_are_seen() -> None:
    found = only(WHOLE.replace("thickness_mm: 18", "thickness_mm: 0.018"))
    assert found.do == "give millimetres; 0.018 m is 18 mm"


def test_an_absurd_number_gets_no_conversion() -> None:
    assert only(WHOLE.replace("3.508", "1e9")).do == ""


@pytest.mark.parametrize("text", [".inf", ".nan", "1e400", "9" * 400])
def test_numbers_without_end_are_refused(text: str) -> None:
    assert only(WHOLE.replace("3.508", text)).expected.startswith("a number of metres")


@pytest.mark.parametrize(
    ("written", "do"),
    [
        ('"3.508"', "take the quotation marks away"),
        ("3,508", "write a point for the decimals, nothing between thousands: 3.508 or 3508"),
        ("3,5", "write a point for the decimals: 3.5"),
        ("1_000", "write nothing between thousands: 1000"),
        ("1 000", "write nothing between thousands: 1000"),
        ("1,234,567.8", "write nothing between thousands: 1234567.8"),
        ("11'6\"", "11'6\" is 3.505 m: write 3.505"),
        ("11' 6\"", "11' 6\" is 3.505 m: write 3.505"),
        ("11ft 6in", "11ft 6in is 3.505 m: write 3.505"),
        ("11′6″", "11′6″ is 3.505 m: write 3.505"),
        ("11 feet", "11 feet is 3.353 m: write 3.353"),
        ("138in", "138in is 3.505 m: write 3.505"),
        ("3508 mm", "3508 mm is 3.508 m: write 3.508"),
        ("3.508 m", "write 3.508"),
        ("3.5m", "write 3.5"),
        ("35 kg", "write the number alone, in metres"),
        ("03.5", "leave out the noughts in front: 3.5"),
        ("1:40", "write 40"),
        ("about four", ""),
    ],
)
def test_text_for_a_number_gets_the_right_help(written: str, do: str) -> None:
    found = only(WHOLE.replace("3.508", written))
    assert found.expected == "a number of metres, more than 0, at most 100"
    assert found.do == do


def test_feet_become_whole_millimetres_at_such_a_key() -> None:
    assert only(WHOLE.replace("112", "4.5in")).do == "4.5in is 114 mm: write 114"


def test_a_decimal_comma_within_braces_is_seen() -> None:
    found = only(WHOLE.replace("6.214", "6,214"))
    assert "a comma before 214" in found.found
    assert "point" in found.do


def test_a_whole_number_written_with_a_point_gets_told_so() -> None:
    found = only(WHOLE.replace("112", "112.0"))
    assert (found.found, found.do) == ("112.0", "write 112")


def test_pounds_given_for_pence_are_seen() -> None:
    model = create_model("Price", __base__=Table, price_pence=(int, ...))
    assert only("price_pence: £12.50", model).do == "write 1250"
    assert only("price_pounds: 12.5", model).do == "12.5 pounds is 1250 pence"


@pytest.mark.parametrize(
    ("written", "do"),
    [("no", "write false"), ("on", "write true"), ("1", "write true"), ("maybe", "")],
)
def test_yes_and_no_are_asked_for_as_true_and_false(written: str, do: str) -> None:
    found = only(f"x: {written}", one(bool))
    assert (found.expected, found.do) == ("true or false", do)


def test_a_number_for_words_is_to_be_put_in_quotation_marks() -> None:
    assert only("x: 0x1F", one(str)).do == 'put it in quotation marks: "0x1F"'


@pytest.mark.parametrize(
    ("written", "do"),
    [
        ("25/11/2026", "write 2026-11-25"),
        ("25.11.2026", "write 2026-11-25"),
        ("03/04/2026", "write the year first, then month and day"),
        ("20261125", "write 2026-11-25"),
        ('"1764028800"', "write the year first, then month and day"),
        ("2026-02-30", "no calendar has that day"),
        ("next week", "write the year first, then month and day"),
    ],
)
def test_other_dates_get_the_right_help(written: str, do: str) -> None:
    found = only(f"x: {written}", one(date))
    assert found.expected == "a date such as 2026-11-25"
    assert found.do == do


def test_true_is_not_taken_for_the_number_one() -> None:
    assert only(WHOLE.replace("kind: osb", "kind: osb, layers: true")).expected == "one of 1, 2"


def test_a_word_in_other_letters_is_near() -> None:
    found = only("x: Open Country", one(Literal["open_country", "town"]))
    assert found.nearest == "open_country"


def test_a_table_for_a_list_is_told() -> None:
    found = only(WHOLE.replace("corners: [A, B, C]", "corners: {A: 1}"))
    assert found.found == "a table"
    assert found.do == "begin each entry with a dash, or put [ ] around"


def test_words_for_a_table_are_told() -> None:
    found = only(WHOLE.replace("{kind: osb, thickness_mm: 18}", "osb"))
    assert (found.found, found.expected) == ('"osb"', "a table with kind, thickness_mm")


def test_a_short_list_tells_how_many_it_has() -> None:
    assert only(WHOLE.replace("[A, B, C]", "[A, B]")).do == "it has 2"


def test_a_long_list_tells_how_many_it_has() -> None:
    assert only("x: [1, 2, 3]", one(Annotated[list[int], Field(max_length=2)])).do == "it has 3"


def test_a_list_of_wrong_entries_is_not_also_called_short() -> None:
    found = mistakes(WHOLE.replace("[A, B, C]", "[1, 2, 3]"))
    assert [m.path for m in found] == [f"survey.corners[{i}]" for i in range(3)]


@pytest.mark.parametrize(
    ("kind", "expected"),
    [
        (Name, "a short name of letters, figures, - and _, without spaces"),
        (CornerName, "the name of a corner, such as A"),
        (Between, "two corners, such as A-B"),
    ],
)
def test_forms_of_text_are_told_in_words(kind: Any, expected: str) -> None:
    assert only("x: '?? ??'", one(kind)).expected == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [("''", "words, at most 5 characters"), ("abcdefg", "words, at most 5 characters")],
)
def test_the_length_of_words_is_told(text: str, expected: str) -> None:
    kind = Annotated[str, StringConstraints(min_length=1, max_length=5)]
    assert only(f"x: {text}", one(kind)).expected == expected


def test_a_check_of_the_model_speaks_for_itself() -> None:
    found = only("x:\n  low: 5\n  high: 3\n", one(Two))
    assert (found.line, found.path, found.do) == (1, "x", "low must not be more than high")


def test_a_choice_between_kinds_is_one_mistake() -> None:
    assert only("x: 1.5", one(int | str)).expected == "a whole number or words"


def test_a_choice_between_tables_is_read_by_its_word() -> None:
    class Round(Table):
        shape: Literal["round"]
        across_mm: int

    class Square(Table):
        shape: Literal["square"]
        side_mm: int

    model = one(Annotated[Round | Square, Field(discriminator="shape")])
    missing, unknown = mistakes("x: {shape: round, side_mm: 3}", model)
    assert (missing.path, unknown.expected) == ("x.across_mm", "one of shape, across_mm")
    assert only("x: {shape: rond, across_mm: 3}", model).nearest == "round"
    assert only("x: {across_mm: 3}", model).path == "x.shape"


def test_a_table_or_words_is_told_by_what_is_wrong_in_the_table() -> None:
    found = only("x: {low: 1}", one(Two | str))
    assert (found.path, found.found) == ("x.high", "missing")


def test_any_number_of_mistakes_ends() -> None:
    text = "corners: [A, B, C]\n" + "".join(f"k{i}: 1\n" for i in range(3000))
    found = mistakes(text, Survey)
    assert len(found) == 201
    assert "more mistakes below" in found[-1].found


JARGON = re.compile(
    r"Input should|valid (string|integer|number|boolean|tuple|list|dict)|unable to parse|Field req"
    r"|Extra inputs|Value error|pydantic|instance of|_type|literal", re.I,
)  # fmt: skip


@pytest.mark.parametrize(
    ("kind", "text"),
    [(float, "a"), (int, "1.5"), (bool, "2"), (str, "1"), (date, "x"), (tuple[int, ...], "1"),
     (dict[str, int], "1"), (Literal["a"], "b"), (Two, "1"), (Two, "{}"), (float | None, "a"),
     (tuple[int, str], "[1]"), (tuple[int, str], "[1, a, 2]"), (dict[int, float], "{a: 1}"),
     (Annotated[int, Field(multiple_of=5)], "7"), (set[int], "1"), (bytes, "1"),
     (Annotated[str, StringConstraints(pattern="^z+$")], "a"), (frozenset[int], "[a]")],
)  # fmt: skip
def test_no_mistake_is_told_in_the_jargon_of_the_checker(kind: Any, text: str) -> None:
    for found in mistakes(f"x: {text}", one(kind)):
        assert not JARGON.search(found.told("f"))
        assert found.expected


def test_a_kind_of_refusal_without_words_of_its_own_is_told_by_what_is_expected() -> None:
    found = only("x: 1", one(bytes))
    assert (found.found, found.expected) == ("1", "words")


# --- places


def test_places_are_found_for_paths_as_people_write_them() -> None:
    document = parse(WHOLE)
    assert locate(document, "title") == (1, 8)
    assert locate(document, "survey.tapes[1]") == (6, 7)
    assert locate(document, "survey.tapes[B-C].length_m") == (7, 17)
    assert locate(document, "survey.deck") == (8, 3)


def test_a_place_that_the_file_does_not_have_is_the_nearest_around_it() -> None:
    document = parse(WHOLE)
    assert locate(document, "survey.deck.sound") == (8, 3)
    assert locate(document, "survey.tapes[9].length_m") == (4, 3)
    assert locate(document, "title.more") == (1, 8)
    assert locate(document, "") == (1, 1)


def test_columns_count_signs_not_bytes() -> None:
    assert parse("é: λ\nx: {ü: 1}").place(("x", "ü")) == (2, 8)


def test_a_mistake_found_later_is_given_its_line() -> None:
    source = read(WHOLE, "job.yaml", Small)
    late = InvalidInput("3.508 m", "about 4.1 m", where="survey.tapes[B-C]", do="tape it again")
    assert str(in_file(late, source)) == (
        "job.yaml:6:7: survey.tapes[B-C]: 3.508 m; expected about 4.1 m; tape it again"
    )


def test_a_mistake_of_the_rates_is_given_its_line_there() -> None:
    job, rates = read(WHOLE, "job.yaml", Small), read("# rates\n" + WHOLE, "rates.yaml", Small)
    late = InvalidInput("0", "more", where="the rates: survey.tapes[B-C]", do="ask")
    assert str(in_file(late, job, rates)) == (
        "rates.yaml:7:7: survey.tapes[B-C]: 0; expected more; ask"
    )
    late.where = "the rates"
    assert str(in_file(late, job, rates)).startswith("rates.yaml:")
    late.where = "survey.tapes[B-C]"
    assert str(in_file(late, job, rates)).startswith("job.yaml:6:7")


def test_checks_of_the_whole_file_are_given_their_lines_and_words() -> None:
    def checks(small: Small) -> list[Slip]:
        return [Slip("survey.tapes[1].between", '"B-C"', "a side", ("B-D", "A-X"))]

    with pytest.raises(InvalidFile) as caught:
        read(WHOLE, "job.yaml", Small, checks)
    (found,) = caught.value.mistakes
    assert (found.line, found.column, found.nearest) == (6, 16, "B-D")


def test_checks_are_not_asked_about_a_file_with_mistakes() -> None:
    with pytest.raises(InvalidFile, match="obs"):
        read(WHOLE.replace("osb", "obs"), "f", Small, lambda _: pytest.fail("asked"))


class Numbered(BaseModel):
    n: float


class Pair(BaseModel):
    format: int
    a: Numbered
    b: Numbered


def test_what_was_sound_before_is_passed_over_and_what_is_new_is_not() -> None:
    from evenfall.app.reading import read_data

    sound = {"format": 1, "a": {"n": 1.5}, "b": {"n": 2.5}}
    assert read_data(sound, "x", Pair).value.a.n == 1.5
    for changed in ({**sound, "b": {"n": True}}, {**sound, "a": {"n": True}, "b": sound["b"]}):
        with pytest.raises(InvalidFile, match="true; expected a number"):
            read_data(changed, "x", Pair, None, sound)


def test_a_missing_number_of_a_chart_says_which_chart_to_read() -> None:
    site = create_model("Site", __base__=Table, map_wind_m_s=(Annotated[float, Field(ge=15)], ...))
    with pytest.raises(InvalidFile) as caught:
        read_model("site: {}\n", "job.yaml", create_model("Job", __base__=Table, site=(site, ...)))
    (found,) = caught.value.mistakes
    assert (found.path, found.found) == ("site.map_wind_m_s", "missing")
    assert "Figure NA.1: v_b,map before altitude" in found.expected
    assert found.do.startswith("read the map for this place")


@pytest.mark.parametrize("word", ["ireland", "Ireland", "Republic of Ireland", "Éire", "IE"])
def test_ireland_is_refused_with_the_reason_and_no_other_nation_is_offered(word: str) -> None:
    with pytest.raises(InvalidFile) as caught:
        read_model(f'nation: "{word}"\n', "job.yaml", Place)
    (found,) = caught.value.mistakes
    assert (found.path, found.found, found.nearest) == ("nation", f'"{word}"', "")
    assert found.expected == "one of england, wales, scotland, northern_ireland"
    assert "Republic of Ireland is not worked out" in found.do
    assert "an engineer and a supplier there" in found.do


@pytest.mark.parametrize(
    ("word", "meant"), [("Englnd", "england"), ("northern ireland", "northern_ireland")]
)
def test_a_nation_written_wrong_is_not_taken_for_ireland(word: str, meant: str) -> None:
    with pytest.raises(InvalidFile) as caught:
        read_model(f"nation: {word}\n", "job.yaml", Place)
    (found,) = caught.value.mistakes
    assert (found.nearest, found.do) == (meant, "")


def test_a_suspicion_of_asbestos_is_told_the_word_for_it() -> None:
    told = Literal["not_sampled", "none_found", "found"]
    model = create_model("Felt", asbestos=(told, ...))
    with pytest.raises(InvalidFile) as caught:
        read_model("asbestos: suspected\n", "job.yaml", model)
    [mistake] = caught.value.mistakes
    assert "not_sampled" in mistake.do
    assert "suspicion" in mistake.do
