/**
 * What stands on the sidewall beside the TIN: size, brand, load. What this customer has comes first
 * as keys, and the casing before it is taken over by one key, or by = where a keyboard is at hand.
 */
import { useMemo, useState } from "preact/hooks";
import { picks, readSize } from "../../domain/size";
import { Field } from "../../ui/Field";
import { usePhone } from "../context";
import { testid } from "../testids";
import { whole, words } from "../words";
import { Picks } from "./Picks";
import {
  brandPicks,
  ratingSaid,
  type Sidewall,
  sidewallSaid,
  sized,
  sizeSaid,
  theirs,
} from "./sizeText";

/** What the wire takes. */
const SIZE_MOST = 24;
const SHORT_MOST = 40;

const onEnter = (what: () => void) => (event: KeyboardEvent) => {
  if (event.key !== "Enter") return;
  event.preventDefault();
  what();
};

export function SizeBlock(props: {
  fields: Sidewall;
  /** A function is given what was filled in last: a scanner's keys may have been taken out again. */
  fill: (some: Partial<Sidewall> | ((latest: Sidewall) => Partial<Sidewall>)) => void;
  yard: string;
  /** That of the casing before; null where there is none. */
  before: Sidewall | null;
  onSameAgain: () => void;
  onNext: () => void;
}) {
  const { fields, fill, yard, before, onNext } = props;
  const { casings, yards } = usePhone().now.value;
  const w = words.value;
  const own = useMemo(() => theirs(casings.values(), yards, yard), [casings, yards, yard]);
  const [brands, setBrands] = useState(false);
  const reading = readSize(fields.size);
  const size = sizeSaid(reading, w, whole);
  const rating = ratingSaid(fields.rating, w, whole);
  const begun = reading.findings.some(({ key }) => key === "empty" || key === "incomplete");
  const again = before !== null && fields.size === "" ? before : null;
  const sizes = begun
    ? picks(
        own.map((casing) => casing.size),
        fields.size,
      )
    : reading.offers;
  const pick = (next: Partial<Sidewall>) => {
    fill(next);
    onNext();
  };

  return (
    <div class="stack size-part">
      <Field
        id="size"
        title={w.size}
        hint={size.text}
        good={size.tone === "good" ? size.text : null}
        asks={size.tone === "asks" ? size.text : null}
        value={fields.size}
        onValue={(next) => fill({ size: next })}
        input={{
          ...testid("size"),
          maxLength: SIZE_MOST,
          spellcheck: false,
          autocapitalize: "characters",
          enterkeyhint: "next",
          onBlur: () => fill(sized),
          onKeyDown: onEnter(again === null ? onNext : props.onSameAgain),
        }}
        after={
          <>
            {again !== null && (
              <button
                type="button"
                class="button"
                onClick={props.onSameAgain}
                {...testid("same-again")}
              >
                {w.same_again_key(sidewallSaid(again))}
              </button>
            )}
            <Picks
              name="size"
              title={w.size_theirs}
              values={sizes.filter((one) => one !== again?.size)}
              onPick={(one) =>
                pick({ size: one, ...(reading.rating && { rating: reading.rating }) })
              }
            />
          </>
        }
      />
      <div class="pair">
        <Field
          id="brand"
          title={w.brand}
          value={fields.brand}
          onValue={(brand) => fill({ brand })}
          input={{
            ...testid("brand"),
            maxLength: SHORT_MOST,
            spellcheck: false,
            onFocus: () => setBrands(true),
            onKeyDown: onEnter(onNext),
          }}
        />
        <Field
          id="rating"
          title={w.rating}
          hint={rating.tone === "soft" ? rating.text : ""}
          value={fields.rating}
          onValue={(next) => fill({ rating: next })}
          input={{
            ...testid("rating"),
            maxLength: SHORT_MOST,
            spellcheck: false,
            autocapitalize: "characters",
            onKeyDown: onEnter(onNext),
          }}
        />
      </div>
      <p class={rating.tone} aria-live="polite" {...testid("rating-said")}>
        {rating.tone === "soft" ? "" : rating.text}
      </p>
      {brands && (
        <Picks
          name="brand"
          title={w.brand_picks}
          values={brandPicks(own, fields.brand)}
          onPick={(brand) => {
            setBrands(false);
            fill({ brand });
          }}
        />
      )}
    </div>
  );
}
