/** Una etiqueta reemplazada por otra. The same sentences as labels.en, in Spanish. */
import type { Slip } from "../../domain/labels";
import type { labels as en } from "./labels.en";

const SLIPS: Record<Slip, string> = {
  two_swapped: "dos signos estaban cambiados de lugar",
  one_wrong: "un signo era otro",
  one_missing: "falta un signo",
  one_too_many: "sobra un signo",
};

export const labels: typeof en = {
  label_meant: (label, slip) => `Quizás ${label}: ${SLIPS[slip]}.`,
  label_meant_some: (labels) => `Quizás ${labels}.`,
  label_void: (old, now) => `${old} está anulada: ${now} está en su lugar.`,
  label_spoiled: (label) => `${label} está anulada: se halló dañada. Tome otra etiqueta.`,
  label_foreign: (range) =>
    `No imprimimos etiquetas que empiecen con ${range}: quizás es de otro taller. La oficina preguntará.`,
  relabel: "Etiqueta perdida o estropeada",
  relabel_which: "¿Qué carcasa?",
  relabel_find: "Etiqueta, TIN o medida",
  relabel_none: "Aquí no hay ninguna carcasa así.",
  relabel_say: (label) =>
    `La carcasa que llevaba ${label} recibe otra etiqueta. ${label} quedará anulada.`,
  relabel_why: "¿Qué le pasó?",
  relabel_why_missing: "Diga qué le pasó a la etiqueta vieja: perdida o estropeada.",
  relabel_lost: "Perdida",
  relabel_spoiled: "Estropeada: rota, quemada, tapada con pintura",
  relabel_now: "Etiqueta nueva",
  relabel_now_hint: "Primero péguela; después léala o escríbala",
  relabel_same: "Esa es la etiqueta vieja. Pegue una nueva.",
  relabel_worn: (label, where) =>
    `${label} ya está en otra carcasa: ${where}. Mire la etiqueta que pegó en esta.`,
  relabel_known_by: "¿Cómo sabe que es esta carcasa?",
  relabel_known_by_missing: "Diga cómo sabe que es esta carcasa.",
  relabel_known_bys: ["Su TIN", "La etiqueta de su otro lado", "La única de su medida aquí"],
  relabel_do: "Reemplazar la etiqueta",
  relabel_anyway: "Reemplazarla de todos modos",
  relabel_done: (old, now) => `${now} está en lugar de ${old}. ${old} está anulada.`,
};
