/** Whose name stands under what is entered: one of the people of this place, changeable. */
import { set } from "../../store/local";
import { usePhone } from "../context";
import { go } from "../route";
import { testid } from "../testids";
import { words } from "../words";

export function WhoScreen() {
  const phone = usePhone();
  const w = words.value;
  const { people, person, enrolment, shut } = phone.now.value;

  async function choose(id: string) {
    await set(phone.deps.store.local, "person", id);
    await phone.changed();
    go();
  }

  return (
    <div class="page stack">
      <p class="soft">
        {enrolment?.name} · {enrolment?.site_name}
      </p>
      <h1 tabIndex={-1}>{w.who_title}</h1>
      <p>{w.who_say}</p>
      {people.length === 0 && <p class="notice">{shut === null ? w.who_none : w.shut_start}</p>}
      <ul class="lines">
        {people.map((one) => (
          <li key={one.id}>
            <button
              type="button"
              class="line"
              aria-pressed={one.id === person}
              onClick={() => void choose(one.id)}
              {...testid(`person-${one.id}`)}
            >
              <b>{one.name}</b>
              {one.id === person && <span class="good">{w.who_now}</span>}
            </button>
          </li>
        ))}
      </ul>
    </div>
  );
}
