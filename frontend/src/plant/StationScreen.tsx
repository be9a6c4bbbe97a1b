/** A station: it waits for a scan, then shows the casing until it is answered. */
import { useEffect, useRef, useState } from "preact/hooks";
import { type Bell, bell } from "../bridge/bell";
import { shown } from "../domain/labels";
import { type Said, SaidLine } from "../pickups/road/Verdict";
import { useWedge } from "../pickups/wedge";
import { useSheet } from "../pickups/yard/draft";
import { type AnswerFields, BLANK_ANSWER, isUntouched } from "./answer";
import { AtCasing } from "./casing/AtCasing";
import { Lists } from "./dock/Lists";
import type { Floor } from "./floor";
import { LastScans } from "./LastScans";
import { nextScan } from "./nextScan";
import { Loads } from "./load/Loads";
import { Queue } from "./Queue";
import { ScanLine } from "./ScanLine";
import { StationBar } from "./StationBar";
import { isA, moreAt, stationsOf } from "./stations";
import { floorWords } from "./words";

export function StationScreen({ floor }: { floor: Floor }) {
  const w = floorWords.value;
  const { station, phone, works } = floor;
  const person = phone.now.value.person ?? "";
  const sheet = useSheet<AnswerFields>(`floor:${station}:${person}`, BLANK_ANSWER);
  const [said, setSaid] = useState<Said | null>(null);
  const sound = useRef<Bell | null>(null);
  useEffect(() => () => sound.current?.close(), []);

  function hear(next: Said) {
    sound.current ??= bell();
    sound.current.ring(next.tone === "good" ? "good" : "asks");
    setSaid(next);
  }

  function open(label: string, odd: string | null) {
    setSaid(odd === null ? null : { tone: "asks", text: odd });
    sound.current ??= bell();
    sound.current.ring(odd === null ? "good" : "asks");
    void sheet.fill({ ...BLANK_ANSWER, label });
  }

  /** An envelope or a hook is known by the casing that was tied to it. */
  function byEnvelope(text: string): boolean {
    const tied = [...new Set(works.values())].filter(
      ({ envelope, stage }) => envelope !== "" && envelope === text.trim() && stage !== "shipped",
    );
    if (tied.length !== 1) return false;
    open(tied[0]!.label, null);
    return true;
  }

  const { label } = sheet.fields;
  const more = moreAt(station, stationsOf(floor.route));
  const verdict = <SaidLine said={said} />;
  if (!sheet.ready) return null;
  if (label !== "")
    return (
      <div class="page floor">
        <StationBar floor={floor} title={false} />
        <NextScan
          at={{ label, works, more }}
          onAnother={(other) => {
            if (!isUntouched(sheet.fields, sheet.photos.length))
              hear({ tone: "fault", text: w.answer_first(shown(label)) });
            else {
              open(other, null);
              setSaid({ tone: "asks", text: w.not_told(shown(label)) });
            }
          }}
          onTag={(tag) => void sheet.fill({ tag: shown(tag) })}
          onEnvelope={(envelope) => void sheet.fill({ envelope })}
          onNone={(text) => hear({ tone: "fault", text: w.no_label(text) })}
        />
        {verdict}
        <AtCasing key={label} floor={floor} sheet={sheet} onSaid={hear} />
      </div>
    );
  return (
    <div class="page floor" data-waits="true">
      <StationBar floor={floor} />
      <div class="waits">
        <div class="stack">
          <ScanLine
            floor={floor}
            title={w.scan_title}
            hint={w.scan_hint}
            onLabel={open}
            onOther={byEnvelope}
          />
          {verdict}
          {isA(station, "receiving", "shipping") && <Lists floor={floor} />}
          {more.includes("load") && <Loads floor={floor} />}
          <Queue floor={floor} />
        </div>
        <LastScans floor={floor} />
      </div>
    </div>
  );
}

/** While a casing is being answered, a scan is its tag, its envelope, or the next casing. */
function NextScan(props: {
  at: Parameters<typeof nextScan>[1];
  onAnother: (label: string) => void;
  onTag: (label: string) => void;
  onEnvelope: (number: string) => void;
  onNone: (text: string) => void;
}) {
  useWedge("label", ({ text, code, elsewhere }) => {
    const scan = nextScan({ text, code }, props.at);
    if (scan.is === "another") props.onAnother(scan.label);
    else if (scan.is === "tag") props.onTag(scan.label);
    else if (elsewhere || scan.is === "again") return;
    else if (scan.is === "envelope") props.onEnvelope(scan.number);
    else props.onNone(scan.text);
  });
  return null;
}
