"""Size designations of truck tires, as a hand types them in a yard. Pure; knows no form, no table.

Two families: metric (295/75R22.5, section in mm and aspect) and numeric (11R22.5, 10.00R20, section
in inches). A half-inch rim is a single piece and tubeless, a whole-inch rim is of several pieces
and takes a tube. R is radial; a dash, on some tires D, is bias ply. A text that does not read is
kept as it was typed by whoever asked: here stands why it does not read, and what may be meant.
Diameters are for planning and racking; no figure here says what a rim or a vehicle may carry.
frontend/src/domain/size.ts is the twin; fixtures/vectors/size.json holds both to the same answers.
"""

import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Literal

from .load_index import read_rating, written

HALF_INCH_RIMS_MM = {"17.5": 445, "19.5": 495, "22.5": 572, "24.5": 622}
WHOLE_INCH_RIMS_MM = {"15": 381, "16": 406, "18": 457, "20": 508, "22": 559, "24": 610}
RIMS_MM = {**HALF_INCH_RIMS_MM, **WHOLE_INCH_RIMS_MM}
"""Nominal rim diameters of trucks: the inches of the code times 25.4, to the nearest mm."""

_TUBELESS = "8:203 8.5:215 9:229 9.5:240 10:254 11:279 12:300 13:320 15:387 16.5:419 18:457"
_TUBE_TYPE = "7.00:200 7.50:210 8.25:230 9.00:258 10.00:275 11.00:286 12.00:313 13.00:340 14.00:375"
TUBELESS_MM = {s: int(mm) for s, mm in (pair.split(":") for pair in _TUBELESS.split())}
TUBE_TYPE_MM = {s: int(mm) for s, mm in (pair.split(":") for pair in _TUBE_TYPE.split())}
"""Numeric sections and their widths, by kind of rim: UN R54 annex 5 as remembered, not read."""

METRIC_SECTIONS = range(205, 500, 10)
METRIC_ASPECTS = range(35, 105, 5)
"""Sections of metric truck tires end on a 5, aspects on a 5 or 0: common practice."""

TUBELESS_ASPECT, TUBE_TYPE_ASPECT, WIDE_ASPECT = 88, 98, 65
"""Section height of a numeric size in % of its width: the first two trade press, the third
(15, 16.5 and 18 inches: the forerunners of 385/65, 425/65 and 445/65) from memory."""

WIDE_FROM_MM = 385
"""From this section on one tire stands where two did, or on a heavy steer axle."""

_USUAL = """
295/75R22.5 11R22.5 285/75R24.5 11R24.5 255/70R22.5 225/70R19.5 315/80R22.5 445/50R22.5
425/65R22.5 385/65R22.5 245/70R19.5 275/70R22.5 10.00R20 11.00R20 12R22.5 10R22.5 275/80R22.5
265/70R19.5 235/75R17.5 215/75R17.5 455/55R22.5 295/80R22.5 9R22.5 235/80R22.5 255/80R22.5
9.00R20 12.00R20 11.00R22 11.00R24 12.00R24 445/65R22.5 435/50R19.5 385/55R22.5 305/70R22.5
315/70R22.5 245/75R22.5 265/75R22.5 305/75R24.5 285/70R19.5 305/70R19.5 8R19.5 9R17.5 10R17.5
8.25R15 10.00R15 7.50R16 8.25R20 10.00R22 14.00R20 10.00-20 11-22.5 11-24.5
"""
USUAL = tuple(_USUAL.split())
"""What comes to a yard in North America, roughly the commonest first: common practice, no
published source."""

MOST_PICKS = 8
MOST_OFFERS = 4

Family = Literal["metric", "numeric"]
Construction = Literal["R", "D", "-"]


class Found(StrEnum):
    """What there is to say about a text; screens have words for each."""

    EMPTY = "empty"
    INCOMPLETE = "incomplete"
    NOT_READ = "not_read"
    OUT_OF_SCOPE = "out_of_scope"  # marked for light trucks, cars or special trailers
    DIGITS_ONLY = "digits_only"
    LETTER_FOR_DIGIT = "letter_for_digit"
    SECTION = "section_not_used"
    ASPECT = "aspect_not_used"
    RIM = "rim_not_used"
    CONSTRUCTION_OPEN = "construction_open"  # 11 22.5: both kinds run
    CONSTRUCTION_MISSING = "construction_missing"  # 295/75 22.5: read as radial
    SLASH_MISSING = "slash_missing"
    POINT_MISSING = "point_missing"
    METRIC_BIAS = "metric_bias"  # a dash, where metric truck tires are radial as a rule
    UNCOMMON = "uncommon"  # metric, reads, and is one slip away from a usual size
    RATING_UNREAD = "rating_unread"


@dataclass(frozen=True, slots=True)
class Finding:
    """A key for the screens, and the figures that their sentence needs."""

    key: Found
    facts: Mapping[str, int | str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Size:
    """A size that reads. shown: as it stands on a sidewall. aspect: in %, metric sizes only.

    section_mm: nominal; of numeric sizes from memory. tube: the rim takes a tube.
    """

    shown: str
    family: Family
    section_mm: int
    aspect: int | None
    construction: Construction
    rim: str
    tube: bool


@dataclass(frozen=True, slots=True)
class Reading:
    """All that a text tells. rating: what stands behind the size, for `read_rating`.

    offers: sizes that may be meant, as they would be written, the likelier first.
    """

    size: Size | None
    rating: str
    offers: tuple[str, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Freight:
    """How a worn casing loads: kg, and room in units of one standard casing."""

    kind: Literal["light", "standard", "wide"]
    kg: int
    room: float


# --- Reading --------------------------------------------------------------------------------------

_RIM = r"([0-9]{2}(?:\.[0-9]|[0-9](?![0-9]))?)(?![0-9.])"
_METRIC = re.compile(
    rf"([0-9]{{3}})( ?[/\\X*.-] ?| |)([0-9]{{2,3}})( ?(?:R|D|-|/|\\|X) ?| ){_RIM} ?(.*)"
)
_NUMERIC = re.compile(
    rf"([0-9]{{1,2}}(?:\.[0-9]{{1,2}})?|[0-9]{{3,4}})( ?(?:R|D|-|X) ?| ){_RIM} ?(.*)"
)
_LIGHT = re.compile("(LT|ST|P|T)(?: ?[0-9])")
_LIGHT_BEHIND = re.compile("(LT|ST)(?![A-Z0-9])")
_BEGUN = re.compile(r"[0-9]{1,3}(?:\.[0-9]{0,2})?(?: ?[/X.-] ?[0-9]{0,3})? ?[RD-]? ?[0-9]{0,2}\.?")
_SLIPS = {"O": "0", "Q": "0", "I": "1", "L": "1", "S": "5", "Z": "2", "B": "8"}
"""Letters that a hand or an eye takes for digits."""


def read(text: str) -> Reading:
    """Read a size, and split off the rating behind it; nothing is refused."""
    line = written(text)
    if not line:
        return Reading(None, "", (), (Finding(Found.EMPTY),))
    if (light := _LIGHT.match(line)) is not None:
        return _out_of_scope(light[1])
    if (straight := _straight(line)) is not None:
        return straight
    if _BEGUN.fullmatch(line):
        return _unread(line, Finding(Found.INCOMPLETE))
    for corrected in _corrected(line):
        if (again := _straight(corrected)) and (again.size or again.offers):
            meant = [again.size.shown] if again.size else again.offers
            return _unread(line, Finding(Found.LETTER_FOR_DIGIT, {"read_as": corrected}), meant)
    return _unread(line, Finding(Found.NOT_READ))


def _straight(line: str) -> Reading | None:
    """What the symbols tell as they stand; None where they have no form of a size."""
    if (metric := _METRIC.fullmatch(line)) is not None:
        return _metric(*metric.groups())
    if (numeric := _NUMERIC.fullmatch(line)) is not None:
        return _numeric(*numeric.groups())
    if re.fullmatch("[0-9 .]+", line) and (meant := _from_digits(_digits(line))):
        return _unread(line, Finding(Found.DIGITS_ONLY), meant)
    return None


def _metric(section: str, slash: str, aspect: str, between: str, rim: str, rest: str) -> Reading:
    typed = f"{section}{aspect}{rim}"
    rim, found = _pointed(rim)
    if (light := _LIGHT_BEHIND.match(rest)) is not None:
        return _out_of_scope(light[1])
    if int(section) not in METRIC_SECTIONS:
        return _unread(
            typed, Finding(Found.SECTION, {"section": section, "allowed": "205 215 ... 495"})
        )
    if int(aspect) not in METRIC_ASPECTS:
        return _unread(typed, Finding(Found.ASPECT, {"aspect": aspect, "allowed": "35 40 ... 100"}))
    if rim not in HALF_INCH_RIMS_MM:
        allowed = " ".join(HALF_INCH_RIMS_MM)
        return _unread(typed, Finding(Found.RIM, {"rim": rim, "allowed": allowed}))
    slash, between = slash.strip(" "), between.strip(" ")
    if slash != "/":
        found.append(Finding(Found.SLASH_MISSING))
    # 295-75-22.5: dashes that part the figures, and say nothing of the plies.
    is_told = between in {"R", "D"} or (between == "-" and slash == "/")
    construction = _construction(between) if is_told else "R"
    offers = []
    if not is_told:
        found.append(Finding(Found.CONSTRUCTION_MISSING))
    elif construction != "R":
        found.append(Finding(Found.METRIC_BIAS))
        offers.append(f"{int(section)}/{int(aspect)}R{rim}")
    shown = f"{int(section)}/{int(aspect)}{construction}{rim}"
    size = Size(shown, "metric", int(section), int(aspect), construction, rim, tube=False)
    return _told(size, rest, offers, found)


def _numeric(section: str, between: str, rim: str, rest: str) -> Reading | None:
    typed = f"{section}{rim}"
    rim, found = _pointed(rim)
    if (light := _LIGHT_BEHIND.match(rest)) is not None:
        return _out_of_scope(light[1])
    if rim not in RIMS_MM:
        if len(section) == 3 and "." not in section:
            return None  # 295 75: a metric size that has only begun
        return _unread(typed, Finding(Found.RIM, {"rim": rim, "allowed": " ".join(RIMS_MM)}))
    tube = rim in WHOLE_INCH_RIMS_MM
    widths = TUBE_TYPE_MM if tube else TUBELESS_MM
    if tube and len(section) > 2 and "." not in section:
        section = f"{section[:-2]}.{section[-2:]}"  # 1000R20, as it is said
    between = between.strip(" ")
    if section not in widths:
        meant = [f"{s}{_construction(between)}{rim}" for s in _sections(section) if s in widths]
        facts = {"section": section, "allowed": " ".join(widths)}
        return _unread(typed, Finding(Found.SECTION, facts), meant)
    if between not in {"R", "D", "-"}:
        both = [f"{section}R{rim}", f"{section}-{rim}"]
        return _unread(typed, Finding(Found.CONSTRUCTION_OPEN), both)
    construction = _construction(between)
    shown = f"{section}{construction}{rim}"
    size = Size(shown, "numeric", widths[section], None, construction, rim, tube)
    return _told(size, rest, [], found)


def _pointed(rim: str) -> tuple[str, list[Finding]]:
    """The rim with its point; 225 is 22.5."""
    if len(rim) != 3:
        return rim, []
    return f"{rim[:2]}.{rim[2]}", [Finding(Found.POINT_MISSING, {"rim": rim})]


def _construction(between: str) -> Construction:
    return "D" if between == "D" else "-" if between == "-" else "R"


def _sections(section: str) -> list[str]:
    """A numeric section in the ways of the other kind of rim: 11, 11.00 and 1100."""
    inches = section.split(".", maxsplit=1)[0]
    if "." not in section and len(section) > 2:
        inches = section[:-2]
    return [inches, f"{inches}.00"]


def _from_digits(digits: str) -> list[str]:
    """The sizes that have just these digits, where no mark parts them."""
    meant = []
    if (m := re.fullmatch("([0-9]{3})([0-9]{2,3})(175|195|225|245)", digits)) is not None:
        rim, _ = _pointed(m[3])
        if int(m[1]) in METRIC_SECTIONS and int(m[2]) in METRIC_ASPECTS:
            meant.append(f"{m[1]}/{int(m[2])}R{rim}")
    for widths, rims in ((TUBELESS_MM, HALF_INCH_RIMS_MM), (TUBE_TYPE_MM, WHOLE_INCH_RIMS_MM)):
        for section in widths:
            short = section.removesuffix(".00")
            for rim in rims:
                if digits in {_digits(section + rim), _digits(short + rim)}:
                    meant += [f"{section}R{rim}", f"{section}-{rim}"]
    return meant


def _corrected(line: str) -> Iterable[str]:
    """The line with its first letter read as a digit, its first two, and so on."""
    at = [i for i, symbol in enumerate(line) if symbol in _SLIPS]
    for many in range(1, len(at) + 1):
        yield "".join(_SLIPS[s] if i in at[:many] else s for i, s in enumerate(line))


def _told(size: Size, rest: str, offers: Sequence[str], found: list[Finding]) -> Reading:
    if rest and read_rating(rest).faults:
        found.append(Finding(Found.RATING_UNREAD, {"text": rest}))
    slips = []
    if size.family == "metric" and size.construction == "R" and size.shown not in USUAL:
        slips = [u for u in USUAL if _is_one_slip(size.shown, u)]
    if slips:
        found.append(Finding(Found.UNCOMMON))
    return Reading(size, rest, tuple([*offers, *slips][:MOST_OFFERS]), tuple(found))


def _unread(typed: str, finding: Finding, meant: Sequence[str] = ()) -> Reading:
    digits = _digits(typed)
    begun = [u for u in USUAL if len(digits) >= 2 and _digits(u).startswith(digits)]
    slips = [u for u in USUAL if _is_one_slip(typed, u)]
    offers = tuple(meant or dict.fromkeys([*begun, *slips]))[:MOST_OFFERS]
    return Reading(None, "", offers, (finding,))


def _out_of_scope(mark: str) -> Reading:
    return Reading(None, "", (), (Finding(Found.OUT_OF_SCOPE, {"mark": mark}),))


def _digits(text: str) -> str:
    return re.sub("[^0-9]", "", text)


def _is_one_slip(typed: str, usual: str) -> bool:
    """One digit wrong, missing or too many, or two neighbours swapped."""
    a, b = _digits(typed), _digits(usual)
    if len(a) == len(b):
        unlike = [i for i in range(len(a)) if a[i] != b[i]]
        if len(unlike) == 2 and unlike[1] == unlike[0] + 1:
            return a[unlike[0]] == b[unlike[1]] and a[unlike[1]] == b[unlike[0]]
        return len(unlike) == 1
    longer, shorter = (a, b) if len(a) > len(b) else (b, a)
    if len(longer) != len(shorter) + 1:
        return False
    return any(longer[:i] + longer[i + 1 :] == shorter for i in range(len(longer)))


# --- Figures --------------------------------------------------------------------------------------


def rim_mm(size: Size) -> int:
    """The nominal rim diameter."""
    return RIMS_MM[size.rim]


def overall_diameter_mm(size: Size) -> int:
    """Nominal rim diameter and twice the section height, the design diameter of UN R54, in mm.

    Metric sizes: exact by that method, half a mm of height rounded up. Numeric ones are
    approximate: within 2 % of the diameters that UN R54 lists, as remembered, on rims of 19.5
    inches and more, within 5 % on smaller ones. A worn casing is smaller by twice what is worn.
    """
    height = (size.section_mm * _aspect(size) + 50) // 100
    return RIMS_MM[size.rim] + 2 * height


def diameter_sureness(size: Size) -> Literal["computed", "approximate"]:
    """How sure the overall diameter is."""
    return "computed" if size.family == "metric" else "approximate"


def _aspect(size: Size) -> int:
    if size.aspect is not None:
        return size.aspect
    if size.tube:
        return TUBE_TYPE_ASPECT
    return WIDE_ASPECT if size.section_mm >= WIDE_FROM_MM else TUBELESS_ASPECT


FREIGHT = {
    "light": Freight("light", 28, 0.5),
    "standard": Freight("standard", 45, 1.0),
    "wide": Freight("wide", 70, 1.5),
}
"""The house's own figures. A worn standard casing is carried at 40 to 50 kg: common practice, no
published source; the other two by section, diameter and what such tires weigh, from memory."""


def freight(size: Size | None) -> Freight:
    """Weight and volume class for loading; standard where the size is not known."""
    if size is None:
        return FREIGHT["standard"]
    if size.section_mm >= WIDE_FROM_MM:
        return FREIGHT["wide"]
    return FREIGHT["light" if RIMS_MM[size.rim] < RIMS_MM["20"] else "standard"]


def picks(theirs: Iterable[str], typed: str) -> tuple[str, ...]:
    """What to offer while somebody types: this customer's sizes by count, then the usual ones.

    theirs: sizes of the customer's casings as told, in any order, repeats count; what does not
    read is left out. typed: its digits narrow the list, those that begin with them first.
    """
    counted: Counter[str] = Counter()
    for text, times in Counter(theirs).items():
        if (size := read(text).size) is not None:
            counted[size.shown] += times
    rank = {shown: at for at, shown in enumerate(USUAL)}
    own = sorted(counted, key=lambda shown: (-counted[shown], rank.get(shown, len(rank)), shown))
    listed = [*own, *(shown for shown in USUAL if shown not in counted)]
    whole = read(typed).size
    digits = _digits(whole.shown if whole else typed)
    begun = [shown for shown in listed if _digits(shown).startswith(digits)]
    within = [shown for shown in listed if shown not in begun and digits in _digits(shown)]
    return tuple([*begun, *within][:MOST_PICKS])
