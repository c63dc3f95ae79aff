export function pack(wanted: {
  readonly app: string;
  readonly output: string;
  readonly runtime: string;
  readonly onlyFolder: boolean;
  /** Taken over what the configuration says; tests try with it what is refused. */
  readonly change?: Record<string, unknown>;
}): Promise<string[]>;
