import type { ComponentProps, ReactNode } from "react";
import styles from "./Button.module.css";
import { classNames } from "./classNames.ts";

export interface ButtonProps extends ComponentProps<"button"> {
  /** `main` is the one thing to do next; a place has at most one. */
  readonly kind?: "main" | "plain" | "quiet";
  /** `walk` is for gloves: 64 px. */
  readonly size?: "desk" | "walk";
}

export function Button({ kind = "plain", size = "desk", className, type, ...rest }: ButtonProps): ReactNode {
  return (
    <button
      type={type ?? "button"}
      className={classNames(styles.button, styles[kind], size === "walk" && styles.walk, className)}
      {...rest}
    />
  );
}
