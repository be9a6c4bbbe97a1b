/** What is seen on a casing, typed: a code or some letters and Enter, one after the other. */
import { useState } from "preact/hooks";
import { isStop } from "../../domain/condition";
import type { Finding } from "../../domain/operation";
import { findingSaid, MOST_FINDINGS, withOne, without } from "../seen/findings";
import type { FillSeen } from "../seen/seen";
import { decimal, words } from "../words";
import { codeOf, findingOf, meant, type Seen, typedIn } from "./codes";
import { type Option, Pick } from "./Pick";
import { counterWords } from "./words";

const MOST_SHOWN = 9;

export function SeenCode(props: {
  findings: Finding[];
  /** What is typed and not yet told. */
  text: string;
  fault: string | null;
  onText: (text: string) => void;
  fill: FillSeen;
}) {
  const { findings, text, onText } = props;
  const w = counterWords.value;
  const all = words.value;
  const [off, setOff] = useState<string | null>(null);
  const typed = typedIn(text);
  const saidOf = ({ zone, kind }: Seen) => `${all.kinds[kind]}, ${all.zones[zone].toLowerCase()}`;
  const found = meant(typed.head, saidOf).slice(0, MOST_SHOWN);
  const full = findings.length >= MOST_FINDINGS;
  const options = found.map((seen): Option => {
    const stops = isStop(seen.kind) ? ` · ${all.kind_stops}` : "";
    return { key: codeOf(seen), said: saidOf(seen), beside: `${codeOf(seen)}${stops}` };
  });

  function take({ key }: Option) {
    const seen = found.find((one) => codeOf(one) === key);
    if (seen === undefined || full) return;
    const one = findingOf(seen, typed);
    props.fill((latest) => ({ findings: withOne(latest.findings, one) }));
    onText("");
    setOff(null);
  }

  /** Nothing typed: the last one was a slip. */
  function takeLastOff() {
    const last = findings.at(-1);
    if (last === undefined) return;
    props.fill((latest) => ({ findings: without(latest.findings, latest.findings.length - 1) }));
    setOff(w.seen_last_off(findingSaid(last, all, decimal)));
  }

  const unknown = typed.head.length > 2 && found.length === 0;
  return (
    <Pick
      id="seen-code"
      title={w.seen_code}
      list={w.seen_list}
      hint={off ?? w.seen_code_hint}
      asks={unknown ? w.seen_unknown(typed.head.slice(0, 20)) : null}
      fault={props.fault ?? (full && text !== "" ? w.seen_full(MOST_FINDINGS) : null)}
      options={full ? [] : options}
      first={typed.head !== ""}
      early
      only
      value={text}
      onValue={onText}
      onPick={take}
      onErase={takeLastOff}
      input={{ maxLength: 60 }}
    />
  );
}
