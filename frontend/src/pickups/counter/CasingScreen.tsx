/** "Where is it?": one casing, what was promised for it, and its story, in sentences to read out. */
import { shown } from "../../domain/labels";
import { type Casing, tinOf } from "../../domain/rows";
import { driver, isRejected } from "../../domain/truck";
import { Strokes } from "../../ui/Strokes";
import { usePhone } from "../context";
import { go } from "../route";
import { testid } from "../testids";
import { words } from "../words";
import { tinShort } from "../yard/tinWords";
import { pickupOf, yardName } from "../yard/visits";
import { dayOf } from "../../domain/promise";
import { Back } from "./Back";
import { DepositLeft } from "./DepositLeft";
import { isReady, ownerOf } from "./rack";
import { promiseSaid, story, whereIs } from "./story";
import { storeOf } from "./visits";
import { counterWords } from "./words";

export function CasingScreen({ casing: id }: { casing: string }) {
  const phone = usePhone();
  const w = counterWords.value;
  const now = phone.now.value;
  const casing = now.casings.get(id);
  if (casing === undefined)
    return (
      <div class="page stack">
        <Back />
        <h1 tabIndex={-1}>{w.nobody_knows}</h1>
      </div>
    );
  const at = phone.deps.clock.now();
  const promise = promiseSaid(casing, at);
  return (
    <div class="page stack about" {...testid("about")}>
      <Back />
      <div class="row start">
        <Strokes
          stage={isRejected(casing) ? "rejected" : casing.progress}
          held={casing.on_hold}
          inQuestion={casing.standing === "in_question"}
        />
        <h1 tabIndex={-1} class="code">
          {shown(casing.label)}
        </h1>
      </div>
      <p>
        <b>{yardName(now, casing.yard)}</b>
        <br />
        <span class="soft">
          {[casing.size, tinShort(tinOf(casing), dayOf(at), words.value), unit(casing)]
            .filter(Boolean)
            .join(" · ")}
        </span>
      </p>
      <dl class="about-it">
        <dt>{w.where}</dt>
        <dd class="large" {...testid("where")}>
          {whereIs(now, casing)}
          {isRejected(casing) && <p class="caution rejected">{w.rejected_caution}</p>}
        </dd>
        <dt>{w.promise}</dt>
        <dd {...testid("promise")}>
          {promise.text}
          {promise.past && <span class="asks"> {w.promise_past}</span>}
        </dd>
        <dt>{w.its_story}</dt>
        <dd>
          <ol class="story" {...testid("story")}>
            {story(now, casing).map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ol>
        </dd>
      </dl>
      {casing.progress !== "returned" && <DepositLeft casings={[casing]} />}
      <Next casing={casing} />
    </div>
  );
}

const unit = ({ unit: number, purchase_order }: Casing): string => {
  const w = words.value;
  return [
    number !== "" && w.unit_short(number),
    purchase_order !== "" && w.purchase_order_short(purchase_order),
  ]
    .filter(Boolean)
    .join(" · ");
};

/** What can be done about it from here. */
function Next({ casing }: { casing: Casing }) {
  const w = counterWords.value;
  const now = usePhone().now.value;
  const owner = ownerOf(casing, now.yards);
  const visit = pickupOf(now, casing.pickup);
  const onTruck = now.people.some((person) => casing.holder === driver(person.id));
  const first = { "data-first": true };
  return (
    <div class="keys-row">
      {isReady(casing, storeOf(now)) && (
        <button
          type="button"
          class="button next"
          {...first}
          onClick={() => go("hand-over", owner.id)}
          {...testid("hand-over")}
        >
          {w.hand_over}
        </button>
      )}
      {onTruck && casing.progress !== "returned" && (
        <button
          type="button"
          class="button next"
          {...first}
          onClick={() => go("receive")}
          {...testid("receive")}
        >
          {w.receive}
        </button>
      )}
      {visit !== null && visit.store !== null && (
        <button
          type="button"
          class="button"
          onClick={() => go(visit.finished_at === null ? "pickup" : "ticket", visit.id)}
        >
          {visit.finished_at === null ? w.carry_on : w.ticket}
        </button>
      )}
      {casing.pickup !== "" && casing.progress !== "returned" && (
        <button
          type="button"
          class="button"
          onClick={() => go("relabel", casing.id)}
          {...testid("relabel-open")}
        >
          {words.value.relabel}
        </button>
      )}
      <button type="button" class="button" onClick={() => go("customer", owner.id)}>
        {owner.name || words.value.unknown_yard}
      </button>
    </div>
  );
}
