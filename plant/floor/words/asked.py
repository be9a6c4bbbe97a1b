"""Questions that are the plant's to answer. Pure."""

from collections.abc import Mapping

EN: Mapping[str, str] = {
    "asked": "Open questions",
    "asked_one": "Open question",
    "asked_load_missing": "Casings went into a curing chamber and were not seen to come out: where "
    "are they?",
    "asked_load_short": "A cure load fell short of what the plant entered: who decides about its "
    "casings?",
    "asked_load_over": "Casings came out of a curing chamber with a load and were never seen to go "
    "in with it: were the right ones cured?",
    "asked_rework_limit": "A casing was sent back to be worked again more often than the plant "
    "allows: does it go on?",
    "asked_load": "Load {number}",
    "asked_casings": "Casings: {labels}",
    "asked_reworks": "Worked again {n} times; allowed are {most}",
    "asked_to_load": "To the load",
    "asked_what": "What becomes of it",
    "asked_goes_on": "It goes on; it is on hold no more",
    "asked_stays": "It stays on hold, to be rejected at its station",
    "asked_said": "The answer, in words",
    "asked_settle": "Settle",
    "asked_settled": "Settled.",
    "asked_before": "That was settled already; nothing was changed.",
    "asked_no_words": "The answer is empty. Allowed: some words, up to 500 characters.",
    "asked_choose": "Choose what becomes of it: it goes on, or it stays on hold.",
}

ES: Mapping[str, str] = {
    "asked": "Preguntas abiertas",
    "asked_one": "Pregunta abierta",
    "asked_load_missing": "Entraron carcasas en una cámara de curado y nadie las vio salir: "
    "¿dónde están?",
    "asked_load_short": "Una carga de curado quedó por debajo de lo que indicó la planta: ¿quién "
    "decide sobre sus carcasas?",
    "asked_load_over": "Salieron carcasas de una cámara de curado con una carga y nadie las vio "
    "entrar con ella: ¿se curaron las que eran?",
    "asked_rework_limit": "Una carcasa volvió a trabajarse más veces de las que permite la planta: "
    "¿sigue?",
    "asked_load": "Carga {number}",
    "asked_casings": "Carcasas: {labels}",
    "asked_reworks": "Retrabajada {n} veces; se permiten {most}",
    "asked_to_load": "A la carga",
    "asked_what": "Qué pasa con ella",
    "asked_goes_on": "Sigue; ya no está retenida",
    "asked_stays": "Sigue retenida, para rechazarla en su estación",
    "asked_said": "La respuesta, en palabras",
    "asked_settle": "Resolver",
    "asked_settled": "Resuelta.",
    "asked_before": "Eso ya estaba resuelto; no se cambió nada.",
    "asked_no_words": "La respuesta está vacía. Se admite: unas palabras, hasta 500 caracteres.",
    "asked_choose": "Elija qué pasa con ella: sigue, o queda retenida.",
}
