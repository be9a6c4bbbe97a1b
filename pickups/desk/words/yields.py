"""Fleet yield, in English and Spanish. Pure."""

from collections.abc import Mapping

EN: Mapping[str, str] = {
    "yields": "Fleet yield",
    "yields_say": "Of the casings that a plant decided about in this time, the share that it "
    "finished. What the plant or the road or a dock ruined stays out of it: it is no word about "
    "the fleet's casings. Casings that were only to be repaired, sold or claimed are not counted.",
    "yield_span": "The last",
    "yield_months": "{n} months",
    "yield_column": "Yield",
    "yield_column_of": "Finished of those that count",
    "yield_column_apart": "Out of it",
    "yield_share": "{percent} %",
    "yield_none": "nothing counts yet",
    "yield_of": "{finished} of {of}",
    "yield_empty": "Nothing was decided in this time.",
    "yield_finished": "Finished",
    "yield_rejected": "Rejected: counts",
    "yield_plant": "Rejected by the plant's doing: out of it",
    "yield_road_or_dock": "Rejected by road or dock: out of it",
    "yield_n_plant": "the plant's doing: {n}",
    "yield_n_road_or_dock": "road or dock: {n}",
    "yield_decided": "Decided",
    "yield_why": "Why",
    "yield_now": "Now",
    "yield_all": "All customers",
}

ES: Mapping[str, str] = {
    "yields": "Rendimiento de flotas",
    "yields_say": "De las carcasas sobre las que una planta decidió en este tiempo, la parte que "
    "terminó. Lo que arruinó la planta, el camino o un muelle queda fuera: no dice nada de las "
    "carcasas de la flota. Las que eran solo para reparar, vender o reclamar no se cuentan.",
    "yield_span": "Los últimos",
    "yield_months": "{n} meses",
    "yield_column": "Rendimiento",
    "yield_column_of": "Terminadas de las que cuentan",
    "yield_column_apart": "Fuera",
    "yield_share": "{percent} %",
    "yield_none": "aún no cuenta nada",
    "yield_of": "{finished} de {of}",
    "yield_empty": "En este tiempo no se decidió nada.",
    "yield_finished": "Terminadas",
    "yield_rejected": "Rechazadas: cuentan",
    "yield_plant": "Rechazadas por la planta: fuera",
    "yield_road_or_dock": "Rechazadas por camino o muelle: fuera",
    "yield_n_plant": "de la planta: {n}",
    "yield_n_road_or_dock": "camino o muelle: {n}",
    "yield_decided": "Decidida",
    "yield_why": "Por qué",
    "yield_now": "Ahora",
    "yield_all": "Todos los clientes",
}
