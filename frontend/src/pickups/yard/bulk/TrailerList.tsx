/** What is said of a trailer taken closed: to who signs for it, and on its receipt. */
import type { Trailer } from "../../../domain/operation";
import type { Pickup } from "../../../domain/rows";
import { testid } from "../../testids";
import { when, words } from "../../words";

/** `count` as it was typed. */
export function TrailerList({ trailer, count }: { trailer: Trailer; count: string }) {
  const w = words.value;
  const n = count.trim();
  return (
    <ul class="lines" {...testid("trailer-list")}>
      <li>
        <b>{w.trailer_list(trailer.number)}</b>
      </li>
      <li>{trailer.seal ? w.trailer_list_seal(trailer.seal) : w.trailer_list_no_seal}</li>
      {trailer.left && <li>{w.trailer_list_left(trailer.left)}</li>}
      <li>{n === "" ? w.trailer_list_no_count : w.trailer_list_count(Number(n))}</li>
      <li>{w.trailer_list_then}</li>
    </ul>
  );
}

/** On a receipt: the trailer, and whether its list is known. */
export function TrailerOf({ pickup, trailer }: { pickup: Pickup; trailer: Trailer }) {
  const w = words.value;
  const { customer_count: count, emptied_at } = pickup;
  if (emptied_at !== null)
    return (
      <p {...testid("trailer-emptied")}>
        <b>{w.trailer(trailer.number)}</b> · {w.trailer_emptied(when(emptied_at))}
      </p>
    );
  return (
    <>
      <TrailerList trailer={trailer} count={count === null ? "" : String(count)} />
      <p class="notice">{w.trailer_shut}</p>
    </>
  );
}
