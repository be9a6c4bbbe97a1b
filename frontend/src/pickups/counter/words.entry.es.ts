/** Lo que se lee al registrar una carcasa con el teclado, en español. */
import { counted } from "../plural";
import type { entry as english } from "./words.entry.en";

export const entry: typeof english = {
  kinds_short: {
    retread: "Reencauchar",
    repair: "Reparar",
    sell: "Vender",
    adjustment: "Reclamo",
    wheel_tire: "Rueda + llanta",
    wheel: "Rueda sola",
  },
  kind_keys: {
    retread: "R",
    repair: "P",
    sell: "V",
    adjustment: "C",
    wheel_tire: "L",
    wheel: "S",
  },
  tin_line_hint:
    "Bastan los últimos cuatro dígitos; una coma entre varios, R marca el de un reencauche: 4B08 4DHR 2910, R 7RT 1219",
  tins_many: (most) => `Una carcasa puede tener aquí ${most} TIN como máximo.`,
  tin_long: (typed, most) =>
    `«${typed}» es demasiado largo: ${most} símbolos como máximo; una coma entre dos TIN.`,
  size_long: (typed, most) =>
    `«${typed}» es demasiado largo para una medida: ${most} símbolos como máximo.`,
  rating_long: (typed, most) =>
    `«${typed}» tras la medida es demasiado largo: ${most} símbolos como máximo.`,
  brand_list: "Marcas de este cliente y luego las demás",
  treads: "Profundidades, en 32avos",
  treads_hint: "676565, o 6 7 12 5; / otro lugar, - sin leer",
  treads_grooves: (n, shown) => `${counted(n, "surco", "surcos")}: ${shown}.`,
  treads_places: (n, shown) => `${counted(n, "lugar", "lugares")}: ${shown}.`,
  treads_no_depth: (part, most) =>
    `«${part}» no es una profundidad: números enteros de 0 a ${most}, con un espacio entre ellos.`,
  treads_two_ways: (part) =>
    `«${part}» se puede leer de más de una manera: escriba un espacio entre los surcos.`,
  treads_size: (typed, size, depths) =>
    `«${typed}» es la medida ${size}, o las profundidades ${depths}. La medida va en el campo Medida; para profundidades escriba un espacio entre los surcos.`,
  treads_many: (most) => `${most} surcos en un lugar como máximo.`,
  treads_many_places: (most) => `${most} lugares alrededor de la llanta como máximo.`,
  treads_uneven_places: "Los lugares no tienen el mismo número de surcos: - es uno sin leer.",
  seen_code: "Qué se ve",
  seen_code_hint:
    "Un código o unas letras, Enter. Detrás: 40 son 40 mm, x3 tres iguales, s lado de serie, o el otro lado",
  seen_list: "Lo que se puede ver en una carcasa",
  seen_unknown: (typed) =>
    `«${typed}» no es nada que se pueda anotar. Escriba unas letras, como clavo o cuerdas.`,
  seen_full: (most) => `${most} cosas como máximo para una carcasa.`,
  seen_last_off: (said) => `Quitado: ${said}.`,
  design_by_spec: (design) => `Según su ficha: ${design}`,
  brand_by_spec: (brand) => `Según su ficha: ${brand}`,
  ran: "Dónde rodó",
  taken_first: "Otra carcasa está a medio escribir: guárdela o bórrela primero.",
  scrap_none: "nada contado",
  instead: {
    sell: "el precio viene después de la inspección",
    adjustment: "le diremos qué se decidió",
    wheel: "se recoge según lo acordado",
  },
  condition_none_short: "nada anotado",
  position_short: "Posición",
  unit_title: "Unidad",
  ticket_instead: (n, kind, instead) => `${n === 1 ? "" : `${n} × `}${kind}: ${instead}.`,
  finish_with: (n, lines) =>
    `Terminar: ${n === 0 ? "" : `${counted(n, "carcasa", "carcasas")}, `}${lines}, comprobante`,
  story_kind: (kind) => `Es: ${kind}.`,
  story_sidewall: (read) => `En su costado: ${read}.`,
  story_tin: (tin) => `Su TIN: ${tin}.`,
  story_tin_retread: (tin) => `TIN de un reencauche: ${tin}.`,
  story_ran: (where) => `Viene de: ${where}.`,
  story_seen: (seen) => `Se vio en ella: ${seen}.`,
  story_check: (verdict, because) =>
    because === ""
      ? `Control de la ficha: ${verdict}.`
      : `Control de la ficha: ${verdict}, por: ${because}.`,
  story_check_by: (number) => `Según la ficha del cliente, número ${number}.`,
  story_offer: (grade, price) => [grade && `clase ${grade}`, price].filter(Boolean).join(", "),
  story_sale: (offer) => `Se ofreció por ella: ${offer}.`,
  story_sale_open: "El precio viene después de la inspección.",
  story_credit: (price) => `${price} de crédito en carcasas`,
  story_complaint: (complaint) => `Motivo del reclamo: ${complaint}.`,
  story_rim: (rim) => `Su rin: ${rim}.`,
  fleet_brand: "Marca de la flota",
  no_promise: "Para esto no se promete un día: se lo decimos cuando esté decidido.",
};
