import type { ComponentType } from "react";
import type { Place } from "./store/place.ts";

/** What is shown at each place; every place lives in the folder of its name as `<Name>Place.tsx`. */
export const PLACE_COMPONENTS: Readonly<Partial<Record<Place, ComponentType>>> = {};
