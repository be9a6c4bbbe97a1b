/**
 * The counter: a store's PC or tablet, a keyboard, a scanner that types, a customer in front. What
 * stands here is loaded when somebody of a counter holds the device, so a driver's phone is spared.
 */
import "./counter.css";
import "./entry.css";
import "./ticket.css";
import { useEffect } from "preact/hooks";
import { usePhone } from "../context";
import { route } from "../route";
import { CorrectScreen } from "../yard/CorrectScreen";
import { CasingScreen } from "./CasingScreen";
import { CheckInScreen } from "./CheckInScreen";
import { CustomerScreen } from "./CustomerScreen";
import { HandOverScreen } from "./HandOverScreen";
import { HomeScreen } from "./HomeScreen";
import { RemindScreen } from "./RemindScreen";
import { ReceiveScreen } from "./ReceiveScreen";
import { free, keepStocked, look, stock } from "./stock";
import { TicketScreen } from "./TicketScreen";
import { WaitingScreen } from "./WaitingScreen";
import RelabelScreen from "../labels/RelabelScreen";
import { counterWords } from "./words";

export { atCounter as said } from "./atCounter";

export default function Workplace() {
  const phone = usePhone();
  const { now } = phone;
  const left = free(stock.value.labels, now.value.casings).length;
  useEffect(() => void look(phone), [now.value]);
  useEffect(() => keepStocked(phone), [left, phone.reach.value]);
  return <div class="counter">{screen()}</div>;
}

function screen() {
  const phone = usePhone();
  const { enrolment, sites } = phone.now.value;
  const site = sites.find((one) => one.id === enrolment?.site);
  if (site !== undefined && site.kind !== "store") return <NoStore name={site.name} />;
  const [what = "", id = "", more = "", casing = ""] = route.value;
  if (what === "customer" && id) return <CustomerScreen customer={id} />;
  if (what === "casing" && id) return <CasingScreen casing={id} />;
  if (what === "relabel" && id) return <RelabelScreen casing={id} hands="typist" />;
  if (what === "waiting") return <WaitingScreen />;
  if (what === "hand-over" && id) return <HandOverScreen customer={id} />;
  if (what === "remind" && id) return <RemindScreen customer={id} />;
  if (what === "receive") return <ReceiveScreen />;
  if (what === "ticket" && id) return <TicketScreen pickup={id} />;
  if (what === "pickup" && id) {
    if (more === "casing") return <CorrectScreen pickup={id} casing={casing} />;
    if (more === "receipt") return <TicketScreen pickup={id} />;
    return <CheckInScreen pickup={id} />;
  }
  return <HomeScreen />;
}

function NoStore({ name }: { name: string }) {
  const w = counterWords.value;
  return (
    <div class="page stack">
      <h1 tabIndex={-1}>{w.counter}</h1>
      <p class="notice">{w.no_store(name)}</p>
    </div>
  );
}
