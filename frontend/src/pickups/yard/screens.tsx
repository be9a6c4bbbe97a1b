/** The screens of a pickup, in a script of their own: `PickupDoor` loads it before it is needed. */
import RelabelScreen from "../labels/RelabelScreen";
import { EmptiedScreen } from "./bulk/EmptiedScreen";
import { LookScreen } from "./bulk/LookScreen";
import { TrailerScreen } from "./bulk/TrailerScreen";
import { CorrectScreen } from "./CorrectScreen";
import { FinishScreen } from "./FinishScreen";
import { LeaveScreen } from "./LeaveScreen";
import { ReceiptScreen } from "./ReceiptScreen";
import { ScrapScreen } from "./ScrapScreen";
import { SheetScreen } from "./SheetScreen";

/** `of` is a casing or a line of the pickup. */
export default function PickupScreen({ route }: { route: string[] }) {
  const [root = "", id = "", what = "", of = ""] = route;
  if (root === "relabel") return <RelabelScreen casing={id} />;
  if (root === "look") return <LookScreen casing={id} />;
  switch (what) {
    case "trailer":
      return <TrailerScreen pickup={id} />;
    case "emptied":
      return <EmptiedScreen pickup={id} />;
    case "finish":
      return <FinishScreen pickup={id} />;
    case "receipt":
      return <ReceiptScreen pickup={id} />;
    case "casing":
      return <CorrectScreen pickup={id} casing={of} />;
    case "scrap":
      return <ScrapScreen pickup={id} line={of} />;
    case "left":
      return <LeaveScreen pickup={id} line={of} />;
    default:
      return <SheetScreen pickup={id} />;
  }
}
