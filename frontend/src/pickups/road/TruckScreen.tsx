/** What is on this driver's truck as far as this phone knows, and the ways off it and onto it. */
import type { Casing } from "../../domain/rows";
import { count, wayOf } from "../../domain/truck";
import { usePhone } from "../context";
import { go, route } from "../route";
import { testid } from "../testids";
import { words } from "../words";
import { yardName } from "../yard/visits";
import { CasingLine, named } from "./CasingLine";
import { siteName, truckOf } from "./road";
import { Back } from "./Top";

export function TruckScreen() {
  const now = usePhone().now.value;
  const w = words.value;
  const truck = truckOf(now);
  const home = truck.casings.filter((casing) => wayOf(casing) === "out");
  const inward = truck.casings.filter((casing) => wayOf(casing) === "in");
  const yards = [...new Set(home.map((casing) => casing.yard))];
  const all = count(truck);
  const site = now.enrolment?.site ?? "";
  return (
    <div class="page stack" {...testid("truck")}>
      <Back />
      <h1 tabIndex={-1}>{w.road_on_truck(all)}</h1>
      {all === 0 && <p class="soft">{w.road_truck_empty}</p>}
      {all > 0 && now.shut === null && (
        <button
          type="button"
          class="button primary"
          onClick={() => go("unload")}
          {...testid("unload")}
        >
          {w.road_unload_do}
        </button>
      )}
      {yards.map((yard) => (
        <section key={yard}>
          <h2>{w.road_home_to(yardName(now, yard))}</h2>
          <Lines casings={home.filter((casing) => casing.yard === yard)} />
          <button type="button" class="button wide" onClick={() => go("yard", yard)}>
            {w.road_deliver_start}
          </button>
        </section>
      ))}
      {inward.length > 0 && (
        <section>
          <h2>{w.road_to_plant(inward.length)}</h2>
          <Lines casings={inward} />
        </section>
      )}
      {truck.unknown.length > 0 && (
        <p>
          {w.road_unknown_aboard(truck.unknown.length)}: {named(truck.unknown)}
        </p>
      )}
      {truck.casings.length > 0 && now.shut === null && (
        <button
          type="button"
          class="button wide"
          onClick={() => go("relabel")}
          {...testid("relabel-open")}
        >
          {w.relabel}
        </button>
      )}
      {now.shut === null && (
        <section class="stack">
          <h2>{w.road_load_without}</h2>
          {(now.sites.length > 0 ? now.sites : [{ id: site }]).map(({ id }) => (
            <button
              key={id}
              type="button"
              class="button wide"
              onClick={() => go("load", id)}
              {...testid(`load-at-${id}`)}
            >
              {w.road_load_at(siteName(now, id))}
            </button>
          ))}
        </section>
      )}
    </div>
  );
}

const Lines = ({ casings }: { casings: Casing[] }) => (
  <ul class="lines">
    {casings.map((casing) => (
      <CasingLine key={casing.id} label={casing.label} casing={casing} done={false} />
    ))}
  </ul>
);

/** In the line at the bottom of every screen, but where the count has to be blind. */
export function OnTruck() {
  const now = usePhone().now.value;
  const w = words.value;
  const all = now.person === null ? 0 : count(truckOf(now));
  if (all === 0 || route.value[0] === "unload" || route.value[0] === "truck") return null;
  return (
    <button type="button" class="on-truck" onClick={() => go("truck")} {...testid("on-truck")}>
      {w.road_on_truck_short} <b>{all}</b>
    </button>
  );
}
