/** The driver's phone: what it loads is what a driver needs. */
import "./ui/tokens.css";
import "./ui/base.css";
import "./ui/controls.css";
import "./pickups/frame.css";
import "./pickups/yard.css";
import "./pickups/wanted/wanted.css";
import "./pickups/signing/signing.css";
import "./pickups/seen/seen.css";
import "./pickups/yard/casing.css";
import "./pickups/road/road.css";
import "./pickups/lock/lock.css";
import { render } from "preact";
import { openPhone } from "./bridge/phone";
import { startWorker } from "./bridge/worker";
import { App } from "./pickups/App";
import { PhoneContext } from "./pickups/context";
import { loadPickup } from "./pickups/PickupDoor";
import { wordsHere } from "./pickups/words";

const place = document.getElementById("app")!;
const [phone] = await Promise.all([openPhone(), wordsHere().catch(() => {})]);
render(
  <PhoneContext.Provider value={phone}>
    <App />
  </PhoneContext.Provider>,
  place,
);
await startWorker(import.meta.url);
// Behind the first screen; where it has not come, its door tries again.
loadPickup().catch(() => {});
