/**
 * A cure load: its number and chamber, then scan by scan what is set in, or out again. What went
 * in and did not come out stands in sight until it does. The chamber's door, interlock and lockout
 * are the machine's: nothing here opens, starts or releases it.
 */
import { useEffect, useRef, useState } from "preact/hooks";
import { type Bell, bell } from "../../bridge/bell";
import { shown } from "../../domain/labels";
import { tell } from "../../domain/plantTelling";
import { Back } from "../../pickups/road/Top";
import { type Said, SaidLine } from "../../pickups/road/Verdict";
import { testid } from "../../pickups/testids";
import { when } from "../../pickups/words";
import type { Floor } from "../floor";
import { LastScans } from "../LastScans";
import { inEnvelope, missingFrom, takesIn } from "../loads";
import type { Load } from "../rows";
import { ScanLine } from "../ScanLine";
import { StationBar } from "../StationBar";
import { isA } from "../stations";
import { floorWords } from "../words";
import { LoadHead } from "./LoadHead";
import { LoadKeys } from "./LoadKeys";
import { OwnCaution } from "./OwnCaution";
import { TakeBack } from "./TakeBack";

export function LoadScreen({ floor, id }: { floor: Floor; id: string }) {
  const load = floor.loads.find(({ uid, also }) => uid === id || also.includes(id));
  return (
    <div class="page floor">
      <StationBar floor={floor} title={false} />
      <Back />
      {load === undefined || load.number === "" ? (
        <LoadHead floor={floor} id={id} />
      ) : (
        <Setting floor={floor} load={load} />
      )}
    </div>
  );
}

function Setting({ floor, load }: { floor: Floor; load: Load }) {
  const w = floorWords.value;
  const { phone, station, works } = floor;
  const [said, setSaid] = useState<Said | null>(null);
  const sound = useRef<Bell | null>(null);
  /** Told a moment ago: the screen may not have drawn it, however fast scans come. */
  const here = useRef(new Set<string>());
  useEffect(() => () => sound.current?.close(), []);
  const out = isA(station, "stripping");
  const scans = out ? load.set_in.length > 0 : takesIn(load);
  const missing = missingFrom(load);

  function hear(next: Said) {
    sound.current ??= bell();
    sound.current.ring(next.tone === "good" ? "good" : "asks");
    setSaid(next);
  }

  async function scan(label: string, odd: string | null) {
    const known = out ? load.set_out : load.set_in.map((one) => one.label);
    const work = works.get(label);
    const worn = work?.label || label;
    if (known.includes(worn) || here.current.has(worn))
      return hear({ tone: "again", text: w.load_already(shown(worn)) });
    const another = floor.loads.find(
      ({ uid, state, set_in }) =>
        uid !== load.uid && state === "setting" && set_in.some((one) => one.label === worn),
    );
    if (!out && another !== undefined)
      return hear({ tone: "fault", text: w.load_in_another(shown(worn), another.number) });
    if (work !== undefined && (work.rejections.length > 0 || (!out && work.holds.length > 0)))
      return hear({ tone: "fault", text: w.load_stands(shown(worn)) });
    here.current.add(worn);
    const envelope =
      load.set_in.find((one) => one.label === worn)?.envelope || work?.envelope || "";
    const told = {
      label: worn,
      station,
      outcome: "passed" as const,
      load: load.number,
      ...(envelope === "" ? {} : { envelope }),
      ...(floor.kept.machines[station] ? { machine: floor.kept.machines[station] } : {}),
    };
    try {
      await phone.enter({ id: phone.deps.ids.next(), telling: tell(told) });
    } catch {
      return hear({ tone: "fault", text: w.not_kept });
    } finally {
      here.current.delete(worn);
    }
    const over = out && !load.set_in.some((one) => one.label === worn);
    if (over) return hear({ tone: "asks", text: w.load_over(shown(worn)) });
    const text = out ? w.load_set_out(shown(worn)) : w.load_set_in(shown(worn));
    hear({ tone: "good", text: odd === null ? text : `${text} ${odd}` });
  }

  /** Envelope or hook number: out of the load itself, or as it was tied before. */
  function byEnvelope(number: string): boolean {
    const tied = [...new Set(works.values())].filter(
      (work) => work.envelope === number.trim() && work.stage !== "shipped",
    );
    const label = inEnvelope(load, number) ?? (tied.length === 1 ? tied[0]!.label : null);
    if (label === null) return false;
    void scan(label, null);
    return true;
  }

  return (
    <>
      <header class="load-head">
        <h1 tabIndex={-1} {...testid("load-title")}>
          {w.load_named(load.number)}
        </h1>
        <p>
          {[
            load.chamber && w.in_chamber(load.chamber),
            w.load_states[load.state] ?? "",
            load.started_at && w.load_began(when(load.started_at)),
            load.ended_at && w.load_ended(when(load.ended_at)),
          ]
            .filter(Boolean)
            .join(" · ")}
        </p>
        {!out && <TakeBack floor={floor} load={load} />}
        <OwnCaution floor={floor} said={out ? w.caution_hot : w.caution_chamber} />
        {load.short_why !== "" && <p class="fault">{w.load_short}</p>}
      </header>
      <div class="waits">
        <div class="stack">
          {!out && load.state === "in" && <p class="asks">{w.load_late}</p>}
          {scans && (
            <ScanLine
              floor={floor}
              title={out ? w.load_scan_out : w.load_scan_in}
              hint={w.load_scan_hint}
              onLabel={(label, odd) => void scan(label, odd)}
              onOther={byEnvelope}
            />
          )}
          <SaidLine said={said} />
          <Count floor={floor} load={load} />
          {out && missing.length > 0 && <Missing missing={missing} />}
          <section>
            <h2>{w.load_in_title(load.set_in.length)}</h2>
            {load.set_in.length === 0 && <p class="soft">{w.load_in_none}</p>}
            <ul class="lines" {...testid("set-in")}>
              {load.set_in.map(({ label, envelope }) => (
                <li key={label} class="waiting-one" {...testid(`in-${label}`)}>
                  <span class="code">{shown(label)}</span>
                  <span>{envelope !== "" && w.in_envelope(envelope)}</span>
                  <span class="soft">{load.set_out.includes(label) && w.load_is_out}</span>
                </li>
              ))}
            </ul>
          </section>
        </div>
        <LastScans floor={floor} />
      </div>
      {!out && <LoadKeys floor={floor} load={load} />}
    </>
  );
}

function Count({ floor, load }: { floor: Floor; load: Load }) {
  const w = floorWords.value;
  const holds = floor.route?.chambers.find(({ code }) => code === load.chamber)?.holds ?? null;
  const n = load.set_in.length;
  if (isA(floor.station, "stripping"))
    return (
      <p class="count big" {...testid("load-count")}>
        <b>{w.load_out_of(load.set_out.length, n)}</b>
      </p>
    );
  return (
    <p class="count big" {...testid("load-count")}>
      <b>{holds === null ? w.load_in_n(n) : w.load_in_of(n, holds)}</b>
      {holds !== null && n > holds && <span class="fault"> {w.load_too_many}</span>}
    </p>
  );
}

/** In red, in words, in a box of its own with a shape: nobody has seen them come out. */
function Missing({ missing }: { missing: { label: string; envelope: string }[] }) {
  const w = floorWords.value;
  return (
    <section class="missing" role="status" {...testid("missing")}>
      <h2>
        <svg class="answer-sign" viewBox="0 0 32 32" aria-hidden="true" focusable="false">
          <path d="M16 3 L30 28 H2 Z M16 11 V20 M16 23 V25" />
        </svg>{" "}
        {w.missing_title(missing.length)}
      </h2>
      <ul>
        {missing.map(({ label, envelope }) => (
          <li key={label} {...testid(`missing-${label}`)}>
            <span class="code">{shown(label)}</span>
            {envelope !== "" && ` · ${w.in_envelope(envelope)}`}
          </li>
        ))}
      </ul>
      <p>{w.missing_say}</p>
    </section>
  );
}
