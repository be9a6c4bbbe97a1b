/**
 * A trailer is taken closed and an empty one left: numbers, seal, the customer's count, photos, and
 * who signs for that. It ends the visit; the list comes where the trailer is emptied.
 */
import { useEffect, useRef, useState } from "preact/hooks";
import { finishPickup } from "../../../domain/operation";
import { newReceiptKey } from "../../../domain/receiptLink";
import { Bar } from "../../../ui/Bar";
import { Field } from "../../../ui/Field";
import { useBusy } from "../../busy";
import { usePhone } from "../../context";
import { go, goFrom, route } from "../../route";
import { Signing } from "../../signing/Signing";
import {
  endingOf,
  otherPhotos,
  type SigningFault,
  signedFor,
  signingFault,
} from "../../signing/signing";
import { testid } from "../../testids";
import { Unsaved } from "../../Unsaved";
import { words } from "../../words";
import { customerCount } from "../counts";
import { useSheet } from "../draft";
import { JUST_NOW } from "../FinishScreen";
import { Photos } from "../Photos";
import { putAway } from "../putAway";
import { pickupOf, yardName, yardOf } from "../visits";
import {
  BLANK_TRAILER,
  NUMBER_MOST,
  type TrailerFault,
  trailerFault,
  trailerKey,
  trailerLine,
  trailerOf,
} from "./trailer";
import { TrailerList } from "./TrailerList";

export function TrailerScreen({ pickup: id }: { pickup: string }) {
  const now = usePhone().now.value;
  const pickup = pickupOf(now, id);
  const yard = yardOf(now, id);
  // What is on a sheet already is finished as a sheet.
  const open = yard !== null && (pickup === null || isBlank(pickup));
  // From the press of the key on it is this screen that leads on.
  const ending = useRef(false);
  useEffect(() => {
    if (!open && !ending.current) go("pickup", id);
  }, [open, id]);
  return open ? <Swap pickup={id} yard={yard} ending={ending} /> : null;
}

const isBlank = (pickup: { casings: unknown[]; lines: unknown[]; finished_at: string | null }) =>
  pickup.finished_at === null && pickup.casings.length + pickup.lines.length === 0;

function Swap(props: { pickup: string; yard: string; ending: { current: boolean } }) {
  const { pickup, yard, ending } = props;
  const phone = usePhone();
  const now = phone.now.value;
  const w = words.value;
  const sheet = useSheet(trailerKey(pickup), BLANK_TRAILER);
  const { fields, fill } = sheet;
  const [fault, setFault] = useState<TrailerFault | null>(null);
  const [unsigned, setUnsigned] = useState<SigningFault | null>(null);
  const [failed, setFailed] = useState(false);
  const [busy, setBusy] = useState(false);
  const [drawing, setDrawing] = useBusy();
  const [developing, setDeveloping] = useBusy();
  const [missed, setMissed] = useState(false);
  const shut = now.shut !== null;
  const photos = otherPhotos(sheet);
  // Where nobody signs and nobody is there, the photos are all there is to show how it left.
  const unproven = endingOf(fields) === "nobody" && photos.length === 0;
  const lines = [trailerLine(fields)];
  const at = (where: TrailerFault["at"]) => (fault?.at === where ? fault.said : null);
  const say = (some: Partial<typeof fields>) => {
    setFault(null);
    fill(some);
  };

  async function end(event: Event) {
    event.preventDefault();
    const wrong = trailerFault(fields, w);
    setFault(wrong);
    if (wrong !== null) return document.getElementById(wrong.at)?.focus();
    const missing = signingFault(sheet, lines, w);
    setUnsigned(missing);
    if (missing !== null) return document.getElementById(missing.at)?.focus();
    setMissed(unproven);
    if (unproven) return document.querySelector<HTMLElement>("#trailer-photos input")?.focus();
    if (busy || drawing || developing || shut || !sheet.ready) return;
    setBusy(true);
    const here = route.value;
    try {
      const signed = await signedFor(sheet, lines, phone.camera);
      const counted = customerCount(fields.count);
      const telling = finishPickup({
        pickup,
        yard,
        casings: [],
        customer_count: counted === "none" ? null : counted,
        trailer: trailerOf(fields),
        ...signed.told,
        receipt_key: newReceiptKey(),
        photos: photos.map(({ sha256 }) => sha256),
      });
      const kept = photos.map(({ sha256, blob }) => ({ sha256, blob }));
      ending.current = true;
      await sheet.enter(telling, [...kept, ...signed.photos]);
      await putAway(phone, pickup);
      goFrom(here, "pickup", pickup, "receipt", JUST_NOW);
    } catch {
      ending.current = false;
      setFailed(true);
      setBusy(false);
    }
  }

  return (
    <form class="page stack" noValidate onSubmit={(event) => void end(event)}>
      <button type="button" class="button plain back" onClick={() => go("pickup", pickup)}>
        ‹ {w.back}
      </button>
      <h1 tabIndex={-1}>{w.trailer_title}</h1>
      <p>
        <b>{yardName(now, yard)}</b>
        <br />
        {w.trailer_say}
      </p>
      <p class="caution">{w.trailer_caution}</p>
      <Field
        id="trailer-number"
        title={w.trailer_number}
        hint={w.trailer_number_hint}
        value={fields.number}
        fault={at("trailer-number")}
        onValue={(number) => say({ number })}
        code
        input={{ ...testid("trailer-number"), maxLength: NUMBER_MOST, ...PLATE }}
      />
      <Field
        id="trailer-seal"
        title={w.trailer_seal}
        hint={w.trailer_seal_hint}
        value={fields.seal}
        onValue={(seal) => say({ seal })}
        code
        input={{ ...testid("trailer-seal"), maxLength: NUMBER_MOST, ...PLATE }}
      />
      <Field
        id="trailer-left"
        title={w.trailer_left}
        hint={w.trailer_left_hint}
        value={fields.left}
        fault={at("trailer-left")}
        onValue={(left) => say({ left })}
        code
        input={{ ...testid("trailer-left"), maxLength: NUMBER_MOST, ...PLATE }}
      />
      <Field
        id="customer-count"
        title={w.trailer_count}
        hint={w.trailer_count_hint}
        value={fields.count}
        fault={at("customer-count")}
        onValue={(count) => say({ count })}
        input={{ ...testid("customer-count"), inputMode: "numeric" }}
      />
      <section id="trailer-photos">
        <p class="soft">{w.trailer_photos}</p>
        <Photos sheet={{ ...sheet, photos }} busy={developing} onBusy={setDeveloping} />
        <p
          role="alert"
          class={missed && unproven ? "fault" : ""}
          {...testid("trailer-photo-fault")}
        >
          {missed && unproven ? w.trailer_photo_missing : ""}
        </p>
      </section>
      <Signing
        sheet={sheet}
        lines={lines}
        list={<TrailerList trailer={trailerOf(fields)} count={fields.count} />}
        fault={unsigned}
        onFault={setUnsigned}
        onBusy={setDrawing}
        nobodyThere={<p class="soft">{w.trailer_photo_missing}</p>}
      />
      <Unsaved when={failed} />
      {shut ? (
        <p class="notice">{w.shut_save}</p>
      ) : (
        <Bar>
          <button
            type="submit"
            class="button primary"
            disabled={busy || drawing || developing || !sheet.ready}
            {...testid("trailer-end")}
          >
            {w.trailer_end} {fields.number.trim()}
          </button>
        </Bar>
      )}
    </form>
  );
}

const PLATE = { spellcheck: false, autocapitalize: "characters", enterkeyhint: "next" } as const;
