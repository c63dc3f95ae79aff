import type { StationPlace } from "../block/layout.ts";
import type { Ms } from "../gauge/ms.ts";
import type { Nm } from "../length/nm.ts";
import type { Sweep } from "../sweep/sweep.ts";
import type { JudgedReference } from "../zero/reference.ts";
import type { StepName } from "./event.ts";
import type { Notice } from "./notice.ts";

/** What an event brought about; the source of tones, of the command line's records and of the computed records on file. */
export type Outcome =
  | {
      readonly type: "lifter";
      readonly t: Ms;
      readonly name: string;
      readonly diameterNm: Nm;
      readonly readings: number;
    }
  | {
      readonly type: "sweep";
      readonly t: Ms;
      readonly step: StepName;
      readonly bore?: string;
      readonly place?: StationPlace;
      readonly sweep: Sweep;
    }
  | {
      readonly type: "station";
      readonly t: Ms;
      readonly bore: string;
      readonly place: StationPlace;
      readonly valueNm: Nm;
      readonly spreadNm: Nm;
      readonly sweeps: readonly Sweep[];
      readonly clearanceNm: Nm | null;
      /** True when later sweeps joined a station already closed. */
      readonly again: boolean;
    }
  /** The next station is open: the second, quieter tone. */
  | {
      readonly type: "opened";
      readonly t: Ms;
      readonly bore: string;
      readonly place: StationPlace;
      readonly newBore: boolean;
    }
  | { readonly type: "zero"; readonly t: Ms; readonly reference: JudgedReference; readonly again: boolean }
  | {
      readonly type: "step-check";
      readonly t: Ms;
      readonly passed: boolean;
      readonly openedNm: Nm;
      readonly answerNm: Nm;
      readonly text: string;
    }
  | {
      readonly type: "struck";
      readonly t: Ms;
      readonly what: "sweep" | "station";
      readonly bore?: string;
      readonly place?: StationPlace;
    }
  | { readonly type: "step"; readonly t: Ms; readonly step: StepName }
  | { readonly type: "notice"; readonly t: Ms; readonly notice: Notice }
  | { readonly type: "cured"; readonly t: Ms; readonly notice: Notice }
  | { readonly type: "complete"; readonly t: Ms };
