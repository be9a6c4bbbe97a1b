/** What drivers bring comes onto this store's rack: one scan, one hand-over. */
import { useState } from "preact/hooks";
import { shown } from "../../domain/labels";
import { handOver } from "../../domain/operation";
import type { Casing } from "../../domain/rows";
import { driver, isRejected, lastMoveOf, type Way, wayFrom } from "../../domain/truck";
import { type Move, wearing } from "../../domain/view";
import { usePhone } from "../context";
import { type Question, QuestionBox, type Said, SaidLine } from "../road/Verdict";
import { testid } from "../testids";
import { words } from "../words";
import { ToLookAt } from "../yard/bulk/BulkWork";
import { yardName } from "../yard/visits";
import { Back } from "./Back";
import { onTrucks } from "./rack";
import { ScanField } from "./ScanField";
import { reasonInWords } from "../said";
import { whereIs } from "./story";
import { storeOf } from "./visits";
import { counterWords } from "./words";

/** Whoever brings it, its way is that from where the record has it. */
const wayHere = (casing: Casing, moves: Move[]): Way =>
  wayFrom(casing.holder, casing, lastMoveOf(moves, casing.label));

/** Who had it by the record; a truck that nobody named came from its plant. */
const holderOf = ({ holder }: Casing): string => holder.replace(/^road:/, "plant:");

export function ReceiveScreen() {
  const phone = usePhone();
  const now = phone.now.value;
  const w = counterWords.value;
  const all = words.value;
  const place = `site:${storeOf(now)}`;
  const drivers = now.people.filter(({ role }) => role === "driver");
  const trucks = onTrucks(now.casings.values(), now.people);
  const [said, setSaid] = useState<Said | null>(null);
  const [question, setQuestion] = useState<Question | null>(null);
  const [chosen, setChosen] = useState("");
  // For what the record has elsewhere: whoever stands at the dock.
  const bringer = chosen || trucks[0]?.person.id || drivers[0]?.id || "";
  const nameOf = (id: string) => now.people.find((one) => one.id === id)?.name ?? "?";

  async function take(casing: Casing, giver: string): Promise<Said> {
    const way = wayHere(casing, phone.now.value.moves);
    const telling = handOver({ label: casing.label, way, giver, taker: place });
    await phone.enter({ id: phone.deps.ids.next(), telling });
    return {
      tone: "good",
      text: w.receive_done(shown(casing.label), nameOf(giver.split(":")[1] ?? "")),
      caution: isRejected(casing) ? w.rejected_caution : null,
    };
  }

  async function scan(label: string) {
    if (question !== null) return;
    const name = shown(label);
    const casing = wearing(now.casings.values(), label);
    if (casing === null) return setSaid({ tone: "fault", text: w.receive_unknown(name) });
    if (casing.holder === place) return setSaid({ tone: "again", text: w.receive_there(name) });
    const [kind, id = ""] = casing.holder.split(":");
    if (kind === "person" && now.people.some((one) => one.id === id))
      return setSaid(await told(() => take(casing, casing.holder)));
    setQuestion({
      title: w.look_again(name),
      lines: [
        w.receive_elsewhere(name, whereIs(now, casing)),
        w.receive_elsewhere_ask(nameOf(bringer)),
      ],
      grave: false,
      no: w.receive_no,
      yes: w.receive_yes,
      left: { tone: "again", text: w.receive_left(name) },
      onYes: () => told(() => take(casing, bringer === "" ? holderOf(casing) : driver(bringer))),
    });
  }

  /** What could not be written down is said; nothing is taken for told. */
  async function told(work: () => Promise<Said>): Promise<Said> {
    try {
      return await work();
    } catch {
      return { tone: "fault", text: all.save_failed };
    }
  }

  async function answer(yes: boolean) {
    const open = question;
    setQuestion(null);
    if (open !== null) setSaid(yes ? await open.onYes() : open.left);
    document.getElementById("label")?.focus();
  }

  return (
    <div class="page stack receive">
      <Back />
      <h1 tabIndex={-1}>{w.receive_title}</h1>
      {now.shut !== null ? (
        <p class="notice">{all.shut_save}</p>
      ) : (
        <>
          <p class="soft">{w.receive_say}</p>
          {question !== null ? (
            <QuestionBox question={question} onAnswer={(yes) => void answer(yes)} />
          ) : (
            <SaidLine said={said} />
          )}
          <div class="two">
            <ScanField onLabel={(label) => void scan(label)} />
            <div class="field">
              <label for="bringer">{w.receive_from}</label>
              <select
                id="bringer"
                value={bringer}
                onChange={(event) => setChosen((event.target as HTMLSelectElement).value)}
                {...testid("bringer")}
              >
                {drivers.map(({ id, name }) => (
                  <option key={id} value={id} selected={id === bringer}>
                    {name}
                  </option>
                ))}
              </select>
            </div>
          </div>
        </>
      )}
      <ToLookAt />
      {trucks.length === 0 && <p class="notice">{w.trucks_none}</p>}
      {trucks.map(({ person, casings }) => (
        <section key={person.id}>
          <h2>
            {person.name} · {all.casings(casings.length)}
          </h2>
          <ul class="lines">
            {casings.map((casing) => (
              <li key={casing.id} class="truck-line" {...testid(`truck-${casing.label}`)}>
                <span>
                  <b class="code">{shown(casing.label)}</b> {casing.size}
                  <br />
                  <span class="soft">{yardName(now, casing.yard)} · </span>
                  {isRejected(casing) ? (
                    <span class="fault">{w.rejected_why(reasonInWords(casing.reason))}</span>
                  ) : (
                    <span class="soft">
                      {wayHere(casing, now.moves) === "out" ? w.finished : w.goes_to_plant}
                    </span>
                  )}
                </span>
                {now.shut === null && (
                  <button
                    type="button"
                    class="button"
                    aria-label={w.receive_one(shown(casing.label))}
                    onClick={() => void scan(casing.label)}
                  >
                    {w.receive_key}
                  </button>
                )}
              </li>
            ))}
          </ul>
        </section>
      ))}
    </div>
  );
}
