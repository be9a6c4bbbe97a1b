/** The sheet of one pickup, which grows: the count always in sight, one casing after the other. */
import { useEffect, useState } from "preact/hooks";
import { Choice } from "../../ui/Choice";
import type { Pickup } from "../../domain/rows";
import { shown } from "../../domain/labels";
import { usePhone } from "../context";
import { go, goFrom, route } from "../route";
import { countsSaid } from "../seen/visitLines";
import { testid } from "../testids";
import { words } from "../words";
import { OpeningScreen } from "./bulk/OpeningScreen";
import { QuickForm } from "./bulk/QuickForm";
import { fitsQuick, goesQuick } from "./bulk/quick";
import { BLANK_EMPTYING, emptyingKey, trailerKey } from "./bulk/trailer";
import { isShut } from "./bulk/waiting";
import { CasingForm } from "./CasingForm";
import { CasingList } from "./CasingList";
import { customerCount, wheelsOf } from "./counts";
import { useSheet } from "./draft";
import { BLANK } from "./fields";
import { putAway as takeOff } from "./putAway";
import { VisitLines } from "./VisitLines";
import { finishKey, isOpen, pickupOf, sheetKey, yardName, yardOf } from "./visits";

export function SheetScreen({ pickup: id }: { pickup: string }) {
  const now = usePhone().now.value;
  const pickup = pickupOf(now, id);
  const yard = yardOf(now, id);
  const over = pickup !== null && !isOpen(pickup);
  useEffect(() => {
    if (over) go("pickup", id, "receipt");
    else if (yard === null) go();
  }, [over, yard, id]);
  if (yard === null || over) return null;
  if (pickup !== null && isShut(pickup)) return <Emptying pickup={pickup} />;
  return <Taking pickup={pickup} id={id} yard={yard} trailer="" />;
}

/** The trailer of a finished pickup: its seal and a count first, then it is labelled like a pile. */
function Emptying({ pickup }: { pickup: Pickup }) {
  const sheet = useSheet(emptyingKey(pickup.id), BLANK_EMPTYING);
  const { id, yard, trailer } = pickup;
  if (!sheet.ready || trailer === null) return null;
  if (!sheet.fields.opened) return <OpeningScreen sheet={sheet} trailer={trailer} yard={yard} />;
  return <Taking pickup={pickup} id={id} yard={yard} trailer={trailer.number} />;
}

/** `trailer`: its number while it is emptied; empty in a yard. */
function Taking(props: { pickup: Pickup | null; id: string; yard: string; trailer: string }) {
  const { pickup, id, yard, trailer } = props;
  const phone = usePhone();
  const now = phone.now.value;
  const w = words.value;
  const sheet = useSheet(sheetKey(id), BLANK);
  const [saved, setSaved] = useState<{ label: string } | "left" | null>(null);
  const [chosen, setChosen] = useState<"quick" | "whole" | null>(null);

  const casings = pickup?.casings ?? [];
  const lines = pickup?.lines ?? [];
  const empty = casings.length + lines.length === 0;
  const mayQuick = fitsQuick(sheet.fields, sheet.photos.length);
  const quick = mayQuick && (chosen ?? (goesQuick(casings) ? "quick" : "whole")) === "quick";
  const swap = now.drafts.some(({ key }) => key === trailerKey(id));
  const emptying = trailer !== "";
  const onSaved = (label: string) => {
    setSaved({ label });
    document.getElementById("label")?.focus();
  };
  const said = saved === null ? "" : saved === "left" ? w.left_saved : w.saved(shown(saved.label));
  return (
    <div class="page sheet">
      <div class="top">
        <div class="row">
          <div class="where">
            <h1 tabIndex={-1}>
              {emptying ? `${w.trailer(trailer)} · ${yardName(now, yard)}` : yardName(now, yard)}
            </h1>
            {emptying ? (
              <p class="count" {...testid("count")}>
                <b>{w.empty_labelled(casings.length)}</b>
              </p>
            ) : (
              <Count pickup={pickup} id={id} />
            )}
          </div>
          {emptying && (
            <button
              type="button"
              class="button"
              onClick={() => go("pickup", id, "emptied")}
              {...testid("emptied")}
            >
              {w.empty_done}
            </button>
          )}
          {!empty && !emptying && (
            <button
              type="button"
              class="button"
              aria-label={w.finish}
              onClick={() => go("pickup", id, "finish")}
              {...testid("finish")}
            >
              {w.finish_do}
            </button>
          )}
        </div>
        <p
          role="status"
          key={said}
          class={said === "" ? "hidden" : "good arrives"}
          {...testid("saved")}
        >
          {said}
        </p>
      </div>
      {empty && !emptying && (swap || !sheet.begun) && (
        <button
          type="button"
          class={swap ? "button wide next" : "button wide"}
          onClick={() => go("pickup", id, "trailer")}
          {...testid("take-trailer")}
        >
          {swap ? w.trailer_carry_on : w.trailer_take}
        </button>
      )}
      <section class="stack">
        <h2>{w.add_casing}</h2>
        {mayQuick && (
          <Choice
            name="way"
            title={w.quick_how}
            unseen
            values={["whole", "quick"]}
            names={{ whole: w.quick_whole, quick: w.quick }}
            value={quick ? "quick" : "whole"}
            onValue={setChosen}
          />
        )}
        {quick ? (
          <QuickForm pickup={id} yard={yard} sheet={sheet} before={casings} onSaved={onSaved} />
        ) : (
          <CasingForm
            pickup={id}
            yard={yard}
            sheet={sheet}
            corrects={null}
            before={casings}
            onSaved={onSaved}
            onLeft={() => {
              setSaved("left");
              document.getElementById("label")?.focus();
            }}
          />
        )}
      </section>
      <section class="stack">
        <h2>{w.list_title}</h2>
        {empty && <p class="soft">{w.list_none}</p>}
        <CasingList
          casings={[...casings]}
          onOpen={(casing) => go("pickup", id, "casing", casing.id)}
        />
        <VisitLines lines={lines} onOpen={(line) => go("pickup", id, line.kind, line.id)} />
        <button
          type="button"
          class="button"
          onClick={() => go("pickup", id, "scrap")}
          {...testid("scrap")}
        >
          {w.scrap_add}
        </button>
        {empty && !emptying && !sheet.begun && (
          <button type="button" class="button plain" onClick={() => void putAway()}>
            {w.put_away}
          </button>
        )}
      </section>
    </div>
  );

  async function putAway() {
    const here = route.value;
    await takeOff(phone, id);
    goFrom(here);
  }
}

/** "12 on this pickup, 6 scrap, 1 left here, customer says 14": each as soon as it is known. */
export function Count({ pickup, id }: { pickup: Pickup | null; id: string }) {
  const w = words.value;
  const { drafts } = usePhone().now.value;
  const asked = drafts.find((draft) => draft.key === finishKey(id))?.fields.count;
  const typed = customerCount(asked);
  const customer = pickup?.customer_count ?? (typed === "none" ? null : typed);
  const wheels = wheelsOf(pickup?.casings ?? []);
  const others = countsSaid(pickup?.lines ?? [], w, wheels);
  return (
    <p class="count" {...testid("count")}>
      <b>{w.on_this_pickup((pickup?.count ?? 0) - wheels)}</b>
      {others !== "" && `, ${others}`}
      {customer !== null && `, ${w.customer_says(customer)}`}
    </p>
  );
}
