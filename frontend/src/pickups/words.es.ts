/** Lo que lee el conductor, en español. The same sentences as words.en, in Spanish. */
import { counted } from "./plural";
import { seen } from "./seen/words.es";
import { bulk } from "./words/bulk.es";
import { casing } from "./words/casing.es";
import { labels } from "./words/labels.es";
import { device } from "./words/device.es";
import { lock } from "./words/lock.es";
import { day } from "./words/day.es";
import { road } from "./words/road.es";
import { signing } from "./words/signing.es";
import { wanted } from "./words/wanted.es";
import type { Words } from "./words.en";

const casings = (n: number) => counted(n, "carcasa", "carcasas");

export const es: Words = {
  ...wanted,
  ...signing,
  ...day,
  ...road,
  ...labels,
  ...lock,
  ...device,
  ...bulk,
  ...casing,
  ...seen,

  language: "Idioma",
  other_language: "English",
  today: "Hoy",
  back: "Atrás",
  close: "Cerrar",
  try_again: "Intentar otra vez",
  to_counter: "Mostrador",
  to_road: "Ruta",
  counter_coming: "Un momento",
  pickup_not_here:
    "La hoja de recolección todavía no ha llegado a este dispositivo. Llega sola cuando hay conexión.",
  counter_not_here:
    "Las pantallas del mostrador aún no han llegado a este dispositivo. Llegan solas en cuanto haya conexión.",

  enrol_title: "Preparar este teléfono",
  enrol_say:
    "La oficina muestra un código para este teléfono. Escríbalo aquí o lea su cuadro con la cámara.",
  enrol_code: "Código de la oficina",
  enrol_name: "Nombre de este teléfono",
  enrol_name_hint: "Como lo verá la oficina, por ejemplo Teléfono del camión 4",
  enrol_do: "Preparar",
  enrol_busy: "Preguntando a la oficina",
  enrol_code_missing: "Escriba el código que muestra la oficina.",
  enrol_name_missing: "Dé un nombre a este teléfono.",
  enrol_no_signal: "Sin señal. Solo hace falta esta vez; intente donde haya señal.",
  enrol_away: "El servidor de la oficina no responde. Intente en un minuto.",
  enrol_code_wrong:
    "Este código no se conoce, ya se usó o tiene más de 15 minutos. Pida uno nuevo a la oficina.",
  enrol_already: (name, site) =>
    `Este teléfono está dado de alta como ${name}, ${site}. Un código nuevo lo prepara otra vez; nada de lo que tiene se pierde.`,
  enrol_again: "Darlo de alta otra vez",

  who_none: "Aún no han llegado nombres. Llegan solos en cuanto haya señal.",

  open_pickups: "Abiertas en este teléfono",
  start_title: "Empezar una recogida",
  start_search: "Buscar un patio o cliente",
  start_none: "Aún no han llegado patios. Llegan solos en cuanto haya señal.",
  start_no_match: "Ningún patio con ese nombre.",
  recent_title: "Últimas",
  recent_none: "Aquí estarán las recogidas terminadas.",
  carry_on: "Seguir",
  casings,
  customer_says: (n) => `el cliente dice ${n}`,
  on_this_pickup: (n) => `${n} en esta recogida`,
  finished_at: (when) => `terminada ${when}`,
  not_finished: "sin terminar",
  unknown_yard: "Patio aún desconocido aquí",

  add_casing: "Añadir una carcasa",
  correct_casing: "Corregir esta carcasa",
  caution_air: "¿Rodó desinflado o está blando? Nunca le ponga aire en el camión.",
  caution_lift: "Unos 50 kg: levante con ayuda. Cuidado con los alambres.",
  label: "Etiqueta",
  label_hint: "Ocho signos, escritos o leídos",
  label_empty: "Escriba o lea la etiqueta.",
  label_length: (n) => `Una etiqueta tiene 8 signos; esta tiene ${n}.`,
  label_symbol: (c) => `Ninguna etiqueta lleva ${c}. Mire otra vez.`,
  label_first: "Una etiqueta empieza con letra. Esto parece otro código.",
  label_check: "Hay un signo mal o dos cambiados de lugar. Compare con la etiqueta.",
  label_sound: "La etiqueta se lee bien",
  label_twice: (where) => `Esta etiqueta ya está en este teléfono: ${where}.`,
  label_twice_ask:
    "Si de verdad la llevan dos carcasas, guarde también esta; la oficina lo aclara.",
  label_here: (at) => `carcasa ${at} de esta recogida`,
  label_elsewhere: (yard) => `una carcasa de ${yard}`,
  save_twice: "Guardar como segunda carcasa",
  label_twice_correct:
    "Si de verdad esta carcasa lleva también esa etiqueta, guarde la corrección; la oficina lo aclara.",
  save_correction_twice: "Guardar la corrección con esta etiqueta",
  label_another: (label) =>
    `Se leyó ${label}, pero esta hoja tiene otra etiqueta. Guarde primero esta carcasa o borre la etiqueta para cambiarla.`,
  scan: "Leer",
  scan_title: "Leer la etiqueta",
  scan_opening: "Abriendo la cámara",
  scan_hint: "Ponga la etiqueta en el marco: el cuadro o las barras.",
  scan_light: "Luz",
  scan_type: "Escribirla",
  scan_wrong: (text) =>
    `Aquí dice ${text}, y ninguna etiqueta es así: dañada o mal impresa. Pruebe el otro signo de la etiqueta o escríbala.`,
  scan_several: (labels) => `Hay más de una etiqueta a la vista: ${labels}. Muestre una sola.`,
  scan_not_ours: (text) => `No es una etiqueta nuestra: «${text}».`,
  scan_refused:
    "Esta aplicación no puede usar la cámara. Permítalo en los ajustes del navegador para esta página o escriba los ocho signos.",
  scan_no_camera: "Aquí no se encuentra ninguna cámara. Escriba los ocho signos.",
  scan_in_use:
    "La cámara se detuvo o la tiene otra aplicación. Intente otra vez o escriba los ocho signos.",
  scan_cannot_read: "Este teléfono no puede leer etiquetas en imágenes. Escriba los ocho signos.",
  scan_not_here:
    "La lectura aún no ha llegado a este teléfono; llega sola con señal. Escriba los ocho signos.",
  tread: "Profundidad de dibujo, 32avos de pulgada",
  tread_groove: (n) => `Ranura ${n}`,
  tread_next: (n) => `Sigue: ranura ${n}`,
  tread_full: "12 ranuras son el máximo",
  tread_erase: "Deshacer",
  tread_none: "sin medir",
  tin: "TIN (código DOT)",
  tin_hint: "Bastan los cuatro últimos dígitos",
  tin_letters: "ABC: teclas de letras para el TIN",
  tin_week: (week, year) => `semana ${week} de ${year}`,
  tin_either: (dates) => `Tres dígitos, hecha antes de julio de 2000: ${dates}.`,
  tin_or: " o ",
  tin_weeks_old: (n) => `${counted(n, "semana", "semanas")} de edad`,
  tin_years_old: (n) => `${counted(n, "año", "años")} de edad`,
  tin_retread: (date) => `Reencauchada en la ${date}; la carcasa es más vieja.`,
  tin_mark_open: (apart) =>
    `La R puede ser la marca de un reencauche: entonces escriba ${apart}. Así como está, es parte del código.`,
  tin_slips: (pairs) => `Leído ${pairs}: ningún TIN lleva letras así.`,
  tin_slip: (typed, meant) => `${typed} como ${meant}`,
  tin_future: (date) => `La ${date} aún no llega. Mire otra vez.`,
  tin_week_wrong: (week) =>
    `Ningún año tiene semana ${week}. La fecha es semana y luego año. Mire otra vez.`,
  tin_no_week_53: (year) => `El año ${year} no tuvo semana 53. Mire otra vez.`,
  tin_unread: "La fecha no se puede leer. Una foto de ella ayuda a la planta.",
  tin_no_date: "Aún sin fecha: un TIN termina en dígitos, semana y año.",
  tin_symbol: (c) => `Ningún TIN lleva ${c}. Mire otra vez.`,
  tin_too_long: (n) => `Un TIN tiene 13 signos como máximo; este tiene ${n}. Mire otra vez.`,
  tin_layout: (n) =>
    `Con esa fecha un TIN no tiene ${n} signos; puede faltar o sobrar uno. Mire otra vez.`,
  tin_maybe_three: (dates) => `En una llanta de antes de julio de 2000 puede ser ${dates}.`,
  tin_mileage: "Solo para contrato por millas: una llanta así puede no tener TIN.",
  size: "Medida",
  note: "Nota",
  room_left: (n) => `${counted(n, "signo más cabe", "signos más caben")}.`,
  room_none: (n) => `Lleno: ${n} signos es lo máximo; lo que sigue no se toma.`,
  photo: "Foto",
  photo_add: "Tomar una foto",
  photo_busy: "Reduciéndola",
  photo_failed: "Este archivo no es una foto que se pueda guardar. Tómela otra vez.",
  photo_drop: (n) => `Quitar la foto ${n}`,
  photo_alt: (n) => `Foto ${n} de esta carcasa`,
  photos: (n) => counted(n, "foto", "fotos"),
  save: "Guardar carcasa",
  save_labelled: "Guardar",
  save_correction: "Guardar corrección",
  saved: (label) => `${label} guardada`,
  save_failed:
    "Este teléfono no pudo anotarlo. Libere espacio y guarde otra vez; no se perdió nada.",
  sheet_kept: "A medio anotar; guardada en este teléfono",

  list_title: "En esta recogida",
  list_none: "Aquí aparecen las carcasas al guardarlas.",
  put_away: "Al final no hay recogida aquí",
  correct: "Corregir",
  withdraw: "Quitarla de esta recogida",
  withdraw_why: "¿Por qué?",
  withdraw_reasons: ["Anotada dos veces", "Montón equivocado; devuelta", "El cliente se la queda"],
  withdraw_do: "Quitarla",
  withdraw_reason_missing: "Diga por qué; la razón se guarda.",

  waiting_to_send: "por enviar",
  waiting_since: (when) => `por enviar desde ${when}`,
  recorded: "registrada",
  in_question: "etiqueta en duda",
  question_open: "hay una duda abierta en la oficina",
  needs_you: "le necesita",
  stages: {
    picked_up: "recogida",
    received: "en la planta",
    in_work: "en trabajo",
    finished: "terminada",
    shipped: "de regreso",
    returned: "con su dueño",
    rejected: "rechazada",
  },
  on_hold: "en espera",

  finish: "Terminar recogida",
  finish_title: "Terminar esta recogida",
  finish_say: "Cuente junto con el cliente antes de irse.",
  finish_counted: "Usted contó",
  finish_customer: "Cuenta del cliente",
  finish_customer_hint: "Deje vacío si nadie contó",
  finish_agree: "Las dos cuentas coinciden.",
  finish_more: (n) => `El cliente dice ${n} más de lo anotado. Mire otra vez o termine así.`,
  finish_fewer: (n) => `El cliente dice ${n} menos de lo anotado. Mire otra vez o termine así.`,
  finish_number: (typed) => `«${typed}» no se puede anotar: un número entero de 0 a 9999, o nada.`,
  finish_ask: (own, customer) => `¿Usted ${own}, el cliente ${customer}?`,
  finish_so: "Terminar así",
  finish_half:
    "Hay una carcasa, un desecho o un cambio a medio anotar. Guárdelo o bórrelo primero.",
  finish_clear: "Borrar lo que está a medio anotar",
  finish_do: "Terminar",
  finish_empty: "Añada primero una carcasa.",
  finish_needs_you: (n) => `${casings(n)} sin poder registrar; no estarán en el recibo.`,

  receipt: "Recibo",
  receipt_say: "contado; estado sujeto a inspección en planta",
  receipt_total: (n) => counted(n, "carcasa recogida", "carcasas recogidas"),
  receipt_by: (name) => `Recogió ${name}`,
  receipt_new: "Volver a hoy",

  all_recorded: "Todo está registrado",
  nothing_waits: "Nada por enviar",
  sending: "enviando ahora",
  no_signal: "sin señal",
  server_away: "el servidor de la oficina no responde",
  photos_waiting: (n) => `${counted(n, "foto o firma", "fotos o firmas")} en camino`,
  revoked:
    "La oficina ha cerrado este teléfono. Lo no enviado se guarda aquí. Pida a la oficina un código nuevo.",
  unknown_device: "La oficina ya no conoce este teléfono. Lo no enviado se guarda aquí.",
  closing: "Este teléfono se retira del uso. Déjelo encendido hasta que todo esté enviado.",
  closing_done: "Todo está enviado. Puede entregar este teléfono.",
  shut_start: "En este teléfono no se puede anotar nada nuevo hasta darlo de alta otra vez.",
  shut_save:
    "En este teléfono no se puede guardar nada hasta darlo de alta otra vez. Lo que está a medio anotar se conserva.",
  needs_you_count: (n) => `${n} ${n === 1 ? "le necesita" : "le necesitan"}`,
  needs_title: "Le necesita",
  needs_look: "Ver qué",
  needs_say:
    "El servidor de la oficina no pudo tomar esto. Se guarda en este teléfono. Intente otra vez o léalo a la oficina.",
  needs_casing: (label) => `Carcasa ${label}`,
  needs_photo: "Una foto",
  needs_other: "Una anotación",
  needs_field: (field, value, allowed) => `${field}: «${value}» (${allowed})`,
  new_version: "Hay una versión nueva",
  new_version_do: "Usarla ahora",
  new_version_later: "Después de esta recogida",
};
