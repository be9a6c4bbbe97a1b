/** Labels to the printer, and what became of it in words: nothing here is waited for. */
import { signal } from "@preact/signals";
import { drawLabels, NoPdf } from "../../bridge/labels";
import type { Phone } from "../../bridge/phone";
import { printPdf } from "../../bridge/printer";
import { shown } from "../../domain/labels";
import { printedNow, printing } from "./stock";
import { counterWords } from "./words";

export interface PrintSaid {
  tone: "soft" | "good" | "asks" | "fault";
  text: string;
  labels: string[];
}

export const printSaid = signal<PrintSaid | null>(null);

/** One after the other: the second PDF would take the first one's frame away. */
let line: Promise<void> = Promise.resolve();

export function print(phone: Phone, labels: string[]): Promise<void> {
  line = line.then(() => printNow(phone, labels));
  return line;
}

async function printNow(phone: Phone, labels: string[]): Promise<void> {
  const w = counterWords.value;
  const say = (tone: PrintSaid["tone"], text: string) => {
    printSaid.value = { tone, text, labels };
  };
  say("soft", w.printing_now(labels.length));
  try {
    const pdf = await drawLabels(phone.deps, labels, printing.value.stock);
    const sent = await printPdf(pdf);
    if (sent === "blocked") return say("fault", w.print_blocked);
    await printedNow(phone, labels);
    say("good", sent === "sent" ? w.printed(labels.length) : w.print_opened(labels.length));
  } catch (no) {
    const why = no instanceof NoPdf ? no.said : null;
    if (why !== null) say("fault", w.print_refused(why));
    else say("fault", w.print_no_connection(labels.map(shown).join(", ")));
  }
}
