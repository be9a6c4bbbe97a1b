/** The frame of every screen: who holds the phone above, what waits below. */
import { useEffect, useLayoutEffect, useRef } from "preact/hooks";
import { setting, set } from "../store/local";
import { Strokes } from "../ui/Strokes";
import { atCounter, CounterDoor, chosenWorkplace, counterScreens, maySwitch } from "./CounterDoor";
import { usePhone } from "./context";
import { PickupDoor, pickupScreens } from "./PickupDoor";
import { roadScreen } from "./road/screens";
import { go, route } from "./route";
import { StatusLine } from "./StatusLine";
import { testid } from "./testids";
import { currency, language, saidHere, words } from "./words";
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
  const { enrolment, person } = now;
  const [what = "", id = ""] = route.value;
  if (enrolment === null || what === "enrol") return { key: "enrol", shown: <EnrolScreen /> };
  if (person === null || what === "who") return { key: "who", shown: <WhoScreen /> };
  if (what === "needs") return { key: "needs", shown: <NeedsYouScreen /> };
  if (atCounter(now)) {
    const here = counterScreens.value === null ? "coming" : "here";
    return { key: `counter ${here} ${route.value.join(" ")}`, shown: <CounterDoor /> };
  }
  if ((what === "pickup" && id) || what === "relabel") {
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
  const { person, people, enrolment } = phone.now.value;
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
    language.value = language.value === "en" ? "es" : "en";
    void set(phone.deps.store.local, "language", language.value);
  }
  return (
    <header class="head">
      <button type="button" class="mark" onClick={() => go()} aria-label={`Yardloop, ${w.today}`}>
        <Strokes stage="picked_up" />
      </button>
      {enrolment !== null && person !== null && (
        <button
          type="button"
          class="button plain who"
          onClick={() => go("who")}
          {...testid("who-change")}
        >
          <span class="hidden">{w.held_by("")}</span>
          {holder?.name ?? "…"} <span class="hidden">{w.who_change}</span>
        </button>
      )}
      {maySwitch(phone.now.value) && (
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
        lang={language.value === "en" ? "es" : "en"}
        onClick={switchLanguage}
        {...testid("language")}
      >
        {w.other_language}
      </button>
    </header>
  );
}
