"""The words of the pages of promises, in English and Spanish, by key."""

EN: dict[str, str] = {
    "promises": "Promises",
    "kept": "Promises kept",
    "kept_span": "Look back over",
    "kept_months": "{n} months",
    "kept_lead": "Of {of} promises whose day came in the last {months} months, {kept} were kept: "
    "{share} % of what was told first.",
    "kept_revised": "{n} were told a new day in time. By what was told last in time, {kept} of {of}"
    " were kept: {share} %.",
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
    "kept_share": "{share} % ({low} to {high})",
    "kept_none_yet": "none yet",
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
    "kept_stated": "{least} to {most} %, on the mean {mean} %",
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
    "kept": "Promesas cumplidas",
    "kept_span": "Mirar atrás",
    "kept_months": "{n} meses",
    "kept_lead": "De {of} promesas cuyo día llegó en los últimos {months} meses se cumplieron "
    "{kept}: el {share} % de lo que se dijo primero.",
    "kept_revised": "A {n} se les dijo a tiempo un día nuevo. Según lo último que se dijo a tiempo "
    "se cumplieron {kept} de {of}: el {share} %.",
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
    "kept_basis_standard_time": "tiempo estándar",
    "kept_basis_forecast": "pronóstico",
    "kept_no_plant": "ninguna planta ha dicho nada",
    "kept_no_customer": "cliente desconocido",
    "kept_first": "Dicho primero",
    "kept_last": "Dicho al último a tiempo",
    "kept_of": "{kept} de {of}",
    "kept_share": "{share} % ({low} a {high})",
    "kept_none_yet": "ninguna todavía",
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
    "por tiempo estándar nadie dice una probabilidad: esas están solo en las tablas.",
    "kept_along": "dicho, %",
    "kept_column_stated": "Dicho",
    "kept_column_kept": "Cumplidas",
    "kept_column_share": "Proporción",
    "kept_stated": "{least} a {most} %, de media {mean} %",
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
