/** Qué es una carcasa y cuánto se gastó: TIN, medida, dibujo, dónde rodó. En español. */
import { counted } from "../plural";
import type { casing as english } from "./casing.en";

export const casing: typeof english = {
  label_hint_next: "La que sigue: bastan los tres últimos",
  label_next: (label) => `La siguiente del rollo: ${label}`,
  label_own: (label) => `Su rollo: ${label}`,

  tin_none: "Sin TIN que leer:",
  tin_mileage_key: "Contrato por millas",
  tin_cut_off: "DOT cortado",
  tin_cut_off_said:
    "DOT cortado: anotado en la condición; una carcasa así no se puede reencauchar.",
  tin_nth: (n) => `TIN ${n} (cada reencauche lleva el suyo)`,
  tin_made: (n) => `TIN ${n}: de nueva o de un reencauche`,
  tin_new: "Nueva",
  tin_r: "R: reencauche",
  tin_another: "+ TIN",
  tin_another_named: "Otro TIN más: cada reencauche lleva el suyo",
  tin_remove: "Quitar",
  tin_remove_named: (n) => `Quitar el TIN ${n}`,
  tin_meant: (tin) => `Escribir ${tin}`,
  tin_decade: "¿Qué año? Solo si lo sabe; va en la nota.",
  tin_decade_noted: (digits, date) => `DOT ${digits}, ${date}`,

  sidewall: "TIN, medida, marca",
  same_again_key: (what) => `Igual que antes: ${what}`,
  size_hint: "Como está en el costado",
  size_read: (shown, radial, rim) =>
    `Se lee ${shown}: ${radial ? "radial" : "convencional"}, para aros de ${rim}`,
  size_height: (mm) => `unos ${mm} mm de alto cuando es nueva`,
  size_found: {
    not_read: () => "No se lee como medida; queda como está escrita.",
    out_of_scope: ({ mark }) => `${mark} es de una llanta más ligera; queda como está escrita.`,
    digits_only: () => "Solo dígitos: toque lo que quiso decir.",
    letter_for_digit: () => "Hay una letra donde va un dígito: toque lo que quiso decir.",
    section_not_used: ({ section }) =>
      `Ninguna llanta de camión mide ${section} de ancho. Mire otra vez.`,
    aspect_not_used: ({ aspect }) =>
      `Ninguna llanta de camión tiene relación ${aspect}. Mire otra vez.`,
    rim_not_used: ({ rim }) => `Ningún aro de camión es de ${rim} pulgadas. Mire otra vez.`,
    construction_open: () => "¿Radial o convencional? Toque lo que quiso decir.",
    metric_bias: () => "Una medida métrica suele ser radial. Mire otra vez.",
    uncommon: () => "Una medida rara. Mire otra vez.",
    rating_unread: ({ text }) => `“${text}” no se lee como carga.`,
  },
  size_theirs: "Medidas que tiene este cliente y luego las usuales",
  brand: "Marca",
  brand_picks: "Marcas de las carcasas de este cliente",
  rating: "Carga",
  rating_hint: "Por ejemplo G 144/142L",
  rating_range: (letter, ply) =>
    ply === null ? `Rango de carga ${letter}` : `Rango de carga ${letter} (${ply} capas)`,
  rating_ply: (ply) => `${ply} capas`,
  rating_kg: (single, dual) => `sencilla ${single} kg, doble ${dual} kg`,
  rating_one: (single) => `sencilla ${single} kg`,
  rating_speed: (kmh) => `hasta ${kmh} km/h`,
  rating_faults: {
    load_range_unknown: ({ load_range }) =>
      `Ningún rango de carga se llama ${load_range}. Mire otra vez.`,
    load_index_unknown: ({ index, least, most }) =>
      `Ninguna llanta de camión tiene índice de carga ${index}: de ${least} a ${most}. Mire otra vez.`,
    speed_symbol_unknown: ({ symbol }) =>
      `Ningún símbolo de velocidad es ${symbol}. Mire otra vez.`,
    dual_above_single: ({ single, dual }) =>
      `La doble ${dual} es más que la sencilla ${single}; la sencilla va primero. Mire otra vez.`,
    ply_differs: ({ load_range, expected, ply }) =>
      `El rango de carga ${load_range} es de ${expected} capas, no ${ply}. Mire otra vez.`,
    unread: ({ text }) => `“${text}” no se lee como carga; queda como está escrito.`,
  },

  position: "Dónde rodó",
  positions: {
    steer: "Dirección",
    drive: "Tracción",
    trailer: "Remolque",
    bus_front: "Autobús, delante",
  },
  tread_place: (place, groove) => `Sigue: lugar ${place}, ranura ${groove}`,
  tread_typed: (digit) => `${digit} y lo que siga`,
  tread_readings: "Lecturas",
  tread_turn: "Otro lugar",
  tread_stay: (place) => `Sigue el lugar ${place}`,
  tread_unread: "No se lee",
  tread_unread_named: "La ranura no se puede leer",
  tread_how:
    "Con teclas: 2 a 9 de una vez, 10 a 19 en dos, + diez más, - no se lee, / otro lugar, Entrar guarda.",
  tread_lowest: (lowest, mean) => `Menor ${lowest}, promedio ${mean}`,
  tread_depth: (depth, mm) => `${depth} (${mm}\u00a0mm)`,
  tread_below: (least, wheels) =>
    wheels === "front_of_bus_truck_tractor"
      ? `Menos de ${least}/32, el mínimo legal en ruedas delanteras de camiones y autobuses; es un límite de la ley, no un consejo de llegar a él.`
      : `Menos de ${least}/32, el mínimo legal en todas menos las delanteras; es un límite de la ley, no un consejo de llegar a él.`,
  tread_under_pull: (by, pull) =>
    `${by}/32 menos que los ${pull}/32 a los que este cliente retira.`,
  tread_left: (left, pull) =>
    `Quedan ${left}/32 de dibujo sobre los ${pull}/32 a los que este cliente retira.`,
  tread_across: (by) => `${by}/32 entre ranuras de un lugar`,
  tread_between: (by) => `${by}/32 alrededor en una ranura`,
  tread_uneven: (differences, causes) => `${differences}; ${causes}.`,
  tread_causes: {
    may_be_low_inflation_or_overload: "puede venir de poca presión o sobrecarga",
    may_be_high_inflation: "puede venir de demasiada presión",
    may_be_alignment: "puede venir de la alineación",
    may_be_balance_or_flat_spot: "puede venir del balanceo o de un plano",
    uneven_cause_open: "la causa queda abierta; mírela",
  },

  ran_title: "Unidad y millas",
  ran_none: "Nada dicho",
  wheel: "Rueda",
  wheel_hint: "Por ejemplo trasera izquierda, fuera",
  wheel_short: (wheel) => `rueda ${wheel}`,
  odometer: "Odómetro",
  odometer_unit: "Contado en",
  odometer_units: { mi: "Millas", km: "Kilómetros" },
  odometer_short: (count, unit) => `${count} ${unit}`,
  odometer_fault: (typed) =>
    `“${typed}” no se puede decir: un número entero hasta 9,999,999, sin decimales, o nada.`,
  pulled_for: "Retirada por",
  pulled: {
    worn: "gastada",
    irregular_wear: "desgaste irregular",
    puncture: "pinchazo",
    damage: "daño",
    vibration: "vibración",
    age: "edad",
    program: "programa de llantas",
    other: "otra razón",
  },
  pulled_untold: "Sin decir",
  tins_more: (n) => counted(n, "TIN más", "TIN más"),
};
