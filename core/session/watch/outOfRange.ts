import { noticeText } from "../noticeText.ts";
import { NOTHING, type Rule, type Sight } from "./sight.ts";

/** A stream stands at the inner end of the indicator's travel, below anything a bore can be (see `TravelEnd`). */
export const outOfRange: Rule<Pick<Sight, "bore" | "stream">> = ({ bore, stream }) => {
  if (!stream.belowRange) return NOTHING;
  const { id } = bore.profile;
  return [{ code: "out-of-range", text: noticeText.outOfRange(id), where: { gauge: id } }];
};
