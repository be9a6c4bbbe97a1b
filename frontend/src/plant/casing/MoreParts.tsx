/** What is asked at a station besides the answer; each part stands only where it is asked. */
import { materialsAt, type More, stationsOf } from "../stations";
import { BuiltPart } from "./BuiltPart";
import { Gauges } from "./Gauges";
import { LabelPart } from "./LabelPart";
import { LoadPart } from "./LoadPart";
import { Lots } from "./Lots";
import { Machine } from "./Machine";
import type { Load } from "../rows";
import type { Part } from "./part";

export function MoreParts(props: Part & { more: More[]; load: Load | null }) {
  const { floor, more } = props;
  const { station, route } = floor;
  const machines = stationsOf(route).find(({ code }) => code === station)?.machines ?? [];
  const materials = materialsAt(station);
  return (
    <>
      {more.includes("tag") && <LabelPart {...props} of="tag" />}
      {more.includes("envelope") && <LabelPart {...props} of="envelope" />}
      {more.includes("load") && (
        <LoadPart floor={floor} load={props.load} lacks={props.fault === "load"} />
      )}
      {more.includes("built") && <BuiltPart {...props} />}
      {more.includes("buffed") && <Gauges {...props} of="buffed" />}
      {more.includes("tread") && <Gauges {...props} of="tread" />}
      {more.includes("lots") && <Lots floor={floor} materials={materials} />}
      {machines.length > 0 && <Machine floor={floor} machines={machines} />}
    </>
  );
}
