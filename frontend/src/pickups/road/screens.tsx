/** Which of the road's screens an address means; null where it is none of them. */
import { DeliveredScreen } from "./DeliveredScreen";
import { DeliverScreen } from "./DeliverScreen";
import { EndScreen } from "./EndScreen";
import { LoadAtScreen, LoadScreen } from "./LoadScreen";
import { StopScreen } from "./StopScreen";
import { TruckScreen } from "./TruckScreen";
import { UnloadScreen } from "./UnloadScreen";
import { YardScreen } from "./YardScreen";

export function roadScreen(parts: string[]): preact.JSX.Element | null {
  const [what = "", id = "", more = "", last = ""] = parts;
  if (what === "truck") return <TruckScreen />;
  if (what === "unload") return <UnloadScreen site={id} />;
  if (id === "") return null;
  if (what === "load") return <LoadAtScreen site={id} />;
  if (what === "yard") return <YardScreen yard={id} />;
  if (what === "run" && more === "load") return <LoadScreen run={id} stop={last} />;
  if (what === "stop" && more) return <StopScreen run={id} stop={more} />;
  if (what !== "delivery") return null;
  if (more === "end") return <EndScreen delivery={id} />;
  if (more === "done") return <DeliveredScreen delivery={id} />;
  return <DeliverScreen delivery={id} />;
}
