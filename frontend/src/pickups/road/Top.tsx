/** What stands above the road's sheets, and instead of them on a phone that is shut. */
import { go } from "../route";
import { testid } from "../testids";
import { words } from "../words";

export const Back = (props: { to?: string[] }) => (
  <button type="button" class="button plain back" onClick={() => go(...(props.to ?? []))}>
    ‹ {words.value.back}
  </button>
);

/** Where one is and the count, which stay in sight while the sheet scrolls; and the way back. */
export function ScanTop({ title, count }: { title: string; count: string }) {
  return (
    <div class="top scan-top">
      <button type="button" class="button plain" aria-label={words.value.back} onClick={() => go()}>
        ‹
      </button>
      <div class="where">
        <h1 tabIndex={-1}>{title}</h1>
        <p class="count" {...testid("count")}>
          <b>{count}</b>
        </p>
      </div>
    </div>
  );
}

export const ShutNotice = () => <p class="notice">{words.value.shut_save}</p>;
