/** The spec check of what is filled in, by the specification that this device holds; no network. */
import { check, type Result, type Specification, specificationFor } from "../../domain/eligibility";
import type { Work } from "../../domain/operation";
import { usePhone } from "../context";
import type { Checked, SeenFields } from "./seen";
import { checkedAs, isLookedAt, lookedAt } from "./spec";

export interface Checking {
  result: Result;
  specification: Specification | null;
  /** What is told with the casing; null where nothing of it could be checked. */
  checked: Checked | null;
  /** Something of it was read or seen, so there is something to say. */
  looked: boolean;
  today: string;
}

/** `work` is what is wanted: repair or retread. `today` is the day that ages are counted to. */
export function useCheck(
  fields: SeenFields,
  yard: string,
  today: string,
  work: Work = "retread",
): Checking {
  const { yards, specifications } = usePhone().now.value;
  const customer = yards.find((one) => one.id === yard)?.customer ?? "";
  const specification = specificationFor(specifications, customer, yard);
  const looked = lookedAt(fields, work);
  const result = check(specification, looked, today);
  const checked = fields.line === "wheel" ? null : checkedAs(result, specification);
  return { result, specification, checked, looked: isLookedAt(looked), today };
}
