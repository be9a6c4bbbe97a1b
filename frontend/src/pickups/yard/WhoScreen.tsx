/**
 * Who holds this device. Where nobody has a PIN yet: choose a name, set a PIN. Unlocked: lock it,
 * let the next one have it, add a person, change the PIN, say when it locks by itself.
 */
import { useState } from "preact/hooks";
import type { Person } from "../../domain/rows";
import { usePhone } from "../context";
import { NewPin } from "../lock/NewPin";
import { OldPin } from "../lock/OldPin";
import { go } from "../route";
import { testid } from "../testids";
import { words } from "../words";

const IDLE_MINUTES = [2, 5, 10, 30];

export function WhoScreen() {
  const { people, person, locked } = usePhone().now.value;
  const [chosen, setChosen] = useState<Person | null>(null);
  const [adding, setAdding] = useState(false);
  const [changing, setChanging] = useState(false);
  const [said, setSaid] = useState("");
  const w = words.value;
  const first = locked === "new";

  function done(set: boolean) {
    const of = chosen;
    setChosen(null);
    if (!set) return;
    setAdding(false);
    if (first) go();
    else setSaid(of === null ? "" : w.pin_set(of.name));
  }

  if (chosen !== null) return <NewPin person={chosen.id} name={chosen.name} onDone={done} />;
  if (first) return <Names title={w.who_title} onChoose={setChosen} />;
  if (adding)
    return <Names title={w.who_add_title} onChoose={setChosen} onBack={() => setAdding(false)} />;
  const holder = people.find((one) => one.id === person) ?? null;
  if (changing)
    return (
      <OldPin
        onDone={(theirs) => {
          setChanging(false);
          if (theirs) setChosen(holder);
        }}
      />
    );
  return (
    <Holder
      holder={holder}
      said={said}
      onAdd={() => setAdding(true)}
      onChange={() => setChanging(true)}
    />
  );
}

function Names(props: { title: string; onChoose: (person: Person) => void; onBack?: () => void }) {
  const w = words.value;
  const { people: all, pinned, enrolment, shut } = usePhone().now.value;
  // Whoever has a PIN here changes it by that PIN alone: it is not to be replaced by another hand.
  const people = all.filter(({ id }) => !pinned.includes(id));
  const nobody = shut === null ? w.who_none : w.shut_start;
  const none = all.length > 0 ? w.who_all_have : nobody;
  return (
    <div class="page stack">
      {props.onBack && (
        <button type="button" class="button plain back" onClick={props.onBack}>
          ‹ {w.back}
        </button>
      )}
      <p class="soft">
        {enrolment?.name} · {enrolment?.site_name}
      </p>
      <h1 tabIndex={-1}>{props.title}</h1>
      <p>{w.who_say}</p>
      {people.length === 0 && <p class="notice">{none}</p>}
      <ul class="lines">
        {people.map((one) => (
          <li key={one.id}>
            <button
              type="button"
              class="line"
              onClick={() => props.onChoose(one)}
              {...testid(`person-${one.id}`)}
            >
              <b>{one.name}</b>
            </button>
          </li>
        ))}
      </ul>
    </div>
  );
}

function Holder(props: {
  holder: Person | null;
  said: string;
  onAdd: () => void;
  onChange: () => void;
}) {
  const phone = usePhone();
  const w = words.value;
  const { idleMinutes } = phone.now.value;
  return (
    <div class="page stack">
      <button type="button" class="button plain back" onClick={() => go()}>
        ‹ {w.back}
      </button>
      <h1 tabIndex={-1}>{w.who_held(props.holder?.name ?? "…")}</h1>
      <p role="status" class={props.said ? "good" : ""} {...testid("pin-set")}>
        {props.said}
      </p>
      <section class="stack">
        <button
          type="button"
          class="button primary"
          onClick={() => phone.lock.close()}
          {...testid("who-next")}
        >
          {w.who_next}
        </button>
        <p class="soft">{w.who_next_say}</p>
        <button type="button" class="button wide" onClick={props.onAdd} {...testid("who-add")}>
          {w.who_add}
        </button>
        {props.holder !== null && (
          <button
            type="button"
            class="button wide"
            onClick={props.onChange}
            {...testid("who-change-pin")}
          >
            {w.who_change_pin}
          </button>
        )}
      </section>
      <fieldset class="stack">
        <legend>
          <h2>{w.idle_title}</h2>
        </legend>
        <p class="soft">{w.idle_say}</p>
        <div class="idle-keys">
          {IDLE_MINUTES.map((minutes) => (
            <button
              type="button"
              key={minutes}
              class="button"
              aria-pressed={minutes === idleMinutes}
              onClick={() => void phone.lock.idleAfter(minutes)}
              {...testid(`idle-${minutes}`)}
            >
              {w.idle_minutes(minutes)}
            </button>
          ))}
        </div>
      </fieldset>
    </div>
  );
}
