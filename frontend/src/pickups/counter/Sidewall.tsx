/** What is read off a casing, in the order of the talk: label, TINs, size, brand, treads. */
import { useMemo, useRef } from "preact/hooks";
import { picks, readSize } from "../../domain/size";
import { Field } from "../../ui/Field";
import { usePhone } from "../context";
import { type FillSeen, hasTire, type SeenFields } from "../seen/seen";
import { testid } from "../testids";
import { SHORT_MOST } from "../wanted/wanted";
import { decimal, whole, words } from "../words";
import { brandPicks, ratingSaid, sized, sizeSaid, theirs } from "../yard/sizeText";
import type { Said } from "../yard/tinWords";
import type { EntryFields } from "./entry";
import { type Option, Pick } from "./Pick";
import { completes, RATING_MOST, SIZE_MOST, tinsSaid, treadsSaid } from "./saidBack";
import { lineMeant } from "./tins";
import { counterWords } from "./words";

const option = (text: string): Option => ({ key: text, said: text });
const selectAll = (event: Event) => (event.target as HTMLInputElement).select();
const toned = ({ tone, text }: Said) => ({
  hint: text,
  good: tone === "good" ? text : null,
  asks: tone === "asks" ? text : null,
});

export function Sidewall(props: {
  fields: EntryFields;
  /** The sheet as it stands, with what is as before. */
  seen: SeenFields;
  yard: string;
  today: string;
  /** The depth at which this customer pulls. */
  pull: number | null;
  faults: Record<string, string | null>;
  put: (some: Partial<EntryFields>, field: string) => void;
  onSeen: FillSeen;
  /** On to the treads. */
  onPicked: () => void;
}) {
  const { fields, seen, faults, put } = props;
  const w = counterWords.value;
  const all = words.value;
  if (!hasTire(seen.line)) return null;
  const tin = tinsSaid(fields.tin, props.today, w, all);
  const meant = lineMeant(fields.tin, props.today);
  const treads = treadsSaid(
    fields.treads,
    { position: seen.position, pull: props.pull },
    w,
    all,
    decimal,
  );
  return (
    <>
      <Field
        id="tin"
        title={all.tin}
        {...toned(tin)}
        fault={faults.tin ?? null}
        value={fields.tin}
        onValue={(value) => put({ tin: value }, "tin")}
        input={{
          ...testid("tin"),
          maxLength: 160,
          autocapitalize: "characters",
          spellcheck: false,
        }}
        after={
          meant !== null && (
            <button
              type="button"
              class="button"
              onClick={() => {
                put({ tin: meant }, "tin");
                document.getElementById("tin")?.focus();
              }}
              {...testid("tin-meant")}
            >
              {all.tin_meant(meant)}
            </button>
          )
        }
      />
      <Size {...props} />
      <Brand {...props} />
      <Field
        id="treads"
        title={w.treads}
        {...("said" in treads ? toned(treads.said) : { hint: "" })}
        fault={faults.treads ?? ("fault" in treads ? treads.fault : null)}
        value={fields.treads}
        onValue={(value) => put({ treads: value }, "treads")}
        input={{ ...testid("treads"), spellcheck: false, maxLength: 160 }}
      />
    </>
  );
}

type Props = Parameters<typeof Sidewall>[0];

/** The rating was typed behind the size, or the size not as it stands on a sidewall. */
function differs(fields: SeenFields): boolean {
  const { size, rating } = sized(fields);
  return size !== fields.size || rating !== fields.rating;
}

/** The casings of this customer, as far as this device knows them. */
function useTheirs(yard: string) {
  const { casings, yards } = usePhone().now.value;
  return useMemo(() => theirs(casings.values(), yards, yard), [casings, yards, yard]);
}

function Size({ fields, seen, yard, faults, put, onSeen, onPicked }: Props) {
  const w = counterWords.value;
  const all = words.value;
  const own = useTheirs(yard);
  // A scanner types into the field and takes it out again: what stood behind that size stays.
  const found = useRef({ size: seen.size, rating: seen.rating });
  const tell: FillSeen = (some) => {
    put({}, "size");
    onSeen(some);
  };
  const reading = readSize(seen.size);
  const said = sizeSaid(reading, all, whole);
  const rating = seen.rating === "" ? null : ratingSaid(seen.rating, all, whole);
  const { size } = reading;
  // How high it was when new is of no use where it is rolled in.
  const read =
    said.tone === "good" && size !== null
      ? `${all.size_read(size.shown, size.construction === "R", size.rim)}.`
      : said.text;
  const text = [read, rating?.text].filter(Boolean).join(" ");
  const carried = fields.seen.size === undefined && seen.size !== "";
  const offered = [
    ...reading.offers,
    ...picks(
      own.map((casing) => casing.size),
      seen.size,
    ),
  ];
  return (
    <Pick
      id="size"
      title={all.size}
      list={all.size_theirs}
      {...(carried ? { hint: w.as_before } : toned({ ...said, text }))}
      fault={faults.size ?? null}
      options={[...new Set(offered)].map(option)}
      first={completes(reading)}
      value={seen.size}
      onValue={(typed) =>
        tell({ size: typed, rating: typed === found.current.size ? found.current.rating : "" })
      }
      onPick={({ key }, by) => {
        found.current = { size: key, rating: reading.rating };
        tell(found.current);
        if (by === "Enter") onPicked();
      }}
      onLeave={() => {
        if (differs(seen)) onSeen((latest) => (differs(latest) ? sized(latest) : {}));
      }}
      input={{
        maxLength: SIZE_MOST + RATING_MOST,
        onFocus: (event) => {
          found.current = { size: seen.size, rating: seen.rating };
          selectAll(event);
        },
      }}
    />
  );
}

function Brand({ fields, seen, yard, onSeen, onPicked }: Props) {
  const w = counterWords.value;
  const all = words.value;
  const own = useTheirs(yard);
  const carried = fields.seen.brand === undefined && seen.brand !== "";
  return (
    <Pick
      id="brand"
      title={all.brand}
      list={all.brand_picks}
      hint={carried ? w.as_before : ""}
      options={brandPicks(own, seen.brand).map(option)}
      first={false}
      value={seen.brand}
      onValue={(brand) => onSeen({ brand })}
      onPick={({ key }, by) => {
        onSeen({ brand: key });
        if (by === "Enter") onPicked();
      }}
      input={{ maxLength: SHORT_MOST, onFocus: selectAll }}
    />
  );
}
