import type { ReactNode } from "react";
import { MATERIALS } from "../../core/fit/materials.ts";
import type { JobFile } from "../../core/session/jobFile.ts";
import { Choice, Field } from "../parts/Field.tsx";
import { errorAt, useDraft } from "./draft.ts";
import { NumberField } from "./NumberField.tsx";

type Given = NonNullable<NonNullable<JobFile["materials"]>["block"]>;

/** The choice that lets a person state a material's expansion. */
const OWN = "own";
const OPTIONS = [
  ...Object.keys(MATERIALS).map((id) => ({ value: id, text: id.replaceAll("-", " ") })),
  { value: OWN, text: "another: state its expansion" },
];

/** What block or lifters are made of: a material that ships, or one with an expansion from its maker's sheet. */
export function MaterialFields({
  part,
  label,
  otherwise,
}: {
  readonly part: "block" | "lifter";
  readonly label: string;
  readonly otherwise: string;
}): ReactNode {
  const { file, error, change } = useDraft();
  const given: Given = file.materials?.[part] ?? otherwise;
  const own = typeof given === "string" ? null : given;
  const set = (next: Given) => change({ materials: { ...file.materials, [part]: next } });
  const path = `materials.${part}`;
  return (
    <>
      <Choice
        label={label}
        value={own === null ? (given as string) : OWN}
        options={OPTIONS}
        onChange={({ target }) =>
          set(
            target.value === OWN ? { name: "own material", alpha: MATERIALS[otherwise]?.alpha ?? 11.5 } : target.value,
          )
        }
        error={own === null ? errorAt(error, path) : null}
        hint={own === null ? expansion(given as string) : undefined}
      />
      {own === null ? null : (
        <>
          <Field
            label={`${label}: name`}
            value={own.name}
            onChange={({ target }) => set({ ...own, name: target.value })}
            error={errorAt(error, `${path}.name`)}
          />
          <NumberField
            label={`${label}: grows, millionths a °C`}
            value={own.alpha}
            onNumber={(alpha) => set({ ...own, alpha: alpha as number })}
            error={errorAt(error, `${path}.alpha`)}
          />
          <NumberField
            label={`${label}: known to ±, millionths a °C`}
            value={own.alphaHalfWidth}
            placeholder="1"
            onNumber={(alphaHalfWidth) => {
              const { alphaHalfWidth: _, ...rest } = own;
              set(alphaHalfWidth === undefined ? rest : { ...own, alphaHalfWidth });
            }}
            error={errorAt(error, `${path}.alphaHalfWidth`)}
          />
          <Field
            label={`${label}: says who`}
            value={own.source ?? ""}
            placeholder="maker's sheet"
            onChange={({ target }) => {
              const { source: _, ...rest } = own;
              set(target.value === "" ? rest : { ...own, source: target.value });
            }}
            error={errorAt(error, `${path}.source`)}
          />
        </>
      )}
    </>
  );
}

function expansion(id: string): string | undefined {
  const material = MATERIALS[id];
  return material === undefined
    ? undefined
    : `grows ${material.alpha} ± ${material.alphaHalfWidth} millionths a °C; ${material.source}`;
}
