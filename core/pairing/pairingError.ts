/** Why there is no pairing. */
export type PairingTrouble =
  /** The rules for the lifters can not be kept together. */
  | "clash"
  /** No lifter of the session was measured. */
  | "no-lifters"
  /** A lifter that is needed was not measured. */
  | "lifter-not-measured"
  /** Fewer lifters were measured than there are bores for them. */
  | "fewer-lifters"
  /** The micrometer was set to a lifter that was not named or not measured, so no other can be compared with a bore. */
  | "reference-unknown"
  /** No bore is measured at every station under a zero that holds. */
  | "no-bores";

/** There is no pairing; the message says what was found, where, what was expected and what to do. */
export class PairingError extends Error {
  override readonly name = "PairingError";
  readonly trouble: PairingTrouble;
  /** The bores and lifters it is about. */
  readonly bores: readonly string[];
  readonly lifters: readonly string[];

  constructor(
    trouble: PairingTrouble,
    message: string,
    about: { readonly bores?: readonly string[]; readonly lifters?: readonly string[] } = {},
  ) {
    super(message);
    this.trouble = trouble;
    this.bores = about.bores ?? [];
    this.lifters = about.lifters ?? [];
  }
}
