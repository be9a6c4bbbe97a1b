/** What is read off a tire and measured on it, in the order of the hand: TINs, size, treads. */
import type { Position } from "../../domain/operation";
import { dayOf } from "../../domain/promise";
import type { Casing } from "../../domain/rows";
import { usePhone } from "../context";
import { testid } from "../testids";
import { words } from "../words";
import type { CasingFields, FillCasing } from "./fields";
import { SizeBlock } from "./SizeBlock";
import { sidewallBefore } from "./sizeText";
import { TinsBlock } from "./TinsBlock";
import { TREADS, TreadKeys } from "./TreadKeys";
import { groovesOf } from "./treads";

export function TireBlock(props: {
  fields: CasingFields;
  fill: FillCasing;
  position: Position;
  onPosition: (position: Position) => void;
  yard: string;
  /** The casings before it on this pickup, in their order. */
  before: Casing[];
  /** The depth at which this customer pulls, where it is known. */
  pull: number | null;
  /** Why it should stay, in words; null where it need not. */
  stays: string | null;
  /** That treads are missing, in words. */
  treadsLack: string | null;
  /** Enter among the treads. */
  onEnd: () => void;
}) {
  const { fields, fill, before } = props;
  const { clock } = usePhone().deps;
  const w = words.value;
  const alike = sidewallBefore(before);

  function toTreads() {
    const keys = document.getElementById(TREADS);
    keys?.focus({ preventScroll: true });
    // The keys below them are what the thumb needs next.
    keys?.parentElement?.scrollIntoView({ block: "start" });
  }

  function sameAgain() {
    if (alike === null) return;
    fill(alike);
    toTreads();
  }

  function onKey(event: KeyboardEvent) {
    if (event.key !== "=" || alike === null) return;
    event.preventDefault();
    sameAgain();
  }

  return (
    <>
      <fieldset class="stack" onKeyDown={onKey}>
        <legend class="hidden">{w.sidewall}</legend>
        <TinsBlock
          fields={fields}
          fill={fill}
          today={dayOf(clock.now())}
          onNext={() => document.getElementById("size")?.focus()}
        />
        {props.stays !== null && (
          // Seen where the eye is; it is read out once, with the verdict.
          <p class="asks" {...testid("stays")}>
            {props.stays}
          </p>
        )}
        <SizeBlock
          fields={fields}
          fill={fill}
          yard={props.yard}
          before={alike}
          onSameAgain={sameAgain}
          onNext={toTreads}
        />
      </fieldset>
      <p class="caution">
        {w.caution_air} {w.caution_lift}
      </p>
      {props.treadsLack !== null && (
        <p role="alert" class="fault" {...testid("claim-fault")}>
          {props.treadsLack}
        </p>
      )}
      <TreadKeys
        places={fields.treads}
        onPlaces={(change) => fill((latest) => ({ treads: change(latest.treads) }))}
        grooves={(latest) =>
          groovesOf(
            latest,
            before.map((casing) => casing.treads_32nds),
          )
        }
        position={props.position}
        onPosition={props.onPosition}
        pull={props.pull}
        onEnd={props.onEnd}
      />
    </>
  );
}
