/** The counter's one input: it takes whatever a customer has, and Enter does the obvious. */
import { tinOf } from "../../domain/rows";
import { useEffect, useRef, useState } from "preact/hooks";
import { shown } from "../../domain/labels";
import { shownTicket, ticketIn } from "../../domain/ticket";
import { usePhone } from "../context";
import { go } from "../route";
import { testid } from "../testids";
import { useWedge } from "../wedge";
import { words } from "../words";
import { yardName } from "../yard/visits";
import { type Found, find, type Match } from "./find";
import { whereIs } from "./story";
import { scannedLabel } from "./visits";
import { counterWords } from "./words";

const MOST_SHOWN = 8;

export function Finder() {
  const phone = usePhone();
  const w = counterWords.value;
  const now = phone.now.value;
  const [typed, setTyped] = useState("");
  const [chosen, setChosen] = useState(-1);
  const [said, setSaid] = useState<string | null>(null);
  const list = useRef<HTMLDivElement>(null);
  const known = { yards: now.yards, casings: now.casings.values(), pickups: now.pickups };
  const found = find(typed, known);
  const shownMatches = found.matches.slice(0, MOST_SHOWN);
  const more = found.matches.length - shownMatches.length;
  // The only one is the obvious one.
  const at = found.matches.length === 1 ? 0 : Math.min(chosen, shownMatches.length - 1);

  useWedge(
    "find",
    ({ text, code }) => {
      const read = code ?? ticketIn(text) ?? "";
      setTyped(read === "" ? text.slice(0, 40) : read);
      if (read === "") return setSaid(w.not_ours(text.slice(0, 40)));
      enter(find(read, { ...known, casings: now.casings.values() }), 0);
    },
    "typist",
  );

  useEffect(() => {
    list.current?.querySelector('[aria-selected="true"]')?.scrollIntoView({ block: "nearest" });
  }, [at]);

  function enter({ matches, free }: Found, which: number) {
    setSaid(null);
    if (free !== null) {
      scannedLabel.value = free;
      return setSaid(w.label_free(shown(free)));
    }
    const match = matches[which];
    if (match !== undefined) return open(match);
    if (matches.length === 0) return setSaid(w.found_none(typed.trim().slice(0, 40)));
    setChosen(0);
    setSaid(w.found_many(matches.length));
  }

  function move(by: number) {
    const last = shownMatches.length - 1;
    if (last >= 0) setChosen(Math.max(0, Math.min(last, at + by)));
  }

  return (
    <form
      class="finder"
      onSubmit={(event) => {
        event.preventDefault();
        if (typed.trim() !== "") enter(found, at);
      }}
    >
      <label for="find">{w.find}</label>
      <input
        id="find"
        type="text"
        role="combobox"
        autocomplete="off"
        spellcheck={false}
        value={typed}
        aria-expanded={shownMatches.length > 0}
        aria-controls="found"
        aria-autocomplete="list"
        aria-describedby="find-said"
        aria-activedescendant={at >= 0 && shownMatches.length > 0 ? `found-${at}` : undefined}
        data-first
        onInput={(event) => {
          setTyped((event.target as HTMLInputElement).value);
          setChosen(-1);
          setSaid(null);
        }}
        onKeyDown={(event) => {
          if (event.key === "ArrowDown") move(1);
          else if (event.key === "ArrowUp") move(-1);
          else if (event.key === "Escape") {
            setTyped("");
            setSaid(null);
          } else return;
          event.preventDefault();
        }}
        {...testid("find")}
      />
      <p
        id="find-said"
        role="status"
        class={said === null ? "soft" : "asks"}
        {...testid("find-said")}
      >
        {said ?? w.find_hint}
      </p>
      {shownMatches.length > 0 && (
        <div id="found" ref={list} role="listbox" aria-label={w.find} class="found">
          {shownMatches.map((match, i) => (
            // Keys are for the input above; here a hand or a mouse chooses.
            // biome-ignore lint/a11y/useKeyWithClickEvents: the input has the keys
            // biome-ignore lint/a11y/useFocusableInteractive: the input has the focus
            <div
              key={keyOf(match)}
              id={`found-${i}`}
              role="option"
              aria-selected={i === at}
              class="match"
              onClick={() => open(match)}
              {...testid(`found-${keyOf(match)}`)}
            >
              <MatchLine match={match} />
            </div>
          ))}
        </div>
      )}
      {more > 0 && <p class="soft">{w.found_more(more)}</p>}
    </form>
  );
}

function keyOf(match: Match): string {
  if (match.what === "customer") return match.customer.id;
  return match.what === "casing" ? match.casing.id : match.pickup.id;
}

function open(match: Match): void {
  if (match.what === "customer") go("customer", match.customer.id);
  else if (match.what === "casing") go("casing", match.casing.id);
  else if (match.pickup.finished_at === null) go("pickup", match.pickup.id);
  else go("ticket", match.pickup.id);
}

function MatchLine({ match }: { match: Match }) {
  const w = counterWords.value;
  const now = usePhone().now.value;
  if (match.what === "customer") {
    const { name, yards } = match.customer;
    return (
      <>
        <span class="kind">{w.is_customer}</span>
        <span>
          <b>{name}</b>
          <br />
          <span class="soft">{yards.map((yard) => yard.name).join(", ")}</span>
        </span>
      </>
    );
  }
  if (match.what === "ticket") {
    return (
      <>
        <span class="kind">{w.is_ticket}</span>
        <span>
          <b class="code">{shownTicket(match.number)}</b> {yardName(now, match.pickup.yard)}
          <br />
          <span class="soft">{words.value.casings(match.pickup.count)}</span>
        </span>
      </>
    );
  }
  const { casing } = match;
  return (
    <>
      <span class="kind">{w.is_casing}</span>
      <span>
        <b class="code">{shown(casing.label)}</b> {yardName(now, casing.yard)}
        <br />
        <span class="soft">
          {tinOf(casing) !== "" && `${tinOf(casing)} · `}
          {whereIs(now, casing)}
        </span>
      </span>
    </>
  );
}
