/** What was left as a deposit at these drop-offs, as long as something of them is not back. */
import type { Casing } from "../../domain/rows";
import { dayOf } from "../../domain/promise";
import { usePhone } from "../context";
import { testid } from "../testids";
import { dayInWords, money } from "../words";
import { depositOf, depositSaid } from "./deposit";
import { counterWords } from "./words";

export function DepositLeft({ casings }: { casings: Casing[] }) {
  const w = counterWords.value;
  const { pickups } = usePhone().now.value;
  const visits = new Set(casings.map(({ pickup }) => pickup));
  return (
    <>
      {pickups
        .filter(({ id }) => visits.has(id))
        .map((pickup) => {
          const left = depositOf(pickup);
          if (left === null || pickup.finished_at === null) return null;
          const day = dayInWords(dayOf(Date.parse(pickup.finished_at)));
          return (
            <p key={pickup.id} class="notice" {...testid("deposit-left")}>
              {w.deposit_left(depositSaid(left, money), day)}
            </p>
          );
        })}
    </>
  );
}
