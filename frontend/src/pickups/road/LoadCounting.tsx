/** First the driver's own count of what stands ready; the list and the scans come after it. */
import type { LoadCount } from "../../domain/loadCount";
import { Bar } from "../../ui/Bar";
import { usePhone } from "../context";
import { testid } from "../testids";
import { words } from "../words";
import type { Sheet } from "../yard/draft";
import { OwnCount, useOwnCount } from "./OwnCount";
import { siteName } from "./road";
import { Back, ShutNotice } from "./Top";

/** The sheet of a loading, one a driver and place of a run; `at` is the run, its stop or the site. */
export const loadKey = (person: string | null, at: string): string => `load:${person}:${at}`;

export function LoadCounting({ sheet, site }: { sheet: Sheet<LoadCount>; site: string }) {
  const now = usePhone().now.value;
  const w = words.value;
  const own = useOwnCount(sheet.fields.count, () =>
    sheet.fill({ began: true, after: now.moves.at(-1)?.id ?? "" }),
  );
  return (
    <form class="page stack" noValidate onSubmit={own.submit}>
      <Back />
      <h1 tabIndex={-1}>{w.day_count_title(siteName(now, site))}</h1>
      <OwnCount
        title={w.day_count}
        hint={w.day_count_hint}
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
          <button type="submit" class="button primary" {...testid("start-loading")}>
            {w.road_then_scan}
          </button>
        </Bar>
      )}
    </form>
  );
}
