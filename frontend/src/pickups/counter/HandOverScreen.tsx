/**
 * Finished work to its owner: scanned or ticked, rejected ones with their caution, signed for. A
 * casing of somebody else's, or one that is on hold, is asked about before it comes onto the list.
 */
import { useState } from "preact/hooks";
import { type Doubt, isGrave } from "../../domain/asked";
import { Unsaved } from "../Unsaved";
import { shown } from "../../domain/labels";
import type { Casing } from "../../domain/rows";
import { isRejected } from "../../domain/truck";
import { usePhone } from "../context";
import { type Question, QuestionBox, type Said, SaidLine } from "../road/Verdict";
import { go } from "../route";
import { Signing } from "../signing/Signing";
import {
  BLANK_SIGNING,
  IN_PERSON,
  type SigningFault,
  type SigningFields,
  signedFor,
  signingFault,
} from "../signing/signing";
import { testid } from "../testids";
import { when, words } from "../words";
import { useSheet } from "../yard/draft";
import { deliveryOf, yardName } from "../yard/visits";
import { Back } from "./Back";
import { DepositLeft } from "./DepositLeft";
import type { Customer } from "./find";
import {
  type Chosen,
  doubtsAbout,
  judge,
  keptSince,
  leftOver,
  type Line,
  listed,
  told,
} from "./handOver";
import { nameToEnd } from "./keys";
import { isBack, isReady, ownerOf, waitingFor } from "./rack";
import { ReadyLine } from "./ReadyLine";
import { ScanField } from "./ScanField";
import { reasonInWords } from "../said";
import { whereIs } from "./story";
import { customerOf, storeOf } from "./visits";
import { counterWords } from "./words";

interface HandOverFields extends SigningFields {
  delivery: string;
  lines: Line[];
}

/** A question, and the casing that it is about. */
interface Asking extends Question {
  casing: string;
}

const BLANK: HandOverFields = { delivery: "", lines: [], ...BLANK_SIGNING };

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
  const all = words.value;
  const store = storeOf(now);
  const sheet = useSheet(`hand-over:${customer.id}`, BLANK);
  const [said, setSaid] = useState<Said | null>(null);
  const [question, setQuestion] = useState<Asking | null>(null);
  const [fault, setFault] = useState<SigningFault | null>(null);
  const [drawing, setDrawing] = useState(false);
  const [busy, setBusy] = useState(false);
  const [failed, setFailed] = useState(false);
  const [done, setDone] = useState<number | null>(null);

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
  const signed = chosen.map(({ label, casing, foreign }) => ({
    label,
    on: "",
    said: [
      casing !== null && isRejected(casing)
        ? `${w.rejected_caution} – ${reasonInWords(casing.reason)}`
        : "",
      casing !== null && foreign ? w.foreign_line(ownerOf(casing, now.yards).name) : "",
    ]
      .filter(Boolean)
      .join(". "),
  }));

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
    const doubts = doubtsAbout(casing, here);
    if (doubts.length === 0) return add([casing]);
    setQuestion(askedAbout(casing, doubts));
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
        return setQuestion(askedAbout(casing, judged.doubts));
    }
  }

  const taken = (casing: Casing): Said => ({
    tone: "good",
    text: w.hand_over_ticked(shown(casing.label)),
    caution: isRejected(casing) ? w.rejected_caution : null,
  });

  function why(doubt: Doubt, casing: Casing): string[] {
    const name = shown(casing.label);
    switch (doubt) {
      case "other_customer": {
        const owner = yardName(now, casing.yard);
        return [w.hand_over_foreign(name, owner, customer.name), w.hand_over_question];
      }
      case "dealers":
        return [all.road_doubt_dealers];
      case "on_hold":
        return [all.road_doubt_on_hold];
      case "in_question":
        return [all.road_doubt_in_question];
      default:
        return [w.hand_over_not_ready(name, whereIs(now, casing))];
    }
  }

  function askedAbout(casing: Casing, doubts: Doubt[]): Asking {
    const name = shown(casing.label);
    const grave = isGrave(doubts);
    const stop = doubts.includes("other_customer") ? w.hand_over_stop : all.road_stop(name);
    return {
      casing: casing.id,
      title: grave ? stop : w.look_again(name),
      lines: doubts.flatMap((doubt) => why(doubt, casing)),
      grave,
      no: w.hand_over_aside,
      yes: w.hand_over_all_the_same,
      left: { tone: "again", text: `${name}: ${w.hand_over_aside}` },
      async onYes() {
        add([casing], true);
        return taken(casing);
      },
    };
  }

  async function answer(yes: boolean) {
    const open = question;
    setQuestion(null);
    if (open !== null && !yes) takeOff(open.casing);
    if (open !== null) setSaid(yes ? await open.onYes() : open.left);
    document.getElementById("label")?.focus();
  }

  async function handOver() {
    if (chosen.length === 0) return document.getElementById("label")?.focus();
    const wrong = signingFault(sheet, signed, all);
    setFault(wrong);
    if (wrong !== null) {
      setTimeout(() => document.getElementById(wrong.at)?.focus());
      return;
    }
    if (busy || drawing || question !== null || now.shut !== null) return;
    // The plant or the office may have spoken since it came onto the list.
    for (const line of lines) {
      const casing = now.casings.get(line.casing);
      if (casing === undefined || line.told !== null || line.asked === true) continue;
      const doubts = doubtsAbout(casing, here);
      if (doubts.length > 0) return setQuestion(askedAbout(casing, doubts));
    }
    setBusy(true);
    setFailed(false);
    try {
      const { told: signing, photos } = await signedFor(sheet, signed, phone.camera);
      const own = chosen.find(({ casing, foreign }) => casing !== null && !foreign)?.casing?.yard;
      const visit = {
        delivery: sheet.fields.delivery,
        end: sheet.id,
        store,
        yard: own ?? customer.yards[0]!.id,
      };
      // Each has its id already: after a kill in the middle the same are entered, none twice.
      for (const { id, telling } of told(visit, chosen, signing))
        await phone.enter({ id, telling, photos: id === visit.end ? photos : [] });
      const count = chosen.length;
      await sheet.clear();
      setSaid(null);
      setDone(count);
      setTimeout(() => document.getElementById("handed-over")?.focus());
    } catch {
      setFailed(true);
    } finally {
      setBusy(false);
    }
  }

  if (done !== null)
    return (
      <div class="page stack">
        <h1 tabIndex={-1}>{customer.name}</h1>
        <p class="good count big" role="status" {...testid("handed-over")}>
          {w.hand_over_done(done)}
        </p>
        <div class="keys-row">
          <button id="handed-over" type="button" class="button next" onClick={() => go()}>
            {w.ticket_done}
          </button>
          <button type="button" class="button" onClick={() => go("customer", customer.id)}>
            {customer.name}
          </button>
        </div>
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
      <form
        class="stack finish"
        noValidate
        aria-label={all.sign_title}
        onKeyDownCapture={(event) => nameToEnd(event, "hand-over-confirm")}
        onSubmit={(event) => {
          event.preventDefault();
          void handOver();
        }}
      >
        <DepositLeft casings={shownCasings.filter((casing) => !isForeign(casing))} />
        {chosen.length > 0 ? (
          <Signing
            sheet={sheet}
            lines={signed}
            fault={fault}
            onFault={setFault}
            onBusy={setDrawing}
            promises={false}
            endings={IN_PERSON}
          />
        ) : (
          <p class="soft">{w.hand_over_pick}</p>
        )}
        <Unsaved when={failed} />
        {now.shut !== null ? (
          <p class="notice">{all.shut_save}</p>
        ) : (
          chosen.length > 0 && (
            <button
              type="submit"
              class="button primary"
              disabled={busy || drawing || question !== null || !sheet.ready}
              id="hand-over-confirm"
              {...testid("hand-over-confirm")}
            >
              {w.hand_over_do(chosen.length)}
            </button>
          )
        )}
      </form>
    </div>
  );
}

const fail = (text: string): Said => ({ tone: "fault", text });
