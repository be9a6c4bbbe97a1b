/** How labels come onto casings here: a setting of this device, and how many codes it has left. */
import { Choice } from "../../ui/Choice";
import { usePhone } from "../context";
import { testid } from "../testids";
import { print, printSaid } from "./printing";
import { choose, free, printing, stock, unprinted } from "./stock";
import { counterWords } from "./words";

export function PrintingChoice() {
  const phone = usePhone();
  const w = counterWords.value;
  const { how, stock: on } = printing.value;
  const left = free(stock.value.labels, phone.now.value.casings).length;
  return (
    <section class="stack">
      <PrintSaid />
      <PrintWaiting />
      <details class="printing" {...testid("printing")}>
        <summary>
          {w.printing}: {w.hows[how]}
        </summary>
        <div class="stack">
          <Choice
            name="print-how"
            title={w.printing_how}
            values={["at_once", "by_key", "from_roll"]}
            names={w.hows}
            value={how}
            onValue={(chosen) => void choose(phone, { how: chosen })}
          />
          <Choice
            name="print-stock"
            title={w.printing_stock}
            values={["roll", "sheet"]}
            names={w.stocks}
            value={on}
            onValue={(chosen) => void choose(phone, { stock: chosen })}
          />
          <p class="soft" {...testid("labels-left")}>
            {w.stock_left(left)}
          </p>
        </div>
      </details>
    </section>
  );
}

/** What became of the last print. */
export function PrintSaid() {
  const said = printSaid.value;
  return (
    <p role="status" class={said === null ? "hidden" : said.tone} {...testid("print-said")}>
      {said?.text}
    </p>
  );
}

/** Labels that are on casings and were not printed: after a lost connection, or a kill. */
function PrintWaiting() {
  const phone = usePhone();
  const wait = unprinted(phone.now.value);
  if (wait.length === 0) return null;
  return (
    <button
      type="button"
      class="button"
      onClick={() => void print(phone, wait)}
      {...testid("print-waiting")}
    >
      {counterWords.value.print_waiting(wait.length)}
    </button>
  );
}
