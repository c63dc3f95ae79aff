import { type RefObject, useLayoutEffect, useRef, useState } from "react";
import type { PlanSize } from "../../core/report/planGeometry.ts";

/** Height of every drawing in its own units; its width follows the room. */
const HEIGHT = 600;

/**
 * Proportions of a drawing that fills the room it is put in: put `ref` on the box that holds it. The width stays
 * between `least` and `most` drawing units, so that figures have their room and an empty middle does not grow.
 */
export function useRoom(
  least = 300,
  most = 560,
): { readonly ref: RefObject<HTMLDivElement | null>; readonly size: PlanSize } {
  const ref = useRef<HTMLDivElement | null>(null);
  const [width, setWidth] = useState(400);
  useLayoutEffect(() => {
    const box = ref.current;
    if (box === null) return;
    const measure = () => {
      const { clientWidth, clientHeight } = box;
      if (clientWidth === 0 || clientHeight === 0) return;
      setWidth(Math.round(Math.min(most, Math.max(least, (HEIGHT * clientWidth) / clientHeight))));
    };
    const observer = new ResizeObserver(measure);
    observer.observe(box);
    measure();
    return () => observer.disconnect();
  }, [least, most]);
  return { ref, size: { width, height: HEIGHT } };
}
