/**
 * What is wanted, on a casing's sheet: asked once a pickup, then one line of words that each next
 * casing takes over, so that a casing takes seconds.
 */
import { testid } from "../testids";
import { OfferSaid } from "../wanted/OfferSaid";
import { wantedSaid } from "../wanted/wanted";
import { promisedSaid, WantedFieldset, type WantedProps } from "../wanted/WantedFieldset";
import { words } from "../words";

export function CasingWanted(
  props: WantedProps & {
    open: boolean;
    onOpen: (open: boolean) => void;
    /** It is that of the casing before. */
    carried: boolean;
  },
) {
  const { fields, offer, open, onOpen } = props;
  const w = words.value;
  return (
    <section class="wants-part" aria-label={w.wanted_title}>
      <div class="row">
        <span class="title">{props.carried ? w.wanted_carried : w.wanted_title}</span>
        <button
          type="button"
          class="button"
          aria-expanded={open}
          aria-label={`${w.wanted_title}: ${open ? w.wanted_done : w.wanted_change}`}
          onClick={() => onOpen(!open)}
          {...testid("wanted-change")}
        >
          {open ? w.wanted_done : w.wanted_change}
        </button>
      </div>
      {open ? (
        <WantedFieldset {...props} />
      ) : (
        <>
          <p {...testid("wanted-said")}>
            {wantedSaid(fields, w)}
            <br />
            {promisedSaid(fields, offer, w)}
          </p>
          {offer.ended !== null && <OfferSaid offer={offer} backTo={fields.back_to} />}
        </>
      )}
    </section>
  );
}
