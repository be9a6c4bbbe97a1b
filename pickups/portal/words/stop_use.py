"""The words of a stop-use notice on a customer's own page, in English and Spanish. Pure."""

EN: dict[str, str] = {
    "stop_head": "STOP USE",
    "stop_banner": "Tires of yours have to be taken out of service now.",
    "stop_open": "Read it and confirm",
    "stop_read": "Stop-use notices that you have confirmed",
    "stop_reopen": "Read it again",
    "stop_told": "Told {when}",
    "stop_do": "Do not drive on these tires, do not mount them, do not inflate them, and add no "
    "air to one that is on a vehicle. Only trained people take them off. Mark them and set them "
    "apart. Then call us.",
    "stop_why": "Why",
    "stop_casings": "These tires",
    "stop_confirm_say": "Press this when you have read it. It tells us that the notice has reached "
    "you; it says nothing more.",
    "stop_confirm": "I have read this",
    "stop_confirmed": "You confirmed this on {when}.",
    "stop_confirmed_by": "Confirmed for {customer} on {when}.",
    "stop_back": "This notice was withdrawn on {when}: {why}",
    "stop_again": "A tire that was taken off or deflated meanwhile is inspected before it is "
    "mounted and inflated again, as any tire is.",
    "stop_this": "STOP USE: this tire has to be taken out of service.",
}

ES: dict[str, str] = {
    "stop_head": "DEJE DE USAR",
    "stop_banner": "Hay llantas suyas que se deben sacar de servicio ahora.",
    "stop_open": "Leer y confirmar",
    "stop_read": "Avisos de dejar de usar que usted confirmó",
    "stop_reopen": "Leerlo otra vez",
    "stop_told": "Avisado el {when}",
    "stop_do": "No ruede con estas llantas, no las monte, no las infle, y no agregue aire a una "
    "que esté en un vehículo. Solo personal capacitado las quita. Márquelas y póngalas aparte. "
    "Después llámenos.",
    "stop_why": "Por qué",
    "stop_casings": "Estas llantas",
    "stop_confirm_say": "Oprima esto cuando lo haya leído. Nos dice que el aviso le llegó; no dice "
    "nada más.",
    "stop_confirm": "Leí esto",
    "stop_confirmed": "Usted lo confirmó el {when}.",
    "stop_confirmed_by": "Confirmado por {customer} el {when}.",
    "stop_back": "Este aviso se retiró el {when}: {why}",
    "stop_again": "La llanta que entretanto se quitó o desinfló se revisa antes de montarla e "
    "inflarla otra vez, como cualquiera.",
    "stop_this": "DEJE DE USAR: esta llanta se debe sacar de servicio.",
}
