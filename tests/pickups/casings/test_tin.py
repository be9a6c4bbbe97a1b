"""TINs: the regulation's calendar against a walk through the days, and what a typed text tells."""

from collections.abc import Iterator
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pickups.casings import tin
from pickups.casings.tin import Correction, Found, Kind, Layout, Reading
from pickups.labels import rules as labels

TODAY = date(2026, 4, 15)

SYMBOL = st.sampled_from(tin.SYMBOLS)
WEEKS_OF_FOUR_DIGITS = st.dates(date(1999, 1, 3), date(2098, 12, 31)).map(tin.code_of)


def read(text: str, today: date = TODAY, limit: int | None = None) -> Reading:
    return tin.read(text, today, limit)


def found(reading: Reading) -> list[Found]:
    return [finding.key for finding in reading.findings]


def layouts(reading: Reading) -> set[Layout]:
    return {c.layout for c in reading.candidates}


# --- The calendar -------------------------------------------------------------------------------


def walked(first: int, last: int) -> Iterator[tuple[date, int, int]]:
    """Every day of some years with week and year, by counting Sundays on a calendar.

    49 CFR 574.5(b)(3): weeks run from Sunday through Saturday; 01 is the first full one of a year,
    so the first that begins in it; the last may hold up to six days of the year after.
    """
    day, week, year = date(first - 1, 1, 1), 0, 0
    while day.year <= last:
        if day.strftime("%A") == "Sunday":
            week = week + 1 if day.year == year else 1
            year = day.year
        if day.year >= first:
            yield day, week, year
        day += timedelta(days=1)


def test_every_day_from_1990_to_2040_has_the_week_that_counting_sundays_gives() -> None:
    days = list(walked(1990, 2040))
    assert len(days) == 18_628
    for day, week, year in days:
        code = tin.code_of(day)
        assert (code.week, code.year) == (week, year)
        assert code.first <= day <= code.last


def test_every_week_from_1990_to_2040_has_its_first_and_last_day_and_no_year_has_another() -> None:
    weeks: dict[tuple[int, int], list[date]] = {}
    for day, week, year in walked(1990, 2041):
        weeks.setdefault((year, week), []).append(day)
    whole = {key: days for key, days in weeks.items() if 1990 <= key[0] <= 2040}
    assert len(whole) == 51 * 52 + 9  # 1995 2000 2006 2012 2017 2023 2028 2034 2040
    for year in range(1990, 2041):
        for week in range(-1, 100):
            code = tin.date_code(week, year)
            if (year, week) not in whole:
                assert code is None
                continue
            assert code is not None
            assert [code.first, code.last] == [whole[year, week][0], whole[year, week][-1]]
            assert len(whole[year, week]) == 7


def weeks_from_the_printed_example() -> list[tuple[int, int, date, date]]:
    """Year, week, first and last day of every week of 1990 to 2040, in order.

    The only Sunday that is looked up is the regulation's own: 0109 begins on 4 January 2009. From
    there it goes back and on by sevens; a year's weeks are the Sundays that lie in it.
    """
    printed = date(2009, 1, 4)
    sundays = [printed + timedelta(days=7 * step) for step in range(-1000, 1700)]
    weeks, year, week = [], 0, 0
    for sunday in sundays:
        year, week = (sunday.year, 1) if sunday.year != year else (year, week + 1)
        weeks.append((year, week, sunday, sunday + timedelta(days=6)))
    return [told for told in weeks if 1990 <= told[0] <= 2040]


def test_every_week_from_1990_to_2040_is_that_reached_from_the_printed_example() -> None:
    weeks = weeks_from_the_printed_example()
    assert len(weeks) == 51 * 52 + 9
    for at, (year, week, first, last) in enumerate(weeks):
        code = tin.date_code(week, year)
        assert code is not None
        assert (code.first, code.last) == (first, last)
        assert [tin.code_of(first + timedelta(days=day)) for day in range(7)] == [code] * 7
        # Ages count the same steps: a week old at the next Sunday, and not a day before.
        for ahead, (*_, later, saturday) in enumerate(weeks[at : at + 1100 : 100]):
            assert tin.age_weeks(code, later) == tin.age_weeks(code, saturday) == 100 * ahead
            assert tin.age_weeks(code, later - timedelta(days=1)) == 100 * ahead - 1


def test_every_week_that_four_digits_can_tell_is_read_back() -> None:
    codes = {(year, week) for _, week, year in walked(1999, 2040)} - {(1998, 52)}
    for year, week in codes:
        date_read = read(f"{week:02}{year % 100:02}", date(2050, 1, 1)).date
        assert date_read == tin.date_code(week, year)


def test_printed_example_of_the_regulation() -> None:
    # 49 CFR 574.5(b)(3): 0109 is the week from Sunday, 4 January 2009, to Saturday, 10 January.
    code = read("0109").date
    assert code is not None
    assert (code.first, code.last) == (date(2009, 1, 4), date(2009, 1, 10))


@pytest.mark.parametrize(
    ("digits", "first", "last"),
    [  # 49 CFR 574.5(b)(3) applied by hand with a calendar
        ("5208", date(2008, 12, 28), date(2009, 1, 3)),
        ("5299", date(1999, 12, 26), date(2000, 1, 1)),
        ("0100", date(2000, 1, 2), date(2000, 1, 8)),
        ("2700", date(2000, 7, 2), date(2000, 7, 8)),
        ("5300", date(2000, 12, 31), date(2001, 1, 6)),  # six days of 2001, the most there can be
        ("5306", date(2006, 12, 31), date(2007, 1, 6)),
        ("5312", date(2012, 12, 30), date(2013, 1, 5)),
        ("1515", date(2015, 4, 12), date(2015, 4, 18)),  # 80 FR 19553 takes effect on its Monday
        ("5317", date(2017, 12, 31), date(2018, 1, 6)),
        ("0123", date(2023, 1, 1), date(2023, 1, 7)),
        ("5323", date(2023, 12, 31), date(2024, 1, 6)),
        ("5224", date(2024, 12, 29), date(2025, 1, 4)),
        ("1525", date(2025, 4, 13), date(2025, 4, 19)),  # the old layout ends on its Sunday
        ("0126", date(2026, 1, 4), date(2026, 1, 10)),
        ("5328", date(2028, 12, 31), date(2029, 1, 6)),
    ],
)
def test_digits_give_first_and_last_day(digits: str, first: date, last: date) -> None:
    code = read(digits).date
    assert code is not None
    assert (code.first, code.last, code.digits) == (first, last, digits)


@pytest.mark.parametrize(
    ("day", "digits"),
    [  # 49 CFR 574.5(b)(3) applied; ISO 8601 differs on each of these but the last two
        (date(2009, 1, 1), "5208"),
        (date(2009, 1, 10), "0109"),
        (date(2000, 7, 2), "2700"),
        (date(2000, 12, 31), "5300"),
        (date(2001, 1, 6), "5300"),
        (date(2013, 1, 5), "5312"),
        (date(2017, 1, 1), "0117"),
        (date(2023, 12, 31), "5323"),
        (date(2024, 1, 6), "5323"),
        (date(2024, 1, 7), "0124"),
        (date(2009, 1, 8), "0109"),
        (date(2000, 7, 1), "2600"),
    ],
)
def test_a_day_lies_in_the_week_that_its_tires_are_marked_with(day: date, digits: str) -> None:
    assert tin.code_of(day).digits == digits


def test_years_with_a_week_53_are_those_with_a_sunday_too_many() -> None:
    # 1 January a Sunday, or a leap year that begins on a Saturday: 574.5(b)(3) applied.
    assert [year for year in range(1971, 2060) if tin.weeks_in(year) == 53] == [
        *(1972, 1978, 1984, 1989, 1995, 2000, 2006, 2012),
        *(2017, 2023, 2028, 2034, 2040, 2045, 2051, 2056),
    ]


@given(st.dates(date(1971, 1, 1), date(2098, 12, 31)))
def test_weeks_follow_each_other_without_gap(day: date) -> None:
    code = tin.code_of(day)
    assert (code.first.weekday(), code.last.weekday()) == (6, 5)
    assert tin.code_of(code.last + timedelta(days=1)).first == code.last + timedelta(days=1)
    assert (code.last - date(code.year, 12, 31)).days <= 6


# --- Age ----------------------------------------------------------------------------------------


def test_age_is_counted_in_whole_weeks_and_in_years_from_the_last_day() -> None:
    code = tin.date_code(29, 2010)  # 18 to 24 July 2010
    assert code is not None
    assert tin.age_weeks(code, date(2010, 7, 24)) == 0
    assert tin.age_weeks(code, date(2010, 7, 25)) == 1
    assert tin.age_weeks(code, date(2010, 7, 17)) == -1
    assert tin.age_weeks(code, TODAY) == 821
    assert tin.age_years(code, date(2026, 7, 23)) == 15
    assert tin.age_years(code, date(2026, 7, 24)) == 16


def test_a_casing_is_too_old_the_day_after_its_years_are_full() -> None:
    # Week 28 of 2019 ends on 20 July 2019; week 08 of 2020 on 29 February.
    assert found(read("2819", date(2026, 7, 20), 7)) == []
    assert found(read("2819", date(2026, 7, 21), 7)) == [Found.TOO_OLD]
    assert found(read("0820", date(2027, 2, 28), 7)) == []
    assert found(read("0820", date(2027, 3, 1), 7)) == [Found.TOO_OLD]
    assert dict(read("2910", TODAY, 7).findings[0].facts) == {"years": 15, "limit": 7}


def test_a_code_is_from_the_future_until_its_sunday_has_come() -> None:
    assert found(read("1626", date(2026, 4, 18))) == [Found.FROM_THE_FUTURE]
    assert found(read("1626", date(2026, 4, 19))) == []
    assert dict(read("3030").findings[0].facts) == {"weeks": 224}


@given(WEEKS_OF_FOUR_DIGITS, st.dates(date(1999, 1, 3), date(2098, 12, 31)), st.integers(0, 40))
def test_no_code_is_both_to_come_and_too_old(code: tin.DateCode, today: date, limit: int) -> None:
    keys = found(read(code.digits, today, limit))
    assert (Found.FROM_THE_FUTURE in keys) == (tin.age_weeks(code, today) < 0)
    assert (Found.TOO_OLD in keys) == (today > code.last and tin.older_than(code, limit, today))
    if Found.TOO_OLD in keys:
        assert tin.age_years(code, today) >= limit


# --- Weeks that there are not, three digits -----------------------------------------------------


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("5324", Found.NO_WEEK_53),  # 2024, 2025 and 2001 have 52
        ("5325", Found.NO_WEEK_53),
        ("5301", Found.NO_WEEK_53),
        ("0009", Found.WEEK_00),
        ("5410", Found.WEEK_ABOVE_53),
        ("9909", Found.WEEK_ABOVE_53),
        ("1A20", Found.DATE_NOT_NUMERIC),  # four numerical symbols: 574.5(b)(3)
        ("29?0", Found.DATE_UNREAD),
        ("530", Found.NO_WEEK_53),
        ("54", Found.LENGTH),
        ("", Found.EMPTY),
    ],
)
def test_what_is_no_week_is_said_and_gives_no_date(text: str, key: Found) -> None:
    reading = read(text)
    assert reading.date is None
    assert found(reading) == [key]
    assert [d for c in reading.candidates for d in c.dates] == []


@pytest.mark.parametrize(
    ("digits", "years"),
    [
        ("439", [1979, 1989, 1999]),  # NHTSA interpretation 11704 (1996): could be week 43 of 1989
        ("031", [1981, 1991]),  # part 574 began in May 1971, after week 03
        ("230", [1980, 1990, 2000]),
        ("270", [1980, 1990]),  # week 27 of 2000 begins on 2 July: four digits from that day
    ],
)
def test_three_digits_leave_the_decade_open(digits: str, years: list[int]) -> None:
    reading = read(digits)
    assert reading.date is None
    assert found(reading) == [Found.DECADE_OPEN]
    assert [d.year for c in reading.candidates for d in c.dates] == years


@pytest.mark.parametrize(
    ("digits", "year"), [("532", 1972), ("534", 1984), ("535", 1995), ("538", 1978), ("539", 1989)]
)
def test_three_digits_of_a_week_53_leave_one_year(digits: str, year: int) -> None:
    assert read(digits).date == tin.date_code(53, year)


def test_three_digits_are_too_old_if_their_youngest_decade_is() -> None:
    assert found(read("439", TODAY, 26)) == [Found.DECADE_OPEN, Found.TOO_OLD]
    assert found(read("439", TODAY, 27)) == [Found.DECADE_OPEN]


def test_three_digits_behind_a_fourth_are_offered_and_a_gap_decides() -> None:
    glued, apart = read("ABCD1012"), read("ABCD 1012")
    assert glued.date == apart.date == tin.date_code(10, 2012)
    assert found(glued) == [Found.MAY_BE_THREE_DIGITS]
    assert {d.year for c in glued.candidates for d in c.dates} == {1972, 1982, 1992, 2012}
    assert found(apart) == []
    assert {d.year for c in apart.candidates for d in c.dates} == {2012}
    three = read("ABCD1 012")
    assert (three.date, found(three)) == (None, [Found.DECADE_OPEN])
    assert {d.year for c in three.candidates for d in c.dates} == {1972, 1982, 1992}


def test_ninety_nine_is_1999_and_ninety_eight_is_to_come() -> None:
    # 64 FR 36807 of 8 July 1999 brought the fourth digit.
    assert read("5299").date == tin.date_code(52, 1999)
    assert found(read("5298")) == [Found.FROM_THE_FUTURE]


# --- Layouts ------------------------------------------------------------------------------------


def test_symbols_are_the_thirty_of_the_regulation_and_slips_the_six_left_out() -> None:
    # 49 CFR 574.5(f); the label's alphabet was taken from it.
    assert tin.SYMBOLS == "0123456789" + "ABCDEFHJKLMNPRTUVWXY"
    assert set("ABCDEFGHIJKLMNOPQRSTUVWXYZ") - set(tin.SYMBOLS) == set(tin.SLIPS)
    assert (tin.SYMBOLS, tin.SLIPS) == (labels.SYMBOLS, labels.SLIPS)


def test_thirteen_symbols_are_a_new_tire_or_an_old_retread() -> None:
    first, second = read("DOT 1B3 ABCDEF 2923").candidates
    assert (first.layout, first.plant, first.codes) == (Layout.NEW, "1B3", ("ABCDEF",))
    assert (second.layout, second.plant) == (Layout.RETREAD_OLD, "1B3")
    assert second.codes == ("AB", "CDEF")


def test_thirteen_symbols_dated_before_april_2015_are_said_to_be_early() -> None:
    # 80 FR 19553: 13 symbols from 13 April 2015, the Monday of week 15.
    assert found(read("1B3ABCDEF1515")) == []
    early = read("1B3ABCDEF1415")
    assert found(early) == [Found.LAYOUT_NOT_IN_USE]
    assert [c.layout for c in early.candidates] == [Layout.RETREAD_OLD, Layout.NEW]


def test_old_layout_ends_in_april_2025() -> None:
    # 49 CFR 574.5(a)(5), (g): until 13 April 2025, the Sunday of week 15.
    assert found(read("4B08 4DHR 1525")) == []
    assert found(read("4B08 4DHR 1625")) == [Found.LAYOUT_NOT_IN_USE]


def test_seven_symbols_of_today_are_a_retread_even_without_its_mark() -> None:
    assert read("ABC 3025").kinds == (Kind.RETREAD,)
    assert set(read("ABC 2910").kinds) == {Kind.NEW, Kind.RETREAD}
    assert read("ABC 2910 R").kinds == (Kind.RETREAD,)


@pytest.mark.parametrize(
    "text",
    [
        *("R ABC 2923", "ABC 2923 R", "DOT R ABC 2923", "DOT-R-ABC-2923", "DOTR ABC 2923"),
        *("(R) ABC 2923", "ABC2923R", "abc2923r", "R DOT ABC2923"),
    ],
)
def test_r_mark_stands_apart_and_is_no_part_of_the_tin(text: str) -> None:
    # 49 CFR 574.5(c)
    reading = read(text)
    assert (reading.tin, reading.retread, reading.kinds) == ("ABC2923", True, (Kind.RETREAD,))
    assert reading.candidates[0].layout is Layout.RETREAD


def test_a_glued_first_r_may_be_mark_or_plant() -> None:
    plants = {(c.kind, c.plant) for c in read("RABC2923").candidates}
    assert (Kind.NEW, "RA") in plants
    assert (Kind.RETREAD, "ABC") in plants


def test_mileage_contract_tires_have_no_tin() -> None:
    # 49 CFR 574.5(a)(4)
    reading = read("For mileage contract use only")
    assert (reading.tin, reading.date, layouts(reading)) == ("", None, {Layout.MILEAGE_CONTRACT})
    assert found(reading) == [Found.MILEAGE_CONTRACT]


def test_a_letter_behind_the_date_is_no_tin() -> None:
    # NHTSA interpretation 11704 (1996) on 5R5691439T: no provision for a T at the end.
    reading = read("5R5691439T")
    assert reading.candidates == ()
    assert found(reading) == [Found.DATE_NOT_NUMERIC]


def test_a_scuffed_sidewall_gives_the_last_four_and_gaps_typed_as_question_marks() -> None:
    assert layouts(read("2910")) == {Layout.DATE_ONLY}
    assert layouts(read("A2910")) == {Layout.DATE_ONLY}
    assert found(read("A2910")) == [Found.LENGTH]
    assert read("??08 4DHR 2910").candidates[0].plant == "??"
    assert found(read("4B08 4DHR ?910")) == [Found.DATE_UNREAD]


# --- Slips of the hand -------------------------------------------------------------------------


@pytest.mark.parametrize(
    "text",
    [
        *("dot 4bO8 4dhr 291O", "DOT4B084DHR2910", "4b08 4dhr 29I0", "4BQ8 4DHR Z910"),
        *("D0T 4B08 4DHR 2910", "tin 4B08-4DHR-2910", "4B08\u00a04DHR\u20092910", "4B084DHR2910\n"),
    ],
)
def test_a_slip_is_put_right(text: str) -> None:
    reading = read(text)
    assert (reading.tin, reading.date) == ("4B084DHR2910", tin.date_code(29, 2010))
    assert reading.candidates[0].layout is Layout.NEW_OLD
    assert reading.candidates[0].codes == ("08", "4DHR")
    assert found(reading) == []


def test_a_small_l_in_the_date_is_offered_as_the_digit_it_looks_like() -> None:
    (finding,) = read("4B08 4DHR 29l0").findings
    assert (finding.key, dict(finding.facts)) == (
        Found.DATE_NOT_NUMERIC,
        {"symbols": "29L0", "meant": "2910"},
    )
    assert "meant" not in read("4B08 4DHR 54l0").findings[0].facts  # no week 54


def test_what_was_put_right_is_told_with_its_place() -> None:
    assert read("dot 4bO8 4dhr 291O").corrections == (
        Correction(2, "O", "0"),
        Correction(11, "O", "0"),
    )
    assert [c.meant for c in read("GIOQSZ 2910").corrections] == list("610052")


def test_a_symbol_that_no_tin_holds_is_named_and_the_date_still_read() -> None:
    reading = read("\u00c4B!8 2910")
    assert dict(reading.findings[0].facts) == {"symbols": "\u00c4!"}
    assert reading.date == tin.date_code(29, 2010)


def test_a_plant_called_d0t_is_not_taken_for_the_symbol() -> None:
    assert "D0T" in {c.plant for c in read("D0T 2910").candidates}


# --- Properties ---------------------------------------------------------------------------------


def groups(plant: int, *codes: tuple[int, int]) -> st.SearchStrategy[list[str]]:
    """A plant code and further codes of so many symbols."""
    sizes = [(plant, plant), *codes]
    parts = [st.text(SYMBOL, min_size=low, max_size=high) for low, high in sizes]
    return st.tuples(*parts).map(list)


LAYOUTS = {
    Layout.NEW: groups(3, (6, 6)),
    Layout.NEW_OLD: groups(2, (2, 2), (0, 4)),
    Layout.RETREAD: groups(3),
    Layout.RETREAD_OLD: groups(3, (2, 2), (0, 4)),
}
YEARS_OF = {
    Layout.NEW: (date(2015, 4, 12), date(2040, 12, 31)),
    Layout.NEW_OLD: (date(2000, 7, 2), date(2025, 4, 19)),
    Layout.RETREAD: (date(2015, 4, 12), date(2040, 12, 31)),
    Layout.RETREAD_OLD: (date(2000, 7, 2), date(2025, 4, 19)),
}


@given(st.data(), st.sampled_from(list(LAYOUTS)), st.sampled_from(["", " ", "-", "\u2009"]))
def test_a_tin_of_every_layout_is_among_its_candidates_however_typed(
    data: st.DataObject, layout: Layout, gap: str
) -> None:
    parts = [part for part in data.draw(LAYOUTS[layout]) if part]
    if gap and (parts[0] == "R" or parts[-1] == "R"):
        parts[-1] = "X"  # a group that is just an R is the mark
    code = tin.code_of(data.draw(st.dates(*YEARS_OF[layout])))
    mark = data.draw(st.sampled_from(["", "DOT ", "dot"]))
    typed = mark + gap.join([*parts, code.digits])
    reading = read(data.draw(st.sampled_from([typed, typed.lower()])), date(2041, 1, 1))
    whole = "".join(parts)
    assert reading.tin == whole + code.digits
    assert reading.date == code
    assert (layout, parts[0]) in {(c.layout, c.plant) for c in reading.candidates} | {
        # three symbols and a date read alike in both: the newer law's name stands
        (Layout.RETREAD_OLD, c.plant)
        for c in reading.candidates
        if c.layout is Layout.RETREAD
    }


@given(st.text(), st.dates(date(1990, 1, 1), date(2090, 1, 1)), st.none() | st.integers(0, 60))
def test_any_text_is_read_and_every_candidate_is_the_end_of_its_symbols(
    text: str, today: date, limit: int | None
) -> None:
    reading = read(text, today, limit)
    for c in reading.candidates:
        assert reading.tin.endswith(c.plant + "".join(c.codes) + c.digits)
        assert all(d.first <= d.last for d in c.dates)
    for slip in reading.corrections:
        assert reading.tin[slip.at] == slip.meant == tin.SLIPS[slip.typed]
    assert reading.candidates or reading.findings


@given(st.text(st.sampled_from(tin.SYMBOLS + "GIOQSZ?- "), max_size=20))
def test_reading_a_tin_again_changes_nothing(text: str) -> None:
    once = read(text)
    again = read(("R " if once.retread else "") + once.tin)
    if once.tin[:3] != "D0T" and once.tin[:1] != "R" and once.tin[-1:] != "R":
        assert again.tin == once.tin
        assert again.corrections == ()
