import { type ReactNode, useRef } from "react";
import { Button } from "./Button.tsx";

/** A button that lets a person choose one file; `label` names the hidden field for tests and assistive technology. */
export function FileButton({
  label,
  accept,
  disabled = false,
  onFile,
  children,
}: {
  readonly label: string;
  readonly accept: string;
  readonly disabled?: boolean;
  readonly onFile: (file: File) => void;
  readonly children: ReactNode;
}): ReactNode {
  const field = useRef<HTMLInputElement>(null);
  return (
    <>
      <Button disabled={disabled} onClick={() => field.current?.click()}>
        {children}
      </Button>
      <input
        ref={field}
        type="file"
        accept={accept}
        className="unseen"
        tabIndex={-1}
        aria-label={label}
        onChange={(event) => {
          const chosen = event.target.files?.[0];
          // Emptied, so that the same file may be chosen again.
          event.target.value = "";
          if (chosen !== undefined) onFile(chosen);
        }}
      />
    </>
  );
}
