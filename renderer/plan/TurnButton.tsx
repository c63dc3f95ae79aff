import { Button, type ButtonProps } from "../parts/Button.tsx";
import { useStore } from "../store/store.ts";

/** Turns every plan half round: as it is seen from the other end of the engine. */
export function TurnButton(how: Pick<ButtonProps, "size" | "className">) {
  const seenFrom = useStore((state) => state.settings.seenFrom);
  const set = useStore((state) => state.actions.set);
  const other = seenFrom === "front" ? "rear" : "front";
  return (
    <Button {...how} onClick={() => set({ seenFrom: other })}>
      See it from the {other}
    </Button>
  );
}
