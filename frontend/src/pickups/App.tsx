/** The frame of every screen: who holds the phone above, what waits below. */
import { useEffect, useLayoutEffect, useRef } from "preact/hooks";
import { setting, set } from "../store/local";
import { atPlant, FloorDoor, floorScreens } from "../plant/FloorDoor";
import { Strokes } from "../ui/Strokes";
import { atCounter, CounterDoor, chosenWorkplace, counterScreens, maySwitch } from "./CounterDoor";
import { usePhone } from "./context";
import { DeviceDoor } from "./DeviceDoor";
import { LockScreen } from "./lock/LockScreen";
import { PickupDoor, pickupScreens } from "./PickupDoor";
import { roadScreen } from "./road/screens";
import { go, route } from "./route";
import { StatusLine } from "./StatusLine";
import { testid } from "./testids";
import { currency, language, readsIn, saidHere, spoken, words } from "./words";
import { isTrailers } from "./yard/bulk/waiting";
import { EnrolScreen } from "./yard/EnrolScreen";
import { NeedsYouScreen } from "./yard/NeedsYouScreen";
import { TodayScreen } from "./yard/TodayScreen";
import { WhoScreen } from "./yard/WhoScreen";

export function App() {
  const main = useRef<HTMLElement>(null);
  const at = screen();
  const now = usePhone().now.value;
  const { sites } = now;
  const here = atCounter(now) ? counterScreens.value : null;
  useLayoutEffect(() => {
    currency.value = sites[0]?.currency ?? ""; // one dealer, one currency
  }, [sites]);
  useLayoutEffect(() => {
    saidHere.value = here?.said ?? {};
  }, [here]);
  useEffect(() => {
    const title = main.current?.querySelector("h1");
    document.title = `${title?.textContent ?? ""} · Yardloop`;
    const first = main.current?.querySelector<HTMLElement>("[data-first]") ?? title;
    first?.focus({ preventScroll: true });
  }, [at.key]);
  return (
    <>
      <div class="scroll" id="scroll">
        <Header />
        <main ref={main} key={at.key}>
          {at.shown}
        </main>
      </div>
      <StatusLine />
    </>
  );
}

function screen(): { key: string; shown: preact.JSX.Element } {
  const now = usePhone().now.value;
  const { enrolment, locked } = now;
  const [what = "", id = ""] = route.value;
  if (what === "device") return { key: "device", shown: <DeviceDoor /> };
  if (enrolment === null || what === "enrol") return { key: "enrol", shown: <EnrolScreen /> };
  if (locked === "locked" || locked === "emptied") return { key: locked, shown: <LockScreen /> };
  if (locked === "new" || what === "who") return { key: "who", shown: <WhoScreen /> };
  if (what === "needs") return { key: "needs", shown: <NeedsYouScreen /> };
  if (atPlant(now)) {
    const here = floorScreens.value === null ? "coming" : "here";
    return { key: `floor ${here} ${route.value.join(" ")}`, shown: <FloorDoor /> };
  }
  // What a yard's sheet is for, wherever somebody stands: a trailer's list, casings to look at.
  const bulk = what === "look" || (what === "pickup" && isTrailers(now.pickups, id));
  if (atCounter(now) && !bulk) {
    const here = counterScreens.value === null ? "coming" : "here";
    return { key: `counter ${here} ${route.value.join(" ")}`, shown: <CounterDoor /> };
  }
  if ((what === "pickup" && id) || what === "relabel" || bulk) {
    const here = pickupScreens.value === null ? "coming" : "here";
    return { key: `${here} ${route.value.join(" ")}`, shown: <PickupDoor /> };
  }
  const road = roadScreen(route.value);
  if (road !== null) return { key: route.value.join(" "), shown: road };
  return { key: "today", shown: <TodayScreen /> };
}

function Header() {
  const phone = usePhone();
  const w = words.value;
  const { person, people, locked } = phone.now.value;
  const holder = people.find((one) => one.id === person);
  useEffect(() => {
    void setting(phone.deps.store.local, "language").then((kept) => {
      if (kept !== null) language.value = kept;
    });
    void setting(phone.deps.store.local, "workplace").then((kept) => {
      if (kept !== null) chosenWorkplace.value = kept;
    });
  }, [phone]);
  function switchWorkplace() {
    chosenWorkplace.value = chosenWorkplace.value === "road" ? "counter" : "road";
    void set(phone.deps.store.local, "workplace", chosenWorkplace.value);
    go();
  }
  function switchLanguage() {
    language.value = spoken.value === "en" ? "es" : "en";
    readsIn.value = null;
    void set(phone.deps.store.local, "language", language.value);
  }
  return (
    <header class="head">
      <button type="button" class="mark" onClick={() => go()} aria-label={`Yardloop, ${w.today}`}>
        <Strokes stage="picked_up" />
      </button>
      {locked === "open" && (
        <button
          type="button"
          class="button plain who"
          onClick={() => go("who")}
          {...testid("who-change")}
        >
          <span class="hidden">{w.who_of("")}</span>
          {holder?.name ?? "…"}
        </button>
      )}
      {locked === "open" && maySwitch(phone.now.value) && !atPlant(phone.now.value) && (
        <button
          type="button"
          class="button plain"
          onClick={switchWorkplace}
          {...testid("workplace")}
        >
          {chosenWorkplace.value === "road" ? w.to_counter : w.to_road}
        </button>
      )}
      <button
        type="button"
        class="button plain"
        lang={spoken.value === "en" ? "es" : "en"}
        onClick={switchLanguage}
        {...testid("language")}
      >
        {w.other_language}
      </button>
      {locked === "open" && (
        <button
          type="button"
          class="button plain lock-key"
          aria-label={w.lock_now}
          title={w.lock_now}
          onClick={() => phone.lock.close()}
          {...testid("lock-now")}
        >
          <svg viewBox="0 0 24 24" aria-hidden="true" focusable="false">
            <path
              d="M7 10V7a5 5 0 0 1 10 0v3"
              fill="none"
              stroke="currentColor"
              stroke-width="2.5"
            />
            <path d="M4 10h16v11H4z" fill="currentColor" />
          </svg>
        </button>
      )}
    </header>
  );
}
