import type { ReactNode } from "react";
import { Choices } from "../parts/Choices.tsx";
import { useStore } from "../store/store.ts";

const SIGNS = [
  { value: "point", text: "0.0015" },
  { value: "comma", text: "0,0015" },
] as const;

/** How numbers are written in tables for a spreadsheet; one choice for all of them, remembered. */
export function DecimalChoice({ label }: { readonly label: string }): ReactNode {
  const decimal = useStore((state) => state.settings.decimal);
  const set = useStore((state) => state.actions.set);
  return (
    <Choices
      label={label}
      value={decimal}
      options={SIGNS}
      onChoose={(chosen) => set({ decimal: chosen })}
      hint={
        decimal === "comma" ? "Cells are parted by semicolons, as spreadsheets expect beside decimal commas." : null
      }
    />
  );
}
