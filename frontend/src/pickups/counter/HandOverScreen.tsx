/**
 * Finished work to its owner: scanned or ticked, rejected ones with their caution, signed for. A
 * casing of somebody else's, or one that is on hold, is asked about before it comes onto the list.
 */
import { useState } from "preact/hooks";
import { shown } from "../../domain/labels";
import type { Casing } from "../../domain/rows";
import { usePhone } from "../context";
import { QuestionBox, type Said, SaidLine } from "../road/Verdict";
import { go } from "../route";
import { ReceiptSquare } from "../signing/ReceiptSquare";
import { BLANK_SIGNING } from "../signing/signing";
import { testid } from "../testids";
import { when, words } from "../words";
import { useSheet } from "../yard/draft";
import { deliveryOf } from "../yard/visits";
import { Back } from "./Back";
import type { Customer } from "./find";
import { BLANK_HAND_OVER, HandOverEnd } from "./HandOverEnd";
import {
  type Chosen,
  doubtsAbout,
  judge,
  keptSince,
  leftOver,
  type Line,
  listed,
} from "./handOver";
import { type Asking, askedAbout, fail, taken } from "./handOverAsked";
import { isBack, isReady, ownerOf, waitingFor } from "./rack";
import { ReadyLine } from "./ReadyLine";
import { ScanField } from "./ScanField";
import { customerOf, storeOf } from "./visits";
import { counterWords } from "./words";

export function HandOverScreen({ customer: id }: { customer: string }) {
  const now = usePhone().now.value;
  const customer = customerOf(now, id);
  if (customer === null)
    return (
      <div class="page stack">
        <Back />
        <h1 tabIndex={-1}>{words.value.unknown_yard}</h1>
      </div>
    );
  return <HandOver customer={customer} />;
}

function HandOver({ customer }: { customer: Customer }) {
  const phone = usePhone();
  const now = phone.now.value;
  const w = counterWords.value;
  const store = storeOf(now);
  const sheet = useSheet(`hand-over:${customer.id}`, BLANK_HAND_OVER);
  const [said, setSaid] = useState<Said | null>(null);
  const [question, setQuestion] = useState<Asking | null>(null);
  const [done, setDone] = useState<{ count: number; delivery: string } | null>(null);

  const [opened] = useState(() => phone.deps.clock.now());
  const lines = listed(sheet.fields.lines, deliveryOf(now, sheet.fields.delivery));
  const kept = keptSince(lines, opened);
  const here = { yards: now.yards, store, customer: customer.id };
  const isForeign = (casing: Casing) => ownerOf(casing, now.yards).id !== customer.id;
  const waiting = waitingFor(now.casings.values(), store, now.yards);
  const ready = waiting.find((owned) => owned.id === customer.id)?.casings ?? [];
  // On the rack too, and not to leave it before somebody has looked again.
  const held = [...now.casings.values()].filter(
    (casing) => isBack(casing, store) && !isReady(casing, store) && !isForeign(casing),
  );
  const chosen = lines.flatMap((line): Chosen[] => {
    const casing = now.casings.get(line.casing) ?? null;
    const label = casing?.label ?? line.told;
    if (label === null) return [];
    const foreign = casing !== null && isForeign(casing);
    return [{ label, casing, operation: line.operation, foreign, told: line.told !== null }];
  });
  const others = chosen
    .flatMap(({ casing }) => casing ?? [])
    .filter(({ id }) => [...ready, ...held].every((one) => one.id !== id));
  const shownCasings = [...ready, ...held, ...others];
  const ids = new Set([...ready.map(({ id }) => id), ...lines.map((line) => line.casing)]);
  const asking = (casing: Casing): Asking | null => {
    const doubts = doubtsAbout(casing, here);
    if (doubts.length === 0) return null;
    return askedAbout({ now, customer }, casing, doubts, () => add([casing], true));
  };

  function add(casings: Casing[], asked = false) {
    const added = new Set(casings.map(({ id }) => id));
    const tickedAt = phone.deps.clock.now();
    // A scanner may send the next label before this one is drawn: what was filled in last counts.
    sheet.fill((latest) => {
      const known = listed(latest.lines, deliveryOf(now, latest.delivery));
      const there = known.map(({ told: _, ...line }): Line => {
        return asked && added.has(line.casing) ? { ...line, asked } : line;
      });
      const fresh = casings
        .filter(({ id }) => there.every((line) => line.casing !== id))
        .map(({ id }) => ({ casing: id, operation: phone.deps.ids.next(), asked, at: tickedAt }));
      const delivery = latest.delivery || phone.deps.ids.next();
      return { delivery, lines: [...there, ...fresh] };
    });
  }

  /** What is told stays on the list: it is to be signed for. */
  const takeOff = (id: string) =>
    sheet.fill((latest) => ({ lines: latest.lines.filter((line) => line.casing !== id) }));

  /** Its key is gone with the last tick: the next thing to do is to sign. */
  function addAll() {
    add(ready);
    const next = () => document.getElementById("signer") ?? document.querySelector("h1");
    setTimeout(() => next()?.focus());
  }

  /** What an earlier try has left is taken off; what is told stays, and is signed for anew. */
  function beginAnew() {
    const left = new Set(leftOver(lines, opened).map(({ operation }) => operation));
    sheet.fill((latest) => ({
      ...BLANK_SIGNING,
      lines: latest.lines.filter(({ operation }) => !left.has(operation)),
    }));
    document.getElementById("label")?.focus();
  }

  function tick(casing: Casing) {
    const asked = asking(casing);
    if (asked === null) add([casing]);
    else setQuestion(asked);
  }

  function scan(label: string) {
    if (question !== null) return;
    const judged = judge(label, { ...here, casings: now.casings, lines });
    const name = shown(label);
    if (judged.what === "unknown") return setSaid(fail(w.hand_over_unknown(name)));
    const { casing } = judged;
    switch (judged.what) {
      case "again":
        return setSaid({ tone: "again", text: w.hand_over_twice(name) });
      case "back":
        return setSaid(fail(w.hand_over_back(name)));
      case "take":
        add([casing]);
        return setSaid(taken(casing));
      case "ask":
        return setQuestion(asking(casing));
    }
  }

  async function answer(yes: boolean) {
    const open = question;
    setQuestion(null);
    if (open !== null && !yes) takeOff(open.casing);
    if (open !== null) setSaid(yes ? await open.onYes() : open.left);
    document.getElementById("label")?.focus();
  }

  /** About the first that is odd by now and was not asked about yet. */
  function askAgain(): boolean {
    const asked = lines
      .filter((line) => line.told === null && line.asked !== true)
      .flatMap((line) => now.casings.get(line.casing) ?? [])
      .flatMap((casing) => asking(casing) ?? [])[0];
    if (asked === undefined) return false;
    setQuestion(asked);
    return true;
  }

  if (done !== null)
    return (
      <div class="page stack">
        <h1 tabIndex={-1}>{customer.name}</h1>
        <p class="good count big" role="status" {...testid("handed-over")}>
          {w.hand_over_done(done.count)}
        </p>
        <div class="keys-row">
          <button id="handed-over" type="button" class="button next" onClick={() => go()}>
            {w.ticket_done}
          </button>
          <button type="button" class="button" onClick={() => go("customer", customer.id)}>
            {customer.name}
          </button>
        </div>
        <ReceiptSquare visit={done.delivery} />
      </div>
    );

  return (
    <div class="page handover">
      <header class="checkin-top">
        <Back to={["customer", customer.id]} />
        <h1 tabIndex={-1}>{w.hand_over_title(customer.name)}</h1>
        <p class="count big" {...testid("hand-over-count")}>
          <b>{w.hand_over_count(chosen.length, ids.size)}</b>
        </p>
      </header>
      <section class="stack handover-scan">
        <p class="soft">{w.hand_over_say}</p>
        {question !== null ? (
          <QuestionBox question={question} onAnswer={(yes) => void answer(yes)} />
        ) : (
          <SaidLine said={said} />
        )}
        <ScanField onLabel={scan} />
        {kept !== null && (
          <div class="notice" {...testid("hand-over-kept")}>
            <p>{w.hand_over_kept(when(kept))}</p>
            <button type="button" class="button" onClick={beginAnew} {...testid("hand-over-anew")}>
              {w.hand_over_anew}
            </button>
          </div>
        )}
        {shownCasings.length === 0 && <p class="notice">{w.hand_over_none}</p>}
        {ready.length > 1 && ready.some(({ id }) => lines.every((one) => one.casing !== id)) && (
          <button type="button" class="button" onClick={addAll} {...testid("hand-over-all")}>
            {w.hand_over_all}
          </button>
        )}
        <ul class="lines ready">
          {shownCasings.map((casing) => (
            <ReadyLine
              key={casing.id}
              casing={casing}
              ticked={lines.some((line) => line.casing === casing.id)}
              told={lines.some((line) => line.casing === casing.id && line.told !== null)}
              foreign={isForeign(casing)}
              onTick={(on) => (on ? tick(casing) : takeOff(casing.id))}
            />
          ))}
        </ul>
      </section>
      <HandOverEnd
        customer={customer}
        sheet={sheet}
        chosen={chosen}
        theirs={shownCasings.filter((casing) => !isForeign(casing))}
        asks={question !== null}
        onAskAgain={askAgain}
        onDone={(count, delivery) => {
          setSaid(null);
          setDone({ count, delivery });
          setTimeout(() => document.getElementById("handed-over")?.focus());
        }}
      />
    </div>
  );
}
