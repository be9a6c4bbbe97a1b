/** The end of a delivery: why something stays on the truck, then who signs for what was handed over. */
import { useEffect, useState } from "preact/hooks";
import { shown } from "../../domain/labels";
import { finishDelivery } from "../../domain/operation";
import { newReceiptKey } from "../../domain/receiptLink";
import type { Casing } from "../../domain/rows";
import { amend } from "../../store/local";
import { Bar } from "../../ui/Bar";
import { Field } from "../../ui/Field";
import { useBusy } from "../busy";
import { usePhone } from "../context";
import { go } from "../route";
import { Signing } from "../signing/Signing";
import {
  BLANK_SIGNING,
  otherPhotos,
  type SignedLine,
  type SigningFault,
  signedFor,
  signingFault,
} from "../signing/signing";
import { testid } from "../testids";
import { Unsaved } from "../Unsaved";
import { ownWords, words } from "../words";
import { useSheet } from "../yard/draft";
import { Photos } from "../yard/Photos";
import { deliveryOf, yardName } from "../yard/visits";
import { type Delivering, delivering } from "./DeliverScreen";
import { cautionOf } from "./doubts";
import { noteOf, REASONS } from "./endWords";
import { me } from "./road";
import { Back, ShutNotice } from "./Top";

const SET_DOWN_MOST = 120;
const NO_PHOTOS = { photos: [] };

export const endKey = (delivery: string): string => `delivery:${delivery}`;

export function EndScreen({ delivery: id }: { delivery: string }) {
  const now = usePhone().now.value;
  const open = delivering(now, id);
  const finished = deliveryOf(now, id)?.finished_at != null;
  const ready = open !== null && open.lines.length > 0;
  useEffect(() => {
    if (finished) go("delivery", id, "done");
    else if (!ready) go("delivery", id);
  }, [finished, ready, id]);
  return ready ? <End open={open} /> : null;
}

function End({ open }: { open: Delivering }) {
  const phone = usePhone();
  const now = phone.now.value;
  const w = words.value;
  const blank = { reasons: {} as Record<string, string>, set_down: "", ...BLANK_SIGNING };
  const sheet = useSheet(endKey(open.id), blank);
  const [fault, setFault] = useState<SigningFault | null>(null);
  const [failed, setFailed] = useState(false);
  const [busy, setBusy] = useState(false);
  const [drawing, setDrawing] = useBusy();
  const [developing, setDeveloping] = useBusy();
  const [missing, setMissing] = useState(false);
  const { reasons, set_down, nobody_there } = sheet.fields;
  const pictures = otherPhotos(sheet);
  const unseen = nobody_there && (set_down.trim() === "" || pictures.length === 0);
  const lines: SignedLine[] = open.lines.map((line) => {
    const casing = line.casing === null ? undefined : now.casings.get(line.casing);
    const said = cautionOf(casing ?? null);
    return { label: line.label, on: "", ...(said === null ? {} : { said }) };
  });

  // What was never on the truck needs no word of the driver's.
  const why = (casing: Casing): string =>
    reasons[casing.label] ?? (casing.holder === me(now) ? "" : "not_on_truck");

  function say(casings: Casing[], said: string): void {
    const told = casings.map(({ label }) => [label, said]);
    sheet.fill((latest) => ({ reasons: { ...latest.reasons, ...Object.fromEntries(told) } }));
  }

  const reason = (casing: Casing) => (
    <Reason
      key={casing.id}
      title={shown(casing.label)}
      why={why(casing)}
      onWhy={(said) => say([casing], said)}
    />
  );

  async function finish(event: Event) {
    event.preventDefault();
    if (busy || drawing || developing || !sheet.ready) return;
    const wrong = signingFault(sheet, lines, w);
    setFault(wrong);
    if (wrong !== null) return document.getElementById(wrong.at)?.focus();
    setMissing(unseen);
    if (unseen) return document.getElementById("set-down")?.focus();
    setBusy(true);
    try {
      const { told, photos } = await signedFor(sheet, lines, phone.camera);
      const telling = finishDelivery({
        delivery: open.id,
        yard: open.yard,
        casings: open.lines.map((line) => line.id),
        note: noteOf(
          open.left.map((casing) => [casing.label, why(casing)]),
          ownWords.value,
          nobody_there ? set_down.trim() : "",
        ),
        ...told,
        receipt_key: newReceiptKey(),
        photos: pictures.map(({ sha256 }) => sha256),
      });
      const proof = pictures.map(({ sha256, blob }) => ({ sha256, blob }));
      await sheet.enter(telling, [...photos, ...proof]);
      await amend(phone.deps.store.local, "deliveries", (all) =>
        (all ?? []).filter((one) => one.delivery !== open.id),
      );
      await phone.changed();
    } catch {
      setFailed(true);
      setBusy(false);
    }
  }

  return (
    <form class="page stack" noValidate onSubmit={(event) => void finish(event)}>
      <Back to={["delivery", open.id]} />
      <h1 tabIndex={-1}>{w.road_end_title}</h1>
      <p>
        <b>{yardName(now, open.yard)}</b>
      </p>
      {open.left.length > 0 && (
        <section class="stack" {...testid("not-delivered")}>
          <h2>{w.road_not_handed(open.left.length)}</h2>
          <p>{w.road_not_handed_say}</p>
          {open.left.length > 1 && (
            <Reason
              title={w.road_all_of_them}
              why={same(open.left.map((casing) => why(casing)))}
              onWhy={(said) => say(open.left, said)}
            />
          )}
          {open.left.length > 1 ? (
            <details>
              <summary>{w.road_one_by_one}</summary>
              {open.left.map(reason)}
            </details>
          ) : (
            open.left.map(reason)
          )}
        </section>
      )}
      <Signing
        sheet={sheet}
        lines={lines}
        promises={false}
        fault={fault}
        onFault={setFault}
        onBusy={setDrawing}
        nobodyThere={
          <Field
            id="set-down"
            title={w.day_set_down}
            hint={w.day_set_down_hint}
            value={set_down}
            fault={missing && set_down.trim() === "" ? w.day_set_down_missing : null}
            onValue={(said) => sheet.fill({ set_down: said })}
            input={{ ...testid("set-down"), maxLength: SET_DOWN_MOST }}
          />
        }
      />
      <Photos
        sheet={{ ...sheet, fields: NO_PHOTOS, photos: pictures }}
        busy={developing}
        onBusy={setDeveloping}
      />
      {nobody_there && (
        <p role="alert" class={missing && pictures.length === 0 ? "fault" : "soft"}>
          {missing && pictures.length === 0 ? w.day_photo_missing : w.day_photo_proof}
        </p>
      )}
      <Unsaved when={failed} />
      {now.shut !== null ? (
        <ShutNotice />
      ) : (
        <Bar>
          <button
            type="submit"
            class="button primary"
            disabled={busy || drawing || developing || !sheet.ready}
            {...testid("finish-delivery")}
          >
            {w.road_end_do(lines.length)}
          </button>
        </Bar>
      )}
    </form>
  );
}

/** What is said of all of them, or nothing where it is not the same. */
const same = (said: string[]): string => (said.every((one) => one === said[0]) ? said[0]! : "");

function Reason(props: { title: string; why: string; onWhy: (why: string) => void }) {
  const w = words.value;
  return (
    <fieldset class="reasons">
      <legend>{props.title}</legend>
      {REASONS.map((reason) => (
        <button
          key={reason}
          type="button"
          class="button"
          aria-pressed={props.why === reason}
          onClick={() => props.onWhy(props.why === reason ? "" : reason)}
        >
          {w.road_not_handed_reasons[reason]}
        </button>
      ))}
    </fieldset>
  );
}
