/** First where, and the driver's own count: before anything here says how many it should be. */
import { begun, likelySite, type Unloading } from "../../domain/unloading";
import { Bar } from "../../ui/Bar";
import { usePhone } from "../context";
import { testid } from "../testids";
import { words } from "../words";
import type { Sheet } from "../yard/draft";
import { OwnCount, useOwnCount } from "./OwnCount";
import { roadOf, runsNow, siteName } from "./road";
import { Back, ShutNotice } from "./Top";

export function Counting({ sheet, asked }: { sheet: Sheet<Unloading>; asked: string }) {
  const phone = usePhone();
  const now = phone.now.value;
  const w = words.value;
  const runs = runsNow(now, phone.deps.clock.now());
  const chosen = sheet.fields.site || asked || likelySite(runs, now.enrolment?.site ?? "");
  const sites = now.sites.some((one) => one.id === chosen)
    ? now.sites
    : [{ id: chosen, name: siteName(now, chosen), kind: "store" }, ...now.sites];

  const own = useOwnCount(sheet.fields.count, () => {
    const at = phone.now.value;
    sheet.fill(begun(roadOf(at), runsNow(at, phone.deps.clock.now()), chosen));
  });

  return (
    <form class="page stack" noValidate onSubmit={own.submit}>
      <Back />
      <h1 tabIndex={-1}>{w.road_unload_title}</h1>
      <fieldset class="choice">
        <legend>{w.road_where}</legend>
        <div class="places">
          {sites.map((site) => (
            <label key={site.id} class="button">
              <input
                type="radio"
                name="site"
                checked={site.id === chosen}
                onChange={() => sheet.fill({ site: site.id })}
                {...testid(`site-${site.id}`)}
              />
              {site.kind === "plant" ? w.road_dock(site.name) : w.road_rack(site.name)}
            </label>
          ))}
        </div>
      </fieldset>
      <OwnCount
        title={w.road_own_count}
        hint={w.road_own_count_hint}
        value={sheet.fields.count}
        fault={own.fault}
        onValue={(count) => {
          own.clear();
          sheet.fill({ count });
        }}
      />
      {now.shut !== null ? (
        <ShutNotice />
      ) : (
        <Bar>
          <button type="submit" class="button primary" {...testid("start-unloading")}>
            {w.road_then_scan}
          </button>
        </Bar>
      )}
    </form>
  );
}
