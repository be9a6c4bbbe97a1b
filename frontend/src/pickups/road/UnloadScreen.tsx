/**
 * Unloading at the plant or a store's rack: counted first, blind; then scanned, each told at once;
 * then short and over are named against what this phone had on the truck.
 */
import { useState } from "preact/hooks";
import { isNamed } from "../../domain/replaced";
import { atUnloading } from "../../domain/asked";
import { shown } from "../../domain/labels";
import type { Casing } from "../../domain/rows";
import { holderAt, isPlant, lastMoveOf, wayFrom } from "../../domain/truck";
import { BLANK_UNLOADING, furtherAt, handedIn, type Unloading } from "../../domain/unloading";
import { Bar } from "../../ui/Bar";
import { usePhone } from "../context";
import { testid } from "../testids";
import { words } from "../words";
import { type Sheet, useSheet } from "../yard/draft";
import { unloadKey } from "../yard/visits";
import { CasingLine } from "./CasingLine";
import { Counting } from "./Counting";
import { cautionOf, questionOf } from "./doubts";
import { Reckoned } from "./Reckoned";
import { me, roadOf, runsNow, siteName, tellHandOver } from "./road";
import { type Heard, Scanning } from "./Scanning";
import { ScanTop, ShutNotice } from "./Top";
import type { Said } from "./Verdict";

export function UnloadScreen({ site }: { site: string }) {
  const { person } = usePhone().now.value;
  const sheet = useSheet<Unloading>(unloadKey(person), BLANK_UNLOADING);
  if (!sheet.ready) return null;
  const { began, ended } = sheet.fields;
  if (!began) return <Counting sheet={sheet} asked={site} />;
  return ended ? <Reckoned sheet={sheet} /> : <Handing sheet={sheet} />;
}

function Handing({ sheet }: { sheet: Sheet<Unloading> }) {
  const phone = usePhone();
  const now = phone.now.value;
  const w = words.value;
  const [asks, setAsks] = useState(false);
  const [trusts, setTrusts] = useState(false);
  const { site, count } = sheet.fields;
  const place = holderAt(now.sites, site);
  const came = handedIn(roadOf(now), sheet.fields);
  const counted = Number(count);
  const said = w.road_scanned_of(came.length, counted);
  const complete = came.length >= counted;

  async function scan(label: string): Promise<Heard> {
    const at = phone.now.value;
    const { later } = furtherAt(roadOf(at), runsNow(at, phone.deps.clock.now()), site);
    const judged = atUnloading(
      label,
      { casings: at.casings.values(), me: at.person ?? "", place },
      later,
    );
    const { casing } = judged;
    const again = handedIn(roadOf(at), sheet.fields).includes(label) || judged.what === "again";
    if (again) return { said: { tone: "again", text: w.road_in_already(shown(label)) } };
    const take = () => tell(label, casing);
    if (judged.what === "take" || (casing === null && trusts)) return { said: await take() };
    const texts = { no: w.road_not_in, yes: w.road_in_anyway, left: w.road_kept_on_truck };
    return {
      question: questionOf(at, label, judged, texts, async () => {
        if (casing === null) setTrusts(true);
        return await take();
      }),
    };
  }

  async function tell(label: string, casing: Casing | null): Promise<Said> {
    const giver = me(phone.now.value);
    const way = wayFrom(giver, casing, lastMoveOf(phone.now.value.moves, label));
    await tellHandOver(phone, { label, way, giver, taker: place });
    const text = casing ? w.road_in(shown(label)) : w.road_in_unknown(shown(label));
    return { tone: "good", text, caution: cautionOf(casing) };
  }

  return (
    <div class="page scan-page">
      <ScanTop
        title={isPlant(place) ? w.road_dock(siteName(now, site)) : w.road_rack(siteName(now, site))}
        count={said}
      />
      {!asks && <p class="caution">{w.caution_lift}</p>}
      {now.shut !== null ? (
        <ShutNotice />
      ) : (
        <Scanning
          onScan={scan}
          count={said}
          next={!complete}
          take={w.road_in_one}
          onAsks={setAsks}
        />
      )}
      <section>
        <h2>{w.road_scanned(came.length)}</h2>
        {came.length === 0 && <p class="soft">{w.road_scanned_none}</p>}
        <ul class="lines">
          {[...came].reverse().map((label) => (
            <CasingLine
              key={label}
              label={label}
              casing={[...now.casings.values()].find((one) => isNamed(one, label)) ?? null}
              done
            />
          ))}
        </ul>
      </section>
      {!asks && (
        <Bar>
          <button
            type="button"
            class={complete ? "button primary" : "button wide"}
            onClick={() => sheet.fill({ ended: true })}
            {...testid("end-unloading")}
          >
            {w.road_that_was_all}
          </button>
        </Bar>
      )}
    </div>
  );
}
