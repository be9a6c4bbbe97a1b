/**
 * The way to a receipt for the signer's own phone: a square to be scanned off this screen. Drawn
 * here, without network; what it opens is there once this phone has sent. Null where another phone
 * told the end of this visit, or it had no key.
 */
import type { SignedFor } from "../../domain/operation";
import { receiptAddress } from "../../domain/receiptLink";
import { Square } from "../../ui/Square";
import { testid } from "../testids";
import { words } from "../words";
import { useSignedHere } from "./signedHere";

export function ReceiptSquare({ visit }: { visit: string }) {
  const told: (SignedFor & { receipt_key?: string }) | null = useSignedHere(visit);
  const w = words.value;
  if (!told?.receipt_key) return null;
  return (
    <section class="stack receipt-square" {...testid("receipt-square")}>
      <h2>{w.receipt_scan}</h2>
      <p>{w.receipt_scan_say}</p>
      <Square text={receiptAddress(location.origin, told.receipt_key)} name={w.receipt_scan} />
    </section>
  );
}
