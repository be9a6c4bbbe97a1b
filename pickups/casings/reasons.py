"""Why a casing is rejected, and where and by whose doing: codes, words, published sources. Pure.

A plant names a reason by its code; a page and a mail say it in a fleet manager's words, English
or Spanish. Codes are for ever: one that was told once can be told again, so none is renamed or
removed. The words advise and certify nothing; limits belong to the repair material's supplier.
Clauses of UN Regulation 109 are marked: they were written down from memory.
"""

from collections.abc import Mapping
from dataclasses import dataclass

_UNCHECKED = "from memory, clause not checked"
_ARMY = "TM 9-2610-200-14 (September 2005), "


@dataclass(frozen=True, slots=True)
class Reason:
    """One reason: its code, where it shows most often, its words, and the published source."""

    code: str
    shows_at: str
    en: str
    es: str
    source: str


REASONS: tuple[Reason, ...] = (
    Reason(
        "AGE_POLICY",
        "initial inspection",
        "older than your own age limit for casings",
        "más antigua que el límite de edad que usted fija para sus carcasas",
        # No United States regulation sets an age; fleets name 5 or 7 years.
        "moderntiredealer.com 25714 (2006); CCJ, April 2013, page 49",
    ),
    Reason(
        "RETREAD_COUNT_POLICY",
        "initial inspection",
        "retreaded more often already than you allow",
        "ya reencauchada más veces de las que usted permite",
        "CCJ, April 2013, page 49",
    ),
    Reason(
        "NO_DOT_CODE",
        "initial inspection",
        "no DOT code on it; often a sign of an imported casing",
        "sin código DOT; suele ser señal de una carcasa importada",
        "moderntiredealer.com 25714 (2006)",
    ),
    Reason(
        "DOT_REMOVED",
        "initial inspection",
        "the DOT code was cut or branded off, so it may not be retreaded",
        "el código DOT fue cortado o quemado, por lo que no se puede reencauchar",
        "moderntiredealer.com 25714 (2006)",
    ),
    Reason(
        "WIRE_OR_CORD_EXPOSED_IN",
        "initial inspection",
        "bead wire or cord was showing when it arrived",
        "llegó con alambre del talón o cuerdas a la vista",
        "49 CFR 571.117 S5.2.1(a); written for passenger cars, used as practice for trucks",
    ),
    Reason(
        "CORD_EXPOSED_PROCESS",
        "after buffing",
        "cord came to light while it was being worked on",
        "al trabajarla quedaron cuerdas a la vista",
        "49 CFR 571.117 S5.2.1(b); written for passenger cars",
    ),
    Reason(
        "BELT_REMOVED",
        "after buffing",
        "a belt or ply, or a part of one, is gone or was replaced",
        "falta o fue sustituida una lona o un cinturón, o parte de ellos",
        "49 CFR 571.117 S5.2.2; written for passenger cars",
    ),
    Reason(
        "BEAD_TEAR",
        "initial inspection",
        "the bead is torn more than 2/32 inch deep, or its wire shows",
        "el talón está desgarrado más de 2/32 de pulgada o muestra el alambre",
        _ARMY + "2-23a(1)",
    ),
    Reason(
        "BEAD_KINKED",
        "initial inspection",
        "the bead is kinked or out of shape",
        "el talón está doblado o deformado",
        _ARMY + "2-23a(2)",
    ),
    Reason(
        "BEAD_BURNED",
        "initial inspection",
        "heat has made the bead rubber hard, brittle or discoloured",
        "el calor dejó el caucho del talón duro, quebradizo o descolorido",
        _ARMY + "2-23a(3)",
    ),
    Reason(
        "PETROLEUM",
        "initial inspection",
        "oil or fuel has damaged the rubber: blisters, swelling, soft places",
        "aceite o combustible dañó el caucho: ampollas, hinchazón, zonas blandas",
        _ARMY + "2-23a(4)",
    ),
    Reason(
        "BEAD_CURB",
        "initial inspection",
        "curbs have rippled the rubber near the bead",
        "los bordillos ondularon el caucho junto al talón",
        _ARMY + "2-23a(5)",
    ),
    Reason(
        "SW_CORD_BULGE",
        "initial inspection, nondestructive test",
        "a bulge like a pencil across the sidewall, or cords spread apart: cords are damaged",
        "un bulto como un lápiz en el flanco o cuerdas separadas: hay cuerdas dañadas",
        _ARMY + "2-23b(1)",
    ),
    Reason(
        "SW_CUT",
        "initial inspection",
        "a cut or scrape in the sidewall down to the cord, or 2/32 inch deep",
        "un corte o roce en el flanco que llega a las cuerdas o a 2/32 de pulgada",
        _ARMY + "2-23b(2)",
    ),
    Reason(
        "SW_CHAIN",
        "initial inspection",
        "marks of chains around the upper sidewall",
        "marcas de cadenas alrededor de la parte alta del flanco",
        _ARMY + "2-23b(3)",
    ),
    Reason(
        "SW_SEPARATION",
        "initial inspection, shearography",
        "the layers of the sidewall have come apart",
        "las capas del flanco se han separado",
        _ARMY + "2-23b(4)",
    ),
    Reason(
        "WEATHER_CHECK",
        "initial inspection",
        "cracks from weather and age that are 2/32 inch deep, reach the cord or run together",
        "grietas por clima y edad de 2/32 de pulgada, hasta las cuerdas o unidas entre sí",
        _ARMY + "2-23b(5)",
    ),
    Reason(
        "ZIPPER",
        "initial inspection, nondestructive test",
        "the sidewall cords are tired in a line around the casing and could burst when inflated",
        "las cuerdas del flanco están fatigadas en una línea alrededor de la carcasa y podrían"
        " reventar al inflar",
        _ARMY + "2-23b(6)",
    ),
    Reason(
        "SEPARATION",
        "initial inspection, shearography, buffing",
        "plies or belts have come apart inside",
        "las lonas o los cinturones se han separado por dentro",
        _ARMY + "2-44c(4)",
    ),
    Reason(
        "LINER_HOLE",
        "electrical test",
        "a hole in the inner liner that could not be put right",
        "un agujero en el forro interior que no se pudo reparar",
        # The source: every hole has to be found, the smallest fails a tubeless tire.
        _ARMY + "2-44c(3)",
    ),
    Reason(
        "FABRIC_FATIGUE",
        "initial inspection",
        "discoloured streaks inside at the shoulder: the fabric is worn out",
        "vetas descoloridas por dentro en el hombro: el tejido está agotado",
        _ARMY + "2-44c(2)",
    ),
    Reason(
        "RUN_FLAT",
        "initial inspection",
        "it was run overloaded or with too little air, and the damage shows",
        "rodó con sobrecarga o con poco aire, y el daño se ve",
        f"UN R109 6.4.3 ({_UNCHECKED})",
    ),
    Reason(
        "RUBBER_CRACK_TO_CARCASS",
        "initial inspection",
        "cracks that go down to the carcass and cannot be repaired",
        "grietas que llegan a la estructura y no se pueden reparar",
        f"UN R109 6.4.4.1(a) ({_UNCHECKED})",
    ),
    Reason(
        "CARCASS_BREAKUP",
        "initial inspection",
        "the structure of the casing is breaking up",
        "la estructura de la carcasa se está deshaciendo",
        f"UN R109 6.4.4.1(b) ({_UNCHECKED})",
    ),
    Reason(
        "OIL_CHEMICAL",
        "initial inspection",
        "oil or chemicals have attacked the rubber",
        "aceite o productos químicos atacaron el caucho",
        f"UN R109 6.4.4.1(c) ({_UNCHECKED})",
    ),
    Reason(
        "BEAD_CORE",
        "initial inspection",
        "the wire core of the bead is damaged or broken",
        "el núcleo de alambre del talón está dañado o roto",
        f"UN R109 6.4.4.1(d) ({_UNCHECKED})",
    ),
    Reason(
        "OLD_REPAIR_OUT_OF_LIMITS",
        "initial inspection",
        "an earlier repair is larger than the limits allow",
        "una reparación anterior excede los límites permitidos",
        f"UN R109 6.4.4.1(e) ({_UNCHECKED})",
    ),
    Reason(
        "MULTI_PENETRATION",
        "initial inspection, nondestructive test",
        "several punctures too close together to repair",
        "varias perforaciones demasiado juntas para repararlas",
        f"UN R109 6.4.4.2 ({_UNCHECKED})",
    ),
    Reason(
        "LINER_DETERIORATED",
        "initial inspection",
        "the inner liner has largely gone bad",
        "el forro interior está muy deteriorado",
        f"UN R109 6.4.4.2 ({_UNCHECKED})",
    ),
    Reason(
        "CORD_EXPOSED_WEAR",
        "initial inspection",
        "worn or scuffed down to the cord",
        "gastada o rozada hasta las cuerdas",
        f"UN R109 6.4.4.2 ({_UNCHECKED})",
    ),
    Reason(
        "BELT_SEPARATION",
        "shearography, buffing",
        "the belts have come apart by more than slight looseness at the edge",
        "los cinturones se han separado más que una leve soltura en el borde",
        f"UN R109 6.4.5 ({_UNCHECKED})",
    ),
    Reason(
        "STONE_DRILLING",
        "initial inspection, skiving",
        "stones have drilled through the tread into the belts",
        "piedras perforaron la banda hasta los cinturones",
        "tirereview.com, article on casing quality",
    ),
    Reason(
        "IMPACT_SEPARATION",
        "shearography",
        "a blow has separated it inside; only the shearography machine shows it",
        "un golpe la separó por dentro; solo lo muestra la máquina de shearografía",
        "tirereview.com, article on casing quality",
    ),
    Reason(
        "UNECONOMIC_REPAIR",
        "repair",
        "it could be repaired, but that would cost more than the casing is worth",
        "se podría reparar, pero costaría más de lo que vale la carcasa",
        "tirereview.com, article on casing quality",
    ),
    Reason(
        "CURED_DEFECT",
        "final nondestructive test, final inspection",
        "a blister, a dent or tread that did not bond, found after curing",
        "una ampolla, un hundimiento o banda sin adherir, hallados después de vulcanizar",
        f"UN R109 6.7.1 ({_UNCHECKED})",
    ),
)

_BY_CODE = {reason.code: reason for reason in REASONS}
CODES: tuple[str, ...] = tuple(_BY_CODE)

_Words = Mapping[str, Mapping[str, str]]
ZONES: _Words = {
    "crown": {"en": "crown", "es": "corona"},
    "shoulder": {"en": "shoulder", "es": "hombro"},
    "sidewall": {"en": "sidewall", "es": "flanco"},
    "bead": {"en": "bead", "es": "talón"},
    "inner_liner": {"en": "inner liner", "es": "forro interior"},
}
CAUSES: _Words = {
    "casing": {"en": "the casing itself", "es": "la propia carcasa"},
    "plant": {"en": "our plant", "es": "nuestra planta"},
    "road_or_dock": {"en": "the road or a dock", "es": "el camino o un muelle"},
    "customer": {"en": "your own rules or use", "es": "sus propias normas o el uso"},
}
# The stations of the default route; a plant's own station is called by its code.
_STATIONS_ES = {
    "receiving": "recepción",
    "cleaning": "limpieza y secado",
    "initial-inspection": "inspección inicial",
    "electrical-test": "prueba eléctrica",
    "shearography": "shearografía",
    "buffing": "raspado",
    "skiving": "saneado de heridas",
    "repair": "reparación",
    "cementing": "cementado",
    "cushion-gum": "goma cojín",
    "building": "colocación de la banda",
    "enveloping": "ensobrado",
    "curing": "vulcanizado",
    "stripping": "desmontaje del sobre",
    "final-ndt": "prueba no destructiva final",
    "final-inspection": "inspección final",
    "paint": "pintura y marcado",
    "shipping": "despacho",
}


def known(code: str) -> bool:
    """Whether a plant may name this reason."""
    return code in _BY_CODE


def words(code: str, language: str) -> str:
    """A reason in a fleet manager's words; a code of an older catalogue as it can be read."""
    reason = _BY_CODE.get(code)
    if reason is None:
        return code.replace("_", " ").lower()
    return reason.es if language == "es" else reason.en


def zone(code: str, language: str) -> str:
    """Where on the casing."""
    return _say(ZONES, code, language)


def cause(code: str, language: str) -> str:
    """Whose doing, said to the customer."""
    return _say(CAUSES, code, language)


def station(code: str, language: str) -> str:
    """Where in the plant."""
    said = code.replace("-", " ")
    return _STATIONS_ES.get(code, said) if language == "es" else said.replace(" ndt", " NDT")


def _say(table: _Words, code: str, language: str) -> str:
    said = table.get(code)
    return said["es" if language == "es" else "en"] if said else code.replace("_", " ")
