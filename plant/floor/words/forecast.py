"""When casings will be finished, and what that is reckoned from. Pure."""

from collections.abc import Mapping

EN: Mapping[str, str] = {
    "way_forecast": "Forecast",
    "fc": "Forecast",
    "fc_say": "When casings here will be finished: the plant is simulated {n} times from what is "
    "in process now, and corrected by what became of casings lately. Promises are made from it.",
    "fc_none": "Nothing has been computed yet. It is looked for every ten seconds; if this stays, "
    "the worker is not running.",
    "fc_computed": "Computed {when}, in {took} s, from {inside} casings in process.",
    "fc_failed": "The last computing, {when}, could not be done. What stands here is the one "
    "before; it is tried again by itself. If this stays, tell an administrator.",
    "fc_failed_first": "The last computing, {when}, could not be done. Nothing stands yet; it is "
    "tried again by itself. If this stays, tell an administrator.",
    "fc_missing": "What is missing",
    "fc_missing_say": "Until this is entered nothing is forecast, and promises are made from the "
    "standard times.",
    "fc_missing_ask": "An administrator enters it in the records.",
    "fc_missing_route": "The plant has no stations of which a time is entered.",
    "fc_missing_calendar": "No calendar is entered: weekdays, shifts and holidays.",
    "fc_missing_shifts": "No shifts are entered: when the plant works on each weekday.",
    "fc_missing_cycle": "{name}: no cycle is entered, and too few casings were scanned there to "
    "learn one.",
    "fc_missing_chamber": "{name}: no chamber is entered.",
    "fc_missing_chamber_cycle": "{name}: no cycle of this chamber is entered, and too few loads "
    "were told to learn one.",
    "fc_arrive": "A casing that arrives",
    "fc_arrive_say": "Finished at the latest then, in so many of a hundred simulated courses in "
    "which it is not rejected.",
    "fc_today": "today",
    "fc_tomorrow": "tomorrow",
    "fc_work_retread": "Retread",
    "fc_work_repair": "Repair only",
    "fc_which": "{work}, {day}",
    "fc_row": "Arrives",
    "fc_in_50": "50 %",
    "fc_in_90": "90 %",
    "fc_in_99": "99 %",
    "fc_never": "beyond what can be seen",
    "fc_corrected": "How well it was said lately",
    "fc_kept": "Of {n} forecasts of casings finished in the last four weeks, {percent} % were "
    "finished by their 90 % time.",
    "fc_kept_none": "No casing of which a forecast was made has been finished in the last four "
    "weeks.",
    "fc_corrects": "Forecasts of {kind} are corrected by {n} casings that were finished.",
    "fc_corrects_none": "Nothing is corrected yet: of {n} casings it is known what became of "
    "them, {least} are needed. Until then the simulation's own times stand.",
    "fc_kind_arrival": "casings that have just arrived",
    "fc_kind_inside": "casings further on",
    "fc_stations": "Stations",
    "fc_station": "Station",
    "fc_entered": "Entered",
    "fc_learned": "Learned",
    "fc_used": "Reckoned with",
    "fc_here": "Here",
    "fc_here_say": "Here: at work there or next in its queue. A station that does not scan is "
    "taken as passed once its usual time is over.",
    "fc_min": "{n} min",
    "fc_hours": "{n} h",
    "fc_machines": "{n} machines",
    "fc_at_once": "{n} at once",
    "fc_not_entered": "not entered",
    "fc_not_learned": "nothing yet",
    "fc_from": "{time} from {n} casings",
    "fc_delay": "{time} with all waiting, from {n} casings",
    "fc_shares": "{reject} % rejected, {rework} % sent back, of {n}",
    "fc_drift": "it has changed lately",
    "fc_left_out": "left out: no time is known",
    "fc_no_part": "not in it",
    "fc_by_loads": "by chambers and loads",
    "fc_history": "Learned before",
    "fc_history_line": "{day}: {time}",
    "fc_rests": "What it rests on",
    "fc_rests_known": "{n} casings are known to come, on trucks and on planned runs.",
    "fc_rests_week": "About {n} casings a week come, as in the last four.",
    "fc_rests_hold": "{n} casings are on hold. Nobody knows how long, so nothing is forecast of "
    "them until they are released.",
    "fc_rests_unsure": "Of {n} casings in process it is not certain whose they are: they take "
    "their place in the queues, and nothing is promised for them.",
    "fc_rests_wait": "Where no longest wait of a chamber is entered or learned, {n} h are taken. "
    "Our own figure.",
    "fc_rests_not": "Not known here, and so not in it: casings that are wet and dry slowly, stock "
    "of tread rubber, people who are needed at two stations.",
    "fc_missing_fewer": "The route has more stations with times than can be reckoned with: at "
    "most 60.",
    "fc_rests_lost": "{n} casings were not seen for more than {days} days. They are taken for "
    "lost or gone without a scan, and nothing is forecast of them: tell where they are.",
}

ES: Mapping[str, str] = {
    "way_forecast": "Pronóstico",
    "fc": "Pronóstico",
    "fc_say": "Cuándo estarán terminadas las carcasas: la planta se simula {n} veces desde lo que "
    "está ahora en proceso, y se corrige con lo que pasó últimamente. De aquí salen las promesas.",
    "fc_none": "Todavía no se calculó nada. Se mira cada diez segundos; si esto sigue así, el "
    "proceso de tareas no está en marcha.",
    "fc_computed": "Calculada {when}, en {took} s, con {inside} carcasas en proceso.",
    "fc_failed": "El último cálculo, {when}, no se pudo hacer. Lo que hay aquí es el anterior; se "
    "intenta de nuevo por sí solo. Si sigue así, avise a un administrador.",
    "fc_failed_first": "El último cálculo, {when}, no se pudo hacer. Todavía no hay ninguno; se "
    "intenta de nuevo por sí solo. Si sigue así, avise a un administrador.",
    "fc_missing": "Lo que falta",
    "fc_missing_say": "Hasta que esto se anote no hay pronóstico, y las promesas salen de los "
    "tiempos estándar.",
    "fc_missing_ask": "Un administrador lo anota en los registros.",
    "fc_missing_route": "La planta no tiene estaciones con tiempos anotados.",
    "fc_missing_calendar": "No hay calendario anotado: días, turnos y feriados.",
    "fc_missing_shifts": "No hay turnos anotados: cuándo trabaja la planta cada día de la semana.",
    "fc_missing_cycle": "{name}: no hay tiempo anotado, y se escanearon muy pocas carcasas ahí "
    "para aprenderlo.",
    "fc_missing_chamber": "{name}: no hay ninguna cámara anotada.",
    "fc_missing_chamber_cycle": "{name}: no hay ciclo anotado de esta cámara, y hubo muy pocas "
    "cargas para aprenderlo.",
    "fc_arrive": "Una carcasa que llega",
    "fc_arrive_say": "Terminada a más tardar entonces, en tantas de cien simulaciones en las "
    "que no se rechaza.",
    "fc_today": "hoy",
    "fc_tomorrow": "mañana",
    "fc_work_retread": "Reencauche",
    "fc_work_repair": "Solo reparación",
    "fc_which": "{work}, {day}",
    "fc_row": "Llega",
    "fc_in_50": "50 %",
    "fc_in_90": "90 %",
    "fc_in_99": "99 %",
    "fc_never": "más allá de lo que se ve",
    "fc_corrected": "Cómo acertó últimamente",
    "fc_kept": "De {n} pronósticos de carcasas terminadas en las últimas cuatro semanas, "
    "{percent} % se terminaron antes de su hora de 90 %.",
    "fc_kept_none": "En las últimas cuatro semanas no se terminó ninguna carcasa de la que "
    "hubiera un pronóstico.",
    "fc_corrects": "Los pronósticos de {kind} se corrigen con {n} carcasas terminadas.",
    "fc_corrects_none": "Todavía no se corrige nada: de {n} carcasas se sabe qué pasó, hacen "
    "falta {least}. Hasta entonces valen los tiempos de la simulación.",
    "fc_kind_arrival": "carcasas recién llegadas",
    "fc_kind_inside": "carcasas más adelantadas",
    "fc_stations": "Estaciones",
    "fc_station": "Estación",
    "fc_entered": "Anotado",
    "fc_learned": "Aprendido",
    "fc_used": "Se cuenta con",
    "fc_here": "Aquí",
    "fc_here_say": "Aquí: en trabajo ahí o siguiente en su cola. Una estación que no escanea se "
    "da por pasada cuando su tiempo usual terminó.",
    "fc_min": "{n} min",
    "fc_hours": "{n} h",
    "fc_machines": "{n} máquinas",
    "fc_at_once": "{n} a la vez",
    "fc_not_entered": "no anotado",
    "fc_not_learned": "nada todavía",
    "fc_from": "{time} de {n} carcasas",
    "fc_delay": "{time} con toda la espera, de {n} carcasas",
    "fc_shares": "{reject} % rechazadas, {rework} % devueltas, de {n}",
    "fc_drift": "cambió últimamente",
    "fc_left_out": "no se cuenta: no se sabe su tiempo",
    "fc_no_part": "no se cuenta",
    "fc_by_loads": "por cámaras y cargas",
    "fc_history": "Aprendido antes",
    "fc_history_line": "{day}: {time}",
    "fc_rests": "En qué se apoya",
    "fc_rests_known": "Se sabe de {n} carcasas que vienen, en camiones y en viajes planeados.",
    "fc_rests_week": "Llegan unas {n} carcasas por semana, como en las últimas cuatro.",
    "fc_rests_hold": "{n} carcasas están retenidas. Nadie sabe por cuánto tiempo, así que no hay "
    "pronóstico de ellas hasta que se liberen.",
    "fc_rests_unsure": "De {n} carcasas en proceso no es seguro de quién son: ocupan su lugar en "
    "las colas, y no se promete nada por ellas.",
    "fc_rests_wait": "Donde no se anotó ni se aprendió la espera más larga de una cámara, se "
    "toman {n} h. Es una cifra nuestra.",
    "fc_rests_not": "No se sabe aquí, y por eso no cuenta: carcasas mojadas que se secan "
    "despacio, existencias de banda, personas que hacen falta en dos estaciones.",
    "fc_missing_fewer": "La ruta tiene más estaciones con tiempos de las que se pueden calcular: "
    "hasta 60.",
    "fc_rests_lost": "{n} carcasas no se vieron por más de {days} días. Se dan por perdidas o "
    "idas sin escaneo, y no hay pronóstico de ellas: diga dónde están.",
}
