"""The words of the pages of promises, in English and Spanish, by key."""

EN: dict[str, str] = {
    "promises": "Promises",
    "risk": "Promises at risk",
    "risk_n": "Promises at risk or past their day: {n}",
    "risk_title": "Promises at risk at {store}",
    "risk_say": "What is under {bound}\N{NO-BREAK SPACE}% likely to be back on its day, what no "
    "truck brings in time, what is on hold, and what is past its day; the nearest day first.",
    "risk_by_itself": "New days are told by themselves from {begins}:00 to {ends}:00. What stands "
    "here is still to be told, or has no new day yet.",
    "risk_by_hand": "Nobody is told a new day by itself: tick, and tell. An administrator can have "
    "it done by itself.",
    "risk_headline": "Need somebody: {n}. Past their day: {broken}.",
    "risk_none": "No promise needs anybody. What will not be back on its day stands here as soon as"
    " the plant's forecast or the trucks say so.",
    "risk_more": "Further off, and not listed: {n}.",
    "risk_casing": "Casing",
    "risk_owner": "Whose",
    "risk_promised": "Promised",
    "risk_stands": "How it stands",
    "risk_new": "New day",
    "risk_call": "Call",
    "risk_broken": "Past its day",
    "risk_at_risk": "At risk",
    "risk_likely": "At risk: {n}\N{NO-BREAK SPACE}% likely on that day",
    "risk_on_hold": "On hold: nobody knows whether it is back on that day",
    "risk_unsaid": "the plant's forecast says nothing of it now",
    "risk_late": "Finished, and late",
    "risk_sooner": "Can be kept as first told",
    "risk_truck": "the truck brings it on {day}",
    "risk_first": "first told: {day}",
    "risk_sent_back": "sent back to be worked again {when}",
    "risk_no_day": "not known",
    "risk_no_phone": "no number",
    "risk_no_address": "no e-mail: call",
    "risk_tell": "Tell the new day",
    "risk_tell_say": "Each owner gets one mail for all of their casings that are ticked. Call "
    "first where there is no e-mail: the tick says that you did. The day promised before stays in "
    "the books.",
    "risk_on": "Another day for all that are ticked",
    "risk_on_hint": "Leave it empty to tell the new day beside each. From today on, at most {most} "
    "days ahead.",
    "risk_go": "Tell the new day now",
    "risk_nothing_ticked": "Tick at least one casing.",
    "risk_bad_day": "“{value}” is no day from today to {most} days ahead.",
    "risk_none_known": "{label}: no new day is known. Name one, or take the tick away.",
    "risk_moved": "{label}: its new day has changed to {day} meanwhile. Look again, then tell it.",
    "risk_told": "New day told of {n}. Written to now: the owners of {written}.",
    "risk_call_them": "Nobody is written to of {labels}: call {whom}, if you have not yet.",
    "risk_call_nobody": "their owner (no number is known)",
    "risk_left": "Nothing was told of {labels}: moved on meanwhile.",
    "risk_gone": "Nothing was told: what was ticked has moved on meanwhile.",
    "kept": "Promises kept",
    "kept_span": "Look back over",
    "kept_months": "{n} months",
    "kept_lead": "Of {of} promises whose day came in the last {months} months, {kept} were kept: "
    "{share}\N{NO-BREAK SPACE}% of what was told first.",
    "kept_revised": "Told a new day in time: {n}. By what was told last in time, {kept} of {of} "
    "were kept: {share}\N{NO-BREAK SPACE}%.",
    "kept_nothing": "No promise had its day in the last {months} months. What is promised at the "
    "tailgate or the counter stands here once its day is over.",
    "kept_rule": "What counts",
    "kept_rule_1": "A promise is kept where the casing was handed to its owner on the promised day "
    "or before; where it is fetched at a store, where it lay there finished by then.",
    "kept_rule_2": "It counts once its day is over, also where it came early: else a month that is "
    "not over would look too good.",
    "kept_rule_3": "Told first: as it stood when the day of hand-over was over. Told last in time: "
    "the last new day that was told at the latest on the day before the one that stood until then. "
    "A new day told later mends nothing.",
    "kept_rule_4": "A casing that the plant spoiled counts as a broken promise. What is in "
    "question, withdrawn, or promised for no day counts nowhere.",
    "kept_rule_5": "In brackets: where the true share lies with 95 % confidence, by Wilson's "
    "interval (1927). It takes each promise for one of its own. Casings of one cure load come late "
    "together, so the true span is somewhat wider.",
    "kept_by_month": "By month",
    "kept_by_basis": "By what the day was named on",
    "kept_by_plant": "By plant",
    "kept_by_customer": "By customer",
    "kept_month": "Month of the promised day",
    "kept_basis": "Named on",
    "kept_plant": "Plant",
    "kept_customer": "Customer",
    "kept_basis_by_hand": "by hand",
    "kept_basis_standard_time": "standard time",
    "kept_basis_forecast": "forecast",
    "kept_no_plant": "no plant has told of it",
    "kept_no_customer": "no customer known",
    "kept_first": "Told first",
    "kept_last": "Told last in time",
    "kept_of": "{kept} of {of}",
    "kept_share": "{share}\N{NO-BREAK SPACE}% ({low}\N{NO-BREAK SPACE}to\N{NO-BREAK SPACE}{high})",
    "kept_none_yet": "none yet",
    "kept_same": "the same",
    "kept_picture_months": "Share kept by month, in percent: the round mark is what was told first "
    "with its interval, the square one what was told last in time. The table below says the same.",
    "kept_up": "kept, %",
    "kept_diagram": "Did the stated probability hold",
    "kept_diagram_say": "Promises made by the forecast, by the probability that was asked of it. "
    "On the slanting line as many were kept as was stated; above it more, below it fewer. The "
    "promised day is that of a truck, on or after the day that was computed: so somewhat above the "
    "line is what to expect.",
    "kept_diagram_picture": "Share kept against stated probability, both in percent, with "
    "intervals; the table below says the same.",
    "kept_diagram_none": "No promise that the forecast made has had its day yet. By hand and by "
    "standard time nobody states a probability: those stand in the tables only.",
    "kept_along": "stated, %",
    "kept_column_stated": "Stated",
    "kept_column_kept": "Kept",
    "kept_column_share": "Share",
    "kept_stated": "{least} to {most}\N{NO-BREAK SPACE}%, on the mean {mean}\N{NO-BREAK SPACE}%",
    "kept_apart": "Counted nowhere",
    "kept_apart_rejected": "Rejected, not by the plant's fault, and so comes back as it was: {n}.",
    "kept_apart_dealers": "Sold to us or given in exchange: {n}.",
    "kept_apart_another": "Another casing than the one handed over is to come back: {n}.",
    **{
        f"month_{i}": name
        for i, name in enumerate(
            ["January", "February", "March", "April", "May", "June", "July", "August",
             "September", "October", "November", "December"],
            1,
        )
    },
}  # fmt: skip

ES: dict[str, str] = {
    "promises": "Promesas",
    "risk": "Promesas en riesgo",
    "risk_n": "Promesas en riesgo o que han pasado de su día: {n}",
    "risk_title": "Promesas en riesgo en {store}",
    "risk_say": "Lo que tiene menos del {bound}\N{NO-BREAK SPACE}% de probabilidad de estar de "
    "vuelta en su día, lo que ningún camión trae a tiempo, lo retenido y lo que ha pasado de su "
    "día; el día más próximo primero.",
    "risk_by_itself": "Los días nuevos se dicen solos de {begins}:00 a {ends}:00. Lo que aparece "
    "aquí está por decir o no tiene aún día nuevo.",
    "risk_by_hand": "Ningún día nuevo se dice solo: marque y dígalo. Un administrador puede hacer "
    "que se diga solo.",
    "risk_headline": "Necesitan a alguien: {n}. Han pasado de su día: {broken}.",
    "risk_none": "Ninguna promesa necesita a nadie. Lo que no vaya a estar de vuelta en su día "
    "aparece aquí en cuanto lo digan el pronóstico de la planta o los camiones.",
    "risk_more": "Más lejos, y sin listar: {n}.",
    "risk_casing": "Carcasa",
    "risk_owner": "De quién",
    "risk_promised": "Prometida",
    "risk_stands": "Cómo está",
    "risk_new": "Día nuevo",
    "risk_call": "Llamar",
    "risk_broken": "Ha pasado de su día",
    "risk_at_risk": "En riesgo",
    "risk_likely": "En riesgo: {n}\N{NO-BREAK SPACE}% probable para ese día",
    "risk_on_hold": "Retenida: nadie sabe si estará de vuelta ese día",
    "risk_unsaid": "el pronóstico de la planta no dice nada de ella ahora",
    "risk_late": "Terminada, y con retraso",
    "risk_sooner": "Puede cumplirse como se dijo primero",
    "risk_truck": "el camión la trae el {day}",
    "risk_first": "dicho primero: {day}",
    "risk_sent_back": "devuelta para trabajarla otra vez {when}",
    "risk_no_day": "no se sabe",
    "risk_no_phone": "sin número",
    "risk_no_address": "sin correo: llame",
    "risk_tell": "Decir el día nuevo",
    "risk_tell_say": "Cada dueño recibe un solo correo por todas sus carcasas marcadas. Donde "
    "no hay correo llame primero: la marca dice que lo hizo. El día prometido antes queda anotado.",
    "risk_on": "Otro día para todas las marcadas",
    "risk_on_hint": "Déjelo vacío para decir el día nuevo que figura junto a cada una. De hoy en "
    "adelante, a lo más dentro de {most} días.",
    "risk_go": "Decir el día nuevo ahora",
    "risk_nothing_ticked": "Marque al menos una carcasa.",
    "risk_bad_day": "«{value}» no es un día de hoy a dentro de {most} días.",
    "risk_none_known": "{label}: no se sabe ningún día nuevo. Nombre uno o quite la marca.",
    "risk_moved": "{label}: su día nuevo ha cambiado entretanto a {day}. Mírelo otra vez y dígalo.",
    "risk_told": "Día nuevo dicho de {n}. Se escribe ahora a los dueños de {written}.",
    "risk_call_them": "No se escribe a nadie por {labels}: llame a {whom}, si aún no lo hizo.",
    "risk_call_nobody": "su dueño (no se conoce ningún número)",
    "risk_left": "No se dijo nada de {labels}: ha avanzado entretanto.",
    "risk_gone": "No se dijo nada: lo marcado ha avanzado entretanto.",
    "kept": "Promesas cumplidas",
    "kept_span": "Mirar atrás",
    "kept_months": "{n} meses",
    "kept_lead": "De {of} promesas cuyo día llegó en los últimos {months} meses se cumplieron "
    "{kept}: el {share}\N{NO-BREAK SPACE}% de lo que se dijo primero.",
    "kept_revised": "Con un día nuevo dicho a tiempo: {n}. Según lo último que se dijo a tiempo se "
    "cumplieron {kept} de {of}: el {share}\N{NO-BREAK SPACE}%.",
    "kept_nothing": "Ninguna promesa tuvo su día en los últimos {months} meses. Lo que se promete "
    "al recoger o en el mostrador aparece aquí cuando ha pasado su día.",
    "kept_rule": "Qué cuenta",
    "kept_rule_1": "Una promesa se cumple si la carcasa se entregó a su dueño el día prometido o "
    "antes; si se recoge en una tienda, si para entonces estaba allí terminada.",
    "kept_rule_2": "Cuenta cuando ha pasado su día, también si llegó antes: de lo contrario un mes "
    "que no ha terminado parecería mejor de lo que es.",
    "kept_rule_3": "Dicho primero: como quedó al terminar el día de la entrega. Dicho al último a "
    "tiempo: el último día nuevo que se dijo a más tardar la víspera del que valía hasta entonces. "
    "Un día nuevo dicho después no arregla nada.",
    "kept_rule_4": "Una carcasa que estropeó la planta cuenta como promesa incumplida. Lo que está "
    "en duda, retirado o prometido para ningún día no cuenta.",
    "kept_rule_5": "Entre paréntesis: dónde está la proporción verdadera con una confianza del "
    "95 %, por el intervalo de Wilson (1927). Toma cada promesa por independiente. Las carcasas de "
    "una misma carga se retrasan juntas, así que el margen verdadero es algo más ancho.",
    "kept_by_month": "Por mes",
    "kept_by_basis": "Según cómo se fijó el día",
    "kept_by_plant": "Por planta",
    "kept_by_customer": "Por cliente",
    "kept_month": "Mes del día prometido",
    "kept_basis": "Cómo se fijó",
    "kept_plant": "Planta",
    "kept_customer": "Cliente",
    "kept_basis_by_hand": "a mano",
    "kept_basis_standard_time": "plazo normal",
    "kept_basis_forecast": "pronóstico",
    "kept_no_plant": "ninguna planta ha dicho nada",
    "kept_no_customer": "cliente desconocido",
    "kept_first": "Dicho primero",
    "kept_last": "Dicho al último a tiempo",
    "kept_of": "{kept} de {of}",
    "kept_share": "{share}\N{NO-BREAK SPACE}% ({low}\N{NO-BREAK SPACE}a\N{NO-BREAK SPACE}{high})",
    "kept_none_yet": "ninguna todavía",
    "kept_same": "lo mismo",
    "kept_picture_months": "Proporción cumplida por mes, en tanto por ciento: la marca redonda es "
    "lo dicho primero con su intervalo, la cuadrada lo dicho al último a tiempo. La tabla de abajo "
    "dice lo mismo.",
    "kept_up": "cumplido, %",
    "kept_diagram": "¿Se cumplió la probabilidad dicha?",
    "kept_diagram_say": "Promesas hechas por el pronóstico, según la probabilidad que se le pidió. "
    "Sobre la línea inclinada se cumplieron tantas como se dijo; por encima más, por debajo menos. "
    "El día prometido es el de un camión, el mismo día calculado o después: por eso se espera algo "
    "por encima de la línea.",
    "kept_diagram_picture": "Proporción cumplida frente a la probabilidad dicha, ambas en tanto "
    "por ciento, con intervalos; la tabla de abajo dice lo mismo.",
    "kept_diagram_none": "Ninguna promesa hecha por el pronóstico ha tenido aún su día. A mano y "
    "por plazo normal nadie dice una probabilidad: esas están solo en las tablas.",
    "kept_along": "dicho, %",
    "kept_column_stated": "Dicho",
    "kept_column_kept": "Cumplidas",
    "kept_column_share": "Proporción",
    "kept_stated": "{least} a {most}\N{NO-BREAK SPACE}%, de media {mean}\N{NO-BREAK SPACE}%",
    "kept_apart": "No cuentan",
    "kept_apart_rejected": "Rechazadas, no por culpa de la planta, y por eso vuelven como estaban: "
    "{n}.",
    "kept_apart_dealers": "Vendidas a nosotros o dadas a cambio: {n}.",
    "kept_apart_another": "Debe volver otra carcasa que la entregada: {n}.",
    **{
        f"month_{i}": name
        for i, name in enumerate(
            ["enero", "febrero", "marzo", "abril", "mayo", "junio", "julio", "agosto",
             "septiembre", "octubre", "noviembre", "diciembre"],
            1,
        )
    },
}  # fmt: skip
