/**
 * The number of a drop-off's ticket: six symbols and a check, from the drop-off's own id, so that a
 * device makes it without asking anybody. Pure.
 *
 * Symbols and check are those of labels (see labels.ts), the first is a letter; a body whose check
 * would be a symbol that is left out gives way to the next. Seven symbols, so no label is meant.
 */
import { checkSymbol, LETTERS, SYMBOLS, tidy } from "./labels";

export const TICKET_LENGTH = 7;
/** 48 bits of a UUIDv7 that are random (RFC 9562, 5.7). */
const RANDOM_DIGITS = 12;

export function ticketNumber(pickup: string): string {
  const start = Number.parseInt(pickup.replaceAll("-", "").slice(-RANDOM_DIGITS), 16);
  for (let value = start; ; value++) {
    let rest = Math.floor(value / LETTERS.length);
    let body = LETTERS[value % LETTERS.length]!;
    while (body.length < TICKET_LENGTH - 1) {
      body += SYMBOLS[rest % SYMBOLS.length];
      rest = Math.floor(rest / SYMBOLS.length);
    }
    const check = checkSymbol(body);
    if (SYMBOLS.includes(check)) return body + check;
  }
}

/** What a ticket's square holds: one letter before it, for a reader of labels to pass it by. */
export const ticketText = (number: string): string => `T/${number}`;

/** The number that was typed or read from a ticket; null where it is none. */
export function ticketIn(text: string): string | null {
  const number = tidy(text);
  const symbols = [...number];
  if (symbols.length !== TICKET_LENGTH || symbols.some((c) => !SYMBOLS.includes(c))) return null;
  const sound =
    LETTERS.includes(symbols[0]!) && checkSymbol(number.slice(0, -1)) === symbols.at(-1);
  return sound ? number : null;
}

/** As people read it: three symbols, a thin space, four. */
export const shownTicket = (number: string): string =>
  `${number.slice(0, 3)}\u2009${number.slice(3)}`;
