/** The screens of the floor, in a script of their own: which one, by what this tablet remembers. */
import "./floor.css";
import "./section.css";
import { usePhone } from "../pickups/context";
import { words } from "../pickups/words";
import { DockScreen } from "./dock/DockScreen";
import { useFloor } from "./floor";
import { LoadScreen } from "./load/LoadScreen";
import { StationChoice } from "./StationChoice";
import { StationScreen } from "./StationScreen";
import { isOnRoute } from "./stations";

export default function FloorScreen({ route }: { route: string[] }) {
  const [what = "", id = ""] = route;
  const floor = useFloor();
  const { shut } = usePhone().now.value;
  if (shut !== null)
    return (
      <div class="page stack">
        <h1 tabIndex={-1}>{words.value.shut_start}</h1>
      </div>
    );
  const nowhere = floor.station === "" || !isOnRoute(floor.station, floor.route);
  if (nowhere || what === "station") return <StationChoice floor={floor} />;
  if (what === "list" && id !== "") return <DockScreen floor={floor} id={id} />;
  if (what === "load") return <LoadScreen floor={floor} id={id} />;
  return <StationScreen key={floor.station} floor={floor} />;
}
