/** Lo que se lee en un mostrador sobre depósitos y lo que espera a su dueño, en español. */
import { counted } from "../plural";
import type { waiting as english } from "./words.waiting.en";

const days = (n: number) => counted(n, "día", "días");

export const waiting: typeof english = {
  deposit: "Depósito",
  deposit_hint: "Importe y luego cómo: 50 efectivo, recibo 88. Vacío si no hay",
  deposit_back: (said) => `Anotado como ${said}`,
  deposit_fault: (typed) =>
    `«${typed}»: primero el importe, de 0.01 a 99999.99, luego un espacio y cómo, hasta 40 caracteres.`,
  deposit_ticket: (said) => `Depósito entregado: ${said}.`,
  deposit_left: (said, day) => `Depósito dejado el ${day}: ${said}. Devuélvalo o descuéntelo.`,

  ticket_pdf: "En PDF",
  ticket_pdf_none:
    "Ahora no hay PDF: el servidor lo dibuja cuando esta entrega se ha enviado y nada de ella está en duda. Imprima esta página.",

  here_days: (n) => (n === 0 ? "aquí desde hoy" : `aquí hace ${days(n)}`),
  taken_days: (n) => (n === 0 ? "recibida hoy" : `recibida hace ${days(n)}`),
  next_call: "Llámelos",
  next_write: "Escríbales",
  next_decide: "Decide la oficina",
  next_decided: "La oficina ya decidió",
  next_wait: (day) => `Nada antes del ${day}`,
  remind_title: (name) => `${name}: para retirar`,
  remind_call: (name, phone) => `Llamar a ${name}, ${phone}`,
  remind_no_number:
    "Aquí no se conoce ningún número suyo. La oficina lo anota con los contactos del cliente.",
  remind_none: "Nada suyo espera aquí para retirar.",
  remind_what: "¿Qué se hizo?",
  remind_steps: {
    called: "Se llamó",
    written: "Debe salir un aviso",
    hold: "Guardarla más tiempo",
  },
  remind_whom: "Habló con",
  remind_said: "Qué se dijo",
  remind_said_hint: "O que nadie contestó",
  remind_why: "Por qué",
  remind_until: "Se les guarda hasta",
  remind_until_called: "Si nombraron un día",
  remind_until_missing: "Dé el día hasta el que se les guarda, desde hoy y a más tardar de 2099.",
  remind_said_missing: "Diga qué respondieron, o que nadie contestó.",
  remind_written_say:
    "Sale por correo, en su idioma, a todos los suyos que reciben correo nuestro: qué espera, desde cuándo, hasta cuándo se guarda, qué se pide. Si nadie suyo tiene dirección, escríbales por correo postal.",
  remind_do: {
    called: "Anotar la llamada",
    written: "Enviar el aviso",
    hold: "Guardarla",
  },
  remind_law:
    "Siguen siendo de su dueño. La falta de respuesta no las hace nuestras ni desecho; la ley sobre bienes sin retirar cambia según el estado, y decide la oficina.",
  remind_days: (call, write) =>
    `Se propone a los ${days(call)} aquí, y ${days(write)} después de la última llamada: práctica común, sin fuente publicada. Lo fija la oficina.`,
  step_called: (when, who) => `${when}, llamó ${who}`,
  step_written: (when, who) => `${when}, ${who} hizo enviar un aviso`,
  step_hold: (when, who) => `${when}, ${who} la guarda`,
  step_decided: (when, who) => `${when}, ${who} decidió`,
  step_nobody: "alguien",
  step_until: (day) => `se guarda hasta el ${day}`,
  decisions: {
    keep: "seguir esperando",
    deliver: "devolverla en camión",
    buy: "ofrecer comprarla",
    other: "otra cosa",
  },
};
