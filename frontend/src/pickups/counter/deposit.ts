/**
 * A deposit at the end of a drop-off: typed in one run, the amount first, then how it was left. Said
 * only: whoever hands over gives it back or counts it in, and no account is kept here. Pure.
 */
import type { Pickup } from "../../domain/rows";
import { centsIn } from "../seen/seen";

export interface Deposit {
  cents: number;
  /** Cash or card, the number of its slip. */
  how: string;
}

/** What the wire takes of how it was left. */
export const HOW_MOST = 40;

/** As typed: null where there is none, "none" where it cannot be told. */
export function depositIn(typed: string): Deposit | "none" | null {
  if (typed.trim() === "") return null;
  const [, amount = "", how = ""] =
    /^\p{Currency_Symbol}?\s*([\d.,]+?)(?:(?:[,;]\s|\s)\s*(.*))?$/u.exec(typed.trim()) ?? [];
  const cents = centsIn(amount);
  return cents === null || cents === 0 || how.trim().length > HOW_MOST
    ? "none"
    : { cents, how: how.trim() };
}

export const depositOf = (
  pickup: Pick<Pickup, "deposit_cents" | "deposit_note">,
): Deposit | null =>
  pickup.deposit_cents === null ? null : { cents: pickup.deposit_cents, how: pickup.deposit_note };

/** Amount and how, as they are said everywhere. */
export const depositSaid = ({ cents, how }: Deposit, money: (cents: number) => string): string =>
  how === "" ? money(cents) : `${money(cents)}, ${how}`;
