"""Tire identification numbers (TIN, "DOT code") of 49 CFR 574.5, as a hand types them. Pure.

A TIN tells who made or retreaded a tire and in which week. All tires of one plant, code and week
share it, and a casing carries one from its birth and one from each retread: it is never a key.
Each way in which a text can be read is a candidate. What the symbols do not tell (the decade of
a three-digit date, new or retread where no R mark was seen) stays open and is never guessed.
What is wrong or odd is a finding, a key with its facts; the words belong to the screens.
frontend/src/domain/tin.ts is the twin; fixtures/vectors/tin.json holds both to the same answers.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from enum import StrEnum

SYMBOLS = "0123456789ABCDEFHJKLMNPRTUVWXY"
"""49 CFR 574.5(f): twenty letters and ten digits. The label's alphabet is its own."""

SLIPS = {"G": "6", "I": "1", "O": "0", "Q": "0", "S": "5", "Z": "2"}
"""The six letters left out cannot be right anywhere in a TIN: what was meant instead."""

DATE_SLIP = ("L", "1")
"""A small l is a letter of TINs, but never of their date, where it is the digit it looks like."""

UNREAD = "?"
"""Typed for a symbol that scuffing has taken away."""

THREE_SYMBOL_PLANTS_FROM = date(2015, 4, 13)
"""80 FR 19553, effective on its day: TINs of 13 and of 7 symbols."""
TWO_SYMBOL_PLANTS_UNTIL = date(2025, 4, 13)
"""49 CFR 574.5(a)(5) and (g)."""
THREE_DIGITS_FROM = date(1971, 5, 22)
"""Part 574 begins."""
FOUR_DIGITS_FROM = date(2000, 7, 2)
"""64 FR 36807 (8 July 1999): from here on the date must have four digits, not three."""
FOUR_DIGITS_FIRST_YEAR = 1999
"""The year of that rule: no tire with four digits is older, so 99 is 1999 and 00 is 2000."""

DIGITS = frozenset("0123456789")
LAST_WEEK = 53
LONGEST = 13

_GAPS = re.compile(
    "[\t-\r \x85\xa0\u1680\u2000-\u200b\u2010-\u2015\u2028\u2029\u202f\u205f\u3000\ufeff()*._:,/-]+"
)


class Kind(StrEnum):
    """Which making of the casing a TIN tells of."""

    NEW = "new"
    RETREAD = "retread"


class Layout(StrEnum):
    """How the symbols are grouped: plant + codes + date."""

    NEW = "new"  # 3 + 6 + 4: 574.5(a)(1), (b)
    RETREAD = "retread"  # 3 + 4: 574.5(a)(2), (b)
    NEW_OLD = "new_old"  # 2 + size, at most 2 + optional, at most 4 + 4: 574.5(g)
    RETREAD_OLD = "retread_old"  # 2 or 3 + matrix or size + optional + 4: 574.5(g)
    NEW_THREE_DIGIT = "new_three_digit"  # as the old ones, + 3: before 64 FR 36807
    RETREAD_THREE_DIGIT = "retread_three_digit"
    DATE_ONLY = "date_only"  # what a scuffed sidewall leaves: the digits of the date
    MILEAGE_CONTRACT = "mileage_contract"  # lettering in place of a TIN: 574.5(a)(4)


class Found(StrEnum):
    """What there is to say about a text; screens have words for each."""

    EMPTY = "empty"
    SYMBOL_NOT_USED = "symbol_not_used"
    LENGTH = "length_fits_no_layout"
    DATE_UNREAD = "date_unread"
    DATE_NOT_NUMERIC = "date_not_numeric"
    WEEK_00 = "week_00"
    WEEK_ABOVE_53 = "week_above_53"
    NO_WEEK_53 = "no_week_53_that_year"
    DECADE_OPEN = "decade_open"
    FROM_THE_FUTURE = "from_the_future"
    TOO_OLD = "too_old"
    LAYOUT_NOT_IN_USE = "layout_not_in_use_then"
    MAY_BE_THREE_DIGITS = "may_be_three_digits"
    MILEAGE_CONTRACT = "mileage_contract"


@dataclass(frozen=True, slots=True)
class Finding:
    """A key for the screens, and the figures that their sentence needs."""

    key: Found
    facts: Mapping[str, int | str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Correction:
    """A letter that no TIN holds, at its place among the symbols, and what it is read as."""

    at: int
    typed: str
    meant: str


@dataclass(frozen=True, slots=True)
class DateCode:
    """A week of the regulation's calendar, Sunday to Saturday; `last` may lie in the next year."""

    week: int
    year: int
    first: date
    last: date

    @property
    def digits(self) -> str:
        """As it stands on a tire today."""
        return f"{self.week:02}{self.year % 100:02}"


@dataclass(frozen=True, slots=True)
class Candidate:
    """One way to read the symbols. kind: None where the layout does not tell.

    codes: the manufacturer's code; in the old layouts the size (of a retread its matrix or size)
    and the optional code, cut after the two symbols that a size has at most.
    """

    layout: Layout
    kind: Kind | None
    plant: str
    codes: tuple[str, ...]
    digits: str
    dates: tuple[DateCode, ...]


@dataclass(frozen=True, slots=True)
class Reading:
    """All that a text tells. tin: its symbols, corrected, without DOT, R mark and gaps.

    retread: the R mark was seen. date: only where the digits leave one week.
    """

    tin: str
    retread: bool
    date: DateCode | None
    candidates: tuple[Candidate, ...]
    corrections: tuple[Correction, ...]
    findings: tuple[Finding, ...]

    @property
    def kinds(self) -> tuple[Kind, ...]:
        """New or retread as far as it shows; both means that somebody has to look for an R."""
        left = {c.kind for c in self.candidates}
        return tuple(k for k in Kind if k in left or None in left)


# --- The regulation's calendar ------------------------------------------------------------------


def first_day(year: int, week: int = 1) -> date:
    """The Sunday that begins a week; 01 is the first full one, Sunday to Saturday: 574.5(b)(3)."""
    new_year = date(year, 1, 1)
    return new_year + timedelta(days=(6 - new_year.weekday()) % 7 + 7 * (week - 1))


def weeks_in(year: int) -> int:
    """52, or 53 where a last Sunday is left over. Not the weeks of ISO 8601."""
    return (first_day(year + 1) - first_day(year)).days // 7


def date_code(week: int, year: int) -> DateCode | None:
    """A week with its first and last day, or None where that year has no such week."""
    if not 1 <= week <= weeks_in(year):
        return None
    first = first_day(year, week)
    return DateCode(week, year, first, first + timedelta(days=6))


def code_of(day: date) -> DateCode:
    """The week that a day belongs to; days before the first Sunday belong to the year before."""
    year = day.year if day >= first_day(day.year) else day.year - 1
    code = date_code((day - first_day(year)).days // 7 + 1, year)
    assert code is not None
    return code


def age_weeks(code: DateCode, on: date) -> int:
    """Whole weeks from the week of the code to that of a day; less than none is still to come."""
    return (on - code.first).days // 7


def age_years(code: DateCode, on: date) -> int:
    """Whole years to a day, counted from the last day of the week, in the casing's favour."""
    before = (on.month, on.day) < (code.last.month, code.last.day)
    return on.year - code.last.year - before


def older_than(code: DateCode, years: int, on: date) -> bool:
    """Whether so many years and at least a day have passed since the last day of the week."""
    end = (code.last.year + years, code.last.month, code.last.day)
    return end < (on.year, on.month, on.day)


def weeks_meant(digits: str) -> tuple[DateCode, ...]:
    """The weeks that three or four digits may mean, oldest first; none where no year has it.

    Four: one year from 1999 on. Three: every year with that last digit between the beginning of
    part 574 and the day from which four were required.
    """
    if len(digits) == 4:
        early = FOUR_DIGITS_FIRST_YEAR % 100
        years = [FOUR_DIGITS_FIRST_YEAR + (int(digits[2:]) - early) % 100]
    else:
        years = [y for y in range(1971, 2001) if y % 10 == int(digits[2])]
    codes = [code for y in years if (code := date_code(int(digits[:2]), y))]
    if len(digits) == 4:
        return tuple(codes)
    return tuple(c for c in codes if c.last >= THREE_DIGITS_FROM and c.first < FOUR_DIGITS_FROM)


# --- The symbols --------------------------------------------------------------------------------


def read(text: str, today: date, age_limit_years: int | None = None) -> Reading:
    """Read a TIN, or what is left of one, as somebody typed it; nothing is refused.

    today: against which a code is from the future or older than `age_limit_years`.
    """
    upper = re.sub("[a-z]", lambda letter: letter[0].upper(), text)
    groups, retread = _marks([group for group in _GAPS.split(upper) if group])
    body = "".join(groups)
    if "MILEAGE" in body:
        lettering = Candidate(Layout.MILEAGE_CONTRACT, None, "", (), "", ())
        return Reading("", retread, None, (lettering,), (), (Finding(Found.MILEAGE_CONTRACT),))
    if not body:
        return Reading("", retread, None, (), (), (Finding(Found.EMPTY),))
    corrections = tuple(Correction(i, c, SLIPS[c]) for i, c in enumerate(body) if c in SLIPS)
    tin = "".join(SLIPS.get(c, c) for c in body)
    found: list[Finding] = []
    strange = "".join(dict.fromkeys(c for c in tin if c not in SYMBOLS and c != UNREAD))
    if strange:
        found.append(Finding(Found.SYMBOL_NOT_USED, {"symbols": strange}))

    ways = _date_digits(tin, len(groups[-1]))
    if not ways:
        found.append(_undated(tin))
        return Reading(tin, retread, None, (), corrections, tuple(found))
    main, told = ways[0], weeks_meant(ways[0])
    fitting = list(_layouts(tin, main, retread))
    in_use = [c for c in fitting if _in_use(c)]
    if not fitting:
        found.append(Finding(Found.LENGTH, {"symbols": len(tin)}))
        in_use = [_scuffed(main, retread)]
    elif not in_use or (fitting[0].layout is Layout.NEW and fitting[0] not in in_use):
        # A symbol too many, or a retread: the early 13 are kept in sight, behind what may be.
        found.append(Finding(Found.LAYOUT_NOT_IN_USE, {"symbols": len(tin)}))
        in_use = [*in_use, fitting[0]] if in_use else fitting
    found += _about_week(main, told)
    found += _about_age(told, today, age_limit_years)
    others = [c for digits in ways[1:] for c in _layouts(tin, digits, retread)]
    if others:
        found.append(Finding(Found.MAY_BE_THREE_DIGITS, {"digits": others[0].digits}))
    only = told[0] if len(told) == 1 else None
    candidates = _unlike([*in_use, *others])
    return Reading(tin, retread, only, candidates, corrections, tuple(found))


def _marks(groups: list[str]) -> tuple[list[str], bool]:
    """The groups without DOT and without the R mark, which is no part of a TIN: 574.5(c)."""
    retread = False
    while groups:
        first, rest = groups[0], groups[1:]
        if first[:3] in {"DOT", "TIN"}:  # O and I: neither can be the beginning of a TIN
            groups = [first[3:], *rest] if first[3:] else rest
        elif first == "D0T" and sum(map(len, groups)) > LONGEST:
            groups = rest
        elif first == "R" and rest:
            groups, retread = rest, True
        else:
            break
    if len(groups) > 1 and groups[-1] == "R":
        return groups[:-1], True
    if re.search(r"[0-9GIOQSZ?]R$", groups[-1] if groups else ""):  # a TIN ends in digits
        return [*groups[:-1], groups[-1][:-1]], True
    return groups, retread


def _date_digits(tin: str, last_group: int) -> list[str]:
    """The digits at the end that can be the date, the likelier first: four before three.

    A last group of three or four digits decides. Three behind a fourth digit only if they make a
    date: what is read as 1012 on a tire of 2012 may be the week 01 of an older one.
    """
    four, three = tin[-4:], tin[-3:]
    if len(three) < 3 or not DIGITS.issuperset(three):
        return []
    if len(four) == 3 or last_group == 3:
        return [three]
    if four[0] == UNREAD:
        return []
    if four[0] not in DIGITS:
        return [three]
    return [four, three] if last_group != 4 and weeks_meant(three) else [four]


def _scuffed(digits: str, retread: bool) -> Candidate:
    kind = Kind.RETREAD if retread else None
    return Candidate(Layout.DATE_ONLY, kind, "", (), digits, weeks_meant(digits))


def _layouts(tin: str, digits: str, retread: bool) -> Iterator[Candidate]:
    """Every layout that the symbols fit; a first R may be the mark, glued on."""
    dates = weeks_meant(digits)
    head = tin[: len(tin) - len(digits)]
    if not head:
        yield _scuffed(digits, retread)
    for layout, kind, plant, codes in _groupings(head, len(digits)):
        if kind is Kind.RETREAD or not retread:
            yield Candidate(layout, kind, plant, codes, digits, dates)
    if head[:1] == "R" and not retread:
        yield from _layouts(tin[1:], digits, True)


def _groupings(head: str, digits: int) -> Iterator[tuple[Layout, Kind, str, tuple[str, ...]]]:
    """Plant and codes; retreaders' plant codes had three symbols long before 2015.

    Two or three symbols of plant: NHTSA's letter of 1996 (interpretation 11704) gives two for new
    tires and three for retreads; 574.5(g)(1) as it reads now, two.
    """
    if digits == 4 and len(head) == 9:
        yield Layout.NEW, Kind.NEW, head[:3], (head[3:],)
    if digits == 4 and len(head) == 3:
        yield Layout.RETREAD, Kind.RETREAD, head, ()
    new = Layout.NEW_OLD if digits == 4 else Layout.NEW_THREE_DIGIT
    old = Layout.RETREAD_OLD if digits == 4 else Layout.RETREAD_THREE_DIGIT
    for layout, kind, plant in ((new, Kind.NEW, 2), (old, Kind.RETREAD, 3), (old, Kind.RETREAD, 2)):
        between = head[plant:]
        if len(head) >= plant and len(between) <= 6:
            codes = tuple(part for part in (between[:2], between[2:]) if part)
            yield layout, kind, head[:plant], codes


def _in_use(candidate: Candidate) -> bool:
    """Whether tires were marked so in the week of the date."""
    if not candidate.dates:
        return True
    code = candidate.dates[-1]
    if candidate.layout in {Layout.NEW, Layout.RETREAD}:
        return code.last >= THREE_SYMBOL_PLANTS_FROM
    if candidate.layout in {Layout.NEW_OLD, Layout.RETREAD_OLD}:
        return code.first <= TWO_SYMBOL_PLANTS_UNTIL
    return True


def _unlike(candidates: Sequence[Candidate]) -> tuple[Candidate, ...]:
    """The first of those that read every symbol alike: the layout in force before the old one."""
    kept = {(c.kind, c.plant, c.codes, c.digits): c for c in reversed(candidates)}
    return tuple(c for c in candidates if kept[c.kind, c.plant, c.codes, c.digits] is c)


def _undated(tin: str) -> Finding:
    if len(tin) < 3:
        return Finding(Found.LENGTH, {"symbols": len(tin)})
    symbols, meant = tin[-4:], tin[-4:].replace(*DATE_SLIP)
    if UNREAD in symbols:
        return Finding(Found.DATE_UNREAD, {"symbols": symbols})
    if len(meant) == 4 and DIGITS.issuperset(meant) and weeks_meant(meant):
        return Finding(Found.DATE_NOT_NUMERIC, {"symbols": symbols, "meant": meant})
    return Finding(Found.DATE_NOT_NUMERIC, {"symbols": symbols})


def _about_week(digits: str, told: Sequence[DateCode]) -> Iterator[Finding]:
    week = int(digits[:2])
    if week == 0:
        yield Finding(Found.WEEK_00, {"digits": digits})
    elif week > LAST_WEEK:
        yield Finding(Found.WEEK_ABOVE_53, {"digits": digits, "week": week})
    elif not told:
        yield Finding(Found.NO_WEEK_53, {"digits": digits})
    elif len(told) > 1:
        yield Finding(Found.DECADE_OPEN, {"digits": digits})


def _about_age(told: Sequence[DateCode], today: date, limit: int | None) -> Iterator[Finding]:
    """From the future if the oldest week is, too old if even the youngest is."""
    if told and told[0].first > today:
        yield Finding(Found.FROM_THE_FUTURE, {"weeks": -age_weeks(told[0], today)})
    if told and limit is not None and older_than(told[-1], limit, today):
        years = age_years(told[-1], today)
        yield Finding(Found.TOO_OLD, {"years": years, "limit": limit})
