/** El día del conductor entre las paradas, en español. */
import { counted } from "../plural";
import type { day as en } from "./day.en";

const casings = (n: number) => counted(n, "carcasa", "carcasas");

export const day: typeof en = {
  day_way: "Cómo llegar",
  day_call: (name) => `Llamar a ${name}`,
  day_call_gate: "Llamar",
  day_copy: "Copiar la dirección",
  day_copied: "Copiada",
  day_no_address: "No se conoce la dirección. Pídala a la oficina.",

  day_arrive: "Ya llegué",
  day_arrived: (when) => `Llegada ${when}`,
  day_not_arrived: "Fue un error: todavía no llego",
  day_window_over: (to) => `El horario terminó a las ${to}`,
  day_came_late: (to) => `después del horario, que terminó a las ${to}`,
  day_added: "No está en la hoja: parada suya",
  day_added_why: (why) => `No está en la hoja: ${why}`,
  day_run_grows: "Pasa a ser una parada de la ruta de hoy, para que la oficina la vea.",
  day_why_here: "¿Por qué aquí?",
  day_why_here_hint: "Para la oficina; puede quedar vacío",

  day_skip: "Saltar esta parada",
  day_skip_say: "Queda en la ruta con su palabra al lado; la oficina también la ve.",
  day_skip_why: "¿Por qué?",
  day_skip_whys: {
    closed: "Portón cerrado",
    nobody_there: "No hay nadie",
    refused: "No quieren",
    blocked: "No se puede entrar",
    no_room: "No cabe en el camión",
    no_time: "Ya no hay tiempo",
    other: "Otra cosa",
  },
  day_skip_note: "Diga más",
  day_skip_note_other: "¿Qué es?",
  day_skip_why_missing: "Elija por qué; queda al lado de la parada.",
  day_skip_note_missing: "Diga qué es; «otra cosa» no le dice nada a la oficina.",
  day_skip_do: "Saltarla",
  day_skipped: (why) => `Sin parar: ${why}`,
  day_stays_aboard: (n) => `${casings(n)} en su camión, otra vez en la lista`,
  day_resume: "Hacer esta parada después de todo",

  day_count_title: (place) => `Cargar en ${place}`,
  day_count: "¿Cuántas están listas para usted?",
  day_count_hint: "Cuéntelas antes de escanear; aquí nada le dice cuántas son",
  day_counted_scanned: (counted_, scanned) =>
    `Contó ${counted_} y escaneó ${scanned}. Cuente otra vez lo que va en el camión.`,
  day_loading: (counted_) => `contó ${counted_}`,
  day_short_do:
    "Busque en el estante y en el muelle. Lo que no está se queda; la oficina se entera.",
  day_drive_off_so: "Salir así",
  day_over: (n, labels) =>
    `${counted(n, "sobra, no está", "sobran, no están")} en esta hoja: ${labels}.`,
  day_over_do: (n) =>
    n === 1
      ? "Déjela aquí, o llévela y dígalo a la oficina."
      : "Déjelas aquí, o llévelas y dígalo a la oficina.",
  day_tag_before: (n) =>
    `${counted(n, "rechazada", "rechazadas")}: marcadas en la carcasa y con la tarjeta «RECHAZADA – no montar ni inflar – motivo» antes de cargar.`,

  day_tick: "Entregar",
  day_tick_of: (label) => `Entregar ${label} sin escanear`,
  day_ticked: "Marcada en la lista, no escaneada",
  day_rejected: (n) => `Rechazadas, vuelven como vinieron: ${n}`,
  day_rejected_say:
    "Cada una lleva su motivo en la tarjeta. Dígalo a quien las recibe: no montar ni inflar.",
  day_set_down: "¿Dónde las dejó?",
  day_set_down_hint: "Para que las encuentren: detrás del taller, portón 2",
  day_set_down_missing: "Diga dónde están; nadie vio dónde las dejó.",
  day_set_down_said: (where) => `Dejadas: ${where}`,
  day_photo_missing: "Tome una foto de ellas donde están.",
  day_photo_proof: "Una foto de ellas donde están dice más que las palabras.",
};
