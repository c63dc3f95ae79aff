import { findBore } from "../fit/findBores.ts";
import type { BoreFinding, FitInput } from "../fit/finding.ts";
import { type SessionScatter, sessionScatter } from "../fit/stationFit.ts";

/**
 * The findings of a session's bores, each worked out when it is first asked for and known until something that any of
 * them follows from has changed: a single station changes all of them a little, as their scatter is pooled.
 */
export class FoundBores {
  readonly #input: () => FitInput;
  readonly #known = new Map<string, BoreFinding>();
  #from: { readonly input: FitInput; readonly scatter: SessionScatter } | null = null;
  #all: readonly BoreFinding[] | null = null;
  #changed = 0;

  /** @param input what the findings are computed from, as it is now; the same bores every time. */
  constructor(input: () => FitInput) {
    this.#input = input;
  }

  /** How often the findings have become others so far. */
  get changed(): number {
    return this.#changed;
  }

  /** Something that findings follow from has changed. */
  forget(): void {
    this.#changed += 1;
    this.#known.clear();
    this.#from = null;
    this.#all = null;
  }

  /** The finding of a bore; the same object until it is forgotten. One outside the walk was not measured. */
  of(bore: string): BoreFinding {
    const known = this.#known.get(bore);
    if (known !== undefined) return known;
    this.#from ??= this.#newFrom();
    const found = findBore(this.#from.input, bore, this.#from.scatter);
    this.#known.set(bore, found);
    return found;
  }

  /** Those of all bores, in walk order; the same list until they are forgotten. */
  all(): readonly BoreFinding[] {
    this.#all ??= this.#input().bores.map((bore) => this.of(bore));
    return this.#all;
  }

  #newFrom() {
    const input = this.#input();
    return { input, scatter: sessionScatter(input) };
  }
}
