import { classNames } from "../parts/classNames.ts";
import { useStore } from "../store/store.ts";
import { BlockPlan, type BlockPlanProps } from "./BlockPlan.tsx";
import styles from "./plan.module.css";
import { useRoom } from "./useRoom.ts";

export interface DeskPlanProps
  extends Omit<BlockPlanProps, "next" | "size" | "flip" | "showFiringOrder" | "hereClock"> {
  /** Narrowest and widest proportions, drawing units. */
  readonly width: readonly [least: number, most: number];
  /** So many bores in a bank that their names need a longer drawing. */
  readonly long?: boolean;
}

/** The block at the desk: in a box of its own that it fills, seen from the end that the person has chosen. */
export function DeskPlan({ width: [least, most], long = false, ...plan }: DeskPlanProps) {
  const seenFrom = useStore((state) => state.settings.seenFrom);
  const { ref, size } = useRoom(least, most);
  return (
    <div ref={ref} className={classNames(styles.desk, long && styles.long)}>
      <BlockPlan {...plan} next={null} size={size} flip={seenFrom === "front"} />
    </div>
  );
}
