/** The ticket as a PDF, opened beside this page: to be kept or mailed. Paper needs no network. */
import { useState } from "preact/hooks";
import { drawTicket } from "../../bridge/tickets";
import { usePhone } from "../context";
import { testid } from "../testids";
import { language } from "../words";
import { counterWords } from "./words";

export function TicketPdf({ visit }: { visit: string }) {
  const phone = usePhone();
  const w = counterWords.value;
  const [busy, setBusy] = useState(false);
  const [none, setNone] = useState(false);

  async function show() {
    setBusy(true);
    setNone(false);
    const pdf = await drawTicket(phone.deps, visit, language.value);
    setBusy(false);
    if (pdf === null || open(URL.createObjectURL(pdf), "_blank") === null) setNone(true);
  }

  return (
    <>
      <button
        type="button"
        class="button"
        disabled={busy}
        onClick={() => void show()}
        {...testid("ticket-pdf")}
      >
        {w.ticket_pdf}
      </button>
      <p role="status" class={none ? "asks" : ""} {...testid("ticket-pdf-said")}>
        {none ? w.ticket_pdf_none : ""}
      </p>
    </>
  );
}
