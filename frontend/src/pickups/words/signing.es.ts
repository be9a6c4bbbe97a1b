/** La firma de lo que cambió de manos, en español. */
import { counted } from "../plural";
import type { signing as english } from "./signing.en";

const casings = (n: number) => counted(n, "carcasa", "carcasas");

export const signing: typeof english = {
  sign_title: "Para firmar",
  sign_list: (n) => `Esta lista: ${casings(n)}`,
  sign_all_on: (day) => `Todo prometido para el ${day}`,
  sign_latest: (day) => `Todo junto a más tardar el ${day}`,
  sign_some_open: (n) => `${n} sin día prometido`,
  sign_none_promised: "Ningún día prometido",
  sign_hand_over: "Entregue el teléfono: la lista es para que la lean y la firmen.",
  sign_name: "Nombre de quien firma",
  sign_name_hint: "En letra de molde",
  sign_name_missing: "Escriba el nombre de quien firma o diga por qué nadie puede.",
  sign_pad: "Firma",
  sign_pad_aside: "Con el dedo, un lápiz o el ratón; basta el nombre.",
  sign_pad_hint: "Firme aquí",
  sign_pad_kept: "Firma guardada",
  sign_pad_short: "Un trazo, no un punto",
  sign_pad_failed:
    "Este teléfono no pudo guardar la firma. Trácela otra vez o déjela: basta el nombre.",
  sign_clear: "Borrar el trazo",
  sign_again: "La lista ya es otra. Hay que firmarla otra vez.",
  sign_has_read: (name) => `${name} ha leído esta lista`,
  sign_why: "¿Por qué no firman?",
  sign_why_missing: "Diga por qué no firman; la razón se guarda.",
  signed_by: (name) => `Firmó ${name}`,
  unsigned_because: (why) => `Sin firma: ${why}`,
  receipt_at: (store) => `en el mostrador de ${store}`,
  receipt_hand_back: "Devuelva el teléfono al chofer.",
  read_in: "Leer en",
  sign_how: "Firma",
  sign_nobody_words: "Algo más",
  sign_why_words: "En sus palabras",
  sign_nobody_say: "La lista queda sin firma. Se envía al cliente, con las fotos.",
  sign_refused_missing: "Elija por qué no firman; la razón se guarda.",
  receipt_scan: "Recibo en su propio teléfono",
  receipt_scan_say:
    "Escanee el cuadro con la cámara. La página está en cuanto este teléfono haya enviado; se abre durante 30 días, también en PDF.",
  unsigned_nobody: "Sin firma: no había nadie.",
  sign_endings: {
    signs: "Firma",
    refuses: "No quiere firmar",
    nobody: "No hay nadie",
  },
  sign_refusals: {
    count: "No acepta la cuenta",
    condition: "No acepta el estado",
    authority: "No puede firmar",
    other: "Otra cosa",
  },
  unsigned_refused: {
    count: "No quisieron firmar: no aceptan la cuenta.",
    condition: "No quisieron firmar: no aceptan el estado.",
    authority: "No quisieron firmar: nadie allí puede firmar.",
    other: "No quisieron firmar.",
  },
};
