import type { ComponentType } from "react";
import { BoresPlace } from "./bores/BoresPlace.tsx";
import { FindingsPlace } from "./findings/FindingsPlace.tsx";
import { GaugesPlace } from "./gauges/GaugesPlace.tsx";
import { HandoverPlace } from "./handover/HandoverPlace.tsx";
import { JobPlace } from "./job/JobPlace.tsx";
import { LiftersPlace } from "./lifters/LiftersPlace.tsx";
import { RecheckPlace } from "./recheck/RecheckPlace.tsx";
import { RemedyPlace } from "./remedy/RemedyPlace.tsx";
import { SettingsPlace } from "./settings/SettingsPlace.tsx";
import { StartPlace } from "./start/StartPlace.tsx";
import type { Place } from "./store/place.ts";
import { StudyPlace } from "./study/StudyPlace.tsx";
import { ZeroPlace } from "./zero/ZeroPlace.tsx";

/** What is shown at each place; every place lives in the folder of its name as `<Name>Place.tsx`. */
export const PLACE_COMPONENTS: Readonly<Record<Place, ComponentType>> = {
  Start: StartPlace,
  Job: JobPlace,
  Gauges: GaugesPlace,
  Lifters: LiftersPlace,
  Zero: ZeroPlace,
  Bores: BoresPlace,
  Findings: FindingsPlace,
  Remedy: RemedyPlace,
  Recheck: RecheckPlace,
  Study: StudyPlace,
  Handover: HandoverPlace,
  Settings: SettingsPlace,
};
