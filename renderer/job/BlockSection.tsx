import type { ReactNode } from "react";
import type { Layout } from "../../core/block/layout.ts";
import { LAYOUTS } from "../../core/block/layouts.ts";
import { parseLayout } from "../../core/block/parseLayout.ts";
import type { JobFile } from "../../core/session/jobFile.ts";
import { Choice, Field } from "../parts/Field.tsx";
import { errorAt, useDraft } from "./draft.ts";
import styles from "./JobPlace.module.css";
import { lifterSetFor } from "./lifterNotes.ts";
import { Section } from "./Section.tsx";

const OWN = "own";

/** The layout the draft names or writes out; null while it makes no sense. */
export function layoutOf(file: JobFile): Layout | null {
  const { layout } = file;
  if (layout === undefined) return LAYOUTS[0] ?? null;
  if (typeof layout === "string") return LAYOUTS.find((one) => one.id === layout) ?? null;
  try {
    return parseLayout(layout);
  } catch {
    // The reason comes from the check and stands at the field.
    return null;
  }
}

export function BlockSection(): ReactNode {
  const { file, error, change } = useDraft();
  const own = typeof file.layout === "object";
  return (
    <Section number={1} title="Block">
      <Choice
        label="Layout"
        className={styles.wide}
        value={own ? OWN : ((file.layout as string | undefined) ?? "v8-alternate")}
        options={[
          ...(own ? [{ value: OWN, text: "Written out in the job file" }] : []),
          ...LAYOUTS.map((layout) => ({
            value: layout.id,
            text: `${layout.title} (fires ${layout.firingOrder.join("-")})`,
          })),
        ]}
        onChange={(event) => {
          const layout = event.target.value;
          if (layout === OWN) return;
          const set = lifterSetFor(file.lifters, layoutOf(file), layoutOf({ ...file, layout }));
          change({ layout, lifters: set });
        }}
        error={errorAt(error, "layout")}
        hint={
          own
            ? "Written out in the job file that was taken; choosing a built-in one replaces it."
            : "Numbering and firing order: common practice, no source. Check them on your engine."
        }
      />
      <Field
        label="Name of the job"
        value={file.title ?? ""}
        onChange={(event) => change({ title: event.target.value })}
        error={errorAt(error, "title")}
        autoComplete="off"
      />
      <Field
        label="Block (its number or mark)"
        value={file.block ?? ""}
        onChange={(event) => change({ block: event.target.value })}
        error={errorAt(error, "block")}
        autoComplete="off"
      />
      <Field
        label="Measured by"
        value={file.operator ?? ""}
        onChange={(event) => change({ operator: event.target.value })}
        error={errorAt(error, "operator")}
        autoComplete="off"
      />
    </Section>
  );
}
