/**
 * A truck's list at the dock: counted by hand first, before anything here says how many it should
 * be; then scan by scan against the list. Short, over, unknown and another list's are named at once.
 */
import { useEffect, useRef, useState } from "preact/hooks";
import { type Bell, bell } from "../../bridge/bell";
import { shown } from "../../domain/labels";
import { countIn, tell } from "../../domain/plantTelling";
import { OwnCount, useOwnCount } from "../../pickups/road/OwnCount";
import { Back } from "../../pickups/road/Top";
import { type Said, SaidLine } from "../../pickups/road/Verdict";
import { go } from "../../pickups/route";
import { testid } from "../../pickups/testids";
import { useSheet } from "../../pickups/yard/draft";
import { Bar } from "../../ui/Bar";
import type { Floor } from "../floor";
import { useInSight } from "../inSight";
import { LastScans } from "../LastScans";
import type { Consignment } from "../rows";
import { ScanLine } from "../ScanLine";
import { StationBar } from "../StationBar";
import { isA } from "../stations";
import { floorWords } from "../words";
import { siteSaid } from "./names";
import { countOf, isTo, listedAs, reckon, scannedFor, staysFor } from "./reckon";

const BLANK = { count: "", ended: false };

export function DockScreen({ floor, id }: { floor: Floor; id: string }) {
  const w = floorWords.value;
  const list = floor.lists.find(({ uid }) => uid === id);
  const sheet = useSheet<typeof BLANK>(`floor:list:${id}`, BLANK);
  if (!sheet.ready) return null;
  if (list === undefined)
    return (
      <div class="page floor stack">
        <Back />
        <h1 tabIndex={-1}>{w.list_gone}</h1>
      </div>
    );
  const own = countOf(floor.phone.now.value.floor.told, id);
  const counted = own?.counted ?? list.counted;
  const title =
    list.way === "in"
      ? w.list_from(siteSaid(floor, list.from))
      : w.list_to(siteSaid(floor, list.to));
  return (
    <div class="page floor">
      <StationBar floor={floor} title={false} />
      <Back />
      <h1 tabIndex={-1}>{title}</h1>
      {own === null ? (
        <Counting list={list} sheet={sheet} />
      ) : (
        <Scans floor={floor} list={list} counted={counted ?? 0} sheet={sheet} />
      )}
    </div>
  );
}

/** The tablet's own dock, or the first of the route where it stands elsewhere. */
const stationFor = ({ station, order }: Floor, kind: string): string =>
  isA(station, kind) ? station : (order.find((code) => isA(code, kind)) ?? kind);

type Given = {
  floor: Floor;
  list: Consignment;
  sheet: ReturnType<typeof useSheet<typeof BLANK>>;
};

function Counting({ list, sheet }: Omit<Given, "floor">) {
  const w = floorWords.value;
  const [failed, setFailed] = useState(false);
  const own = useOwnCount(sheet.fields.count, () => {
    const told = { consignment: list.uid, way: list.way, counted: Number(sheet.fields.count) };
    void sheet.enter(countIn(told), []).catch(() => setFailed(true));
  });
  return (
    <form class="stack" noValidate onSubmit={own.submit}>
      <p class="caution">{w.caution_dock}</p>
      <OwnCount
        title={list.way === "in" ? w.count_in : w.count_out}
        hint={w.count_hint}
        value={sheet.fields.count}
        fault={failed ? w.not_kept : own.fault}
        onValue={(count) => {
          own.clear();
          void sheet.fill({ count });
        }}
      />
      <Bar>
        <button type="submit" class="button primary" {...testid("count-done")}>
          {w.count_done}
        </button>
      </Bar>
    </form>
  );
}

function Scans({ floor, list, counted, sheet }: Given & { counted: number }) {
  const w = floorWords.value;
  const { phone, works, lists } = floor;
  const [said, setSaid] = useState<Said | null>(null);
  const sound = useRef<Bell | null>(null);
  const here = useRef(new Set<string>());
  const verdict = useInSight<HTMLDivElement>(said);
  useEffect(() => () => sound.current?.close(), []);
  const scanned = scannedFor(phone.now.value.floor.told, floor.told, list, { lists, works });
  const { short, over, stays } = reckon(list, scanned, works);

  function hear(next: Said) {
    sound.current ??= bell();
    sound.current.ring(next.tone === "good" ? "good" : "asks");
    setSaid(next);
  }

  async function scan(label: string, odd: string | null) {
    const { ranges } = phone.now.value;
    const is = isTo(label, list, { scanned, lists, works });
    if (is === "again" || here.current.has(label))
      return hear({ tone: "again", text: w.list_already(shown(label)) });
    const work = works.get(label);
    const named = listedAs(label, list, works);
    const one = list.labels.find((listed) => listed.label === named);
    const kept = staysFor(label, list, works);
    if (kept === "on_hold") return hear({ tone: "fault", text: w.list_held(shown(label)) });
    if (kept !== null) return hear({ tone: "fault", text: w.list_not_finished(shown(label)) });
    // Not one of the dealer's ranges: nobody here can answer for it.
    if (is === "unknown" && ranges.length > 0 && !ranges.includes(label.slice(0, 2)))
      return hear({ tone: "fault", text: w.list_foreign(shown(label)) });
    here.current.add(label);
    const told = {
      label,
      station: stationFor(floor, list.way === "in" ? "receiving" : "shipping"),
      outcome: list.way === "in" ? ("received" as const) : ("shipped" as const),
    };
    try {
      await phone.enter({ id: phone.deps.ids.next(), telling: tell(told) });
    } catch {
      return hear({ tone: "fault", text: w.not_kept });
    } finally {
      here.current.delete(label);
    }
    const about = one === undefined ? "" : [one.size, one.owner].filter(Boolean).join(" · ");
    const text = {
      listed: w.list_took(shown(label), about),
      on_another: w.list_another(shown(label)),
      inside: w.list_over(shown(label)),
      unknown: w.list_unknown(shown(label)),
    }[is as "listed"];
    const rejected =
      list.way === "out" && (one?.state === "rejected" || work?.stage === "rejected");
    hear({
      tone: is === "listed" ? "good" : "asks",
      text: odd === null ? text : `${text} ${odd}`,
      caution: rejected ? w.rejected_mark : null,
    });
  }

  const all = scanned.length >= counted;
  return (
    <>
      <p class="count big" {...testid("list-count")}>
        <b>{w.list_scanned(scanned.length, counted)}</b>
      </p>
      <div class="waits">
        <div class="stack">
          {!sheet.fields.ended && (
            <ScanLine
              floor={floor}
              title={list.way === "in" ? w.list_scan_in : w.list_scan_out}
              hint={w.scan_hint}
              onLabel={(label, odd) => void scan(label, odd)}
              whole={all}
            />
          )}
          <div ref={verdict}>
            <SaidLine said={said} />
          </div>
          {over.length > 0 && (
            <Named name="over" title={w.over_title(over.length)} labels={over} list={list} />
          )}
          {sheet.fields.ended && (
            <>
              <p class={counted === scanned.length ? "good" : "asks"} {...testid("reckoned")}>
                {counted === scanned.length
                  ? w.count_fits(counted)
                  : w.count_differs(counted, scanned.length)}
              </p>
              {short.length === 0 ? (
                <p class="good">{w.short_none}</p>
              ) : (
                <Named
                  name="short"
                  title={w.short_title(short.length)}
                  labels={short}
                  list={list}
                />
              )}
              {stays.length > 0 && (
                <Named
                  name="stays"
                  title={w.stays_title(stays.length)}
                  labels={stays}
                  list={list}
                />
              )}
            </>
          )}
        </div>
        <LastScans floor={floor} />
      </div>
      <Bar>
        {sheet.fields.ended ? (
          <div class="both">
            <button
              type="button"
              class="button answer next"
              onClick={() => {
                void sheet.clear();
                go();
              }}
              {...testid("list-over")}
            >
              {w.list_over_key}
            </button>
            <button
              type="button"
              class="button"
              onClick={() => void sheet.fill({ ended: false })}
              {...testid("list-on")}
            >
              {w.list_on}
            </button>
          </div>
        ) : (
          <button
            type="button"
            class={all ? "button primary" : "button wide"}
            onClick={() => void sheet.fill({ ended: true })}
            {...testid("list-end")}
          >
            {w.list_end}
          </button>
        )}
      </Bar>
    </>
  );
}

function Named(props: { name: string; title: string; labels: string[]; list: Consignment }) {
  return (
    <section class={props.name === "stays" ? "named" : "missing"} {...testid(props.name)}>
      <h2>{props.title}</h2>
      <ul>
        {props.labels.map((label) => {
          const one = props.list.labels.find((listed) => listed.label === label);
          return (
            <li key={label}>
              <span class="code">{shown(label)}</span>
              {one !== undefined && ` · ${[one.size, one.owner].filter(Boolean).join(" · ")}`}
            </li>
          );
        })}
      </ul>
    </section>
  );
}
