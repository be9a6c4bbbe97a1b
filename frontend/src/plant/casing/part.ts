/** What each part that a station asks for is given. */
import type { AnswerFields, Missing } from "../answer";
import type { Floor } from "../floor";
import type { Work } from "../rows";

export interface Part {
  floor: Floor;
  work: Work;
  fields: AnswerFields;
  fill: (some: Partial<AnswerFields> | ((now: AnswerFields) => Partial<AnswerFields>)) => void;
  fault: Missing | null;
}
