/** What a counter says otherwise than a yard: what is not taken goes home with its customer. */
import type { Language } from "../words";
import type { Words } from "../words.en";
import { counted } from "../plural";

export const atCounter: Record<Language, Partial<Words>> = {
  en: {
    spec_leave: "Do not take it",
    spec_stays:
      "It is not taken without a reason. Say why you take it all the same, or give it back.",
    spec_overrule_missing:
      "This casing should not be taken. Give a reason to take it, or give it back.",
    leave_do: "Not taken: they keep it",
    leave_say: "Kept with what was seen of it and named on the ticket. The next one follows.",
    left_title: "Not taken",
    left_n: (n) => `${n} not taken`,
    left_one: "Casing not taken",
    receipt_left: (n) => counted(n, "casing not taken", "casings not taken"),
    receipt_left_stop:
      "Given back with damage that makes it dangerous: never add air to it, do not run it, let trained people demount it (29 CFR 1910.177).",
    sign_hand_over: "Turn the screen to them: the list is theirs to read, and to sign.",
  },
  es: {
    spec_take: "Tómela",
    spec_overrule: "Tomarla de todos modos",
    spec_overrule_why: "¿Por qué se toma de todos modos?",
    spec_overruled: (why) => `Se toma de todos modos: ${why}`,
    left_taken: "Sí se toma",
    spec_leave: "No la tome",
    spec_stays: "No se toma sin un motivo. Diga por qué la toma de todos modos, o devuélvala.",
    spec_overrule_missing:
      "Esta carcasa no debería tomarse. Dé un motivo para tomarla, o devuélvala.",
    leave_do: "No se toma: se la quedan",
    leave_say: "Se guarda lo que se vio y consta en el comprobante. Sigue la siguiente.",
    left_title: "No se tomó",
    left_n: (n) => counted(n, "no se toma", "no se toman"),
    left_one: "Carcasa que no se toma",
    receipt_left: (n) => counted(n, "carcasa no se tomó", "carcasas no se tomaron"),
    receipt_left_stop:
      "Se devuelve con un daño que la hace peligrosa: nunca le ponga aire, no ruede con ella, que la desmonte gente capacitada (29 CFR 1910.177).",
    sign_hand_over: "Gire la pantalla hacia ellos: la lista es para que la lean y la firmen.",
  },
};
